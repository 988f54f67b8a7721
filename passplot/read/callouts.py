"""The ``[[dimension]]`` tables: callouts of the print, held against the features."""

from passplot.read.block import Block
from passplot.read.features import Draft
from passplot.read.sizes import shown
from passplot.read.source import did_you_mean
from passplot.read.tables import Table
from passplot.records.job import Callout

# Two nominals closer than this agree: prints give inches to four decimals at most.
AGREE = 1e-5
_Surface = tuple[str, float]  # axis and nominal coordinate


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
    surfaces = _surfaces(block, drafts) if block is not None else None
    faulty = {name for name in names if name not in {draft.feature.name for draft in drafts}}
    callouts: list[Callout] = []
    for table in tables:
        callout = _callout(table)
        if callout is None:
            continue
        if callout.name in [other.name for other in callouts]:
            table.fault("name", f'"{callout.name}" is used twice', "give each its own name")
        callouts.append(callout)
        if surfaces is not None:
            _hold_against(table, callout, surfaces, faulty)
    return tuple(callouts)


def _callout(table: Table) -> Callout | None:
    table.check_keys(("name", "from", "to", "size"))
    name = table.text("name", "give the callout a name")
    start = table.text("from", "name an edge, a face, a wall or a floor")
    end = table.text("to", "name an edge, a face, a wall or a floor")
    size = table.size("size", required=True)
    if name is None or start is None or end is None or size is None:
        return None
    return Callout(name, start, end, size)


def _surfaces(block: Block, drafts: tuple[Draft, ...]) -> dict[str, _Surface]:
    """Everything that callouts may name."""
    surfaces = {
        "left edge": ("x", block.nominal_x[0]),
        "right edge": ("x", block.nominal_x[1]),
        "front edge": ("y", block.nominal_y[0]),
        "back edge": ("y", block.nominal_y[1]),
        "top face": ("z", block.nominal_top),
        "bottom face": ("z", block.nominal_bottom),
    }
    for draft in drafts:
        for name, at in draft.surfaces.items():
            surfaces[f"{draft.feature.name} {name}"] = at
    return surfaces


def _hold_against(
    table: Table, callout: Callout, surfaces: dict[str, _Surface], faulty: set[str]
) -> None:
    """Note a callout that names nothing, or whose nominal is not that of the features."""
    start = _find(table, "from", callout.start, surfaces, faulty)
    end = _find(table, "to", callout.end, surfaces, faulty)
    if start is None or end is None:
        return
    if start[0] != end[0]:
        table.fault(
            "to",
            f'"{callout.start}" lies along {start[0].upper()}, "{callout.end}" along '
            f"{end[0].upper()}",
            "a callout runs along one axis",
        )
        return
    distance = abs(end[1] - start[1])
    if abs(distance - callout.size.nominal) > AGREE:
        table.fault(
            "size",
            f"{callout.size.nominal:.6g} does not agree with the features",
            f'they put {distance:.6g} between "{callout.start}" and "{callout.end}"',
        )


def _find(
    table: Table, key: str, text: str, surfaces: dict[str, _Surface], faulty: set[str]
) -> _Surface | None:
    said = " ".join(text.casefold().split())
    for name, at in surfaces.items():
        if " ".join(name.casefold().split()) == said:
            return at
    if not any(said.startswith(name.casefold()) for name in faulty):
        table.fault(key, f"{shown(text)} names nothing here", did_you_mean(text, surfaces))
    return None
