"""Lines and arcs of the plan view cut into pieces and chords."""

from collections.abc import Sequence
from itertools import pairwise
from math import acos, ceil, cos, pi

from passplot.curves import length, point_at, share_of, sweep
from passplot.records.shapes import Arc, Edge, Line, Point


def piece(edge: Edge, first: float, last: float) -> Edge:
    """The part of an edge between two shares of its length."""
    if first <= 0.0 and last >= 1.0:
        return edge
    start, end = point_at(edge, first), point_at(edge, last)
    if isinstance(edge, Line):
        return Line(start, end)
    return Arc(start, end, edge.center, edge.radius, edge.ccw)


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
