"""What a kind of feature comes to: the areas it clears and keeps, and its walls."""

from passplot.frozen import dataclass
from passplot.read.block import SAME, Block
from passplot.read.outline import Outline, Wall
from passplot.records.shapes import Arc, Loop, rectangle
from passplot.records.sizes import Size


@dataclass(frozen=True, slots=True)
class Form:
    """The plan view of a feature.

    Attributes
    ----------
    area, keep : tuple of Loop
        It clears the union of ``area`` less the union of ``keep``.
    walls : tuple of Wall
        Walls that callouts may name.
    islands : tuple of tuple of Wall
        Those of each island, in the file's order.
    corner_radius : Size or None
        The radius written for inside corners.
    later : tuple of str
        What about it is not planned yet.
    """

    area: tuple[Loop, ...] = ()
    keep: tuple[Loop, ...] = ()
    walls: tuple[Wall, ...] = ()
    islands: tuple[tuple[Wall, ...], ...] = ()
    corner_radius: Size | None = None
    later: tuple[str, ...] = ()


def form_of(
    area: Outline | Loop, keep: tuple[Outline, ...] = (), later: tuple[str, ...] = ()
) -> Form:
    """The form that clears ``area`` and leaves ``keep``; its walls and islands are left to set.

    Corners that point out of the area, or into what is kept, are inside corners for the cutter:
    one radius for all of them is planned, and nothing round on the corners it goes round.
    """
    inside = [size for outline in keep for size in outline.reflex]
    outside = [size for outline in keep for size in outline.convex]
    found = [what for outline in keep for what in outline.later]
    if isinstance(area, Outline):
        inside += area.convex
        outside += area.reflex
        found += area.later
    if any(size.nominal > 0 for size in outside):
        found.append("a rounded outside corner")
    first = inside[0] if inside else None
    if first and any((size.low, size.high) != (first.low, first.high) for size in inside):
        found.append("inside corners of different radii")
    return Form(
        area=(area.loop if isinstance(area, Outline) else area,),
        keep=tuple(outline.loop for outline in keep),
        corner_radius=first,
        later=(*dict.fromkeys(found), *later),
    )


def whole(block: Block) -> Loop:
    """The plan view of the stock."""
    return rectangle(*block.stock.x, *block.stock.y)


def box(loop: Loop) -> tuple[float, float, float, float]:
    """(x low, x high, y low, y high) around a loop; around the whole circle of each arc."""
    xs = [point.x for point in loop.corners]
    ys = [point.y for point in loop.corners]
    for edge in loop.edges:
        if isinstance(edge, Arc):
            xs += [edge.center.x - edge.radius, edge.center.x + edge.radius]
            ys += [edge.center.y - edge.radius, edge.center.y + edge.radius]
    return min(xs), max(xs), min(ys), max(ys)


def apart(first: Loop, second: Loop) -> bool:
    """Whether the boxes around two loops have no area in common."""
    a, b = box(first), box(second)
    return a[1] <= b[0] + SAME or b[1] <= a[0] + SAME or a[3] <= b[2] + SAME or b[3] <= a[2] + SAME
