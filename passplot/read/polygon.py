"""Plane facts about closed rows of lines and arcs: their area and whether they cross themselves."""

from math import hypot, sin

from passplot.curves import box, direction, meetings, sweep
from passplot.records.shapes import Arc, Edge, Point

_JOINT = 1e-5  # neighbours that run smoothly into each other meet near their joint as well
_OPPOSED = 1e-9


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
    angle = sweep(arc)
    area = arc.radius * arc.radius * (angle - sin(angle)) / 2
    return area if arc.ccw else -area


def crossing(edges: list[Edge]) -> tuple[int, int] | None:
    """Which two edges of a closed row cross, touch or fold back; None if none do.

    Edges are gone through from left to right and held only against those that start before they
    end.
    """
    count = len(edges)
    for i in range(count):
        if _folds_back(edges[i], edges[(i + 1) % count]):
            return (i, (i + 1) % count)
    boxes = [box(edge) for edge in edges]
    order = sorted(range(count), key=lambda i: boxes[i][0])
    for at, i in enumerate(order):
        for j in order[at + 1 :]:
            if boxes[j][0] > boxes[i][1]:
                break
            if boxes[j][2] <= boxes[i][3] and boxes[i][2] <= boxes[j][3] and _meet(edges, i, j):
                return (min(i, j), max(i, j))
    return None


def _meet(edges: list[Edge], i: int, j: int) -> bool:
    """Whether two edges have a point in common that is no joint of them."""
    count = len(edges)
    joints = [edges[i].end] if (i + 1) % count == j else []
    joints += [edges[j].end] if (j + 1) % count == i else []
    return any(
        all(_apart(at, joint) > _JOINT for joint in joints) for at in meetings(edges[i], edges[j])
    )


def _apart(one: Point, other: Point) -> float:
    return hypot(one.x - other.x, one.y - other.y)


def _folds_back(edge: Edge, after: Edge) -> bool:
    """Whether ``after`` leaves against the direction in which ``edge`` arrives."""
    (ux, uy), (vx, vy) = direction(edge, 1.0), direction(after, 0.0)
    return ux * vx + uy * vy < 0 and abs(ux * vy - uy * vx) < _OPPOSED
