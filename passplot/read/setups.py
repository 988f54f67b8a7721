"""The ``[[setup]]`` tables: how the work is held."""

from dataclasses import dataclass

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
_OPPOSITE = {"top": "bottom", "bottom": "top", "front": "back", "back": "front"} | {
    "left": "right",
    "right": "left",
}


@dataclass(frozen=True, slots=True)
class Holding:
    """The setups of the file. ``zero`` is that of the first one, None where it has none."""

    setups: tuple[Setup, ...]
    zero: str | None
    later: tuple[str, ...]

    @property
    def names(self) -> tuple[str, ...]:
        """Names of the setups."""
        return tuple(setup.name for setup in self.setups)


def read_setups(tables: list[Table]) -> Holding:
    """The setups in the file's order; one, ``"setup 1"``, where the file gives none."""
    if not tables:
        return Holding((Setup("setup 1"),), None, ())
    setups: list[Setup] = []
    later: list[str] = []
    for number, table in enumerate(tables, 1):
        setup = _setup(table, number)
        if setup.name in [other.name for other in setups]:
            table.fault("name", f'"{setup.name}" is used twice', "give every setup its own name")
        setups.append(setup)
        later += _later(table, setup.name)
    if len(setups) > 1:
        later.insert(0, f"{len(setups)} setups in one job")
    zero = read_zero(tables[0]) if "zero" in tables[0] else None
    for table in tables[1:]:
        read_zero(table)
    return Holding(tuple(setups), zero, tuple(later))


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


def _later(table: Table, name: str) -> list[str]:
    """What a setup asks for that is not planned yet."""
    up = table.word("up", FACES, "top") or "top"
    right = table.word("right", FACES, "right") or "right"
    if right in (up, _OPPOSITE[up]):
        table.fault("right", f'"{right}" cannot look to the right with "{up}" up', "name a side")
    later = []
    if up != "top" or right != "right":
        later.append(f'setup "{name}": the {up} face up, the {right} face to the right')
    if table.flag("square_up"):
        later.append(f'setup "{name}": squaring the block up')
    if "set_over" in table:
        later.append(f'setup "{name}": work set over in the vise')
    if "rotary" in table:
        later.append(f'setup "{name}": work on the rotary table')
    return later
