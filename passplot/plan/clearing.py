"""Courses followed: where a ring is begun, in what order its sides and the centre lines go."""

from shapely import LineString, Point, Polygon
from shapely.ops import nearest_points

from passplot.plan.bench import Bench
from passplot.plan.entry import approach, open_space
from passplot.plan.legs import Leg, Legs, Purpose, Spot, heading
from passplot.plan.metal import Contact, thick
from passplot.plan.rings import RUBS, Course
from passplot.plan.snap import Snapping
from passplot.plan.spans import total
from passplot.plan.walker import Walker, apart

WIDE_FLOOR = 0.75
"""Widest floor pass with a free side, in diameters (common practice, no source)."""


class Clearing:
    """Follows courses at one height."""

    def __init__(self, walker: Walker, z: float, purpose: Purpose, snapping: Snapping) -> None:
        self.walker = walker
        self.bench: Bench = walker.bench
        self.z = z
        self.purpose = purpose
        self.snapping = snapping
        self.legs = Legs(walker, z, purpose)
        self.ring = 0

    def follow(self, course: Course) -> None:
        """Cut along one course wherever it meets metal."""
        self.ring = course.ring
        if course.lines:
            self._web(self.snapping.middles(course))
            return
        corners = self.snapping.corners(course, self.bench.left)
        if len(corners) > 1:
            self._round(list(zip(corners, corners[1:] + corners[:1], strict=True)))

    def along(self, a: Spot, b: Spot) -> None:
        """Cut along one straight stretch of wall, given as exact coordinates."""
        p, q = self.snapping.stretch(a, b)
        p, q = self._drawn_in(p, q), self._drawn_in(q, p)
        leg = (p, q) if self.bench.left else (q, p)
        if p != q and self._meets(leg):
            self.legs.leg(*leg, False, False)

    def _drawn_in(self, end: Spot, other: Spot) -> Spot:
        """The end of a stretch, back by readout steps until it stands where it is allowed."""
        dx, dy = heading(end, other)
        step = self.bench.grid.resolution
        for _ in range(20):
            if end == other or self.purpose.allowed.covers(Point(end)):
                return end
            end = (
                self.bench.grid.near(end[0] + dx * step),
                self.bench.grid.near(end[1] + dy * step),
            )
        return other

    def _web(self, lines: list[list[Spot]]) -> None:
        """Centre lines, always the one next that begins nearest to where the cutter stands."""
        lines = list(lines)
        while lines:
            here = self.walker.at
            nearest = min(lines, key=lambda line: min(apart(here, spot) for spot in line))
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
            first = min(starts, key=lambda i: apart(legs[i][0], here))
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
            contact = self.legs.contact(a, b)
            start = self.legs.start_of(a, b, contact)
            if self.walker.stands_free(start, self.z):
                fitting.append((apart(here, start), index))
        return min(fitting)[1] if fitting else None

    def _chain(self, legs: list[Leg], closed: bool) -> None:
        """Legs in a row; a closed chain begins and ends at the point it was stepped into."""
        joined = closed
        for index, (a, b) in enumerate(legs):
            last = closed and index + 1 == len(legs)
            # the scallop between the way in and the last corner goes with the next ring
            scallop = last and self.ring and apart(a, b) < 0.6 * self.bench.radius
            if scallop or not self._meets((a, b)):
                if last and joined and not self.ring and self._stands((a, b)):
                    # close the ring even over a sliver: it would stay on the wall
                    self.walker.cut(b, self.purpose.name)
                joined = False
                continue
            goes_on = index + 1 < len(legs) and self._meets(legs[index + 1])
            # a ring is closed where metal stands there: else it stops where it has met the last
            closes = last and apart(a, b) - self.legs.contact(a, b).last < 2 * self.bench.radius
            self.legs.leg(a, b, joined, goes_on or closes)
            joined = self.walker.at == b and self.walker.z == self.z

    def _meets(self, leg: Leg) -> bool:
        if self._on_border(leg):
            return False
        contact = self.legs.contact(*leg)
        if contact.empty:
            return False
        if self.ring and self._sliver(contact):
            return False
        return thick(contact.met.intersection(self.purpose.target), self._least())

    def _least(self) -> float:
        """Metal up to this thick is left: chords' slivers, a readout step more of wall stock."""
        stock = self.ring == 0 and self.snapping.reach is None
        return max(self.walker.metal.thin, 1.2 * self.bench.grid.resolution if stock else 0.0)

    def _stands(self, leg: Leg) -> bool:
        """Whether more stands in the way of a leg than chords leave of a cleared one."""
        metal, radius = self.walker.metal, self.bench.radius
        swept = metal.swept(*leg, radius)
        return thick(metal.at(self.z).intersection(swept), min(metal.fine, 0.002 * radius))

    def _sliver(self, contact: Contact) -> bool:
        """Whether a cut is a rounding's sliver that the next ring can take along."""
        grid, widths = self.bench.grid, self.snapping.steps.widths
        step = max(widths.east, widths.west, widths.north, widths.south)
        if contact.width + step > self.purpose.limit + grid.resolution / 2:
            # too much for the next ring, but this thin it would only rub: there it is halved
            return not thick(contact.met, RUBS * grid.setting)
        return not thick(contact.met, grid.setting)

    def _on_border(self, leg: Leg) -> bool:
        x0, x1, y0, y1 = self.bench.cells.domain
        near = 10 * self.bench.thin
        (ax, ay), (bx, by) = leg
        return any(
            abs(p - edge) < near and abs(q - edge) < near
            for p, q, edges in ((ax, bx, (x0, x1)), (ay, by, (y0, y1)))
            for edge in edges
        )

    def _way_in(self, legs: list[Leg]) -> tuple[int, Spot]:
        """Leg, and the point of it, at which a closed ring is stepped into from cleared space."""
        radius = self.bench.radius
        room = open_space(self.walker, self.purpose.allowed, self.z)
        here = Point(self.walker.at)
        best: tuple[float, int, Spot] | None = None
        for index, (a, b) in enumerate(legs):
            length = apart(a, b)
            trim = min(0.2 * radius, length / 3)
            p, q = self.legs.along(a, b, trim), self.legs.along(a, b, length - trim)
            line = LineString([p, q])
            dx, dy = heading(a, b)
            inward = (dy, -dx) if self.bench.left else (-dy, dx)
            strip = _strip(p, q, inward, 1.2 * radius)
            near = room.intersection(strip)
            if near.is_empty:
                continue
            stays = self.walker.z == self.z and strip.distance(here) < self.bench.thin
            door = here if stays else nearest_points(near, line)[0]
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

    def _line_any_way(self, a: Spot, b: Spot) -> None:
        """A centre line: from whichever end can be entered without a plunge, legs cut to fit."""
        if a == b:
            self._spot(a)
            return
        ahead, back = self.legs.contact(a, b), self.legs.contact(b, a)
        if not self._meets((a, b)):
            return
        if back.empty:
            back = ahead
        turned = total(back.climbing) < total(ahead.climbing) - self.bench.thin
        if abs(total(back.climbing) - total(ahead.climbing)) <= self.bench.thin:
            open_a = self.walker.stands_free(self.legs.start_of(a, b, ahead), self.z)
            open_b = self.walker.stands_free(self.legs.start_of(b, a, back), self.z)
            nearer = apart(self.walker.at, b) < apart(self.walker.at, a)
            turned = (open_b and not open_a) or (open_a == open_b and nearer)
        if turned:
            a, b = b, a
        self._from_free_side(a, b, ahead)
        self.legs.leg(a, b, False, False)

    def _from_free_side(self, a: Spot, b: Spot, contact: Contact) -> None:
        """A floor pass beside a centre line, where that has a free side within the cutter.

        A pass that opens a floor is as wide as the cutter; one with a free side need not be.
        """
        radius = self.bench.radius
        if self.purpose.name != "floor":
            return
        dx, dy = heading(a, b)
        x0, y0, x1, y1 = contact.met.bounds
        sides = (y1 - a[1], a[1] - y0) if dx else (x1 - a[0], a[0] - x0)
        less = min(sides)
        if less <= 0 or not WIDE_FLOOR < sum(sides) / (2 * radius) < 0.97:
            return
        aside = (less + radius - self.purpose.limit) * (1 if sides[0] == less else -1)
        p, q = (self.legs.beside(spot, aside * abs(dy), aside * abs(dx)) for spot in (a, b))
        if self.purpose.allowed.covers(LineString([p, q])):
            self.legs.leg(p, q, False, False)


def _strip(p: Spot, q: Spot, inward: tuple[int, int], width: float) -> Polygon:
    """The band of ``width`` beside a line, on the side of cleared space."""
    dx, dy = inward[0] * width, inward[1] * width
    return Polygon([p, q, (q[0] + dx, q[1] + dy), (p[0] + dx, p[1] + dy)])
