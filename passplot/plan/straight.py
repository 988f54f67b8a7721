"""Features of which only walls along X or Y are cut, slanted ones left for other settings.

Roughed as other features with slanted walls are, but that nothing is stepped off along those:
walls along X or Y get one straight pass each, arcs are stepped.
"""

from collections.abc import Sequence

from shapely import LineString, Point, Polygon, box, union_all
from shapely.geometry.base import BaseGeometry

from passplot.curves import direction
from passplot.frozen import dataclass
from passplot.plan.curved import Curved, Floors
from passplot.plan.grid import CLOSE
from passplot.plan.legs import Leg, Legs, Purpose, Spot
from passplot.plan.metal import Contact, thick
from passplot.plan.rotary import ToSwing
from passplot.plan.stepping import step_off
from passplot.plan.sweeps import sweep_pieces
from passplot.plan.walk import Way, follow
from passplot.plan.walker import Walker, apart
from passplot.plan.walls import Chain
from passplot.plan.zones import SLACK, polygons, solid
from passplot.records.shapes import Arc, Line

_PROBE = 1e-4
"""How far off a wall it is looked whose free side that is (job units)."""


@dataclass(frozen=True, slots=True)
class Straight(Curved):
    """One feature in one setting, its slanted walls left alone; ``turned`` if that is set over."""

    turned: bool = False

    def _clear(
        self, floors: Floors, z: float, name: str, slot_name: str, width: float, wall: float
    ) -> None:
        if not self.turned and name != "floor":
            Curved._clear(self, floors, z, name, slot_name, width, wall)
            return
        walker = self.walker
        by = walker.bench.radius + wall
        past = _past_ends(walker, self.ground.chains(floors, z), by)
        zone = solid(self._zone(floors, z, by).difference(past))
        if name == "floor":
            zone = self._roughed(zone, z)
        purpose = Purpose(name, slot_name, width, zone, self.target)
        share = 0.2 if name == "floor" else self._left_for_walk(floors, z, walker.bench.radius)
        sweep_pieces(walker, self.target, zone, z, purpose, share, self._standing(floors, z))

    def _standing(self, floors: Floors, z: float) -> BaseGeometry:
        """The part, where it stands as a rectangle: each side of it is swept by itself."""
        part = self.ground.part(floors, z)
        if part.is_empty:
            return Polygon()
        square = box(*part.bounds)
        return square if part.area > 0.999 * square.area else Polygon()

    def _roughed(self, zone: BaseGeometry, z: float) -> BaseGeometry:
        """The zone without what is too near to metal that another setting roughs."""
        walker, bench = self.walker, self.walker.bench
        high = walker.metal.at(z + self.terms.floor + bench.thin).intersection(self.target)
        reach = zone.buffer(bench.radius - bench.thin, quad_segs=24)
        for piece in polygons(solid(high.intersection(reach))):
            if not thick(piece, bench.thin):
                continue
            zone = solid(zone.difference(piece.buffer(bench.radius + bench.thin, quad_segs=24)))
        return zone

    def _walk_down(self, floors: Floors, above: float, z: float, width: float) -> None:
        self._walk(floors, z, "width", self.terms.wall)

    def _walk(
        self, floors: Floors, z: float, purpose: str, stock: float, later: bool = False
    ) -> list[ToSwing]:
        walker = self.walker
        bench = walker.bench
        by = bench.radius + stock
        zone = self._zone(floors, z, by)
        limit = bench.use.width_limit
        if purpose == "wall":
            limit = max(2.5 * self.terms.wall, limit)
        how = Purpose(purpose, "slot" if purpose == "width" else purpose, limit, zone, self.target)
        chains = self.ground.offsets(floors, z, by)
        wall_passes(walker, chains, by, z, how)
        if not self.turned:
            self._arcs(floors, chains, by, z, how)
        return []

    def _arcs(
        self, floors: Floors, chains: Sequence[Chain], by: float, z: float, how: Purpose
    ) -> None:
        """Step along arcs, those round corners of the part aside."""
        bench = self.walker.bench
        wall = self._wall(floors, z, by)
        for chain in chains:
            for edge in chain.edges:
                if isinstance(edge, Arc) and abs(edge.radius - by) > bench.grid.resolution:
                    for stretch in step_off(Chain((edge,), False), wall, bench.left):
                        follow(self.walker, stretch, z, how.name, Way(how.allowed, how.target))


def _past_ends(walker: Walker, chains: Sequence[Chain], by: float) -> BaseGeometry:
    """Where walls along X or Y would go on past the stock's edge, ``by`` wide.

    Passes side by side end at the distance of such a wall, and not nearer where it is past.
    """
    bench, boxes = walker.bench, []
    far, rim = 4 * bench.radius, bench.stock.exterior
    for chain in chains:
        for edge in chain.edges:
            if not isinstance(edge, Line) or not edge.level:
                continue
            tx, ty = direction(edge, 0.0)
            for end, sign in ((edge.start, -far), (edge.end, far)):
                if rim.distance(Point(end.x, end.y)) > _PROBE:
                    continue
                x, y = end.x + sign * tx + (by - SLACK) * ty, end.y + sign * ty - (by - SLACK) * tx
                boxes.append(box(min(end.x, x), min(end.y, y), max(end.x, x), max(end.y, y)))
    return union_all(boxes)


class WallLegs(Legs):
    """Cuts along walls that another cutter, or another setting, has cut in part before.

    What that left tapers off to nothing: a pass starts where it stands clear, as far back or, in
    a corner, as far on as that takes.
    """

    def start_of(self, a: Spot, b: Spot, contact: Contact) -> Spot:
        """Where to start, standing clear if there is such a place on the line."""
        first, step = Legs.start_of(self, a, b, contact), self.bench.stand_off / 2
        begins = apart(a, first)
        back = [begins - number * step for number in range(1, int(begins / step) + 1)]
        room = int((contact.first - begins) / step)
        on = [begins + number * step for number in range(1, room + 1)]
        for spot in (first, *(self.along(a, b, s) for s in (*back, *on))):
            if self.walker.stands_free(spot, self.z):
                return spot
        return first


def wall_passes(
    walker: Walker, chains: Sequence[Chain], by: float, z: float, purpose: Purpose
) -> None:
    """Cut along every wall of the target that lies along X or Y, ``by`` from it."""
    legs = WallLegs(walker, z, purpose)
    lines = [
        line
        for chain in chains
        for edge in chain.edges
        if isinstance(edge, Line) and edge.level
        for line in _pass(walker, edge, by, purpose)
    ]
    for a, b in lines:
        if not legs.contact(a, b).empty:
            legs.leg(a, b, False, False)


def _pass(walker: Walker, edge: Line, by: float, purpose: Purpose) -> list[Leg]:
    """The pass along one wall, carried on past its ends where nothing stands there."""
    bench, grid = walker.bench, walker.bench.grid
    along_x = edge.start.y == edge.end.y
    a, b = edge.start, edge.end
    run = (b.x - a.x) if along_x else (b.y - a.y)
    sign = 1 if run > 0 else -1
    # the part is on the left of the offset: its free side is on the right
    free = (0, -sign) if along_x else (sign, 0)
    at = Point((a.x + b.x) / 2 - free[0] * (by - _PROBE), (a.y + b.y) / 2 - free[1] * (by - _PROBE))
    if not purpose.target.covers(at):
        return []
    more = 2 * bench.radius + 2 * bench.stand_off + bench.back_off
    low, high = sorted((a.x, b.x) if along_x else (a.y, b.y))
    fixed = grid.away(a.y if along_x else a.x, free[1] if along_x else free[0])
    p, q = low - more, high + more
    line = LineString([(p, fixed), (q, fixed)] if along_x else [(fixed, p), (fixed, q)])
    found = _middle_part(purpose.allowed.intersection(line), (low + high) / 2, along_x)
    if found is None:
        return []
    first, last = grid.up(found[0] + CLOSE), grid.down(found[1] - CLOSE)
    if last <= first:
        return []
    forward = (sign > 0) == bench.left
    ends = (first, last) if forward else (last, first)
    one, two = ((end, fixed) if along_x else (fixed, end) for end in ends)
    return [(one, two)]


def _middle_part(clipped: BaseGeometry, middle: float, along_x: bool) -> tuple[float, float] | None:
    for part in getattr(clipped, "geoms", [clipped]):
        if part.is_empty or part.length == 0:
            continue
        x0, y0, x1, y1 = part.bounds
        low, high = (x0, x1) if along_x else (y0, y1)
        if low <= middle <= high:
            return low, high
    return None
