"""Single lines cut: where each starts and stops, which way it runs, in how many levels."""

from itertools import pairwise
from math import inf

from shapely import LineString, Point
from shapely.geometry.base import BaseGeometry

from passplot.frozen import dataclass
from passplot.plan.bench import Bench
from passplot.plan.entry import approach, go_down
from passplot.plan.grid import CLOSE
from passplot.plan.metal import Contact
from passplot.plan.rings import whole
from passplot.plan.spans import Span, merged, without
from passplot.plan.walker import Walker, apart
from passplot.plan.zones import SLACK

Spot = tuple[float, float]
Leg = tuple[Spot, Spot]


@dataclass(frozen=True, slots=True)
class Purpose:
    """What a set of courses is for.

    ``limit`` is the greatest width of cut; ``name`` and ``slot_name`` go into the passes.
    ``allowed`` is where the axis may stand; courses that meet no metal of ``target`` are left.
    """

    name: str
    slot_name: str
    limit: float
    allowed: BaseGeometry
    target: BaseGeometry


class Legs:
    """Cuts lines at one height.

    Only slots less deep than ``shallower`` are cut in levels: what a level of a slot leaves as deep
    as the whole of it was will not get less by more levels.
    """

    def __init__(self, walker: Walker, z: float, purpose: Purpose, shallower: float = inf) -> None:
        self.shallower = shallower
        self.walker = walker
        self.bench: Bench = walker.bench
        self.z = z
        self.purpose = purpose

    def contact(self, a: Spot, b: Spot, z: float | None = None) -> Contact:
        bench = self.bench
        height = self.z if z is None else z
        return self.walker.metal.contact(a, b, height, bench.radius, bench.left)

    def beside(self, spot: Spot, dx: float, dy: float) -> Spot:
        grid = self.bench.grid
        x = grid.round_setting(spot[0] + dx) if dx else spot[0]
        y = grid.round_setting(spot[1] + dy) if dy else spot[1]
        return x, y

    def leg(self, a: Spot, b: Spot, joined: bool, goes_on: bool) -> None:
        """One side of a course, as far as no keep-out or curved wall stands on it."""
        if self.bench.ground is None and not self.bench.obstacles:
            self._side(a, b, joined, goes_on)
            return
        for p, q in self._parts(a, b):
            self._side(p, q, joined and p == a, goes_on and q == b)

    def _parts(self, a: Spot, b: Spot) -> list[Leg]:
        """The stretches of a line on which the axis may stand, in order, ends on the grid."""
        line = LineString([a, b])
        if a == b or self.purpose.allowed.covers(line):
            return [(a, b)] if a != b else []
        parts = self.purpose.allowed.intersection(line)
        found = []
        for part in sorted(getattr(parts, "geoms", [parts]), key=lambda p: p.distance(Point(a))):
            if part.is_empty:
                continue
            ends = sorted(part.coords, key=lambda spot: apart(spot, a))
            p, q = self._inside(ends[0], a, b), self._inside(ends[-1], b, a)
            if p != q and heading(p, q) == heading(a, b):
                found.append((p, q))
        return found

    def _inside(self, end: Spot, near: Spot, far: Spot) -> Spot:
        """The end of a clipped side on the grid, drawn in towards the far end."""
        if apart(end, near) < 10 * SLACK:
            return near
        dx, dy = heading(near, far)
        grid = self.bench.grid
        x = grid.away(end[0] + dx * CLOSE, dx) if dx else near[0]
        y = grid.away(end[1] + dy * CLOSE, dy) if dy else near[1]
        return x, y

    def _side(self, a: Spot, b: Spot, joined: bool, goes_on: bool) -> None:
        """One side of a course, long stretches of air left out."""
        contact = self.contact(a, b)
        if contact.empty:
            return
        reach = 4 * self.bench.radius
        met = merged([*contact.right, *contact.wrong], reach)
        if len(met) == 1:
            self.stretch(a, b, joined, goes_on)
            return
        middles = [self.along(a, b, (p[1] + q[0]) / 2) for p, q in pairwise(met)]
        for p, q in pairwise([a, *middles, b]):
            self.stretch(p, q, joined and p == a, goes_on and q == b)

    def stretch(self, a: Spot, b: Spot, joined: bool, goes_on: bool) -> None:
        """Part of a side: cut the asked-for way, turned round where that would climb."""
        contact = self.contact(a, b)
        if contact.empty:
            return
        if not self.wrong(contact):
            self._forward(a, b, contact, joined, goes_on)
            return
        back = self.contact(b, a)
        if not contact.right and not back.empty and not self.wrong(back):
            # a stretch of it would be too short to meet what its other end is past already
            self._forward(b, a, back, False, False)
            return
        for p, q in self._turned(a, b, contact):
            part = self.contact(p, q)
            if not part.empty:
                self._forward(p, q, part, joined and p == a, goes_on and q == b)

    def _turned(self, a: Spot, b: Spot, contact: Contact) -> list[Leg]:
        """The line in stretches, each in the direction in which it does not climb."""
        wrong = self.wrong(contact)
        right = without(((0.0, apart(a, b)),), wrong)
        out = []
        for span, forward in sorted([(s, True) for s in right] + [(s, False) for s in wrong]):
            p, q = self.along(a, b, span[0]), self.along(a, b, span[1])
            if p != q:
                out.append((p, q) if forward else (q, p))
        return out

    def wrong(self, contact: Contact) -> tuple[Span, ...]:
        """Stretches that would climb, too short ones beside metal on the right side left aside."""
        shortest = 0.04 * self.bench.radius if contact.right else self.bench.grid.resolution
        spans = merged(list(contact.climbing), shortest)
        return tuple(span for span in spans if span[1] - span[0] > shortest)

    def along(self, a: Spot, b: Spot, s: float) -> Spot:
        if s <= 0:
            return a
        length = abs(b[0] - a[0]) + abs(b[1] - a[1])
        if s >= length:
            return b
        grid = self.bench.grid
        if a[1] == b[1]:
            return grid.near(a[0] + (b[0] - a[0]) * s / length), a[1]
        return a[0], grid.near(a[1] + (b[1] - a[1]) * s / length)

    def _forward(self, a: Spot, b: Spot, contact: Contact, joined: bool, goes_on: bool) -> None:
        far = 4 * self.bench.radius
        on = joined and contact.first <= far
        through = goes_on and apart(a, b) - contact.last <= far
        start = a if on else self.start_of(a, b, contact)
        end = b if through else self._end(a, b, contact)
        self._line(start, end)

    def start_of(self, a: Spot, b: Spot, contact: Contact) -> Spot:
        """Where to start: clear of the stock's edge, or a stand-off before the metal."""
        ahead = contact.first - self.bench.stand_off
        for edge in self._edges(a, b):
            clear = edge - self.bench.radius - self.bench.stand_off
            begins = edge - self.bench.radius - self.bench.thin
            if begins <= contact.first < edge + self.bench.radius and clear < ahead:
                ahead = clear
        start = self._outward(a, b, ahead, -1)
        return start if ahead >= 0 or self._open_way(start, a) else a

    def _end(self, a: Spot, b: Spot, contact: Contact) -> Spot:
        """Where to stop: until clear of the stock where that is near, else past the metal."""
        ahead = contact.last + self.bench.back_off
        length = apart(a, b)
        for edge in self._edges(a, b):
            clear = edge + self.bench.radius + self.bench.stand_off
            # after a mere corner a long run through the air is no help
            near = clear - contact.last <= contact.last - contact.first + 2 * self.bench.radius
            if near and edge - self.bench.radius * 2.2 <= contact.last <= edge + self.bench.radius:
                ahead = max(ahead, clear)
        end = self._outward(a, b, ahead, 1)
        return end if ahead <= length or self._open_way(b, end) else b

    def _open_way(self, p: Spot, q: Spot) -> bool:
        """Whether the cutter may go straight from p to q through the air."""
        if p == q:
            return True
        free = self.purpose.allowed.covers(LineString([p, q])) and self.contact(p, q).empty
        return bool(free) and not self.bench.blocked(p, q, self.z)

    def _edges(self, a: Spot, b: Spot) -> list[float]:
        """Distances from ``a`` along the leg to the stock's edges that it crosses squarely."""
        x0, y0, x1, y1 = self.bench.stock.bounds
        if a[1] == b[1]:
            return [(edge - a[0]) * (1 if b[0] > a[0] else -1) for edge in (x0, x1)]
        return [(edge - a[1]) * (1 if b[1] > a[1] else -1) for edge in (y0, y1)]

    def _outward(self, a: Spot, b: Spot, s: float, sign: int) -> Spot:
        """The point ``s`` along the leg from ``a``, rounded outwards to a round setting.

        Within the leg the rounding does not go past its end.
        """
        grid, length = self.bench.grid, apart(a, b)
        inside = 0 <= s <= length
        dx, dy = heading(a, b)
        if dx:
            x = grid.round_out(a[0] + dx * s, sign * dx)
            return (min(max(x, min(a[0], b[0])), max(a[0], b[0])) if inside else x, a[1])
        y = grid.round_out(a[1] + dy * s, sign * dy)
        return (a[0], min(max(y, min(a[1], b[1])), max(a[1], b[1])) if inside else y)

    def _line(self, a: Spot, b: Spot, turned: bool = False) -> None:
        """One straight cut; passes between where it would be too wide, levels for a slot.

        What is cut to get there may leave metal on the wrong side only: then the line is looked
        at afresh (once: ``turned``).
        """
        if a == b:
            return
        contact = self.contact(a, b)
        if contact.width > self.purpose.limit + self.bench.grid.resolution:
            self._between(a, b, contact.width)
            contact = self.contact(a, b)
        if contact.empty:
            return
        slot = contact.both_ways > self.bench.bite
        deepest = self.bench.use.slot_depth_limit
        if slot and deepest + self.bench.thin < contact.depth < self.shallower:
            self._slot(a, b, contact, whole(contact.depth / deepest))
            return
        if not self.wrong(contact):
            both = contact.both[0] if contact.both else (0.0, 0.0)
            begins = both[1] if both[0] < self.bench.thin else 0.0
            approach(self.walker, a, self.z, heading(a, b), self.purpose.allowed, begins)
            contact = self.contact(a, b)
        if self.wrong(contact) and not turned:
            self._afresh(a, b, contact)
        else:
            self.walker.cut(b, self.purpose.slot_name if slot else self.purpose.name)

    def _afresh(self, a: Spot, b: Spot, contact: Contact) -> None:
        """A line that would climb after all, its stretches each in the direction they want."""
        for p, q in self._turned(a, b, contact):
            if not self.contact(p, q).empty:
                approach(self.walker, p, self.z, heading(p, q), self.purpose.allowed)
                self._line(p, q, True)

    def _between(self, a: Spot, b: Spot, width: float) -> None:
        """Passes on the free side of a line, so that each takes no more than the limit."""
        count = whole(width / self.purpose.limit)
        dx, dy = heading(a, b)
        free = (dy, -dx) if self.bench.left else (-dy, dx)
        for index in range(count - 1, 0, -1):
            aside = width * index / count
            p, q = (self.beside(spot, free[0] * aside, free[1] * aside) for spot in (a, b))
            for start, end in self._parts(p, q):
                contact = self.contact(start, end)
                if not contact.empty and not self.wrong(contact):
                    self._line_once(start, end, contact)

    def _line_once(self, a: Spot, b: Spot, contact: Contact) -> None:
        start, end = self.start_of(a, b, contact), self._end(a, b, contact)
        if start != end:
            approach(self.walker, start, self.z, heading(a, b), self.purpose.allowed)
            self.walker.cut(end, self.purpose.name)

    def _slot(self, a: Spot, b: Spot, contact: Contact, levels: int) -> None:
        """A cut into the full, level by level; to and fro where both sides cut all along."""
        walker, grid = self.walker, self.bench.grid
        top = self.z + contact.depth
        for level in range(1, levels + 1):
            z = self.z if level == levels else grid.up(top - contact.depth * level / levels)
            start, end = a, b
            if walker.at == b and self._may_drop(b, z):
                back = self.contact(b, a, z)
                if not back.empty and not self.wrong(back):
                    start, end = b, a
                    go_down(walker, start, z)
            below = Legs(walker, z, self.purpose, contact.depth - self.bench.thin)
            below.stretch(start, end, walker.at == start and walker.z == z, True)

    def _may_drop(self, spot: Spot, z: float) -> bool:
        """Whether the next level may be reached where the last one ended."""
        bench = self.bench
        return self.walker.stands_free(spot, z) or (
            bench.use.cutter.center_cutting and not bench.drilled
        )


def heading(a: Spot, b: Spot) -> tuple[int, int]:
    """Direction from a to b as signs of X and Y."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    return (dx > 0) - (dx < 0), (dy > 0) - (dy < 0)
