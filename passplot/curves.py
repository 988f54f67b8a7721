"""Lines and arcs of the plan view by formula: lengths, directions, boxes, where two of them meet.

It stands beside the records because reading, planning and the sheet need it, and none of them may
import another; the proof has formulas of its own. Nothing is chorded.

Shares run from 0 at an edge's start to 1 at its end.
"""

from itertools import pairwise
from math import atan2, cos, hypot, pi, sin, sqrt, tau

from passplot.records.shapes import Arc, Edge, Line, Loop, Point

NEAR = 1e-9  # points closer than this are one (job units)
_Box = tuple[float, float, float, float]


def sweep(arc: Arc) -> float:
    """Angle an arc covers, (0, 2π]; an arc that ends where it starts is the full circle."""
    first, last = _angle(arc, arc.start), _angle(arc, arc.end)
    angle = (last - first if arc.ccw else first - last) % tau
    return angle if angle * arc.radius > NEAR else tau


def length(edge: Edge) -> float:
    """Length of an edge."""
    return edge.length if isinstance(edge, Line) else edge.radius * sweep(edge)


def point_at(edge: Edge, share: float) -> Point:
    """The point at a share of the edge's length; its ends are the very points of the edge."""
    if share in (0.0, 1.0):
        return edge.end if share else edge.start
    if isinstance(edge, Line):
        return Point(
            edge.start.x + share * (edge.end.x - edge.start.x),
            edge.start.y + share * (edge.end.y - edge.start.y),
        )
    angle = _angle(edge, edge.start) + share * sweep(edge) * (1 if edge.ccw else -1)
    return Point(edge.center.x + edge.radius * cos(angle), edge.center.y + edge.radius * sin(angle))


def direction(edge: Edge, share: float) -> tuple[float, float]:
    """Unit direction of travel at a share of the edge's length."""
    if isinstance(edge, Line):
        span = edge.length
        return (edge.end.x - edge.start.x) / span, (edge.end.y - edge.start.y) / span
    at, sign = point_at(edge, share), 1.0 if edge.ccw else -1.0
    return -sign * (at.y - edge.center.y) / edge.radius, sign * (at.x - edge.center.x) / edge.radius


def share_of(edge: Edge, at: Point) -> float:
    """Share of the length at which a point of the edge lies; beyond 0 … 1 where it is past it."""
    if isinstance(edge, Line):
        dx, dy = edge.end.x - edge.start.x, edge.end.y - edge.start.y
        return ((at.x - edge.start.x) * dx + (at.y - edge.start.y) * dy) / (dx * dx + dy * dy)
    whole, first, here = sweep(edge), _angle(edge, edge.start), _angle(edge, at)
    angle = (here - first if edge.ccw else first - here) % tau
    # what lies beyond both ends belongs to the nearer one
    return (angle - tau if angle > (whole + tau) / 2 else angle) / whole


def turned(edge: Edge) -> Edge:
    """The edge run the other way."""
    if isinstance(edge, Line):
        return Line(edge.end, edge.start)
    return Arc(edge.end, edge.start, edge.center, edge.radius, not edge.ccw)


_POLES = ((1, 0), (0, 1), (-1, 0), (0, -1))


def _gone(arc: Arc, first: float, quarter: int) -> float:
    """Angle an arc covers from its start up to a pole of its circle."""
    turn = quarter * pi / 2 - first
    return (turn if arc.ccw else -turn) % tau


def poles(arc: Arc) -> list[float]:
    """Shares of an arc's length at which it runs along X or Y, its ends left out, rising."""
    whole, first = sweep(arc), _angle(arc, arc.start)
    turns = (_gone(arc, first, quarter) for quarter in range(4))
    return sorted(turn / whole for turn in turns if NEAR < turn < whole - NEAR)


def box(edge: Edge) -> _Box:
    """(x low, x high, y low, y high) around an edge."""
    xs, ys = [edge.start.x, edge.end.x], [edge.start.y, edge.end.y]
    if isinstance(edge, Arc):
        whole, first = sweep(edge), _angle(edge, edge.start)
        for quarter, (x, y) in enumerate(_POLES):
            if _gone(edge, first, quarter) < whole:
                xs.append(edge.center.x + x * edge.radius)
                ys.append(edge.center.y + y * edge.radius)
    return min(xs), max(xs), min(ys), max(ys)


def loop_box(loop: Loop) -> _Box:
    """(x low, x high, y low, y high) around a loop."""
    boxes = [box(edge) for edge in loop.edges]
    lows, highs = ([pick(b[i] for b in boxes) for i in ends] for pick, ends in _PICKS)
    return lows[0], highs[0], lows[1], highs[1]


_PICKS = ((min, (0, 2)), (max, (1, 3)))


def off(edge: Edge, at: Point) -> float:
    """Distance of a point from an edge."""
    share = share_of(edge, at)
    if isinstance(edge, Line):
        foot = point_at(edge, min(max(share, 0.0), 1.0))
        return hypot(at.x - foot.x, at.y - foot.y)
    if 0.0 <= share <= 1.0:
        return abs(hypot(at.x - edge.center.x, at.y - edge.center.y) - edge.radius)
    return min(hypot(at.x - end.x, at.y - end.y) for end in (edge.start, edge.end))


def meetings(one: Edge, other: Edge, near: float = NEAR) -> list[Point]:
    """Points that two edges have in common, within ``near``; of a stretch in common, its ends."""
    a, b = box(one), box(other)
    if a[1] < b[0] - near or b[1] < a[0] - near or a[3] < b[2] - near or b[3] < a[2] - near:
        return []
    ends = [end for end in (one.start, one.end) if off(other, end) <= near]
    ends += [end for end in (other.start, other.end) if off(one, end) <= near]
    hits = crossings(one, other, near)
    return ends + [at for at in hits if off(one, at) <= near and off(other, at) <= near]


def crossings(one: Edge, other: Edge, near: float = NEAR) -> list[Point]:
    """Where the whole lines and circles that the edges lie on meet, touching ones included."""
    if isinstance(one, Line):
        if isinstance(other, Line):
            return _line_line(one, other)
        return _line_circle(one, other, near)
    if isinstance(other, Line):
        return _line_circle(other, one, near)
    return _circles(one, other, near)


def holds(loop: Loop, at: Point) -> bool:
    """Whether a point lies inside a loop: how often a ray to the right of it leaves the loop."""
    return sum(_to_the_right(edge, at) for edge in loop.edges) % 2 == 1


def _to_the_right(edge: Edge, at: Point) -> int:
    """How often an edge crosses the ray; half open in Y, which is right at joints as well."""
    if isinstance(edge, Line):
        a, b = edge.start, edge.end
        if (a.y > at.y) == (b.y > at.y):
            return 0
        return int(at.x < a.x + (at.y - a.y) * (b.x - a.x) / (b.y - a.y))
    if box(edge)[1] <= at.x:
        return 0
    count = 0
    for first, last in _rises(edge):
        a, b = point_at(edge, first), point_at(edge, last)
        if (a.y > at.y) == (b.y > at.y):
            continue
        half = sqrt(max(edge.radius**2 - (at.y - edge.center.y) ** 2, 0.0))
        right = point_at(edge, (first + last) / 2).x > edge.center.x
        count += at.x < edge.center.x + (half if right else -half)
    return count


def _rises(arc: Arc) -> list[tuple[float, float]]:
    """Shares between which an arc only rises or only falls."""
    whole, first = sweep(arc), _angle(arc, arc.start)
    turns = [(pi / 2 - first, -pi / 2 - first)[i] * (1 if arc.ccw else -1) % tau for i in (0, 1)]
    stops = [0.0, *sorted(turn / whole for turn in turns if 0 < turn < whole), 1.0]
    return list(pairwise(stops))


def _angle(arc: Arc, at: Point) -> float:
    return atan2(at.y - arc.center.y, at.x - arc.center.x)


def _line_line(one: Line, other: Line) -> list[Point]:
    ux, uy = one.end.x - one.start.x, one.end.y - one.start.y
    vx, vy = other.end.x - other.start.x, other.end.y - other.start.y
    turn = ux * vy - uy * vx
    if abs(turn) <= 1e-12 * one.length * other.length:
        return []
    wx, wy = other.start.x - one.start.x, other.start.y - one.start.y
    share = (wx * vy - wy * vx) / turn
    return [point_at(one, share)]


def _line_circle(line: Line, arc: Arc, near: float) -> list[Point]:
    tx, ty = direction(line, 0.0)
    wx, wy = arc.center.x - line.start.x, arc.center.y - line.start.y
    along, aside = wx * tx + wy * ty, wx * ty - wy * tx
    square = arc.radius**2 - aside**2
    if square < -near * arc.radius:
        return []
    half = sqrt(max(square, 0.0))
    shares = (along - half, along + half)
    return [Point(line.start.x + s * tx, line.start.y + s * ty) for s in shares]


def _circles(one: Arc, other: Arc, near: float) -> list[Point]:
    dx, dy = other.center.x - one.center.x, other.center.y - one.center.y
    apart = hypot(dx, dy)
    if apart < NEAR:
        return []  # one circle, or none inside the other: their ends tell
    along = (apart**2 + one.radius**2 - other.radius**2) / (2 * apart)
    square = one.radius**2 - along**2
    if square < -near * one.radius:
        return []
    half, ux, uy = sqrt(max(square, 0.0)), dx / apart, dy / apart
    x, y = one.center.x + along * ux, one.center.y + along * uy
    return [Point(x - s * uy, y + s * ux) for s in (half, -half)]
