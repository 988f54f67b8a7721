"""Corners of an outline rounded with their written radii: tangent arcs by formula."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from math import atan2, hypot, tan

from passplot.curves import NEAR, crossings, direction, length, share_of
from passplot.frozen import dataclass
from passplot.read.block import clean
from passplot.records.shapes import Arc, Edge, Line, Loop, Point

_SMOOTH = 1e-6  # sine of an angle that is no corner any more


@dataclass(frozen=True, slots=True)
class Misfit:
    """A radius that does not fit.

    ``corner`` is the number of the edge that starts there. ``edge`` is the length of an edge that
    is too short for the ``needed`` length, shared with the corner ``other`` where that is not
    None; 0 where no arc of that radius joins the two edges at all.
    """

    corner: int
    edge: float = 0.0
    needed: float = 0.0
    other: int | None = None


def corner_turn(edges: Sequence[Edge], index: int) -> float:
    """Sine of the angle the outline turns by where edge ``index`` starts; left is positive.

    0 where one edge runs smoothly into the next.
    """
    (ux, uy), (vx, vy) = direction(edges[index - 1], 1.0), direction(edges[index], 0.0)
    turn = ux * vy - uy * vx
    return turn if abs(turn) > _SMOOTH else 0.0


def misfits(edges: Sequence[Edge], radii: Mapping[int, float]) -> list[Misfit]:
    """Radii that do not fit the edges of a closed row they are to join.

    Parameters
    ----------
    edges : sequence of Edge
        The outline with sharp corners.
    radii : mapping
        From the number of an edge to the radius of the corner it starts at, job units.
    """
    arcs = {index: fillet(edges[index - 1], edges[index], r) for index, r in radii.items()}
    found = [Misfit(index) for index, arc in arcs.items() if arc is None]
    for index, edge in enumerate(edges):
        after = (index + 1) % len(edges)
        span, first, last = length(edge), arcs.get(index), arcs.get(after)
        used = [
            span * share_of(edge, first.end) if first else 0.0,
            span * (1 - share_of(edge, last.start)) if last else 0.0,
        ]
        if sum(used) <= span + NEAR:
            continue
        alone = [corner for corner, need in zip((index, after), used, strict=True) if need > span]
        if alone:
            found += [Misfit(corner, span, max(used)) for corner in alone]
        else:
            found.append(Misfit(after, span, sum(used), index))
    return found


def rounded(loop: Loop, radii: Mapping[int, float]) -> Loop:
    """The loop with an arc at each corner that has a radius; the radii fit."""
    edges = loop.edges
    arcs = {
        index: arc
        for index, r in radii.items()
        if r > 0 and (arc := fillet(edges[index - 1], edges[index], r)) is not None
    }
    made: list[Edge] = []
    for index, edge in enumerate(edges):
        first, last = arcs.get(index), arcs.get((index + 1) % len(edges))
        if first is not None:
            _append(made, first)
        trimmed = _trimmed(edge, first.end if first else None, last.start if last else None)
        if trimmed is not None:
            _append(made, trimmed)
    _append(made, made.pop(0))
    return Loop((made[-1], *made[:-1]))


def _append(made: list[Edge], edge: Edge) -> None:
    """Put an edge behind the others, from the very point where they end.

    Where arcs meet because the edge between them is gone, they do so but for rounding: an arc's
    end is moved then, so that straight edges stay along X or Y.
    """
    if made and made[-1].end != edge.start:
        before = made[-1]
        if not _same(before.end, edge.start):
            raise AssertionError("a rounded outline is open: a fault of passplot")
        if isinstance(before, Arc):
            made[-1] = replace(before, end=edge.start)
        else:
            edge = replace(edge, start=before.end)
    made.append(edge)


def fillet(before: Edge, after: Edge, radius: float) -> Arc | None:
    """The arc of ``radius`` tangent to two edges at the corner where they meet.

    None where they run smoothly into each other or no such arc is near. It may be longer than the
    edges are.
    """
    (ux, uy), (vx, vy) = direction(before, 1.0), direction(after, 0.0)
    turn = ux * vy - uy * vx
    if abs(turn) <= _SMOOTH:
        return None
    side = 1.0 if turn > 0 else -1.0  # the arc's center lies on the side the outline turns to
    if isinstance(before, Line) and isinstance(after, Line):
        reach = radius * tan(atan2(abs(turn), ux * vx + uy * vy) / 2)
        start, end = _along(before, before.end, -reach), _along(after, after.start, reach)
        center = Point(clean(start.x - side * radius * uy), clean(start.y + side * radius * ux))
        return Arc(start, end, center, radius, side > 0)
    paths = [_beside(edge, side * radius) for edge in (before, after)]
    if paths[0] is None or paths[1] is None:
        return None
    corner = before.end
    near = sorted(
        crossings(paths[0], paths[1]), key=lambda at: hypot(at.x - corner.x, at.y - corner.y)
    )
    if not near:
        return None
    return Arc(_touch(before, near[0]), _touch(after, near[0]), near[0], radius, side > 0)


def _along(line: Line, at: Point, distance: float) -> Point:
    """The point ``distance`` further along; along X or Y the other coordinate stays exact."""
    dx, dy = direction(line, 0.0)
    return Point(
        clean(at.x + distance * dx) if dx else at.x, clean(at.y + distance * dy) if dy else at.y
    )


def _beside(edge: Edge, distance: float) -> Edge | None:
    """The line or circle ``distance`` to the left of an edge; None where there is none."""
    if isinstance(edge, Line):
        dx, dy = direction(edge, 0.0)
        a, b = (Point(p.x - distance * dy, p.y + distance * dx) for p in (edge.start, edge.end))
        return Line(a, b)
    radius = edge.radius - distance if edge.ccw else edge.radius + distance
    return Arc(edge.start, edge.end, edge.center, radius, edge.ccw) if radius > NEAR else None


def _touch(edge: Edge, center: Point) -> Point:
    """Where a circle about ``center`` touches the line or circle of an edge."""
    if isinstance(edge, Line):
        share = share_of(edge, center)
        dx, dy = edge.end.x - edge.start.x, edge.end.y - edge.start.y
        return Point(
            edge.start.x + share * dx if dx else edge.start.x,
            edge.start.y + share * dy if dy else edge.start.y,
        )
    dx, dy = center.x - edge.center.x, center.y - edge.center.y
    share = edge.radius / hypot(dx, dy)
    return Point(edge.center.x + share * dx, edge.center.y + share * dy)


def _trimmed(edge: Edge, start: Point | None, end: Point | None) -> Edge | None:
    """The edge between two of its points; None where nothing is left of it."""
    first, last = start or edge.start, end or edge.end
    if (start or end) and _same(first, last):
        return None
    if isinstance(edge, Line):
        return Line(first, last)
    return Arc(first, last, edge.center, edge.radius, edge.ccw)


def _same(one: Point, other: Point) -> bool:
    return hypot(one.x - other.x, one.y - other.y) <= 2 * NEAR
