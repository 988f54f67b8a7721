"""What rings leave behind: strips between features, and places only the round cutter fits into."""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import shapely
from shapely import Point, union_all
from shapely.geometry.base import BaseGeometry

from passplot.plan.areas import Area, leftover
from passplot.plan.bench import Bench
from passplot.plan.clearing import Clearing
from passplot.plan.entry import approach
from passplot.plan.rings import Steps
from passplot.plan.stage import Cutting, clear_area, make_clearing
from passplot.plan.walker import Walker
from passplot.plan.zones import SLACK, Growth, polygons, round_zone

Spot = tuple[float, float]

_TRIES = 80
"""Most places gone into before a piece is given up."""


def clear_rest(
    walker: Walker, area: Area, target: BaseGeometry, z: float, how: Cutting
) -> list[BaseGeometry]:
    """Take what is left of ``target``: by rings, along straight walls, then place by place.

    Returns
    -------
    list of geometry
        Metal the cutter could sweep but cannot be brought to: a keep-out stands in the way.
    """
    bench = walker.bench
    thin = _too_thin(bench, how.to_size)

    # past the stock's edge a wall ends: a cutter may reach round it into a corner near the edge
    walls = bench.cells.rectangles(bench.cells.inner(area.wall_mask))

    def rest() -> list[BaseGeometry]:
        return leftover(bench.cells, walls, target, walker.metal, z, how.base, bench.radius, thin)

    pieces = rest()
    if not pieces:
        return []
    if any(piece.area > 1e-4 * bench.radius**2 for piece in pieces):
        clear_area(walker, area, union_all(pieces), z, how, round_corners=True)
        pieces = rest()
    zone = round_zone(bench.cells.domain, walls, how.base)
    if pieces:
        steps = Steps(Growth.even(how.limit), 0, Growth.even(how.limit))
        bare = replace(area, walls=walls, around=walls)
        clearing = make_clearing(walker, bare, union_all(pieces), z, how, steps)
        _along_walls(clearing, zone)
        pieces = rest()
    return _place_by_place(walker, pieces, zone, z, thin)


def _too_thin(bench: Bench, to_size: bool) -> float:
    """Thickness up to which metal is left: chords' slivers, what rounding leaves in a corner.

    Wall stock may be a step of the readout more than what rounding makes of it.
    """
    return max(2.5 * bench.thin, (1.5 if to_size else 3.0) * bench.grid.resolution)


def _along_walls(clearing: Clearing, zone: BaseGeometry) -> None:
    """Straight stretches of the zone's edge, where square corners found no way."""
    shortest = clearing.bench.radius / 10
    for polygon in polygons(zone):
        turned = shapely.orient_polygons(polygon, exterior_cw=True)
        for ring in (turned.exterior, *turned.interiors):
            for a, b in pairwise(ring.coords):
                level = abs(a[0] - b[0]) < SLACK or abs(a[1] - b[1]) < SLACK
                if level and abs(a[0] - b[0]) + abs(a[1] - b[1]) > shortest:
                    clearing.along(a, b)


def _place_by_place(
    walker: Walker, pieces: list[BaseGeometry], zone: BaseGeometry, z: float, thin: float
) -> list[BaseGeometry]:
    """Go into one place after the other, always where most is left to take."""
    bench = walker.bench
    fine = shapely.segmentize(zone, bench.radius / 5)
    for _ in range(_TRIES):
        if not pieces:
            break
        biggest = max(pieces, key=lambda piece: piece.area)
        spot = (
            _best_place(walker, biggest, zone, zone, z)
            or _best_place(walker, biggest, zone, fine, z)
            # far from all walls: what stands between two cuts that just do not meet
            or _best_place(walker, biggest, zone, biggest, z)
        )
        if spot is None:
            break
        before = walker.metal.at(z).area
        approach(walker, spot, z, (0, 0), zone.buffer(5 * SLACK))
        left = union_all(pieces).intersection(walker.metal.at(z))
        pieces = [p for p in polygons(left) if not p.buffer(-thin / 2).is_empty]
        if walker.metal.at(z).area >= before:
            break
    return pieces


def _best_place(
    walker: Walker, piece: BaseGeometry, zone: BaseGeometry, shape: BaseGeometry, z: float
) -> Spot | None:
    """Corner of a shape, in the zone, from which the cutter covers most of a piece."""
    bench = walker.bench
    corners = np.unique(shapely.get_coordinates(shape), axis=0)
    near = shapely.distance(shapely.points(corners), piece) < bench.radius
    best: tuple[float, Spot] | None = None
    for x, y in corners[near]:
        spot = _onto_grid(walker, (float(x), float(y)), zone)
        if spot is None or bench.blocked(spot, spot, z) or walker.stands_free(spot, z):
            continue
        gain = piece.intersection(Point(spot).buffer(bench.radius)).area
        if gain > SLACK * bench.radius and (best is None or gain > best[0] * (1 + 1e-9)):
            best = (gain, spot)
    return None if best is None else best[1]


def _onto_grid(walker: Walker, at: Spot, zone: BaseGeometry) -> Spot | None:
    """The nearest position of the readout that lies in the zone."""
    grid = walker.bench.grid
    step = grid.resolution
    tries = sorted(
        (
            (grid.near(x + i * step), grid.near(y + j * step))
            for x, y in (at,)
            for i in range(-2, 3)
            for j in range(-2, 3)
        ),
        key=lambda spot: abs(spot[0] - at[0]) + abs(spot[1] - at[1]),
    )
    inside = shapely.distance(shapely.points(np.array(tries)), zone) <= 3 * SLACK
    return tries[int(np.argmax(inside))] if inside.any() else None
