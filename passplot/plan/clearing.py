"""Courses turned into cuts: where each starts and stops, which way it runs, how it is entered."""

from dataclasses import dataclass
from itertools import pairwise

from shapely import LineString, Point, Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import nearest_points

from passplot.plan.bench import Bench
from passplot.plan.entry import approach, go_down, open_space
from passplot.plan.metal import Contact, Span, merged, thick, total, without
from passplot.plan.rings import Course, whole
from passplot.plan.snap import Snapping
from passplot.plan.walker import Walker
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


class Clearing:
    """Follows courses at one height."""

    def __init__(self, walker: Walker, z: float, purpose: Purpose, snapping: Snapping) -> None:
        self.walker = walker
        self.bench: Bench = walker.bench
        self.z = z
        self.purpose = purpose
        self.snapping = snapping

    # -- courses -----------------------------------------------------------------------------

    def follow(self, course: Course) -> None:
        """Cut along one course wherever it meets metal."""
        if course.lines:
            self._web(self.snapping.middles(course))
            return
        corners = self.snapping.corners(course, self.bench.left)
        if len(corners) > 1:
            self._round(list(zip(corners, corners[1:] + corners[:1], strict=True)))

    def along(self, a: Spot, b: Spot) -> None:
        """Cut along one straight stretch of wall, given as exact coordinates."""
        p, q = self.snapping.stretch(a, b)
        leg = (p, q) if self.bench.left else (q, p)
        if p != q and self._meets(leg):
            self._leg(*leg, False, False)

    def _web(self, lines: list[list[Spot]]) -> None:
        """Centre lines, always the one next that begins nearest to where the cutter stands."""
        lines = list(lines)
        while lines:
            here = self.walker.at
            nearest = min(lines, key=lambda line: min(_apart(here, spot) for spot in line))
            lines.remove(nearest)
            self._line_any_way(nearest[0], nearest[-1])

    def _spot(self, spot: Spot) -> None:
        """A centre that is a mere point: gone into when metal stands there."""
        if not self.walker.stands_free(spot, self.z):
            approach(self.walker, spot, self.z, (0, 0), self.purpose.allowed)

    def _round(self, legs: list[Leg]) -> None:
        """Go round a closed outline: from where metal begins, or stepping in if it is all round."""
        live = [self._meets(leg) for leg in legs]
        if not any(live):
            return
        starts = [i for i in range(len(legs)) if live[i] and not live[i - 1]]
        if starts:
            here = self.walker.at
            first = min(starts, key=lambda i: _apart(legs[i][0], here))
            self._chain(legs[first:] + legs[:first], False)
            return
        run_on = self._run_on(legs)
        if run_on is not None:
            self._chain(legs[run_on:] + legs[:run_on], False)
            return
        first, spot = self._way_in(legs)
        a, b = legs[first]
        ring = [(spot, b), *legs[first + 1 :], *legs[:first]]
        if spot != a:
            ring.append((a, spot))
        self._chain([leg for leg in ring if leg[0] != leg[1]], True)

    def _run_on(self, legs: list[Leg]) -> int | None:
        """A leg that can be run on to from behind its corner: round a part that stands out."""
        here = self.walker.at
        fitting = []
        for index, (a, b) in enumerate(legs):
            contact = self._contact(a, b)
            start = self._start(a, b, contact)
            if self.walker.stands_free(start, self.z):
                fitting.append((_apart(here, start), index))
        return min(fitting)[1] if fitting else None

    def _chain(self, legs: list[Leg], closed: bool) -> None:
        """Legs in a row; a closed chain begins and ends at the point it was stepped into."""
        joined = closed
        for index, (a, b) in enumerate(legs):
            if not self._meets((a, b)):
                joined = False
                continue
            goes_on = index + 1 < len(legs) and self._meets(legs[index + 1])
            closes = closed and index + 1 == len(legs)
            self._leg(a, b, joined, goes_on or closes)
            joined = self.walker.at == b and self.walker.z == self.z

    def _meets(self, leg: Leg) -> bool:
        if self._on_border(leg):
            return False
        contact = self._contact(*leg)
        if contact.empty:
            return False
        return thick(contact.met.intersection(self.purpose.target), self.walker.metal.thin)

    def _on_border(self, leg: Leg) -> bool:
        x0, x1, y0, y1 = self.bench.cells.domain
        near = 10 * self.bench.thin
        (ax, ay), (bx, by) = leg
        return any(
            abs(p - edge) < near and abs(q - edge) < near
            for p, q, edges in ((ax, bx, (x0, x1)), (ay, by, (y0, y1)))
            for edge in edges
        )

    def _contact(self, a: Spot, b: Spot, z: float | None = None) -> Contact:
        bench = self.bench
        height = self.z if z is None else z
        return self.walker.metal.contact(a, b, height, bench.radius, bench.left)

    def _way_in(self, legs: list[Leg]) -> tuple[int, Spot]:
        """Leg, and the point of it, at which a closed ring is stepped into from cleared space."""
        radius = self.bench.radius
        room = open_space(self.walker, self.purpose.allowed, self.z)
        here = Point(self.walker.at)
        best: tuple[float, int, Spot] | None = None
        for index, (a, b) in enumerate(legs):
            length = _apart(a, b)
            trim = min(0.2 * radius, length / 3)
            p, q = self._along(a, b, trim), self._along(a, b, length - trim)
            line = LineString([p, q])
            dx, dy = _heading(a, b)
            inward = (dy, -dx) if self.bench.left else (-dy, dx)
            strip = _strip(p, q, inward, 1.2 * radius)
            near = room.intersection(strip)
            if near.is_empty:
                continue
            door = nearest_points(near, here if near.distance(here) < SLACK else line)[0]
            # close to the corner behind, so that its bite serves for the way in too
            cost = line.distance(door) + 0.1 * here.distance(door) + 0.05 * door.distance(Point(a))
            if best is None or cost < best[0]:
                spot = (
                    (self._snapped(door.x, p[0]), p[1])
                    if dx
                    else (p[0], self._snapped(door.y, p[1]))
                )
                best = (cost, index, spot)
        return (0, legs[0][0]) if best is None else best[1:]

    def _snapped(self, value: float, start: float) -> float:
        near = self.bench.grid.near(value)
        return start if abs(near - start) < self.bench.grid.setting else near

    def _at(self, spot: Spot, dx: float, dy: float) -> Spot:
        grid = self.bench.grid
        x = grid.round_setting(spot[0] + dx) if dx else spot[0]
        y = grid.round_setting(spot[1] + dy) if dy else spot[1]
        return x, y

    # -- legs --------------------------------------------------------------------------------

    def _leg(self, a: Spot, b: Spot, joined: bool, goes_on: bool) -> None:
        """One side of a course, long stretches of air left out."""
        contact = self._contact(a, b)
        if contact.empty:
            return
        reach = 4 * self.bench.radius
        met = merged([*contact.right, *contact.wrong], reach)
        if len(met) == 1:
            self._stretch(a, b, joined, goes_on)
            return
        middles = [self._along(a, b, (p[1] + q[0]) / 2) for p, q in pairwise(met)]
        for p, q in pairwise([a, *middles, b]):
            self._stretch(p, q, joined and p == a, goes_on and q == b)

    def _stretch(self, a: Spot, b: Spot, joined: bool, goes_on: bool) -> None:
        """Part of a side: cut the asked-for way, turned round where that would climb."""
        contact = self._contact(a, b)
        if contact.empty:
            return
        length = _apart(a, b)
        wrong = self._wrong(contact)
        if not wrong:
            self._forward(a, b, contact, joined, goes_on)
            return
        right = without(((0.0, length),), wrong)
        for span, forward in sorted([(s, True) for s in right] + [(s, False) for s in wrong]):
            p, q = self._along(a, b, span[0]), self._along(a, b, span[1])
            if p == q:
                continue
            if not forward:
                p, q = q, p
            part = self._contact(p, q)
            if not part.empty:
                self._forward(p, q, part, joined and p == a, goes_on and q == b)

    def _wrong(self, contact: Contact) -> tuple[Span, ...]:
        """Stretches that would climb, too short ones left aside."""
        shortest = 0.04 * self.bench.radius
        spans = merged(list(contact.climbing), shortest)
        return tuple(span for span in spans if span[1] - span[0] > shortest)

    def _along(self, a: Spot, b: Spot, s: float) -> Spot:
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
        through = goes_on and _apart(a, b) - contact.last <= far
        start = a if on else self._start(a, b, contact)
        end = b if through else self._end(a, b, contact)
        self._line(start, end)

    def _start(self, a: Spot, b: Spot, contact: Contact) -> Spot:
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
        length = _apart(a, b)
        for edge in self._edges(a, b):
            if edge - self.bench.radius * 2.2 <= contact.last <= edge + self.bench.radius:
                ahead = max(ahead, edge + self.bench.radius + self.bench.stand_off)
        end = self._outward(a, b, ahead, 1)
        return end if ahead <= length or self._open_way(b, end) else b

    def _open_way(self, p: Spot, q: Spot) -> bool:
        """Whether the cutter may go straight from p to q through the air."""
        if p == q:
            return True
        free = self.purpose.allowed.covers(LineString([p, q])) and self._contact(p, q).empty
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
        grid, length = self.bench.grid, _apart(a, b)
        inside = 0 <= s <= length
        dx, dy = _heading(a, b)
        if dx:
            x = grid.round_out(a[0] + dx * s, sign * dx)
            return (min(max(x, min(a[0], b[0])), max(a[0], b[0])) if inside else x, a[1])
        y = grid.round_out(a[1] + dy * s, sign * dy)
        return (a[0], min(max(y, min(a[1], b[1])), max(a[1], b[1])) if inside else y)

    # -- lines -------------------------------------------------------------------------------

    def _line_any_way(self, a: Spot, b: Spot) -> None:
        """A centre line: from whichever end can be entered without a plunge, legs cut to fit."""
        if a == b:
            self._spot(a)
            return
        ahead, back = self._contact(a, b), self._contact(b, a)
        if not self._meets((a, b)):
            return
        if back.empty:
            back = ahead
        turned = total(back.climbing) < total(ahead.climbing) - self.bench.thin
        if abs(total(back.climbing) - total(ahead.climbing)) <= self.bench.thin:
            open_a = self.walker.stands_free(self._start(a, b, ahead), self.z)
            open_b = self.walker.stands_free(self._start(b, a, back), self.z)
            nearer = _apart(self.walker.at, b) < _apart(self.walker.at, a)
            turned = (open_b and not open_a) or (open_a == open_b and nearer)
        if turned:
            a, b = b, a
        self._leg(a, b, False, False)

    def _line(self, a: Spot, b: Spot) -> None:
        """One straight cut; passes between where it would be too wide, levels for a slot."""
        if a == b:
            return
        contact = self._contact(a, b)
        if contact.empty:
            return
        slack = self.bench.grid.resolution + self.bench.thin
        if contact.width > self.purpose.limit + slack:
            self._between(a, b, contact.width)
        contact = self._contact(a, b)
        if contact.empty:
            return
        slot = contact.both_ways > self.bench.bite
        deepest = self.bench.use.slot_depth_limit
        if slot and contact.depth > deepest + self.bench.thin:
            self._slot(a, b, contact, whole(contact.depth / deepest))
        else:
            approach(self.walker, a, self.z, _heading(a, b), self.purpose.allowed)
            self.walker.cut(b, self.purpose.slot_name if slot else self.purpose.name)

    def _between(self, a: Spot, b: Spot, width: float) -> None:
        """Passes on the free side of a line, so that each takes no more than the limit."""
        count = whole(width / self.purpose.limit)
        dx, dy = _heading(a, b)
        free = (dy, -dx) if self.bench.left else (-dy, dx)
        for index in range(count - 1, 0, -1):
            aside = width * index / count
            p, q = (self._at(spot, free[0] * aside, free[1] * aside) for spot in (a, b))
            if p != q and self.purpose.allowed.covers(LineString([p, q])):
                contact = self._contact(p, q)
                if not contact.empty and not self._wrong(contact):
                    self._line_once(p, q, contact)

    def _line_once(self, a: Spot, b: Spot, contact: Contact) -> None:
        start, end = self._start(a, b, contact), self._end(a, b, contact)
        if start != end:
            approach(self.walker, start, self.z, _heading(a, b), self.purpose.allowed)
            self.walker.cut(end, self.purpose.name)

    def _slot(self, a: Spot, b: Spot, contact: Contact, levels: int) -> None:
        """A cut into the full, level by level; to and fro where both sides cut all along."""
        walker = self.walker
        top = self.z + contact.depth
        to_and_fro = not without(contact.right, contact.wrong) or (
            total(without(contact.right, contact.wrong)) < self.bench.radius / 4
        )
        for level in range(1, levels + 1):
            z = (
                self.z
                if level == levels
                else self.bench.grid.up(top - contact.depth * level / levels)
            )
            turn = to_and_fro and level > 1 and walker.at == b
            start, end = (b, a) if turn and self._may_drop(b, z) else (a, b)
            met = self._contact(start, end, z)
            if met.empty:
                continue
            if walker.at == start and level > 1:
                go_down(walker, start, z)
            else:
                approach(walker, start, z, _heading(start, end), self.purpose.allowed)
            walker.cut(end, self.purpose.slot_name)

    def _may_drop(self, spot: Spot, z: float) -> bool:
        """Whether the next level may be reached where the last one ended."""
        bench = self.bench
        return self.walker.stands_free(spot, z) or (
            bench.use.cutter.center_cutting and not bench.drilled
        )


def _heading(a: Spot, b: Spot) -> tuple[int, int]:
    dx, dy = b[0] - a[0], b[1] - a[1]
    return (dx > 0) - (dx < 0), (dy > 0) - (dy < 0)


def _apart(a: Spot, b: Spot) -> float:
    return abs(a[0] - b[0]) + abs(a[1] - b[1])


def _strip(p: Spot, q: Spot, inward: tuple[int, int], width: float) -> Polygon:
    """The band of ``width`` beside a line, on the side of cleared space."""
    dx, dy = inward[0] * width, inward[1] * width
    return Polygon([p, q, (q[0] + dx, q[1] + dy), (p[0] + dx, p[1] + dy)])
