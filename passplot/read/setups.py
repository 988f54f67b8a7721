"""The ``[[setup]]`` tables: how the work is held."""

from passplot.frozen import dataclass
from passplot.read.block import read_zero
from passplot.read.sizes import Least
from passplot.read.tables import Table
from passplot.records.job import Setup

FACES = ("top", "bottom", "front", "back", "left", "right")
_KEYS = (
    "name",
    "up",
    "right",
    "zero",
    "hold",
    "jaw_height",
    "jaw_opening",
    "parallels",
    "square_up",
    "set_over",
    "rotary",
)


_AXIS_OF = {"left": 0, "right": 0, "front": 1, "back": 1, "top": 2, "bottom": 2}


@dataclass(frozen=True, slots=True)
class Posture:
    """A setup and how the part lies in it.

    ``axes`` are the part's own axes (0, 1, 2) that lie along X, Y and Z; ``zero`` is None where
    the setup has none of its own. ``later`` is what it asks for that is not planned yet.
    """

    setup: Setup
    axes: tuple[int, int, int] = (0, 1, 2)
    zero: str | None = None
    later: tuple[str, ...] = ()


def read_setups(tables: list[Table]) -> tuple[Posture, ...]:
    """The setups in the file's order; one, ``"setup 1"``, where the file gives none."""
    if not tables:
        return (Posture(Setup("setup 1")),)
    postures = [_posture(table, number) for number, table in enumerate(tables, 1)]
    names = [posture.setup.name for posture in postures]
    for number, table in enumerate(tables):
        if names[number] in names[:number]:
            table.fault("name", f'"{names[number]}" is used twice', "give each its own name")
    return tuple(postures)


def _posture(table: Table, number: int) -> Posture:
    setup = _setup(table, number)
    up = table.word("up", FACES, "top") or "top"
    right = table.word("right", FACES, "right") or "right"
    zero = read_zero(table) if "zero" in table else None
    if _AXIS_OF[up] == _AXIS_OF[right]:
        table.fault("right", f'"{right}" cannot look to the right with "{up}" up', "name a side")
        return Posture(setup, zero=zero)
    across, height = _AXIS_OF[right], _AXIS_OF[up]
    return Posture(setup, (across, 3 - across - height, height), zero, _later(table, up, right))


def _setup(table: Table, number: int) -> Setup:
    table.check_keys(_KEYS)
    name = table.text("name") or f"setup {number}"
    hold = table.word("hold", ("vise", "clamps")) if "hold" in table else None
    parallels = table.entries("parallels", "give the heights of the parallels as a list") or []
    place = (*table.place, "parallels")
    heights = [
        table.source.size((*place, i), value, table.units) for i, value in enumerate(parallels)
    ]
    return Setup(
        name=name,
        hold=hold,
        jaw_height=table.length("jaw_height"),
        jaw_opening=table.length("jaw_opening", Least.POSITIVE),
        parallels=tuple(height.middle for height in heights if height is not None),
    )


def _later(table: Table, up: str, right: str) -> tuple[str, ...]:
    """What a setup asks for that is not planned yet."""
    later = []
    if up != "top" or right != "right":
        later.append(f"work with its {up} face up and its {right} face to the right")
    if table.flag("square_up"):
        later.append("squaring the block up")
    if "set_over" in table:
        later.append("work set over in the vise")
    if "rotary" in table:
        later.append("work on the rotary table")
    return tuple(later)
