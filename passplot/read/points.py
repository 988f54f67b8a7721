"""Outlines given point by point."""

from dataclasses import replace

from passplot.read.block import SAME, Block
from passplot.read.lines import Place
from passplot.read.outline import Outline
from passplot.read.sizes import Least, shown
from passplot.read.tables import Table
from passplot.read.trace import Bend, Vertex, outline_of
from passplot.records.sizes import Size

_POINT = "write a point as [x, y], { x, y, radius } or { x, y, center = [cx, cy], turn }"


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
    return outline_of(table, vertices, block)


def _vertex(table: Table, index: int, entry: object) -> Vertex | None:
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
        radius = None
    if x is None or y is None:
        return None
    return Vertex(index + 1, place, x, y, radius, bend)


def _plain_vertex(table: Table, place: Place, index: int, pair: dict[str, object]) -> Vertex | None:
    read = [
        table.source.size((*place, at), value, table.units, Least.ANY)
        for at, value in enumerate(pair.values())
    ]
    x, y = read
    return None if x is None or y is None else Vertex(index + 1, place, x, y)


def _bend(table: Table) -> Bend | None:
    if "center" not in table and "turn" not in table:
        return None
    if "center" not in table:
        table.missing("center", "an arc needs center = [cx, cy]")
    center = table.exact().sizes("center", 2, "give center = [cx, cy]")
    turn = table.word("turn", ("cw", "ccw"))
    if center is None or turn is None:
        return None
    return Bend(center[0].middle, center[1].middle, turn == "ccw")


def _closed(vertices: list[Vertex]) -> list[Vertex]:
    """The points without a last one that only repeats the first: outlines close themselves."""
    if len(vertices) < 2 or not vertices[-1].near(vertices[0]):
        return vertices
    first, last = vertices[0], vertices[-1]
    return [replace(first, bend=first.bend or last.bend), *vertices[1:-1]]


def _distinct(table: Table, vertices: list[Vertex]) -> bool:
    """Whether no point repeats the one before it; notes those that do."""
    good = True
    for before, vertex in zip(vertices[-1:] + vertices[:-1], vertices, strict=True):
        if vertex.near(before):
            table.source.fault(
                vertex.place, "repeats the point before it", "leave one of the two out"
            )
            good = False
    return good


def _on_lines(table: Table, vertices: list[Vertex]) -> list[Vertex]:
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


def _chains(vertices: list[Vertex], sizes: list[Size]) -> list[list[int]]:
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


def _one_size(table: Table, members: list[tuple[Vertex, Size]], axis: str) -> Size:
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
