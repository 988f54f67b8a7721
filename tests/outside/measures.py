"""The rows of a written moves table, and what a replay measures of them. Job units throughout."""

import csv
from dataclasses import dataclass, field
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Row:
    """A row of the moves table as written; ``line`` is the whole record."""

    number: int
    feature: str
    cutter: str
    stage: str
    move: str
    axis: str
    x: float
    y: float
    z: float
    both_ways: float
    line: dict[str, str]


@dataclass(frozen=True, slots=True)
class Cut:
    """What one ``cut`` row was found to do. Lengths along the feed, job units.

    ``both`` comes in so many ``runs``; as far as the samples tell it lies in
    ``both_range``. ``width`` leaves out the bite into a corner: whatever
    lies within a radius of a both-ways length or of the last metal of the row.
    """

    row: Row
    length: float
    wanted: float
    wrong: float
    both: float
    both_range: tuple[float, ...]
    runs: int
    width: float
    radius: float
    depth: float = 0.0

    @property
    def engaged(self) -> float:
        """Length over which metal was cut at all."""
        return self.wanted + self.wrong + self.both


@dataclass(frozen=True, slots=True)
class Left:
    """What roughing leaves on a feature: least and greatest stock, job units."""

    wall: tuple[float, float]
    floor: tuple[float, float]


@dataclass(slots=True)
class Measures:
    """All that a replay measures.

    Attributes
    ----------
    cell : float
        Pitch of the samples.
    gouge : float
        How far the cutter got into the finished part, by formula: the lesser of the sideways
        and the downward distance, greatest of all rows.
    gouged : int
        Samples of the finished part taken out farther than one cell from its border, or below
        a floor.
    gouge_rows, touched, clamped, slanted, low_starts : list of int
        Rows that cut the finished part; that touch metal without being a cut or a plunge; that
        enter a keep-out; that move more than the one axis they name; first rows of a cutter
        that stand below ``cross_over``.
    left : int
        Reachable samples left standing, farther than a cell and a half from what no cutter can
        reach (of very many, some hundreds are looked at); ``left_at`` is one of them and
        ``left_height`` the greatest height.
    unreached : float
        Plan-view area no cutter could sweep.
    rubs : list of (row, clearance)
        Return rows nearer to metal than allowed.
    plunges : list of (row, depth)
        Depth of metal each plunge went down through, a hole drilled first aside.
    """

    cell: float
    gouge: float = 0.0
    gouged: int = 0
    gouge_rows: list[int] = field(default_factory=list)
    touched: list[int] = field(default_factory=list)
    clamped: list[int] = field(default_factory=list)
    slanted: list[int] = field(default_factory=list)
    low_starts: list[int] = field(default_factory=list)
    left: int = 0
    left_at: tuple[float, float] | None = None
    left_height: float = 0.0
    unreached: float = 0.0
    rubs: list[tuple[int, float]] = field(default_factory=list)
    plunges: list[tuple[int, float]] = field(default_factory=list)
    cuts: list[Cut] = field(default_factory=list)
    stock_left: dict[str, Left] = field(default_factory=dict)

    @property
    def cutting_length(self) -> float:
        return sum(cut.engaged for cut in self.cuts)

    @property
    def climb_length(self) -> float:
        """Length with metal on the side that was not asked for only."""
        return sum(cut.wrong for cut in self.cuts)

    @property
    def both_length(self) -> float:
        return sum(cut.both for cut in self.cuts)

    @property
    def wanted_share(self) -> float:
        """Share of the cutting length with metal on the asked-for side only."""
        return sum(cut.wanted for cut in self.cuts) / (self.cutting_length or 1.0)

    @property
    def both_share(self) -> float:
        return self.both_length / (self.cutting_length or 1.0)


def read_rows(table: Path) -> list[Row]:
    """The rows of a moves table."""
    with table.open(encoding="utf-8", newline="") as stream:
        return [
            Row(
                int(line["row"]),
                line["feature"],
                line["cutter"],
                line["stage"],
                line["move"],
                line["axis"],
                float(line["x"]),
                float(line["y"]),
                float(line["z"]),
                float(line["both_ways"] or 0),
                line,
            )
            for line in csv.DictReader(stream)
        ]
