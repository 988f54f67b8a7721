"""Clearing an area at one height: rings, then whatever corners the rings could not get at."""

from dataclasses import replace
from math import inf

from shapely.geometry.base import BaseGeometry

from passplot.frozen import dataclass
from passplot.plan.areas import Area, free_face
from passplot.plan.clearing import Clearing
from passplot.plan.ends import covered
from passplot.plan.legs import Purpose
from passplot.plan.rings import RUBS, Middle, Spacing, Steps, courses, plan_steps, whole
from passplot.plan.snap import Snapping
from passplot.plan.terms import FeatureTerms
from passplot.plan.walker import Walker
from passplot.plan.zones import SLACK, Growth, rect_union, round_zone, solid
from passplot.records.job import WallLimit

Spot = tuple[float, float]

FACE_WIDTH = 0.70
"""Width of a face pass in diameters (common practice, no source: two thirds to three quarters)."""

ONE_WAY = 0.48
"""Width of a pass in diameters: just under the radius, so that it cuts one way only."""


@dataclass(frozen=True, slots=True)
class Cutting:
    """How an area is cut: names of its passes, width of cut, distance from the walls.

    ``base`` is the distance of the axis from a finished wall on the last ring; ``to_size``
    whether that brings the wall to size.
    """

    name: str
    slot_name: str
    limit: float
    base: float
    to_size: bool
    limits: tuple[WallLimit, ...]


def clear_area(
    walker: Walker,
    area: Area,
    target: BaseGeometry,
    z: float,
    how: Cutting,
    round_corners: bool = False,
) -> None:
    """Clear ``target`` at height ``z`` by rings, as far as square corners let them.

    ``round_corners`` reaches metal that no wall looks at along X or Y, too: rests of it.
    """
    bench = walker.bench
    if not area.walls:
        short = bench.radius - covered(bench.use.cutter, bench.job.finish.cusp)
        overhang = max(bench.radius / 4, short)
        face = free_face(bench.cells, bench.left, overhang)
        across = (
            min(
                bench.stock.bounds[2] - bench.stock.bounds[0],
                bench.stock.bounds[3] - bench.stock.bounds[1],
            )
            + overhang
        )
        count = whole(across / how.limit)
        steps = Steps(Growth.even(across / count), count - 1, Growth.even(across / count))
        _run(walker, face, target, z, replace(how, base=bench.radius, to_size=False), steps, 0.0)
        return
    spacing = Spacing(bench.radius, how.base - bench.radius, how.limit, bench.grid.setting)
    steps = plan_steps(bench.cells, area.wall_mask, area.metal_mask, spacing, round_corners)
    _run(walker, area, target, z, how, steps, RUBS * bench.grid.setting)


def trace_walls(walker: Walker, area: Area, target: BaseGeometry, z: float, how: Cutting) -> None:
    """Follow the walls of an area once, at their distance ``how.base``."""
    steps = Steps(Growth.even(how.limit), 0, Growth.even(how.limit))
    _run(walker, area, target, z, how, steps, inf)


def make_clearing(
    walker: Walker, area: Area, target: BaseGeometry, z: float, how: Cutting, steps: Steps
) -> Clearing:
    """What follows courses over an area at height ``z``."""
    bench = walker.bench
    # a feature cut to size keeps to its own area: a neighbour's wall may have stock to keep
    around = area.walls if how.to_size else area.around
    allowed: BaseGeometry = round_zone(bench.cells.domain, around, how.base).buffer(5 * SLACK)
    if bench.ground is not None:
        # a slanted wall crosses the passes anywhere: there is no room for slack beside it
        allowed = solid(allowed.intersection(bench.ground.zone(walker.floors, z, how.base)))
    allowed = bench.clear_of_obstacles(allowed, z)
    purpose = Purpose(how.name, how.slot_name, how.limit, allowed, target)
    snapping = Snapping(
        bench.grid,
        steps,
        how.limit,
        how.base if how.to_size else None,
        how.limits,
        walker.task.feature,
    )
    return Clearing(walker, z, purpose, snapping)


def _run(
    walker: Walker,
    area: Area,
    target: BaseGeometry,
    z: float,
    how: Cutting,
    steps: Steps,
    rub: float,
) -> None:
    """Follow all courses, but the middle of gaps with less room than ``rub`` beside it."""
    bench = walker.bench

    def useful(piece: BaseGeometry) -> bool:
        metal = walker.metal.at(z)
        return bool(metal.distance(piece) < bench.radius)

    widths = steps.widths
    step = max(widths.east, widths.west, widths.north, widths.south)

    def rubs(ring: int, line: Middle) -> bool:
        # what is left beside it goes with the next ring where that may be so wide
        goes_along = ring > 0 and line.room + step <= how.limit
        return bench.thin + SLACK < line.room < rub and not goes_along

    clearing = make_clearing(walker, area, target, z, how, steps)
    # on either side of the middle nothing is left there that rounding would not leave
    fine = 0.0 if how.to_size else 2 * bench.grid.resolution
    for course in courses(bench.cells, area.walls, steps, how.base, useful, fine, rubs):
        clearing.follow(course)


def cells_area(walker: Walker, mask: object) -> BaseGeometry:
    """Plan-view area of a mask of cells."""
    cells = walker.bench.cells
    return rect_union(cells.rectangles(mask))  # type: ignore[arg-type]


def feature_area(walker: Walker, index: int) -> BaseGeometry:
    """Plan-view area of the cells that a feature clears."""
    cells = walker.bench.cells
    return cells_area(walker, cells.inner(cells.clears[index]))


def open_area(
    walker: Walker, all_terms: tuple[FeatureTerms, ...], terms: FeatureTerms, z: float
) -> BaseGeometry:
    """Plan-view area of a feature, and of deeper ones that its cutter works.

    In a corner between them metal above ``z`` may be reached from this floor only. Left out are
    those with more stock to keep on their walls.
    """
    bench = walker.bench
    cells, mask = bench.cells, bench.cells.clears[terms.index].copy()
    for other in all_terms:
        cutters = bench.job.features[other.index].cutters
        mine = not cutters or bench.use.cutter.id in cutters
        deeper = walker.floors[other.index] < z - bench.thin
        if mine and deeper and other.wall <= terms.wall:
            mask |= cells.clears[other.index]
    return cells_area(walker, cells.inner(mask))
