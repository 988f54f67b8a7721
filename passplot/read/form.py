"""What a kind of feature comes to: the areas it clears and keeps, and its walls."""

from passplot.curves import loop_box
from passplot.frozen import dataclass
from passplot.read.block import SAME, Block
from passplot.read.marks import Mark
from passplot.read.outline import Corner, Outline, Wall
from passplot.records.job import HolePattern, Keyseat
from passplot.records.shapes import Loop, rectangle
from passplot.records.sizes import Size


@dataclass(frozen=True, slots=True)
class Form:
    """The plan view of a feature.

    Attributes
    ----------
    area, keep : tuple of Loop
        It clears the union of ``area`` less the union of ``keep``. Corners the cutter goes round
        are rounded where the file says so; inside corners are sharp.
    rounded : tuple of (area, keep) or None
        The same with inside corners rounded as well; None where none has a radius above zero.
    inside_radii : tuple of Size
        Radii written for inside corners, each once, the tightest first.
    walls : tuple of Wall
        Walls that callouts may name.
    islands : tuple of tuple of Wall
        Those of each island, in the file's order.
    marks, island_marks
        What else callouts may name, of the feature and of each island.
    diameter : Size or None
        Of a bore or a round boss.
    depth : Size or None
        Where it does not follow from the key of that name alone.
    """

    area: tuple[Loop, ...] = ()
    keep: tuple[Loop, ...] = ()
    rounded: tuple[tuple[Loop, ...], tuple[Loop, ...]] | None = None
    inside_radii: tuple[Size, ...] = ()
    walls: tuple[Wall, ...] = ()
    islands: tuple[tuple[Wall, ...], ...] = ()
    marks: tuple[Mark, ...] = ()
    island_marks: tuple[tuple[Mark, ...], ...] = ()
    diameter: Size | None = None
    depth: Size | None = None
    pattern: HolePattern | None = None
    keyseat: Keyseat | None = None


def form_of(area: Outline, keep: tuple[Outline, ...] = ()) -> Form:
    """The form that clears ``area`` and leaves ``keep``; its walls and islands are left to set.

    Corners that point out of the area, or into what is kept, are inside corners for the cutter,
    but for those at an open edge.
    """
    sizes: list[Size] = []
    sharp, full = [], []
    for outline in (area, *keep):
        cleared = outline is area
        outer = tuple(corner for corner in outline.corners if corner.convex != cleared)
        inner = _inside(outline, cleared)
        sizes += [corner.size for corner in inner]
        sharp.append(outline.rounded(outer))
        full.append(outline.rounded((*outer, *inner)))
    radii = {(size.low, size.high): size for size in sorted(sizes, key=lambda size: size.middle)}
    return Form(
        area=(sharp[0],),
        keep=tuple(sharp[1:]),
        rounded=((full[0],), tuple(full[1:])) if full != sharp else None,
        inside_radii=tuple(radii.values()),
    )


def _inside(outline: Outline, cleared: bool) -> tuple[Corner, ...]:
    """Corners of an outline that are inside corners for the cutter, those at open edges left out.

    At an open edge the one wall there is runs on out of the stock.
    """
    return tuple(c for c in outline.corners if c.convex == cleared and not c.open)


def whole(block: Block) -> Outline:
    """The plan view of the stock."""
    return Outline(rectangle(*block.stock.x, *block.stock.y))


def apart(first: Loop, second: Loop) -> bool:
    """Whether the boxes around two loops have no area in common."""
    a, b = loop_box(first), loop_box(second)
    return a[1] <= b[0] + SAME or b[1] <= a[0] + SAME or a[3] <= b[2] + SAME or b[3] <= a[2] + SAME
