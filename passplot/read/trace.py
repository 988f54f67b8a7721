"""From points to an outline: its edges, checked, counter-clockwise, with the corners to round."""

from math import hypot, pi

from passplot.curves import NEAR, sweep, turned
from passplot.frozen import dataclass
from passplot.read.block import SAME, Block
from passplot.read.lines import Place
from passplot.read.marks import Mark, outline_marks
from passplot.read.outline import Corner, Outline, Wall, open_corner
from passplot.read.polygon import crossing, signed_area
from passplot.read.rounding import Misfit, corner_turn, misfits
from passplot.read.tables import Table
from passplot.records.shapes import Arc, Edge, Line, Loop, Point
from passplot.records.sizes import Size

# How far an arc's end may be off its circle: a print gives coordinates to three or two decimals.
_ROUND = {"inch": 0.001, "mm": 0.02}


@dataclass(frozen=True, slots=True)
class Bend:
    """An arc that leads to a point: its centre, and whether it turns counter-clockwise."""

    x: float
    y: float
    ccw: bool


@dataclass(frozen=True, slots=True)
class Vertex:
    """A point of the file; ``number`` counts from 1."""

    number: int
    place: Place
    x: Size
    y: Size
    radius: Size | None = None
    bend: Bend | None = None

    def near(self, other: "Vertex") -> bool:
        """Whether both are the same point."""
        return (
            abs(self.x.nominal - other.x.nominal) < SAME
            and abs(self.y.nominal - other.y.nominal) < SAME
        )


def outline_of(table: Table, vertices: list[Vertex], block: Block) -> Outline | None:
    """The outline through the points in order; None after noting what is wrong with it."""
    corners = [Point(block.snap("x", v.x), block.snap("y", v.y)) for v in vertices]
    edges = _edges(table, vertices, corners)
    if edges is None:
        return None
    area = signed_area(edges)
    hit = crossing(edges)
    if hit is not None or abs(area) < SAME * SAME:
        first, second = (vertices[i].number for i in hit or (0, 0))
        wrong = f"the edges from points {first} and {second} meet" if hit else "encloses nothing"
        table.fault("points", wrong, "an outline must not cross or touch itself")
        return None
    walls = _walls(vertices, edges, area > 0)
    traced = _trace(edges, vertices, area > 0)
    loop = Loop(tuple(edge for edge, _ in traced))
    rounds = _corners(table, loop, [vertex for _, vertex in traced], block)
    if rounds is None:
        return None
    outline = Outline(loop, walls, rounds, marks=_marks(vertices))
    if rounds and crossing(list(outline.rounded(rounds).edges)) is not None:
        table.fault("points", "its rounded corners meet other edges", "give smaller radii")
        return None
    return outline


def _marks(vertices: list[Vertex]) -> tuple[Mark, ...]:
    points = (
        (v.number, v.x, v.y, None if v.bend is None else (v.bend.x, v.bend.y)) for v in vertices
    )
    return outline_marks(points, len(vertices))


def _edges(table: Table, vertices: list[Vertex], corners: list[Point]) -> list[Edge] | None:
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
        arc = _arc(start, end, bend, _ROUND[table.units.job])
        if arc is None:
            table.source.fault(
                vertices[after].place,
                f"its center is {here:.6g} from point {vertex.number} and {there:.6g} from this",
                "the center of an arc is as far from one end as from the other",
            )
            return None
        edges.append(arc)
    return edges


def _arc(start: Point, end: Point, bend: Bend, room: float) -> Arc | None:
    """The arc from ``start`` to ``end``; None where the center is farther off than ``room``.

    Coordinates of a print are rounded, so the center is moved along the chord until it is as far
    from both ends. That moves a short arc by no more than the ends were off; one of more than
    half a turn moves as far as its center, which may be a few times as much.
    """
    center = Point(bend.x, bend.y)
    here, there = (hypot(p.x - bend.x, p.y - bend.y) for p in (start, end))
    if abs(here - there) > room or not min(here, there) > SAME:
        return None
    if abs(here - there) > NEAR:
        dx, dy = end.x - start.x, end.y - start.y
        moved = (here**2 - there**2) / (2 * (dx * dx + dy * dy))
        center = Point(bend.x - moved * dx, bend.y - moved * dy)
        arc = Arc(start, end, center, there, bend.ccw)
        if sweep(arc) > pi and abs(moved) * hypot(dx, dy) > 4 * room:
            return None
        there = hypot(end.x - center.x, end.y - center.y)
    return Arc(start, end, center, there, bend.ccw)


def _corners(
    table: Table, loop: Loop, vertices: list[Vertex], block: Block
) -> tuple[Corner, ...] | None:
    """The corners with a written radius; None after noting those that do not fit."""
    corners: list[Corner] = []
    good = True
    for index, vertex in enumerate(vertices):
        if vertex.radius is None:
            continue
        turn = corner_turn(loop.edges, index)
        if turn == 0:
            table.source.fault(
                (*vertex.place, "radius"), "there is no corner", "leave the radius out here"
            )
            good = False
        corners.append(Corner(index, vertex.radius, turn > 0, open_corner(loop, index, block)))
    if not good:
        return None
    radii = {corner.index: corner.size.middle for corner in corners}
    for misfit in misfits(loop.edges, radii):
        _note_misfit(table, misfit, vertices)
        good = False
    return tuple(corners) if good else None


def _note_misfit(table: Table, misfit: Misfit, vertices: list[Vertex]) -> None:
    vertex = vertices[misfit.corner]
    text = vertex.radius.text if vertex.radius else ""
    place = (*vertex.place, "radius")
    if not misfit.edge:
        table.source.fault(
            place, f"no arc of {text} joins the edges at this point", "give a smaller radius"
        )
    elif misfit.other is None:
        table.source.fault(
            place,
            f"{text} does not fit an edge of {misfit.edge:.6g}",
            f"the corner takes {misfit.needed:.6g} of it",
        )
    else:
        table.source.fault(
            place,
            f"{text} and the radius at point {vertices[misfit.other].number} do not fit the edge "
            f"of {misfit.edge:.6g} between them",
            f"the two corners take {misfit.needed:.6g} of it",
        )


def _walls(vertices: list[Vertex], edges: list[Edge], ccw: bool) -> tuple[Wall, ...]:
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


def _trace(edges: list[Edge], vertices: list[Vertex], ccw: bool) -> list[tuple[Edge, Vertex]]:
    """The edges counter-clockwise, each with the point it starts from; those in line joined.

    A point with a radius stays: it is at fault if there is no corner.
    """
    pairs = list(zip(edges, vertices, strict=True))
    if not ccw:
        ends = vertices[1:] + vertices[:1]
        pairs = [(turned(edge), end) for edge, end in zip(edges, ends, strict=True)][::-1]
    joined: list[tuple[Edge, Vertex]] = []
    for edge, vertex in pairs:
        if joined and _goes_on(joined[-1][0], edge, vertex):
            joined[-1] = (Line(joined[-1][0].start, edge.end), joined[-1][1])
        else:
            joined.append((edge, vertex))
    if len(joined) > 1 and _goes_on(joined[-1][0], *joined[0]):
        before, vertex = joined.pop()
        joined[0] = (Line(before.start, joined[0][0].end), vertex)
    return joined


def _goes_on(before: Edge, edge: Edge, vertex: Vertex) -> bool:
    """Whether an edge only carries the one before it on, along X or Y."""
    if not isinstance(before, Line) or not isinstance(edge, Line) or vertex.radius is not None:
        return False
    return (before.start.x == before.end.x == edge.end.x) or (
        before.start.y == before.end.y == edge.end.y
    )
