"""An outline as the file gives it: its loop, its walls, and the radii written at its corners."""

from collections.abc import Iterable
from dataclasses import replace

from passplot.frozen import dataclass
from passplot.read.block import SAME, Block, clean
from passplot.read.marks import Mark, Place
from passplot.read.rounding import rounded
from passplot.records.job import WallLimit
from passplot.records.shapes import Edge, Line, Loop
from passplot.records.sizes import Size

SIDES = ("left", "right", "front", "back")


@dataclass(frozen=True, slots=True)
class Wall:
    """A straight wall along X or Y.

    Attributes
    ----------
    axis : str
        ``"x"`` or ``"y"``, the coordinate that stays the same along it.
    at : float
        That coordinate as planned, job units.
    size : Size
        The same as the print gives it, in the job's own system.
    side : str
        On which side of its outline it is: ``"left"``, ``"right"``, ``"front"``, ``"back"``.
    number : int
        Number of the point the wall starts from; 0 where points have none.
    """

    axis: str
    at: float
    size: Size
    side: str
    number: int = 0


@dataclass(frozen=True, slots=True)
class Corner:
    """A corner with a written radius.

    Attributes
    ----------
    index : int
        Number of the edge of the sharp loop that starts there.
    size : Size
        The radius.
    convex : bool
        Whether it points out of the outline; else into it.
    open : bool
        Whether an edge at it lies on or beyond the stock's edge, so that no wall comes from there.
    """

    index: int
    size: Size
    convex: bool
    open: bool = False


@dataclass(frozen=True, slots=True)
class Outline:
    """A shape of the file.

    Attributes
    ----------
    loop : Loop
        Counter-clockwise; corners sharp, whatever radius is written.
    walls : tuple of Wall
        Its straight walls along X and Y, in order.
    corners : tuple of Corner
        Those with a written radius, which fit.
    diameter : Size or None
        Of a circle.
    marks : tuple of Mark
        What else callouts may name.
    """

    loop: Loop
    walls: tuple[Wall, ...] = ()
    corners: tuple[Corner, ...] = ()
    diameter: Size | None = None
    marks: tuple[Mark, ...] = ()

    def rounded(self, corners: Iterable[Corner]) -> Loop:
        """The loop with those corners rounded."""
        return rounded(self.loop, {corner.index: corner.size.middle for corner in corners})


def wall_limits(walls: tuple[Wall, ...], block: Block) -> tuple[WallLimit, ...]:
    """How far each wall with a tolerance may move; walls on or beyond the stock's edge are none."""
    return tuple(
        WallLimit(wall.axis, wall.at, wall.size.low, wall.size.high, wall.size.text)
        for wall in walls
        if wall.size.toleranced and block.inside(wall.axis, wall.at)
    )


def wall_names(walls: tuple[Wall, ...], block: Block) -> dict[str, Place]:
    """What callouts may call the walls: from the name to the nominal coordinate of its axis.

    The only wall is ``"wall"``. Of several on one side, that side's name is the outermost.
    """
    standing = [wall for wall in walls if block.inside(wall.axis, wall.at)]
    names = {f"wall {w.number}": {w.axis: w.size.nominal} for w in standing if w.number}
    for side in SIDES:
        own = [wall for wall in standing if wall.side == side]
        if own:
            outermost = min if side in ("left", "front") else max
            wall = outermost(own, key=lambda wall: wall.at)
            names[f"{side} wall"] = {wall.axis: wall.size.nominal}
    if len(standing) == 1:
        names["wall"] = {standing[0].axis: standing[0].size.nominal}
    return names


def moved(size: Size, base: float, nominal_base: float, sign: int) -> Size:
    """``size`` laid off from ``base`` along an axis: a length turned into a coordinate."""
    low, high = sorted((clean(base + sign * size.low), clean(base + sign * size.high)))
    return replace(size, nominal=clean(nominal_base + sign * size.nominal), low=low, high=high)


def open_edge(edge: Edge, block: Block) -> bool:
    """Whether an edge lies on or beyond an edge of the stock, all along."""
    if not isinstance(edge, Line):
        return False
    for (low, high), a, b in (
        (block.stock.x, edge.start.x, edge.end.x),
        (block.stock.y, edge.start.y, edge.end.y),
    ):
        if max(a, b) <= low + SAME or min(a, b) >= high - SAME:
            return True
    return False


def open_corner(loop: Loop, index: int, block: Block) -> bool:
    """Whether an edge at the start of edge ``index`` is open."""
    return open_edge(loop.edges[index - 1], block) or open_edge(loop.edges[index], block)
