"""The shape of the work for drawing: what stands how high, and where its edges are.

All of it asks only whether points lie inside outlines, so that outlines may overlap, hold islands
and be drawn in an interrupted view without any polygon arithmetic.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from itertools import pairwise
from math import ceil, hypot

from passplot.frozen import dataclass
from passplot.records.job import Feature
from passplot.records.shapes import Arc, Loop
from passplot.sheet.rounds import Round, chords, loops_of, round_of

Spot = tuple[float, float]
Outline = tuple[Spot, ...]
Side = tuple[Spot, Spot]
Placing = Callable[[float, float], Spot]

_PROBE = 1e-4
"""How far off an edge its two sides are looked at, in the units of the outlines."""


def outline(loop: Loop) -> Outline:
    """The corners of a loop, arcs as chords."""
    return tuple(spot for edge in loop.edges for spot in chords(edge))


def inside(spot: Spot, corners: Outline) -> bool:
    """Whether a point lies inside an outline (even-odd)."""
    x, y = spot
    within = False
    ax, ay = corners[-1]
    for bx, by in corners:
        if (ay > y) != (by > y) and x < ax + (y - ay) * (bx - ax) / (by - ay):
            within = not within
        ax, ay = bx, by
    return within


def sides(corners: Outline) -> Iterable[tuple[Spot, Spot]]:
    """The sides of an outline."""
    return zip(corners, (*corners[1:], corners[0]), strict=True)


@dataclass(frozen=True, slots=True)
class Cleared:
    """What a feature clears, as outlines: inside any of ``areas``, outside all of ``keeps``."""

    name: str
    floor: float
    areas: tuple[Outline, ...]
    keeps: tuple[Outline, ...]

    def covers(self, spot: Spot) -> bool:
        """Whether the feature clears that point."""
        for area in self.areas:
            if inside(spot, area):
                return not any(inside(spot, keep) for keep in self.keeps)
        return False


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece of an edge with what stands on either side of it.

    ``normal`` is the unit vector to the side ``high`` looks at, the higher one; heights are None
    off the stock. ``circle`` is that of the arc it is a chord of.
    """

    start: Spot
    end: Spot
    normal: Spot
    high: float | None
    low: float | None
    owner: str
    circle: Round | None = None

    @property
    def length(self) -> float:
        """Length of the piece."""
        return hypot(self.end[0] - self.start[0], self.end[1] - self.start[1])

    @property
    def on_stock_edge(self) -> bool:
        """Whether there is no stock on the lower side."""
        return self.low is None


@dataclass(frozen=True, slots=True)
class Ground:
    """The stock and what has been cleared from it, in the units of the outlines.

    ``circles`` has the circle of every chord of an arc.
    """

    stock: Outline
    top: float
    cleared: tuple[Cleared, ...]
    circles: Mapping[Side, Round] | None = None

    def height(self, spot: Spot) -> float | None:
        """Height of what stands at a point once all is cleared; None off the stock."""
        if not inside(spot, self.stock):
            return None
        floors = (item.floor for item in self.cleared if item.covers(spot))
        return min((self.top, *floors))

    @property
    def rings(self) -> tuple[Outline, ...]:
        """Every outline: the stock's, then those of the features."""
        rings = [self.stock]
        for item in self.cleared:
            rings += [*item.areas, *item.keeps]
        return tuple(rings)

    def pieces(self) -> tuple[Piece, ...]:
        """Every piece of edge along which the height changes, stock edges included."""
        found: dict[tuple[int, int], Piece] = {}
        segments = [("", a, b) for a, b in sides(self.stock)]
        for item in self.cleared:
            for ring in (*item.areas, *item.keeps):
                segments += [(item.name, a, b) for a, b in sides(ring)]
        circles = self.circles or {}
        for owner, a, b in segments:
            for start, end in _parts(a, b, segments):
                piece = self._seen(start, end, owner, circles.get((a, b)))
                if piece is not None:
                    middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
                    key = (round(middle[0] * 1e4), round(middle[1] * 1e4))
                    if key not in found or not found[key].owner:
                        found[key] = piece
        return tuple(found.values())

    def _seen(self, start: Spot, end: Spot, owner: str, circle: Round | None) -> Piece | None:
        """The piece from ``start`` to ``end``, or None where both sides stand equally high."""
        dx, dy = end[0] - start[0], end[1] - start[1]
        length = hypot(dx, dy)
        normal = (-dy / length, dx / length)
        middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
        one, other = (
            self.height(
                (middle[0] + sign * _PROBE * normal[0], middle[1] + sign * _PROBE * normal[1])
            )
            for sign in (1, -1)
        )
        if one == other:
            return None
        if one is None or (other is not None and other > one):
            return Piece(start, end, (-normal[0], -normal[1]), other, one, owner, circle)
        return Piece(start, end, normal, one, other, owner, circle)


def ground_of(stock: Outline, top: float, features: Iterable[Feature], mapping: Placing) -> Ground:
    """The ground of a stock with ``features`` cleared, every outline put through ``mapping``."""
    circles: dict[Side, Round] = {}

    def mapped(loop: Loop) -> Outline:
        found: list[Spot] = []
        for edge, after in zip(loop.edges, (*loop.edges[1:], loop.edges[0]), strict=True):
            spots = [mapping(x, y) for x, y in chords(edge)]
            found += spots
            if isinstance(edge, Arc):
                spots.append(mapping(after.start.x, after.start.y))
                circle = round_of(spots)
                if circle is not None:
                    circles.update(dict.fromkeys(pairwise(spots), circle))
        return tuple(found)

    cleared: list[Cleared] = []
    for feature in features:
        area, keep = loops_of(feature)
        areas, keeps = tuple(mapped(loop) for loop in area), tuple(mapped(loop) for loop in keep)
        cleared.append(Cleared(feature.name, feature.floor, areas, keeps))
    return Ground(tuple(mapping(x, y) for x, y in stock), top, tuple(cleared), circles)


def _parts(a: Spot, b: Spot, segments: list[tuple[str, Spot, Spot]]) -> Iterable[tuple[Spot, Spot]]:
    """The segment from ``a`` to ``b``, cut where any other meets it."""
    length = hypot(b[0] - a[0], b[1] - a[1])
    if length < 1e-9:
        return
    cuts = {0.0, 1.0}
    for _, c, d in segments:
        cuts.update(_meetings(a, b, c, d))
    ordered = sorted(cuts)
    for first, last in pairwise(ordered):
        if (last - first) * length > 1e-7:
            yield _along(a, b, first), _along(a, b, last)


def _along(a: Spot, b: Spot, share: float) -> Spot:
    return a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share


def _meetings(a: Spot, b: Spot, c: Spot, d: Spot) -> Iterable[float]:
    """Shares of the way from ``a`` to ``b`` at which the segment from ``c`` to ``d`` meets it."""
    ux, uy, vx, vy = b[0] - a[0], b[1] - a[1], d[0] - c[0], d[1] - c[1]
    cross = ux * vy - uy * vx
    square = ux * ux + uy * uy
    if abs(cross) < 1e-12 * square:
        off = abs((c[0] - a[0]) * uy - (c[1] - a[1]) * ux)
        if off < 1e-7 * square**0.5:
            for spot in (c, d):
                share = ((spot[0] - a[0]) * ux + (spot[1] - a[1]) * uy) / square
                if 0 < share < 1:
                    yield share
        return
    share = ((c[0] - a[0]) * vy - (c[1] - a[1]) * vx) / cross
    other = ((c[0] - a[0]) * uy - (c[1] - a[1]) * ux) / cross
    if 0 < share < 1 and -1e-9 <= other <= 1 + 1e-9:
        yield share


def hatched(
    rings: Sequence[Outline], stays: Callable[[Spot], bool], pitch: float
) -> Iterator[tuple[Spot, Spot]]:
    """45° lines ``pitch`` apart, rising to the right on paper, where ``stays`` holds.

    ``rings`` are all outlines at which ``stays`` may change.
    """
    sums = [x + y for ring in rings for x, y in ring]
    step = pitch * 2**0.5
    total = ceil(min(sums) / step) * step
    while total < max(sums):
        for first, last in _stretches(total, rings, stays):
            yield (first, total - first), (last, total - last)
        total += step


def _stretches(
    total: float, rings: Sequence[Outline], stays: Callable[[Spot], bool]
) -> list[tuple[float, float]]:
    """Stretches, as X from and to, of the line x + y = ``total`` on which ``stays`` holds."""
    stops = _crossings(total, rings)
    found: list[tuple[float, float]] = []
    for first, last in pairwise(stops):
        middle = (first + last) / 2
        if last - first > 1e-6 and stays((middle, total - middle)):
            if found and found[-1][1] == first:
                found[-1] = (found[-1][0], last)
            else:
                found.append((first, last))
    return found


def _crossings(total: float, rings: Sequence[Outline]) -> list[float]:
    """X of every meeting of the line x + y = ``total`` with the rings, rising."""
    found = set()
    for ring in rings:
        for (ax, ay), (bx, by) in sides(ring):
            near, far = ax + ay - total, bx + by - total
            if (near > 0) != (far > 0):
                found.add(round(ax + (bx - ax) * near / (near - far), 6))
    return sorted(found)


def clipped(corners: Outline, low: Spot, high: Spot) -> Outline:
    """The part of an outline inside a rectangle (Sutherland and Hodgman, 1974)."""
    for axis in (0, 1):
        for bound, sign in ((low[axis], 1.0), (high[axis], -1.0)):
            kept: list[Spot] = []
            for a, b in sides(corners):
                near, far = sign * (a[axis] - bound), sign * (b[axis] - bound)
                if near >= 0:
                    kept.append(a)
                if (near > 0) != (far > 0) and near != far:
                    kept.append(_along(a, b, near / (near - far)))
            corners = tuple(kept)
            if not corners:
                return ()
    return corners
