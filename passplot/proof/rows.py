"""The moves table read back: nothing of a plan is trusted but the text that will be printed."""

import csv
from io import StringIO
from math import isfinite

from passplot.frozen import dataclass
from passplot.proof.rounds import Round
from passplot.records.plan import CUT, PLUNGE

COLUMNS = (
    *("row", "setup", "feature", "cutter", "stage", "move", "x", "y", "z", "axis"),
    *("both_ways", "width_of_cut", "depth_of_cut", "feed", "drill_diameter"),
)


@dataclass(frozen=True, slots=True)
class Row:
    """One row: a movement of the cutter's axis and tip from ``start`` to ``end``.

    ``index`` counts the rows of the table from 1, whatever ``number`` says. ``first`` marks the
    first row of a cutter, which moves nothing: its start is its end. ``pass_name`` is the number of
    the pass as written, empty where there is none. Job units; None is an empty cell. ``crank``,
    ``turns`` and ``dial`` are how the row is done at a dial, read in the dial's own unit; ``c`` is
    a rotary table's angle in degrees, ``turn`` the way about its centre (turning.py).
    """

    index: int
    number: str
    setup: str
    feature: str
    cutter: str
    stage: str
    move: str
    axis: str
    start: tuple[float, float, float]
    end: tuple[float, float, float]
    first: bool
    both_ways: float
    width: float
    depth: float
    feed: float | None
    drill: float | None
    pass_name: str = ""
    crank: str = ""
    turns: int | None = None
    dial: float | None = None
    c: float | None = None
    turn: Round | None = None

    @property
    def tip(self) -> float:
        """Lowest Z of the tip during the row."""
        return min(self.start[2], self.end[2])

    @property
    def cuts(self) -> bool:
        """Whether the row may touch metal."""
        return self.move in (CUT, PLUNGE)

    @property
    def moved(self) -> str:
        """The axes whose coordinate changed, such as ``"X"`` or ``"XY"``."""
        if self.turn is not None:
            return "C" if self.start[2] == self.end[2] else "CZ"
        pairs = zip("XYZ", self.start, self.end, strict=True)
        return "".join(axis for axis, one, two in pairs if one != two)


class UnreadableTable(ValueError):
    """The text is no moves table; ``row`` is the row at fault, 0 the header."""

    def __init__(self, row: int, text: str) -> None:
        super().__init__(text)
        self.row = row


def read_rows(table: str) -> tuple[Row, ...]:
    """Read the rows of a moves table.

    Columns are found by name; others may stand between them.

    Raises
    ------
    UnreadableTable
        A column is missing, or a cell is no number where one is needed.
    """
    reader = csv.DictReader(StringIO(table))
    missing = [name for name in COLUMNS if name not in (reader.fieldnames or ())]
    if missing:
        raise UnreadableTable(0, f"the moves table has no column {', '.join(missing)}")
    rows: list[Row] = []
    for index, cells in enumerate(reader, start=1):
        rows.append(_row(index, cells, rows[-1] if rows else None))
    return tuple(rows)


def _row(index: int, cells: dict[str, str], before: Row | None) -> Row:
    def number(name: str) -> float | None:
        text = (cells.get(name) or "").strip()
        if not text:
            return None
        try:
            value = float(text)
        except ValueError:
            raise UnreadableTable(index, f"{name} is {text!r}, no number") from None
        if not isfinite(value):
            raise UnreadableTable(index, f"{name} is {text!r}, no number")
        return value

    def more(name: str) -> float | None:
        return number(name) if name in cells else None

    def place(name: str) -> float:
        value = number(name)
        if value is None:
            raise UnreadableTable(index, f"{name} is empty")
        return value

    end = (place("x"), place("y"), place("z"))
    first = before is None or (before.cutter, before.setup) != (
        cells["cutter"],
        cells["setup"],
    )
    return Row(
        index=index,
        number=cells["row"],
        setup=cells["setup"],
        feature=cells["feature"],
        cutter=cells["cutter"],
        stage=cells["stage"],
        move=cells["move"],
        axis=cells["axis"],
        start=end if first or before is None else before.end,
        end=end,
        first=first,
        both_ways=number("both_ways") or 0.0,
        width=number("width_of_cut") or 0.0,
        depth=number("depth_of_cut") or 0.0,
        feed=number("feed"),
        drill=number("drill_diameter"),
        pass_name=(cells.get("pass") or "").strip(),
        crank=(cells.get("crank") or "").strip(),
        turns=None if (turns := more("turns")) is None else int(turns),
        dial=more("dial"),
        c=more("c"),
    )
