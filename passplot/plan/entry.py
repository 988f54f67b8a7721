"""Into the metal: from cleared space sideways if there is a way, else from above."""

from itertools import pairwise
from math import floor

from shapely import LineString, Point
from shapely.geometry.base import BaseGeometry

from passplot.frozen import dataclass
from passplot.plan.ends import corner_of
from passplot.plan.metal import FINE_QUARTER
from passplot.plan.rings import whole
from passplot.plan.spans import total
from passplot.plan.underside import closed_under, top_under
from passplot.plan.walker import Walker
from passplot.plan.zones import SLACK, solid
from passplot.records import plan as names

Spot = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Onwards:
    """The cut that follows: its direction and how far it cuts both ways from its start."""

    heading: tuple[int, int]
    slot: float


def approach(
    walker: Walker,
    to: Spot,
    z: float,
    heading: tuple[int, int],
    allowed: BaseGeometry,
    slot: float = 0.0,
) -> None:
    """Bring the cutter to ``to`` at height ``z``.

    Straight there if it stands clear; else stepped into from the nearest cleared place (from
    the side away from the metal first, then from behind); else down from above.

    Parameters
    ----------
    heading : (int, int)
        Direction of the cut that follows; (0, 0) if none does.
    allowed : geometry
        Where the axis may stand.
    slot : float
        Length that the cut that follows cuts both ways from its start.
    """
    if walker.at == to and walker.z == z:
        return
    if walker.stands_free(to, z):
        walker.travel(to, z)
        return
    onwards = Onwards(heading, slot)
    if _round_the_corner(walker, to, z, allowed, onwards):
        return
    start = _step_from(walker, to, z, onwards, allowed)
    if start is not None:
        walker.travel(start, z)
        if walker.at == start and walker.z == z:
            walker.cut(to, "entry")
            return
    if (
        walker.holes
        and needs_hole(walker, to, z)
        and _through_hole(walker, to, z, allowed, onwards)
    ):
        return
    walker.over(to)
    go_down(walker, to, z)


def _round_the_corner(
    walker: Walker, to: Spot, z: float, allowed: BaseGeometry, onwards: Onwards
) -> bool:
    """Cut on to a place near by, round one corner, rather than lift and go down again."""
    bench, here = walker.bench, walker.at
    apart = abs(here[0] - to[0]) + abs(here[1] - to[1])
    if walker.z != z or apart > 4 * bench.radius or here[0] == to[0] or here[1] == to[1]:
        return False
    for corner in ((here[0], to[1]), (to[0], here[1])):
        if _good_ways(walker, (here, corner, to), z, allowed, onwards):
            walker.cut(corner, "entry")
            walker.cut(to, "entry")
            return True
    return False


def needs_hole(walker: Walker, at: Spot, z: float) -> bool:
    """Whether the cutter cannot simply plunge to ``z`` here.

    A cutter that cuts to its centre may always go down a tenth of its diameter.
    """
    bench = walker.bench
    if bench.drill_for_entry() is None:
        return False
    top = walker.top_under(at)
    shallow = top is not None and top - z <= 0.2 * bench.radius
    return not (shallow and bench.use.cutter.center_cutting)


def open_space(walker: Walker, allowed: BaseGeometry, z: float) -> BaseGeometry:
    """Where the axis may stand at height ``z`` without touching metal or a keep-out."""
    bench = walker.bench
    taken: BaseGeometry = walker.metal.at(z).buffer(bench.touch, quad_segs=walker.metal.quarter)
    taken = taken.union(closed_under(bench, walker.metal, z))
    return bench.clear_of_obstacles(solid(allowed.difference(taken)), z)


def _step_from(
    walker: Walker, to: Spot, z: float, onwards: Onwards, allowed: BaseGeometry
) -> Spot | None:
    """The nearest cleared place from which a straight cut leads to ``to``."""
    bench = walker.bench
    dx, dy = onwards.heading
    aside = (dy, -dx) if bench.left else (-dy, dx)
    order = [aside, (-dx, -dy), (-aside[0], -aside[1]), (dx, dy)]
    if onwards.heading == (0, 0):
        order = [(1, 0), (-1, 0), (0, 1), (0, -1)]
    here = walker.at
    straight = (here[0] == to[0]) != (here[1] == to[1])
    near = abs(here[0] - to[0]) + abs(here[1] - to[1]) <= 2.25 * bench.radius
    if walker.z == z and straight and near and _good_ways(walker, (here, to), z, allowed, onwards):
        return here
    room = open_space(walker, allowed, z)
    best: tuple[float, Spot] | None = None
    for rank, (ux, uy) in enumerate(order):
        ray = LineString([to, (to[0] + 2.25 * bench.radius * ux, to[1] + 2.25 * bench.radius * uy)])
        door = room.intersection(ray)
        if door.is_empty:
            continue
        far = door.distance(Point(to))
        spot = _door(walker, to, (ux, uy), far, z)
        if spot is None or not _good_ways(walker, (spot, to), z, allowed, onwards):
            continue
        cost = far * (1 + 0.25 * rank) + (0.0 if walker.at == spot else bench.radius / 4)
        if best is None or cost < best[0]:
            best = (cost, spot)
    return None if best is None else best[1]


def _good_ways(
    walker: Walker,
    spots: tuple[Spot, ...],
    z: float,
    allowed: BaseGeometry,
    onwards: Onwards,
) -> bool:
    """Whether cuts from spot to spot keep clear, do not climb, are not too wide nor too deep.

    The first may carry straight on from the last row, and the cut that follows from the last.
    """
    bench, metal = walker.bench, walker.metal
    for number, (a, b) in enumerate(pairwise(spots)):
        if a == b:
            continue
        if not allowed.covers(LineString([a, b])) or bench.blocked(a, b, z):
            return False
        contact = metal.contact(a, b, z, bench.radius, bench.left)
        if total(contact.climbing) > bench.thin:
            return False
        if len(spots) > 2 and contact.width > bench.use.width_limit + bench.grid.resolution:
            return False
        both = contact.both_ways + (0.0 if number else walker.straight_on(a, b))
        if b == spots[-1] and (sign(b[0] - a[0]), sign(b[1] - a[1])) == onwards.heading:
            both += onwards.slot
        if both > bench.bite and contact.depth > bench.use.slot_depth_limit + bench.thin:
            return False
        if number + 2 < len(spots):
            metal = metal.copy()
            metal.remove(metal.swept(a, b, bench.radius), z)
    return True


def _door(walker: Walker, to: Spot, way: tuple[int, int], far: float, z: float) -> Spot | None:
    """A place on the readout's grid at or just past ``far`` from ``to`` that stands clear."""
    bench, grid = walker.bench, walker.bench.grid
    close = [bench.back_off - far] if far < 2 * grid.setting else []
    for extra in (*close, 0.0, grid.resolution, -grid.resolution, bench.back_off):
        x = grid.near(to[0] + way[0] * (far + extra)) if way[0] else to[0]
        y = grid.near(to[1] + way[1] * (far + extra)) if way[1] else to[1]
        # a place newly found stands clear in full: chords lie inside the round ends of cuts
        if walker.stands_free((x, y), z) and walker.metal.free((x, y), z, bench.radius - SLACK):
            return x, y
    return None


def _through_hole(
    walker: Walker, to: Spot, z: float, allowed: BaseGeometry, onwards: Onwards
) -> bool:
    """Go down a hole drilled already and cut from there to ``to``, if a way leads there."""
    bench = walker.bench
    for hole in walker.holes:
        if abs(hole[0] - to[0]) + abs(hole[1] - to[1]) > 4 * bench.radius:
            continue
        for corner in ((hole[0], to[1]), (to[0], hole[1])):
            way = [spot for spot in (corner, to) if spot != hole]
            if _good_ways(walker, (hole, *way), z, allowed, onwards):
                walker.over(hole)
                go_down(walker, hole, z)
                for spot in dict.fromkeys(way):
                    walker.cut(spot, "entry")
                return True
    return False


def go_down(walker: Walker, at: Spot, z: float) -> None:
    """Down to ``z`` where the cutter stands: freely, down a drilled hole, or in plunges."""
    bench = walker.bench
    if walker.stands_free(at, z):
        walker.height(z, names.POSITION)
        return
    top = walker.top_under(at)
    if top is None or top <= z:
        top = top_under(bench, walker.metal, at, z)
    # beside a hair of metal, too, the cutter is fed down
    hair = walker.metal.highest(Point(at).buffer(bench.touch, quad_segs=FINE_QUARTER), 0.0)
    if top is None and (hair is None or hair <= z):
        walker.height(z, names.POSITION)
        return
    top = z if top is None else top
    highest = top if hair is None else max(top, hair)
    above = bench.grid.up(min(highest + bench.stand_off, bench.safe_z))
    if walker.z > above:
        walker.height(above, names.POSITION)
    drill = bench.drill_for_entry() if needs_hole(walker, at, z) else None
    if drill is not None and at not in walker.holes:
        walker.holes.append(at)
    # over a mere sliver the cutter is still fed down
    deepest = bench.radius
    if top - z > deepest:  # rounded corners leave a ring standing that the next plunge meets too
        deepest = max(deepest - corner_of(bench.use.cutter), deepest / 2)
    steps = 1 if drill is not None else max(1, whole((top - z) / deepest))
    for step in range(1, steps + 1):
        if step > 1:
            walker.lift()
            walker.height(bench.grid.up(top - (top - z) * (step - 1) / steps), names.POSITION)
        reach = z if step == steps else bench.grid.up(top - (top - z) * step / steps)
        walker.height(reach, names.PLUNGE, drill)


def sign(value: float) -> int:
    """-1, 0 or 1."""
    return (value > 0) - (value < 0)


def drill_size(diameter: float, inch: bool) -> float:
    """Drill for an entry hole: the next size at or under 0.9 of the cutter.

    Sizes go by 1/64 in or 0.5 mm (common practice, no source).
    """
    step = 1 / 64 if inch else 0.5
    return max(step, floor(0.9 * diameter / step + 1e-9) * step)
