"""What stays the same while one cutter works: geometry, clearances, limits."""

from __future__ import annotations

from math import cos, pi, sqrt
from typing import TYPE_CHECKING

import shapely
from shapely import LineString, Polygon, box
from shapely.geometry.base import BaseGeometry

from passplot.frozen import dataclass
from passplot.plan.cells import Cells
from passplot.plan.grid import Grid
from passplot.plan.loops import loop_area
from passplot.plan.zones import solid
from passplot.records.care import Care
from passplot.records.job import Job
from passplot.records.plan import CutterUse

if TYPE_CHECKING:
    from passplot.plan.ground import Ground

Spot = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Obstacle:
    """A keep-out: its plan-view area and the Z of its top."""

    name: str
    area: Polygon
    top: float


@dataclass(frozen=True, slots=True)
class Bench:
    """The job, a cutter and the clearances they are planned with (job units).

    Attributes
    ----------
    left : bool
        Whether metal must lie on the left of the line of feed.
    clear : float
        Least sideways distance from metal when coming back.
    back_off : float
        How far to back off a wall before travelling.
    thin : float
        Metal thinner than this is a chord's sliver, not metal.
    safe_z : float
        Height at which moves over the work go.
    drilled, drill : bool, float
        Whether the work material wants a drilled hole to enter a closed pocket; its size.
    ground : Ground or None
        The true walls, where some do not run along X or Y.
    care : Care
        The margins it is planned with.
    """

    job: Job
    cells: Cells
    use: CutterUse
    grid: Grid
    obstacles: tuple[Obstacle, ...]
    stock: Polygon
    left: bool
    clear: float
    back_off: float
    thin: float
    safe_z: float
    drilled: bool
    drill: float
    ground: Ground | None = None
    care: Care = Care()

    def drill_for_entry(self) -> float | None:
        """Diameter of the drill that opens the way down, None where the cutter plunges itself."""
        return self.drill if self.drilled or not self.use.cutter.center_cutting else None

    @property
    def radius(self) -> float:
        """Radius the cutter really cuts."""
        return self.use.cutter.radius

    @property
    def touch(self) -> float:
        """Nearest the axis may come to cleared metal's edge: the radius less a chord's sagitta."""
        coarse = self.ground is None and not self.care.fine
        return self.radius * (1 - (0.0004 if coarse else 0.00004))

    @property
    def stand_off(self) -> float:
        """How far the cutter's edge stands from metal when it is out of the cut."""
        return self.job.limits.stand_off

    @property
    def bite(self) -> float:
        """Longest stretch cut on both sides that still counts as the bite into a corner.

        Where one pass turns into the next, its front meets metal over the width of cut and the
        sagitta of the last pass: w + r - sqrt(r² - w²).
        """
        width, radius = min(self.use.width_limit, self.radius), self.radius
        return max(width + radius - sqrt(radius**2 - width**2), radius)

    def blocked(self, a: Spot, b: Spot, z: float) -> bool:
        """Whether a keep-out reaching above ``z`` lies in the cutter's way from a to b."""
        return any(
            obstacle.top > z and obstacle.area.distance(_line(a, b)) < self.radius
            for obstacle in self.obstacles
        )

    def clear_of_obstacles(self, room: BaseGeometry, z: float) -> BaseGeometry:
        """What is left of where the axis may stand beside keep-outs that reach above ``z``."""
        for obstacle in self.obstacles:
            if obstacle.top > z:
                # chords outside the arcs round corners, the sides no farther off than they are
                round_off = obstacle.area.buffer(self.radius / cos(pi / 128), quad_segs=32)
                square_off = obstacle.area.buffer(self.radius, join_style="mitre")
                room = solid(room.difference(round_off.intersection(square_off)))
        return room

    def off_stock(self, spot: Spot) -> bool:
        """Whether the whole cutter is beside the stock."""
        return bool(self.stock.distance(shapely.Point(spot)) >= self.radius)


def _line(a: Spot, b: Spot) -> BaseGeometry:
    return shapely.Point(a) if a == b else LineString([a, b])


def make_obstacles(job: Job) -> tuple[Obstacle, ...]:
    """Keep-outs as plan-view areas."""
    out = []
    for keep_out in job.keep_outs:
        sagitta = job.shop.machine.resolution / 5
        area = loop_area(keep_out.loop, sagitta, grow=True)
        out.append(Obstacle(keep_out.name, area, keep_out.top))
    return tuple(out)


def stock_area(job: Job) -> Polygon:
    """The stock in plan view."""
    (x0, x1), (y0, y1) = job.stock.x, job.stock.y
    return box(x0, y0, x1, y1)
