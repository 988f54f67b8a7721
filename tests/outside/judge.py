"""What a job's own geometry says about it: can its cutters get at every wall?

Three answers. ``YES``: every wall is touched along its whole length but for the cutter's radius at
inside corners, and nothing else stays out of reach. ``NO``: a wall, or a stretch of one that no
inside corner excuses, is not touched.
``OPEN``: neither, or the answer hangs on less than a cell (a jog shorter than the radius, a slot a
hair wider than the cutter); there a plan and a refusal are both right.
"""

from dataclasses import dataclass

import numpy as np

from .block import HAIR, Block, reach
from .printed import Grid, Mask, PrintedJob

YES, OPEN, NO = "yes", "open", "no"


@dataclass(frozen=True, slots=True)
class Wall:
    """A straight wall in the plan view.

    ``upright`` runs along Y at X = ``at``; ``free`` is the sign of the side the cutter comes
    from. ``corners`` says of each end whether it is an inside corner.
    """

    upright: bool
    at: float
    low: float
    high: float
    free: int
    corners: tuple[bool, bool]


def takes_metal(job: PrintedJob) -> bool:
    """Whether every feature takes something from what the ones before it left."""
    block = Block(job)
    height = np.full(block.target.shape, job.raw_top)
    for cavity in job.cavities:
        gone = cavity.contains(block.x[None, :], block.y[:, None]) & (height > cavity.floor + HAIR)
        if not gone.any():
            return False
        height[gone] = cavity.floor
    return True


def deep_enough(job: PrintedJob) -> bool:
    """Whether the flutes of the cutters named are as long as the features are deep."""
    return all(
        job.tools[name].flute_length >= job.top - cavity.floor
        for cavity in job.cavities
        for name in job.cutters_of(cavity)
    )


def walls(job: PrintedJob, floor: float) -> list[Wall]:
    """Walls with metal on one side and that very floor on the other."""
    xs, ys = job.lines()
    middle_x, middle_y = (xs[:-1] + xs[1:]) / 2, (ys[:-1] + ys[1:]) / 2
    top = job.finished(middle_x[None, :], middle_y[:, None])
    solid = np.pad(top > floor + HAIR, 1)
    own = np.pad(np.abs(top - floor) < HAIR, 1)
    return [*_walls(solid, own, xs, ys, True), *_walls(solid.T, own.T, ys, xs, False)]


def _walls(solid: Mask, own: Mask, across: Grid, along: Grid, upright: bool) -> list[Wall]:
    found = []
    for column in range(1, len(across) - 1):
        for free in (-1, 1):
            open_side, metal = (column, column + 1) if free < 0 else (column + 1, column)
            wall = own[:, open_side] & solid[:, metal]
            edges = np.flatnonzero(np.diff(wall.astype(int)))
            for start, stop in zip(edges[::2], edges[1::2], strict=True):
                ends = (bool(solid[start, open_side]), bool(solid[stop + 1, open_side]))
                found.append(Wall(upright, across[column], along[start], along[stop], free, ends))
    return found


def _strip(block: Block, mask: Mask, wall: Wall, cells: int) -> tuple[Grid, Mask]:
    """Samples along a wall: their place, and whether ``mask`` holds within so many cells of it."""
    places, lines = (block.y, block.x) if wall.upright else (block.x, block.y)
    grid = mask if wall.upright else mask.T
    span = (places > wall.low) & (places < wall.high)
    first = int(np.searchsorted(lines, wall.at))
    near = slice(max(0, first - cells), first) if wall.free < 0 else slice(first, first + cells)
    return places[span], grid[span, near].any(axis=1)


def _judge_level(block: Block, floor: float, radius: float) -> str:
    swept, answer = reach(block, floor, radius), YES
    own = np.abs(block.target - floor) < HAIR
    grace = np.zeros(own.shape, dtype=bool)
    margin = radius + 3 * block.cell
    for wall in walls(block.job, floor):
        places, touched = _strip(block, swept, wall, 2)
        ends = [
            (place, inner)
            for place, inner in zip((wall.low, wall.high), wall.corners, strict=True)
            if inner
        ]
        excused = np.zeros(places.shape, dtype=bool)
        for place, _ in ends:
            excused |= np.abs(places - place) < margin
            x, y = (wall.at, place) if wall.upright else (place, wall.at)
            grace |= (np.abs(block.x[None, :] - x) < margin) & (
                np.abs(block.y[:, None] - y) < margin
            )
        closed_in = len(ends) == 2 and not touched.any()
        if closed_in or (~touched & ~excused).sum() > 4:
            return NO
        short = wall.high - wall.low < len(ends) * radius - HAIR
        if short or (~touched & ~excused).any():
            answer = OPEN
    return OPEN if (own & ~swept & ~grace).any() else answer


def reachable(job: PrintedJob, used: set[str]) -> str:
    """``YES``, ``OPEN`` or ``NO`` for the whole job and the cutters it may use."""
    block, answer = Block(job), YES
    hair = 2 * block.cell + 2 * job.resolution
    for floor in {cavity.floor for cavity in job.cavities}:
        own = [cavity for cavity in job.cavities if cavity.floor == floor]
        names = {name for cavity in own for name in job.cutters_of(cavity) or tuple(used)}
        radius = min(job.tools[name].radius for name in names)
        if _judge_level(block, floor, radius - hair) == NO:
            return NO
        if any(_judge_level(block, floor, radius + slip) != YES for slip in (0.0, hair)):
            answer = OPEN
    return answer
