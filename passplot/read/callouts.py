"""The ``[[dimension]]`` tables: callouts of the print, held against the features."""

from passplot.frozen import dataclass
from passplot.read.block import Block
from passplot.read.features import Draft
from passplot.read.marks import Place
from passplot.read.sizes import shown
from passplot.read.source import did_you_mean
from passplot.read.tables import Table
from passplot.records.job import Callout

# Two nominals closer than this agree: prints give inches to four decimals at most.
AGREE = 1e-5
_AXES = "xyz"
# Spellings that mean the same: drawings of either side of the Atlantic.
_SPELLINGS = (("centre", "center"), ("centerline", "center line"))


def read_callouts(
    tables: list[Table], block: Block | None, drafts: tuple[Draft, ...], names: list[str]
) -> tuple[Callout, ...]:
    """The callouts.

    Parameters
    ----------
    tables : list of Table
        The tables.
    block : Block or None
        None while the stock is at fault: nothing is compared then.
    drafts : tuple of Draft
        The features without a fault of their own.
    names : list of str
        Names of all features: what belongs to one at fault is not looked up.
    """
    known = None if block is None else _Known(_surfaces(block, drafts), _good(drafts, names))
    callouts: list[Callout] = []
    for table in tables:
        callout = _callout(table)
        if callout is None:
            continue
        if callout.name in [other.name for other in callouts]:
            table.fault("name", f'"{callout.name}" is used twice', "give each its own name")
        callouts.append(callout)
        if known is not None:
            _hold_against(table, callout, known)
    return tuple(callouts)


@dataclass(frozen=True, slots=True)
class _Known:
    """What callouts may name, and the names of features: whether each is without a fault."""

    surfaces: dict[str, Place]
    features: dict[str, bool]

    def feature(self, said: str) -> str | None:
        """The feature that a text begins with; the longest name where several do."""
        found = [name for name in self.features if said.startswith(_plain(name))]
        return max(found, key=len, default=None)


def _good(drafts: tuple[Draft, ...], names: list[str]) -> dict[str, bool]:
    good = {draft.feature.name for draft in drafts}
    return {name: name in good for name in names}


def _callout(table: Table) -> Callout | None:
    table.check_keys(("name", "from", "to", "size"))
    name = table.text("name", "give the callout a name")
    start = table.text("from", "name an edge, a face, a wall or a floor")
    end = table.text("to", "name an edge, a face, a wall or a floor")
    size = table.size("size", required=True)
    if name is None or start is None or end is None or size is None:
        return None
    return Callout(name, start, end, size)


def _surfaces(block: Block, drafts: tuple[Draft, ...]) -> dict[str, Place]:
    """Everything that callouts may name, with its nominal coordinates by axis."""
    surfaces: dict[str, Place] = {
        "left edge": {"x": block.nominal_x[0]},
        "right edge": {"x": block.nominal_x[1]},
        "front edge": {"y": block.nominal_y[0]},
        "back edge": {"y": block.nominal_y[1]},
        "top face": {"z": block.nominal_top},
        "bottom face": {"z": block.nominal_bottom},
    }
    for draft in drafts:
        for name, place in draft.surfaces.items():
            surfaces[f"{draft.feature.name} {name}"] = place
    return surfaces


def _hold_against(table: Table, callout: Callout, known: _Known) -> None:
    """Note a callout that names nothing, or whose nominal is not that of the features."""
    start = _find(table, "from", callout.start, known)
    end = _find(table, "to", callout.end, known)
    if start is None or end is None:
        return
    apart = {axis: abs(end[axis] - start[axis]) for axis in _AXES if axis in start and axis in end}
    if not apart:
        table.fault(
            "to",
            f'"{callout.start}" lies along {_axes(start)}, "{callout.end}" along {_axes(end)}',
            "a callout runs along one axis",
        )
    elif all(abs(distance - callout.size.nominal) > AGREE for distance in apart.values()):
        several = len(apart) > 1
        said = " and ".join(
            f"{distance:.6g}" + (f" along {axis.upper()}" if several else "")
            for axis, distance in apart.items()
        )
        table.fault(
            "size",
            f"{callout.size.nominal:.6g} does not agree with the features",
            f'they put {said} between "{callout.start}" and "{callout.end}"',
        )


def _axes(place: Place) -> str:
    return " and ".join(axis.upper() for axis in _AXES if axis in place)


def _find(table: Table, key: str, text: str, known: _Known) -> Place | None:
    """The place a text names; None after noting that it names nothing.

    What belongs to a feature at fault is not looked up.
    """
    said = _plain(text)
    for name, place in known.surfaces.items():
        if _plain(name) == said:
            return place
    feature = known.feature(said)
    if feature is None or known.features[feature]:
        own = [name for name in known.surfaces if feature and name.startswith(f"{feature} ")]
        table.fault(
            key, f"{shown(text)} names nothing here", did_you_mean(text, own or known.surfaces)
        )
    return None


def _plain(text: str) -> str:
    """A name in one spelling, without regard to capitals and spaces."""
    said = " ".join(text.casefold().split())
    for one, other in _SPELLINGS:
        said = said.replace(one, other)
    return said
