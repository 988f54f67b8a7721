"""Lines and arcs of the plan view by formula: points, pieces, crossings, sides."""

from collections.abc import Sequence
from itertools import pairwise
from math import acos, atan2, ceil, cos, hypot, pi, sin, sqrt, tau

from passplot.records.shapes import Arc, Edge, Line, Loop, Point

TINY = 1e-9
"""Lengths below this are none (job units)."""


def sweep(arc: Arc) -> float:
    """Angle an arc covers, (0, 2π]; an arc that ends where it starts is the full circle."""
    first = atan2(arc.start.y - arc.center.y, arc.start.x - arc.center.x)
    last = atan2(arc.end.y - arc.center.y, arc.end.x - arc.center.x)
    angle = (last - first if arc.ccw else first - last) % tau
    return angle if angle > TINY else tau


def length(edge: Edge) -> float:
    """Length of an edge."""
    return edge.length if isinstance(edge, Line) else edge.radius * sweep(edge)


def point_at(edge: Edge, share: float) -> Point:
    """The point at a share of the edge's length from its start."""
    if share <= 0.0:
        return edge.start
    if share >= 1.0:
        return edge.end
    if isinstance(edge, Line):
        return Point(
            edge.start.x + share * (edge.end.x - edge.start.x),
            edge.start.y + share * (edge.end.y - edge.start.y),
        )
    angle = atan2(edge.start.y - edge.center.y, edge.start.x - edge.center.x)
    angle += share * sweep(edge) * (1 if edge.ccw else -1)
    return Point(edge.center.x + edge.radius * cos(angle), edge.center.y + edge.radius * sin(angle))


def tangent_at(edge: Edge, share: float) -> tuple[float, float]:
    """Unit direction of travel at a share of the edge's length."""
    if isinstance(edge, Line):
        span = edge.length or 1.0
        return (edge.end.x - edge.start.x) / span, (edge.end.y - edge.start.y) / span
    at = point_at(edge, share)
    sign = 1.0 if edge.ccw else -1.0
    return -sign * (at.y - edge.center.y) / edge.radius, sign * (at.x - edge.center.x) / edge.radius


def piece(edge: Edge, first: float, last: float) -> Edge:
    """The part of an edge between two shares of its length."""
    if first <= 0.0 and last >= 1.0:
        return edge
    start, end = point_at(edge, first), point_at(edge, last)
    if isinstance(edge, Line):
        return Line(start, end)
    return Arc(start, end, edge.center, edge.radius, edge.ccw)


def turned(edge: Edge) -> Edge:
    """The edge run the other way."""
    if isinstance(edge, Line):
        return Line(edge.end, edge.start)
    return Arc(edge.end, edge.start, edge.center, edge.radius, not edge.ccw)


def share_of(edge: Edge, at: Point) -> float:
    """Share of the edge's length at which a point on it lies (beyond 0 … 1 where it is past)."""
    if isinstance(edge, Line):
        dx, dy = edge.end.x - edge.start.x, edge.end.y - edge.start.y
        square = dx * dx + dy * dy
        return ((at.x - edge.start.x) * dx + (at.y - edge.start.y) * dy) / square if square else 0.0
    first = atan2(edge.start.y - edge.center.y, edge.start.x - edge.center.x)
    here = atan2(at.y - edge.center.y, at.x - edge.center.x)
    whole = sweep(edge)
    angle = (here - first if edge.ccw else first - here) % tau
    # what lies just before the start is nearer to it than to the end
    if angle > (whole + tau) / 2:
        angle -= tau
    return angle / whole


def crossings(one: Edge, other: Edge, near: float) -> list[Point]:
    """Points in common of two edges, touching and overlapping ends (within ``near``) included."""
    found = [
        end
        for edge, target in ((one, other), (other, one))
        for end in (edge.start, edge.end)
        if off(target, end) <= near
    ]
    if isinstance(one, Line) and isinstance(other, Line):
        hits = _line_line(one, other)
    elif isinstance(one, Arc) and isinstance(other, Arc):
        hits = _circles(one, other)
    else:
        line, arc = (one, other) if isinstance(one, Line) else (other, one)
        hits = _line_circle(line, arc)  # type: ignore[arg-type]
    return found + [at for at in hits if off(one, at) <= near and off(other, at) <= near]


def off(edge: Edge, at: Point) -> float:
    """Distance of a point from an edge."""
    share = share_of(edge, at)
    if isinstance(edge, Line):
        foot = point_at(edge, min(max(share, 0.0), 1.0))
        return hypot(at.x - foot.x, at.y - foot.y)
    if 0.0 <= share <= 1.0:
        return abs(hypot(at.x - edge.center.x, at.y - edge.center.y) - edge.radius)
    return min(hypot(at.x - end.x, at.y - end.y) for end in (edge.start, edge.end))


def _line_line(one: Line, other: Line) -> list[Point]:
    ux, uy = one.end.x - one.start.x, one.end.y - one.start.y
    vx, vy = other.end.x - other.start.x, other.end.y - other.start.y
    turn = ux * vy - uy * vx
    if abs(turn) <= 1e-12 * one.length * other.length:
        return []
    wx, wy = other.start.x - one.start.x, other.start.y - one.start.y
    share = (wx * vy - wy * vx) / turn
    return [Point(one.start.x + share * ux, one.start.y + share * uy)]


def _line_circle(line: Line, arc: Arc) -> list[Point]:
    tx, ty = tangent_at(line, 0.0)
    wx, wy = arc.center.x - line.start.x, arc.center.y - line.start.y
    along, aside = wx * tx + wy * ty, wx * ty - wy * tx
    square = arc.radius**2 - aside**2
    if square < -2e-7 * arc.radius:
        return []
    half = sqrt(max(square, 0.0))
    return [
        Point(line.start.x + s * tx, line.start.y + s * ty)
        for s in ({along - half, along + half} if half else {along})
    ]


def _circles(one: Arc, other: Arc) -> list[Point]:
    dx, dy = other.center.x - one.center.x, other.center.y - one.center.y
    apart = hypot(dx, dy)
    if apart < TINY:
        return []
    along = (apart**2 + one.radius**2 - other.radius**2) / (2 * apart)
    square = one.radius**2 - along**2
    if square < -2e-7 * one.radius:
        return []
    half = sqrt(max(square, 0.0))
    ux, uy = dx / apart, dy / apart
    x, y = one.center.x + along * ux, one.center.y + along * uy
    return [Point(x - s * uy, y + s * ux) for s in ({half, -half} if half else {0.0})]


def cut_at(edge: Edge, points: Sequence[Point], near: float) -> list[Edge]:
    """The edge cut into pieces at points that lie on it."""
    span = length(edge)
    found = [share_of(edge, at) for at in points]
    shares = sorted(share for share in found if near < share * span < span - near)
    kept = [0.0]
    for share in shares:
        if (share - kept[-1]) * span > near:
            kept.append(share)
    kept.append(1.0)
    return [piece(edge, a, b) for a, b in pairwise(kept)]


def extremes(arc: Arc) -> list[float]:
    """Shares of an arc's length at which it runs along X or Y, ends left out."""
    first = atan2(arc.start.y - arc.center.y, arc.start.x - arc.center.x)
    whole, sign = sweep(arc), 1 if arc.ccw else -1
    found = []
    for quarter in range(-8, 9):
        angle = sign * (quarter * pi / 2 - first)
        if 1e-9 < angle < whole - 1e-9:
            found.append(angle / whole)
    return sorted(found)


def contains(loop: Loop, x: float, y: float) -> bool:
    """Whether a point lies inside a loop of lines and arcs (even-odd rule, exact)."""
    odd = False
    for edge in loop.edges:
        shares = [0.0, *(extremes(edge) if isinstance(edge, Arc) else []), 1.0]
        for first, last in pairwise(shares):
            a, b = point_at(edge, first), point_at(edge, last)
            if (a.y > y) == (b.y > y):
                continue
            if isinstance(edge, Line):
                at = a.x + (y - a.y) * (b.x - a.x) / (b.y - a.y)
            else:
                half = sqrt(max(edge.radius**2 - (y - edge.center.y) ** 2, 0.0))
                middle = point_at(edge, (first + last) / 2)
                at = edge.center.x + (half if middle.x > edge.center.x else -half)
            odd = odd != (x < at)
    return odd


def chords(edge: Edge, sagitta: float, outside: bool = False) -> list[tuple[float, float]]:
    """Corners of chords along an edge, its end left out.

    Parameters
    ----------
    sagitta : float
        Greatest distance between chord and arc.
    outside : bool
        Lay the chords on the outside of the arc (tangents) instead of inside it.
    """
    if isinstance(edge, Line):
        return [(edge.start.x, edge.start.y)]
    count = chord_count(edge.radius, sweep(edge), sagitta)
    if not outside:
        points = [point_at(edge, index / count) for index in range(count)]
        return [(p.x, p.y) for p in points]
    far = edge.radius / cos(sweep(edge) / (2 * count))
    corners = [(edge.start.x, edge.start.y)]
    for index in range(count):
        at = point_at(edge, (index + 0.5) / count)
        corners.append(
            (
                edge.center.x + (at.x - edge.center.x) * far / edge.radius,
                edge.center.y + (at.y - edge.center.y) * far / edge.radius,
            )
        )
    return corners


def chord_count(radius: float, angle: float, sagitta: float) -> int:
    """How many chords keep within ``sagitta`` of an arc, none over an eighth of a turn."""
    if radius <= sagitta:
        return max(2, ceil(angle / (pi / 4)))
    step = 2 * acos(1 - sagitta / radius)
    return max(1, ceil(angle / min(step, pi / 4) - 1e-9))
