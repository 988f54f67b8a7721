"""Clearing an area at one height: rings, then whatever corners the rings could not get at."""

from dataclasses import dataclass, replace

from shapely import Point, union_all
from shapely.geometry.base import BaseGeometry

from passplot.plan.areas import Area, free_face, leftover
from passplot.plan.clearing import Clearing, Purpose
from passplot.plan.entry import approach
from passplot.plan.metal import stadium
from passplot.plan.rings import Steps, courses, plan_steps
from passplot.plan.snap import Snapping
from passplot.plan.walker import Walker
from passplot.plan.zones import SLACK, Growth, polygons, rect_union, round_zone
from passplot.records.job import WallLimit

Spot = tuple[float, float]

FACE_WIDTH = 0.70
"""Width of a face pass in diameters (common practice, no source: two thirds to three quarters)."""


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


def clear_area(walker: Walker, area: Area, target: BaseGeometry, z: float, how: Cutting) -> None:
    """Clear ``target`` at height ``z`` by rings, as far as square corners let them."""
    bench = walker.bench
    if not area.walls:
        overhang = bench.radius / 4
        area = free_face(bench.cells, bench.left, overhang)
        how = replace(how, base=bench.radius, to_size=False)
    wall = how.base - bench.radius
    steps = plan_steps(bench.cells, area.wall_mask, area.metal_mask, bench.radius, wall, how.limit)
    _run(walker, area, target, z, how, steps)


def trace_walls(walker: Walker, area: Area, target: BaseGeometry, z: float, how: Cutting) -> None:
    """Follow the walls of an area once, at their distance ``how.base``."""
    _run(walker, area, target, z, how, Steps(Growth.even(how.limit), 0))


def _run(
    walker: Walker, area: Area, target: BaseGeometry, z: float, how: Cutting, steps: Steps
) -> None:
    bench = walker.bench

    def useful(piece: BaseGeometry) -> bool:
        metal = walker.metal.at(z)
        return bool(metal.distance(piece) < bench.radius)

    allowed = round_zone(bench.cells.domain, area.walls, how.base).buffer(2 * SLACK)
    allowed = allowed.buffer(bench.grid.resolution / 4)
    purpose = Purpose(how.name, how.slot_name, how.limit, allowed, target)
    snapping = Snapping(
        bench.grid,
        steps,
        how.limit,
        how.base if how.to_size else None,
        how.limits,
        walker.task.feature,
    )
    clearing = Clearing(walker, z, purpose, snapping)
    for course in courses(bench.cells, area.walls, steps, how.base, useful):
        clearing.follow(course)


def clear_rest(
    walker: Walker, area: Area, target: BaseGeometry, z: float, how: Cutting
) -> list[BaseGeometry]:
    """Take what rings left: strips first, then places only the round of the cutter fits into.

    Returns
    -------
    list of geometry
        Metal the cutter could sweep but that keep-outs do not let it reach.
    """
    bench = walker.bench
    thin = 2.5 * bench.thin

    def rest() -> list[BaseGeometry]:
        return leftover(
            bench.cells, area.walls, target, walker.metal, z, how.base, bench.radius, thin
        )

    pieces = rest()
    if not pieces:
        return []
    if any(_has_area(piece, bench.radius) for piece in pieces):
        clear_area(walker, area, union_all(pieces), z, how)
        pieces = rest()
    zone = round_zone(bench.cells.domain, area.walls, how.base)
    for _ in range(200):
        if not pieces:
            return []
        before = sum(piece.area for piece in pieces)
        for piece in pieces:
            _poke(walker, piece, zone, z)
        pieces = rest()
        if sum(piece.area for piece in pieces) > before * 0.999:
            break
    return pieces


def _has_area(piece: BaseGeometry, radius: float) -> bool:
    return piece.area > 1e-4 * radius * radius


def _poke(walker: Walker, piece: BaseGeometry, zone: BaseGeometry, z: float) -> None:
    """Go where the cutter covers most of a piece, straight in from cleared space if it can."""
    bench = walker.bench
    best: tuple[float, Spot] | None = None
    for polygon in polygons(zone):
        if polygon.distance(piece) > bench.radius:
            continue
        for ring in (polygon.exterior, *polygon.interiors):
            for x, y in list(ring.coords)[:-1]:
                if piece.distance(Point(x, y)) >= bench.radius:
                    continue
                spot = _onto_grid(walker, (x, y), zone)
                if spot is None or bench.blocked(spot, spot, z):
                    continue
                gain = piece.intersection(stadium(spot, spot, bench.radius)).area
                if best is None or gain > best[0] * (1 + 1e-9):
                    best = (gain, spot)
    if best is None or best[0] <= 0:
        return
    spot = best[1]
    if walker.stands_free(spot, z):
        return
    approach(walker, spot, z, (0, 0), zone.buffer(bench.grid.resolution / 4))


def _onto_grid(walker: Walker, at: Spot, zone: BaseGeometry) -> Spot | None:
    """The nearest position of the readout that lies in the zone."""
    grid = walker.bench.grid
    tries = sorted(
        (
            (x, y)
            for x in (grid.up(at[0]), grid.down(at[0]))
            for y in (grid.up(at[1]), grid.down(at[1]))
        ),
        key=lambda spot: abs(spot[0] - at[0]) + abs(spot[1] - at[1]),
    )
    return next((spot for spot in tries if zone.distance(Point(spot)) <= 3 * SLACK), None)


def cells_area(walker: Walker, mask: object) -> BaseGeometry:
    """Plan-view area of a mask of cells."""
    cells = walker.bench.cells
    return rect_union(cells.rectangles(mask))  # type: ignore[arg-type]
