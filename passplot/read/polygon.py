"""Plane facts about outlines: their area and whether they cross themselves."""

from math import atan2, sin, tau

from passplot.records.shapes import Arc, Edge, Point


def signed_area(edges: list[Edge]) -> float:
    """Area enclosed by a closed row of edges: positive counter-clockwise, arcs included."""
    area = 0.0
    for edge in edges:
        area += (edge.start.x * edge.end.y - edge.end.x * edge.start.y) / 2
        if isinstance(edge, Arc):
            area += _segment(edge)
    return area


def _segment(arc: Arc) -> float:
    """Area between an arc and its chord, positive to the left of a counter-clockwise arc."""
    start = atan2(arc.start.y - arc.center.y, arc.start.x - arc.center.x)
    end = atan2(arc.end.y - arc.center.y, arc.end.x - arc.center.x)
    sweep = (end - start if arc.ccw else start - end) % tau
    area = arc.radius * arc.radius * (sweep - sin(sweep)) / 2
    return area if arc.ccw else -area


def crossing(corners: list[Point]) -> tuple[int, int] | None:
    """Which two edges of a closed polygon cross, touch or fold back; None if none do.

    Edge ``i`` starts at corner ``i``. Edges are gone through from left to right and held only
    against those that start before they end.
    """
    count = len(corners)
    edges = list(zip(corners, [*corners[1:], corners[0]], strict=True))
    for i in range(count):
        after = (i + 1) % count
        if _folds_back(*edges[i], edges[after][1]):
            return (i, after)
    order = sorted(range(count), key=lambda i: min(edges[i][0].x, edges[i][1].x))
    for at, i in enumerate(order):
        right = max(edges[i][0].x, edges[i][1].x)
        for j in order[at + 1 :]:
            if min(edges[j][0].x, edges[j][1].x) > right:
                break
            neighbours = (i - j) % count in (1, count - 1)
            if not neighbours and _meet(*edges[i], *edges[j]):
                return (min(i, j), max(i, j))
    return None


def _side(a: Point, b: Point, p: Point) -> float:
    """Positive where ``p`` is to the left of the way from ``a`` to ``b``."""
    return (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x)


def _folds_back(a: Point, b: Point, c: Point) -> bool:
    dot = (b.x - a.x) * (c.x - b.x) + (b.y - a.y) * (c.y - b.y)
    return _side(a, b, c) == 0 and dot < 0


def _meet(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Whether two closed segments have a point in common."""
    if max(a.x, b.x) < min(c.x, d.x) or max(c.x, d.x) < min(a.x, b.x):
        return False
    if max(a.y, b.y) < min(c.y, d.y) or max(c.y, d.y) < min(a.y, b.y):
        return False
    return _side(a, b, c) * _side(a, b, d) <= 0 and _side(c, d, a) * _side(c, d, b) <= 0
