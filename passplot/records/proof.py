"""What the replay of the printed rows found. Lengths in job units."""

from passplot.frozen import dataclass


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing a plan does that it must not: ``name`` of the check, row (0: whole plan), text."""

    name: str
    row: int
    text: str

    def __str__(self) -> str:
        return f"row {self.row}: {self.text}" if self.row else self.text


@dataclass(frozen=True, slots=True)
class Spread:
    """Least and greatest stock found."""

    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Proof:
    """Measures of a replay.

    ``conventional_share`` is the share of the cutting length with metal on the asked-for side
    only. ``cell`` is the resolution of the height map. ``row_both_ways`` holds, for each cut
    row, its number and the both-ways length measured; ``floor_both_ways_length`` is the share of
    ``both_ways_length`` that shallow passes over faces and floors cut.
    """

    findings: tuple[Finding, ...]
    gouge: float
    left_uncut: float
    wall_stock: Spread
    floor_stock: Spread
    conventional_share: float
    both_ways_length: float
    climb_length: float
    cutting_length: float
    max_width_of_cut: float
    max_depth_of_cut: float
    cell: float
    rows: int
    row_both_ways: tuple[tuple[int, float], ...] = ()
    floor_both_ways_length: float = 0.0

    @property
    def good(self) -> bool:
        """Whether nothing was found."""
        return not self.findings
