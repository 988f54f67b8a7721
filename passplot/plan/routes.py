"""Ways back at depth that touch no metal: few straight legs, the shortest that is free."""

from shapely import LineString, Point
from shapely.geometry.base import BaseGeometry

from passplot.plan.bench import Bench
from passplot.plan.metal import Metal
from passplot.plan.underside import clear_under

Spot = tuple[float, float]
Way = tuple[Spot, ...]


def route(bench: Bench, metal: Metal, a: Spot, b: Spot, z: float) -> Way | None:
    """Corners of a free way from ``a`` to ``b`` at height ``z``, ``b`` last; None if none is found.

    The way first backs off what was just cut, then travels with at least ``bench.clear`` to the
    nearest metal; only the last leg, which sets the next position, may come closer.
    """
    starts = [()] if _has_room(bench, metal, Point(a), z) else _back_offs(bench, metal, a, z)
    tries = []
    for first in starts:
        for tail in _ways(bench, first[-1] if first else a, b):
            way = _tidy(a, first + tail)
            tries.append((_cost(a, way, bench), way, first, tail))
    most = _lift_cost(bench, a, b, z)
    for cost, way, first, tail in sorted(tries):
        if cost > most:  # past this a lift is the shorter way
            return None
        if _free(bench, metal, a, first, tail, z):
            return way
    return None


def _lift_cost(bench: Bench, a: Spot, b: Spot, z: float) -> float:
    straight = abs(a[0] - b[0]) + abs(a[1] - b[1])
    return straight + 2 * (bench.safe_z - z) + 12 * bench.radius


def _has_room(bench: Bench, metal: Metal, way: BaseGeometry, z: float, more: float = 1.0) -> bool:
    """Whether a way keeps ``more`` of the clearance from metal beside the cutter and under it."""
    clear = more * bench.clear
    near = metal.at(z).distance(way) < bench.touch + clear
    return not near and clear_under(bench, metal, way, z, clear)


def _back_offs(bench: Bench, metal: Metal, a: Spot, z: float) -> list[Way]:
    out: list[Way] = []
    for dx, dy in ((1, 0), (-1, 0), (0, 1), (0, -1)):
        spot = (
            bench.grid.away(a[0] + dx * bench.back_off, dx) if dx else a[0],
            bench.grid.away(a[1] + dy * bench.back_off, dy) if dy else a[1],
        )
        leg = LineString([a, spot])
        moves_off = _has_room(bench, metal, Point(spot), z)
        if moves_off and _has_room(bench, metal, leg, z, 0.0) and not bench.blocked(a, spot, z):
            out.append((spot,))
    return out


def _ways(bench: Bench, a: Spot, b: Spot) -> list[Way]:
    out: list[Way] = [((b[0], a[1]), b), ((a[0], b[1]), b)]
    x0, y0, x1, y1 = bench.stock.bounds
    off = bench.radius + bench.stand_off
    near = bench.back_off
    for x in (
        bench.grid.round_out(x0 - off, -1),
        bench.grid.round_out(x1 + off, 1),
        *_both_sides(bench, a[0], near),
        *_both_sides(bench, b[0], near),
    ):
        out.append(((x, a[1]), (x, b[1]), b))
    for y in (
        bench.grid.round_out(y0 - off, -1),
        bench.grid.round_out(y1 + off, 1),
        *_both_sides(bench, a[1], near),
        *_both_sides(bench, b[1], near),
    ):
        out.append(((a[0], y), (b[0], y), b))
    return out


def _both_sides(bench: Bench, at: float, by: float) -> tuple[float, float]:
    return bench.grid.round_out(at - by, -1), bench.grid.round_out(at + by, 1)


def _tidy(a: Spot, way: Way) -> Way:
    """The way without standstills; legs on along the same line run on as one."""
    spots = [a]
    for spot in way:
        if spot == spots[-1]:
            continue
        if len(spots) > 1 and _same_line(spots[-2], spots[-1], spot):
            spots[-1] = spot
        else:
            spots.append(spot)
    return tuple(spots[1:])


def _same_line(a: Spot, b: Spot, c: Spot) -> bool:
    along_x = a[1] == b[1] == c[1] and (b[0] - a[0]) * (c[0] - b[0]) > 0
    along_y = a[0] == b[0] == c[0] and (b[1] - a[1]) * (c[1] - b[1]) > 0
    return along_x or along_y


def _cost(a: Spot, way: Way, bench: Bench) -> float:
    length, here = 0.0, a
    for spot in way:
        length += abs(spot[0] - here[0]) + abs(spot[1] - here[1])
        here = spot
    # a change of axis costs the operator about as much as cranking a few radii
    return length + 2 * bench.radius * len(way)


def _free(bench: Bench, metal: Metal, a: Spot, first: Way, tail: Way, z: float) -> bool:
    here = first[-1] if first else a
    for index, spot in enumerate(tail):
        last = index == len(tail) - 1
        leg = LineString([here, spot])
        if spot != here and (
            not _has_room(bench, metal, leg, z, 0.0 if last else 1.0)
            or bench.blocked(here, spot, z)
        ):
            return False
        here = spot
    return True
