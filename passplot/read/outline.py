"""An outline as the file gives it: its loop, its walls, and the radii written at its corners."""

from dataclasses import replace

from passplot.frozen import dataclass
from passplot.read.block import Block, clean
from passplot.records.job import WallLimit
from passplot.records.shapes import Loop
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
class Outline:
    """A shape of the file.

    Attributes
    ----------
    loop : Loop
        Counter-clockwise; corners sharp, whatever radius is written.
    walls : tuple of Wall
        Its straight walls along X and Y, in order.
    convex, reflex : tuple of Size
        Radii written at corners that point out of it, and into it.
    later : tuple of str
        What about it is not planned yet.
    """

    loop: Loop
    walls: tuple[Wall, ...]
    convex: tuple[Size, ...] = ()
    reflex: tuple[Size, ...] = ()
    later: tuple[str, ...] = ()


def wall_limits(walls: tuple[Wall, ...], block: Block) -> tuple[WallLimit, ...]:
    """How far each wall with a tolerance may move; walls on or beyond the stock's edge are none."""
    return tuple(
        WallLimit(wall.axis, wall.at, wall.size.low, wall.size.high, wall.size.text)
        for wall in walls
        if wall.size.toleranced and block.inside(wall.axis, wall.at)
    )


def wall_names(walls: tuple[Wall, ...], block: Block) -> dict[str, tuple[str, float]]:
    """What callouts may call the walls: from the name to the axis and the nominal coordinate.

    The only wall is ``"wall"``. Of several on one side, that side's name is the outermost.
    """
    standing = [wall for wall in walls if block.inside(wall.axis, wall.at)]
    names = {f"wall {w.number}": (w.axis, w.size.nominal) for w in standing if w.number}
    for side in SIDES:
        own = [wall for wall in standing if wall.side == side]
        if own:
            outermost = min if side in ("left", "front") else max
            wall = outermost(own, key=lambda wall: wall.at)
            names[f"{side} wall"] = (wall.axis, wall.size.nominal)
    if len(standing) == 1:
        names["wall"] = (standing[0].axis, standing[0].size.nominal)
    return names


def moved(size: Size, base: float, nominal_base: float, sign: int) -> Size:
    """``size`` laid off from ``base`` along an axis: a length turned into a coordinate."""
    low, high = sorted((clean(base + sign * size.low), clean(base + sign * size.high)))
    return replace(size, nominal=clean(nominal_base + sign * size.nominal), low=low, high=high)
