"""Arcs of outlines on paper: which chords belong to one, and the true arc they are drawn as."""

from collections.abc import Iterable, Sequence
from math import atan2, ceil, cos, degrees, hypot, pi, sin, sqrt, tau

from passplot.curves import point_at, poles, sweep
from passplot.frozen import dataclass
from passplot.records.job import Feature
from passplot.records.shapes import Arc, Edge, Loop, Point

Spot = tuple[float, float]
Outline = tuple[Spot, ...]
Span = tuple[float, float]

_CHORD_STEP = pi / 24
"""Greatest angle of a chord: on paper a fill's edge drawn so is true to 0.02 mm at 10 mm radius."""
_OFF_CIRCLE = 1e-3
"""How far chords may end off their circle, as a share of its radius: else the view is broken."""
_SAME_ANGLE = 2e-3


@dataclass(frozen=True, slots=True)
class Round:
    """The circle of an arc, in the units of the outlines."""

    center: Spot
    radius: float

    def angle(self, spot: Spot) -> float:
        """Direction of a spot from the centre, radians."""
        return atan2(spot[1] - self.center[1], spot[0] - self.center[0])

    def outside(self, a: Spot, b: Spot, way: Spot) -> bool:
        """Whether ``way`` points away from the centre at the middle of a chord."""
        x, y = (a[0] + b[0]) / 2 - self.center[0], (a[1] + b[1]) / 2 - self.center[1]
        return x * way[0] + y * way[1] > 0


def loops_of(feature: Feature) -> tuple[tuple[Loop, ...], tuple[Loop, ...]]:
    """Area and keep of a feature as they come out: inside corners with their written radius."""
    return feature.rounded or (feature.area, feature.keep)


def chords(edge: Edge) -> tuple[Spot, ...]:
    """Start of an edge, and of an arc the points of its chords up to its end."""
    start = (edge.start.x, edge.start.y)
    if not isinstance(edge, Arc):
        return (start,)
    first, turn = _turn(edge)
    count = max(2, ceil(abs(turn) / _CHORD_STEP))
    angles = (first + turn * step / count for step in range(1, count))
    round_it = (
        (edge.center.x + edge.radius * cos(a), edge.center.y + edge.radius * sin(a)) for a in angles
    )
    return (start, *round_it)


def _turn(edge: Arc) -> tuple[float, float]:
    """Direction of an arc's start from its centre, and the signed angle it covers."""
    first = atan2(edge.start.y - edge.center.y, edge.start.x - edge.center.x)
    return first, sweep(edge) if edge.ccw else -sweep(edge)


def circle_through(a: Spot, b: Spot, c: Spot) -> Round | None:
    """The circle through three spots; None where they lie on a line."""
    (ax, ay), (bx, by), (cx, cy) = a, b, c
    bx, by, cx, cy = bx - ax, by - ay, cx - ax, cy - ay
    cross = 2 * (bx * cy - by * cx)
    if abs(cross) < 1e-12:
        return None
    b_square, c_square = bx * bx + by * by, cx * cx + cy * cy
    x = (cy * b_square - by * c_square) / cross
    y = (bx * c_square - cx * b_square) / cross
    return Round((ax + x, ay + y), hypot(x, y))


def round_of(spots: Sequence[Spot]) -> Round | None:
    """The circle that mapped points of an arc lie on; None where a break has torn them apart."""
    count = len(spots)
    whole = hypot(spots[0][0] - spots[-1][0], spots[0][1] - spots[-1][1]) < 1e-9
    middle, last = (count // 3, 2 * count // 3) if whole else (count // 2, count - 1)
    found = circle_through(spots[0], spots[middle], spots[last])
    if found is None:
        return None
    (x, y), radius = found.center, found.radius
    off = max(abs(hypot(sx - x, sy - y) - radius) for sx, sy in spots)
    return found if off <= _OFF_CIRCLE * radius else None


def spans_of(circle: Round, pieces: Iterable[tuple[Spot, Spot]]) -> list[Span]:
    """Chords of one circle put together: from and to, degrees, rising; a full turn is 360 long."""
    parts: list[Span] = []
    for a, b in pieces:
        first, last = circle.angle(a), circle.angle(b)
        step = (last - first + pi) % tau - pi
        parts.append((first, first + step) if step > 0 else (last, last - step))
    parts = sorted((low % tau, low % tau + high - low) for low, high in parts)
    joined: list[Span] = []
    for low, high in parts:
        if joined and low <= joined[-1][1] + _SAME_ANGLE:
            joined[-1] = (joined[-1][0], max(high, joined[-1][1]))
        else:
            joined.append((low, high))
    if len(joined) > 1 and joined[-1][1] >= joined[0][0] + tau - _SAME_ANGLE:
        low, high = joined.pop()
        joined[0] = (low - tau, max(joined[0][1], high - tau))
    return [
        (degrees(low), degrees(low) + min(degrees(high - low), 360.0))
        if high - low < tau - _SAME_ANGLE
        else (0.0, 360.0)
        for low, high in joined
    ]


def crossing(a: Spot, b: Spot, circle: Round | None, along: int, at: float) -> float:
    """Where the edge over a chord crosses a line: on the chord itself, or on its circle.

    The line has the coordinate ``at`` across the axis ``along`` (0 for X); the answer is along it.
    """
    share = (at - a[1 - along]) / (b[1 - along] - a[1 - along])
    straight = a[along] + (b[along] - a[along]) * share
    if circle is None:
        return straight
    square = circle.radius**2 - (at - circle.center[1 - along]) ** 2
    half = sqrt(max(square, 0.0))
    middle = circle.center[along]
    return middle + half if straight > middle else middle - half


def reach_of(loop: Loop) -> tuple[Point, ...]:
    """Corners of a loop with the outermost points of its arcs along X and Y."""
    return tuple(
        point
        for edge in loop.edges
        for point in (arc_reach(edge)[:-1] if isinstance(edge, Arc) else (edge.start,))
    )


def arc_reach(arc: Arc) -> tuple[Point, ...]:
    """Start of an arc, its outermost points along X and Y, its end."""
    return (arc.start, *(point_at(arc, share) for share in poles(arc)), arc.end)


def bends(features: Iterable[Feature]) -> tuple[Arc, ...]:
    """Every arc of features as they come out."""
    loops = (loop for feature in features for side in loops_of(feature) for loop in side)
    return tuple(edge for loop in loops for edge in loop.edges if isinstance(edge, Arc))
