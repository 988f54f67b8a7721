"""Outlines given point by point."""

from dataclasses import replace
from math import hypot

from passplot.frozen import dataclass
from passplot.read.block import SAME, Block
from passplot.read.lines import Place
from passplot.read.outline import Outline, Wall
from passplot.read.polygon import crossing, signed_area
from passplot.read.sizes import Least, shown
from passplot.read.tables import Table
from passplot.records.shapes import Arc, Edge, Line, Loop, Point
from passplot.records.sizes import Size

_POINT = "write a point as [x, y], { x, y, radius } or { x, y, center = [cx, cy], turn }"
# How far an arc's end may be off its circle: a print gives coordinates to three or two decimals.
_ROUND = {"inch": 0.001, "mm": 0.02}


@dataclass(frozen=True, slots=True)
class _Bend:
    """An arc that leads to a point: its centre, and whether it turns counter-clockwise."""

    x: float
    y: float
    ccw: bool


@dataclass(frozen=True, slots=True)
class _Vertex:
    """A point of the file; ``number`` counts from 1."""

    number: int
    place: Place
    x: Size
    y: Size
    radius: Size | None = None
    bend: _Bend | None = None

    def near(self, other: "_Vertex") -> bool:
        """Whether both are the same point."""
        return (
            abs(self.x.nominal - other.x.nominal) < SAME
            and abs(self.y.nominal - other.y.nominal) < SAME
        )


def read_points(table: Table, block: Block) -> Outline | None:
    """The outline of ``points = […]``; None after noting what is wrong with it."""
    entries = table.entries("points", _POINT)
    if entries is None:
        return None
    read = [_vertex(table, index, entry) for index, entry in enumerate(entries)]
    vertices = [vertex for vertex in read if vertex is not None]
    if len(vertices) < len(read):
        return None
    vertices = _closed(vertices)
    bent = any(vertex.bend for vertex in vertices)
    if len(vertices) < (2 if bent else 3):
        table.fault("points", f"{len(vertices)} points enclose nothing", "give three or more")
        return None
    if not _distinct(table, vertices):
        return None
    vertices = _on_lines(table, vertices)
    return _outline(table, vertices, block)


def _vertex(table: Table, index: int, entry: object) -> _Vertex | None:
    place = (*table.place, "points", index)
    if isinstance(entry, list):
        pair = dict(zip("xy", entry, strict=False)) if len(entry) == 2 else {}
        if not pair:
            table.source.fault(place, f"{len(entry)} numbers are no point", _POINT)
            return None
        return _plain_vertex(table, place, index, pair)
    if not isinstance(entry, dict):
        table.source.fault(place, f"{shown(entry)} is no point", _POINT)
        return None
    inner = Table(table.source, place, entry, table.units)
    inner.check_keys(("x", "y", "radius", "center", "turn"))
    x, y = (inner.size(axis, Least.ANY, required=True) for axis in ("x", "y"))
    radius = inner.exact().size("radius")
    bend = _bend(inner)
    if radius is not None and bend is not None:
        inner.fault("radius", "stands beside an arc", "an arc's radius follows from its center")
    if x is None or y is None:
        return None
    return _Vertex(index + 1, place, x, y, radius, bend)


def _plain_vertex(
    table: Table, place: Place, index: int, pair: dict[str, object]
) -> _Vertex | None:
    read = [
        table.source.size((*place, at), value, table.units, Least.ANY)
        for at, value in enumerate(pair.values())
    ]
    x, y = read
    return None if x is None or y is None else _Vertex(index + 1, place, x, y)


def _bend(table: Table) -> _Bend | None:
    if "center" not in table and "turn" not in table:
        return None
    if "center" not in table:
        table.missing("center", "an arc needs center = [cx, cy]")
    center = table.exact().sizes("center", 2, "give center = [cx, cy]")
    turn = table.word("turn", ("cw", "ccw"))
    if center is None or turn is None:
        return None
    return _Bend(center[0].middle, center[1].middle, turn == "ccw")


def _closed(vertices: list[_Vertex]) -> list[_Vertex]:
    """The points without a last one that only repeats the first: outlines close themselves."""
    if len(vertices) < 2 or not vertices[-1].near(vertices[0]):
        return vertices
    first, last = vertices[0], vertices[-1]
    return [replace(first, bend=first.bend or last.bend), *vertices[1:-1]]


def _distinct(table: Table, vertices: list[_Vertex]) -> bool:
    """Whether no point repeats the one before it; notes those that do."""
    good = True
    for before, vertex in zip(vertices[-1:] + vertices[:-1], vertices, strict=True):
        if vertex.near(before):
            table.source.fault(
                vertex.place, "repeats the point before it", "leave one of the two out"
            )
            good = False
    return good


def _on_lines(table: Table, vertices: list[_Vertex]) -> list[_Vertex]:
    """Give points on one wall one and the same coordinate, with the tolerance of that wall."""
    for axis in ("x", "y"):
        sizes = [vertex.x if axis == "x" else vertex.y for vertex in vertices]
        for chain in _chains(vertices, sizes):
            size = _one_size(table, [(vertices[i], sizes[i]) for i in chain], axis)
            for i in chain:
                sizes[i] = size
        vertices = [
            replace(vertex, x=size) if axis == "x" else replace(vertex, y=size)
            for vertex, size in zip(vertices, sizes, strict=True)
        ]
    return vertices


def _chains(vertices: list[_Vertex], sizes: list[Size]) -> list[list[int]]:
    """Runs of neighbouring points, joined by straight edges, that share the coordinate."""
    count = len(sizes)

    def joined(i: int) -> bool:  # is point i on one wall with the point before it
        return vertices[i].bend is None and abs(sizes[i].nominal - sizes[i - 1].nominal) < SAME

    start = next((i for i in range(count) if not joined(i)), 0)
    chains: list[list[int]] = []
    for step in range(count):
        i = (start + step) % count
        if step and joined(i):
            chains[-1].append(i)
        else:
            chains.append([i])
    return chains


def _one_size(table: Table, members: list[tuple[_Vertex, Size]], axis: str) -> Size:
    """The size that holds for a whole wall: the one with a tolerance, if any has one."""
    toleranced = [(vertex, size) for vertex, size in members if size.toleranced]
    if not toleranced:
        return members[0][1]
    first = toleranced[0][1]
    for vertex, size in toleranced[1:]:
        if abs(size.middle - first.middle) > SAME:
            table.source.fault(
                vertex.place,
                f"{axis} = {size.text} has other limits than {first.text} on the same wall",
                "give both points of a wall the same size",
            )
            return first
        first = replace(first, low=max(first.low, size.low), high=min(first.high, size.high))
    return first


def _outline(table: Table, vertices: list[_Vertex], block: Block) -> Outline | None:
    corners = [Point(block.snap("x", v.x), block.snap("y", v.y)) for v in vertices]
    edges = _edges(table, vertices, corners)
    if edges is None:
        return None
    area = signed_area(edges)
    straight = all(isinstance(edge, Line) for edge in edges)
    hit = crossing(corners) if straight else None
    if hit is not None or abs(area) < SAME * SAME:
        first, second = (vertices[i].number for i in hit or (0, 0))
        wrong = f"the edges from points {first} and {second} meet" if hit else "encloses nothing"
        table.fault("points", wrong, "an outline must not cross or touch itself")
        return None
    convex, reflex = _radii(table, vertices, corners, area > 0)
    later = [] if straight else ["an arc"]
    if not all(edge.level for edge in edges if isinstance(edge, Line)):
        later.append("a slanted wall")
    walls = _walls(vertices, edges, area > 0)
    return Outline(_loop(edges, area > 0), walls, convex, reflex, tuple(later))


def _edges(table: Table, vertices: list[_Vertex], corners: list[Point]) -> list[Edge] | None:
    """The edges in the file's order: the first starts at the first point."""
    edges: list[Edge] = []
    for i, vertex in enumerate(vertices):
        after = (i + 1) % len(vertices)
        bend = vertices[after].bend
        start, end = corners[i], corners[after]
        if bend is None:
            edges.append(Line(start, end))
            continue
        here = hypot(start.x - bend.x, start.y - bend.y)
        there = hypot(end.x - bend.x, end.y - bend.y)
        if abs(here - there) > _ROUND[table.units.job] or not min(here, there) > SAME:
            table.source.fault(
                vertices[after].place,
                f"its center is {here:.6g} from point {vertex.number} and {there:.6g} from this",
                "the center of an arc is as far from one end as from the other",
            )
            return None
        edges.append(Arc(start, end, Point(bend.x, bend.y), there, bend.ccw))
    return edges


def _radii(
    table: Table, vertices: list[_Vertex], corners: list[Point], ccw: bool
) -> tuple[tuple[Size, ...], tuple[Size, ...]]:
    """Radii written at corners that point out of the outline, and at those that point into it."""
    convex: list[Size] = []
    reflex: list[Size] = []
    count = len(vertices)
    for i, vertex in enumerate(vertices):
        if vertex.radius is None:
            continue
        before, here, after = corners[i - 1], corners[i], corners[(i + 1) % count]
        arm = [Point(p.x - here.x, p.y - here.y) for p in (before, after)]
        shortest = min(hypot(arm[0].x, arm[0].y), hypot(arm[1].x, arm[1].y))
        if vertex.radius.nominal > shortest:
            table.source.fault(
                (*vertex.place, "radius"),
                f"{vertex.radius.text} does not fit an edge of {shortest:.6g}",
                "it has to be smaller than the edges that it joins",
            )
        turn = arm[1].x * arm[0].y - arm[1].y * arm[0].x
        (convex if (turn > 0) == ccw else reflex).append(vertex.radius)
    return tuple(convex), tuple(reflex)


def _walls(vertices: list[_Vertex], edges: list[Edge], ccw: bool) -> tuple[Wall, ...]:
    walls = []
    for vertex, edge in zip(vertices, edges, strict=True):
        if not isinstance(edge, Line) or not edge.level:
            continue
        if edge.start.x == edge.end.x:
            side = "right" if (edge.end.y > edge.start.y) == ccw else "left"
            walls.append(Wall("x", edge.start.x, vertex.x, side, vertex.number))
        else:
            side = "front" if (edge.end.x > edge.start.x) == ccw else "back"
            walls.append(Wall("y", edge.start.y, vertex.y, side, vertex.number))
    return tuple(walls)


def _loop(edges: list[Edge], ccw: bool) -> Loop:
    """The loop of ``edges``, counter-clockwise, straight edges in one line joined."""
    turned = edges if ccw else [_reversed(edge) for edge in reversed(edges)]
    joined: list[Edge] = []
    for edge in turned:
        if joined and _in_line(joined[-1], edge):
            joined[-1] = Line(joined[-1].start, edge.end)
        else:
            joined.append(edge)
    if len(joined) > 1 and _in_line(joined[-1], joined[0]):
        joined[0] = Line(joined.pop().start, joined[0].end)
    return Loop(tuple(joined))


def _reversed(edge: Edge) -> Edge:
    if isinstance(edge, Line):
        return Line(edge.end, edge.start)
    return Arc(edge.end, edge.start, edge.center, edge.radius, not edge.ccw)


def _in_line(first: Edge, second: Edge) -> bool:
    if not isinstance(first, Line) or not isinstance(second, Line):
        return False
    return (first.start.x == first.end.x == second.end.x) or (
        first.start.y == first.end.y == second.end.y
    )
