"""What square rings leave beside slanted and curved walls: straight passes side by side.

A piece of metal is swept in one of four ways: passes along X from front to back or from back to
front, along Y from left to right or from right to left; each way round the metal that is left
lies on the asked-for side. The way with the least metal cut on both sides is taken.
"""

from shapely import LineString, Point, box
from shapely.geometry.base import BaseGeometry

from passplot.frozen import dataclass
from passplot.plan.bench import Bench
from passplot.plan.entry import approach, open_space
from passplot.plan.grid import CLOSE, Grid
from passplot.plan.legs import Legs, Purpose
from passplot.plan.metal import thick
from passplot.plan.rings import whole
from passplot.plan.spans import total
from passplot.plan.walker import Walker
from passplot.plan.zones import SLACK, polygons, solid

Spot = tuple[float, float]
Leg = tuple[Spot, Spot]

_WAYS = ((0, 1), (0, -1), (1, 0), (-1, 0))
"""Directions in which the passes follow one another."""


@dataclass(frozen=True, slots=True)
class Sweep:
    """Passes side by side and what they cost: length cut on both sides and a share a pass."""

    legs: tuple[Leg, ...]
    cost: float


def sweep_pieces(
    walker: Walker,
    target: BaseGeometry,
    zone: BaseGeometry,
    z: float,
    purpose: Purpose,
    share: float,
    core: BaseGeometry,
) -> None:
    """Take every piece of metal that is too thick for one pass along the wall.

    ``share`` of the width of cut is left for that pass. What stands round a rectangle that rings
    have cleared (``core``) is taken side by side: each side has passes of its own, from the
    cleared space outwards.
    """
    for _ in range(4):
        pieces = thick_pieces(walker, target, zone, z, purpose.limit, share)
        pieces = [part for piece in pieces for part in _sides(piece, core, walker.bench.thin)]
        if not pieces:
            return
        before = walker.metal.at(z).area
        for piece in pieces:
            _sweep(walker, piece, zone, z, purpose, share)
        if walker.metal.at(z).area > before - walker.bench.thin**2:
            return


def thick_pieces(
    walker: Walker,
    target: BaseGeometry,
    zone: BaseGeometry,
    z: float,
    width: float,
    share: float = 1.0,
) -> list[BaseGeometry]:
    """Pieces of metal the cutter can get at that are thicker than a share of a width of cut."""
    bench = walker.bench
    reach = zone.buffer(bench.radius, quad_segs=24)
    rest = solid(walker.metal.at(z).intersection(target).intersection(reach))
    room = 0.5 * share * width + bench.thin
    found = []
    for core in polygons(rest.buffer(-room)):
        # thin bands along the walls join pieces that are best taken one by one
        apart = polygons(core.buffer(-room))
        several = len(apart) > 1
        for part in apart if several else [core]:
            if part.area > bench.thin**2:
                found.append(
                    solid(part.buffer((2.5 if several else 1.5) * room).intersection(rest))
                )
    return found


def _sides(piece: BaseGeometry, core: BaseGeometry, thin: float) -> list[BaseGeometry]:
    """A piece cut along the sides of a rectangle of the core that it goes round."""
    parts = [piece]
    for rectangle in polygons(core):
        x0, y0, x1, y1 = rectangle.bounds
        if rectangle.area < 0.999 * (x1 - x0) * (y1 - y0):
            continue
        far = x1 - x0 + y1 - y0
        cuts = (
            box(x0 - far, y1, x1 + far, y1 + far),
            box(x0 - far, y0 - far, x1 + far, y0),
            box(x0 - far, y0, x0, y1),
            box(x1, y0, x1 + far, y1),
        )
        apart = [part for one in parts for cut in cuts for part in polygons(one.intersection(cut))]
        # what the rings left in their own corners goes with the sides, or is looked at later
        parts = [part for part in apart if thick(part, 2 * thin)] or parts
    return parts


def _sweep(
    walker: Walker,
    piece: BaseGeometry,
    zone: BaseGeometry,
    z: float,
    purpose: Purpose,
    share: float,
) -> None:
    room = open_space(walker, zone, z)
    sweeps = [_tried(walker, piece, zone, z, way, purpose.limit, share, room) for way in _WAYS]
    sweeps = [sweep for sweep in sweeps if sweep.legs]
    if not sweeps:
        _go_in(walker, piece, zone, z)
        return
    best = min(sweeps, key=lambda sweep: sweep.cost)
    legs = Legs(walker, z, purpose)
    for a, b in best.legs:
        legs.leg(a, b, False, False)


def _go_in(walker: Walker, piece: BaseGeometry, zone: BaseGeometry, z: float) -> None:
    """Down in the middle of a place with less room than a pass takes, as a bore little larger."""
    grid = walker.bench.grid
    for room in polygons(zone.intersection(piece)):
        middle = room.centroid
        spot = grid.near(middle.x), grid.near(middle.y)
        if zone.covers(Point(spot)) and not walker.stands_free(spot, z):
            approach(walker, spot, z, (0, 0), zone)


def _tried(
    walker: Walker,
    piece: BaseGeometry,
    zone: BaseGeometry,
    z: float,
    way: tuple[int, int],
    width: float,
    share: float,
    room: BaseGeometry,
) -> Sweep:
    """The passes of one way, tried on a copy of the metal; ``room`` is where nothing is touched."""
    bench = walker.bench
    legs = _lines(bench, piece, zone, way, width, share)
    twin, cost = walker.metal.copy(), 0.0
    kept: list[Leg] = []
    for a, b in legs:
        contact = twin.contact(a, b, z, bench.radius, bench.left)
        if contact.empty:
            continue
        closed = not twin.free(a, z, bench.touch)
        cost += contact.both_ways + 4 * total(contact.climbing) + bench.radius * 0.2
        way_in = room.distance(Point(a)) if not kept else width
        cost += way_in * closed
        twin.remove(twin.swept(a, b, bench.radius), z)
        kept.append((a, b))
    return Sweep(tuple(kept), cost)


def _lines(
    bench: Bench,
    piece: BaseGeometry,
    zone: BaseGeometry,
    way: tuple[int, int],
    width: float,
    share: float,
) -> list[Leg]:
    """Passes over a piece in order, clipped to the zone, ends on the readout's grid."""
    grid, radius = bench.grid, bench.radius
    near = zone.intersection(piece.buffer(1.2 * radius))
    if near.is_empty:
        return []
    dx, dy = way
    sign, axis = dx + dy, 1 if dy else 0
    low, high = piece.bounds[axis], piece.bounds[axis + 2]
    # positions of the axis, counted the way the passes follow one another
    first = (low if sign > 0 else -high) - radius
    last = near.bounds[axis + 2] if sign > 0 else -near.bounds[axis]
    # rounding must not leave a rim at the stock's edge
    rim = grid.resolution if _at_edge(bench, high if sign > 0 else low, axis, sign) else 0.0
    last = min(last, (high if sign > 0 else -low) - radius + rim)
    if not _flat(near, sign * last, bool(dy), radius):
        last -= 0.8 * share * width
    count = max(1, whole((last - first) / width))
    # with the metal ahead of the row of passes on the left of the feed
    forward = (dy, -dx) if bench.left else (-dy, dx)
    legs: list[Leg] = []
    for number in range(1, count + 1):
        at = grid.away(sign * (first + (last - first) * number / count), -sign)
        found = _intervals(grid, _across(near, at, bool(dy)).intersection(near), bool(dy))
        if forward[0] + forward[1] < 0:
            found = [(b, a) for a, b in reversed(found)]
        legs += [((a, at), (b, at)) if dy else ((at, a), (at, b)) for a, b in found]
    return legs


def _at_edge(bench: Bench, at: float, axis: int, sign: int) -> bool:
    """Whether the stock ends there along an axis (0 or 1), in the direction of ``sign``."""
    return sign * (at - bench.stock.bounds[axis + (2 if sign > 0 else 0)]) > -SLACK


def _across(zone: BaseGeometry, at: float, along_x: bool) -> LineString:
    """A line along X or Y through all of a zone."""
    x0, y0, x1, y1 = zone.bounds
    return LineString([(x0, at), (x1, at)] if along_x else [(at, y0), (at, y1)])


def _flat(zone: BaseGeometry, at: float, along_x: bool, radius: float) -> bool:
    """Whether a zone ends along a straight wall there, and not at the crest of a curve."""
    return bool(_across(zone, at, along_x).intersection(zone.buffer(1e-5)).length > radius / 2)


def _intervals(grid: Grid, clipped: BaseGeometry, along_x: bool) -> list[tuple[float, float]]:
    """Where a line runs in the zone, rising, rounded inwards."""
    found = []
    for part in getattr(clipped, "geoms", [clipped]):
        if part.is_empty or part.length == 0:
            continue
        bounds = part.bounds
        a, b = (bounds[0], bounds[2]) if along_x else (bounds[1], bounds[3])
        a, b = grid.up(a + CLOSE), grid.down(b - CLOSE)
        if b > a:
            found.append((a, b))
    joined: list[tuple[float, float]] = []
    for a, b in sorted(found):
        if joined and a - joined[-1][1] <= grid.resolution:
            joined[-1] = (joined[-1][0], b)
        else:
            joined.append((a, b))
    return joined
