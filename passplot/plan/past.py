"""Room beside and above the work for going past a position and coming back."""

from dataclasses import replace

from shapely import LineString
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from passplot.frozen import dataclass
from passplot.plan.bench import Obstacle, stock_area
from passplot.plan.grid import Grid
from passplot.plan.loops import area_of
from passplot.records.job import Job
from passplot.records.plan import Move
from passplot.records.shop import Dial

PAST_INCH, PAST_MM = 0.020, 0.5
"""Least way past a position (common practice, no source)."""

TOUCH = 1 - 0.0004
"""Nearest the axis may come to metal, in radii: less the sagitta of a chord."""


def at(move: Move, axis: str) -> float:
    """Where a row ends along an axis."""
    return {"X": move.x, "Y": move.y, "Z": move.z}[axis]


def moved(move: Move, axis: str, value: float) -> Move:
    """The row ending at ``value`` along ``axis``."""
    if axis == "X":
        return replace(move, x=value)
    return replace(move, y=value) if axis == "Y" else replace(move, z=value)


def way(move: Move, axis: str, to: float) -> LineString:
    """The way along ``axis`` from where a row ends."""
    end = (to, move.y) if axis == "X" else (move.x, to)
    return LineString([(move.x, move.y), end])


@dataclass(frozen=True, slots=True)
class Room:
    """What stays the same: geometry, dials, how far to go past."""

    job: Job
    grid: Grid
    obstacles: tuple[Obstacle, ...]
    dials: dict[str, Dial]
    part: dict[float, BaseGeometry]

    def past(self, axis: str) -> float:
        """How far to go past a position: more than the backlash."""
        least = PAST_INCH if self.job.inch else PAST_MM
        return self.grid.round_out(max(2 * self.dials[axis].backlash, least), 1)

    @property
    def beside(self) -> float:
        """Least distance from metal on the way back (common practice, no source)."""
        return 0.010 if self.job.inch else 0.25

    def part_at(self, z: float) -> BaseGeometry:
        """Plan-view area of the finished part at height ``z``."""
        if z not in self.part:
            sagitta = self.job.shop.machine.resolution / 5
            areas = [
                area_of(feature, sagitta, grow=False)
                for feature in self.job.features
                if feature.floor <= z + self.grid.resolution / 2
            ]
            self.part[z] = stock_area(self.job).difference(unary_union(areas))
        return self.part[z]
