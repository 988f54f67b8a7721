"""The stock as sample points with a height each, and what a disc can reach in it."""

from collections import defaultdict
from math import ceil, inf, sqrt

import numpy as np
from scipy import ndimage

from .measures import Left
from .printed import Cavity, Mask, Polygon, PrintedJob, inside

CELL_INCH, CELL_MM = 0.004, 0.1
MOST_SAMPLES = 1_500_000
HAIR = 1e-6  # lengths below this are float noise, in either unit


class Block:
    """The stock as heights over sample points, and the finished part to compare it with."""

    def __init__(self, job: PrintedJob) -> None:
        wide, deep = job.x[1] - job.x[0], job.y[1] - job.y[0]
        cell = max(job.length(CELL_INCH, CELL_MM), (wide * deep / MOST_SAMPLES) ** 0.5)
        self.job, nx, ny = job, ceil(wide / cell - 1e-9), ceil(deep / cell - 1e-9)
        self.pitch_x, self.pitch_y = wide / nx, deep / ny
        self.x = job.x[0] + (np.arange(nx) + 0.5) * self.pitch_x
        self.y = job.y[0] + (np.arange(ny) + 0.5) * self.pitch_y
        self.cell = max(self.pitch_x, self.pitch_y)
        self.target = job.finished(self.x[None, :], self.y[:, None])
        self.height = np.full((ny, nx), job.raw_top)
        self.solids = job.blocks()

    def window(self, x: tuple[float, float], y: tuple[float, float]) -> tuple[slice, slice]:
        """Index window (rows, columns) of the samples within a box."""
        column = np.searchsorted(self.x, x)
        row = np.searchsorted(self.y, y)
        return slice(row[0], row[1]), slice(column[0], column[1])


def flank_slack(radius: float, cell: float) -> float:
    """How well a length in metal can be told: metal thins out along the disc's flank.

    The last sample before the flank lies up to a cell in; the disc is there sqrt(2 r cell) early.
    """
    return 3 * cell + sqrt(2 * radius * cell)


def shrink(mask: Mask, cells: float) -> Mask:
    """The samples of a mask more than so many cells from any outside it; the grid's rim is open."""
    return ndimage.distance_transform_edt(np.pad(mask, 1, mode="edge"))[1:-1, 1:-1] > cells


def gouged(block: Block) -> int:
    """Samples cut out of the finished part, a band of one cell along its walls forgiven."""
    count = 0
    for level in np.unique(block.target):
        solid = block.target >= level - HAIR
        cut = solid & (block.height < level - HAIR)
        if cut.any():
            deep = ndimage.distance_transform_edt(
                np.pad(solid, 1), sampling=(block.pitch_y, block.pitch_x)
            )[1:-1, 1:-1]
            count += int((cut & (deep > 1.01 * block.cell)).sum())
    return count


def reach(block: Block, floor: float, radius: float, wall: float = 0.0) -> Mask:
    """The samples a cutter can sweep at a depth without touching anything that stays higher.

    An opening with the disc: distance of every sample from the finished part (grown by ``wall``)
    and from the keep-outs, then distance from the positions found free. Half a cell's diagonal
    is granted, so that a slot exactly the cutter's width has positions at all.
    """
    pad_y, pad_x = ceil(2 * radius / block.pitch_y) + 2, ceil(2 * radius / block.pitch_x) + 2
    pads, sampling = ((pad_y, pad_y), (pad_x, pad_x)), (block.pitch_y, block.pitch_x)
    solid = np.pad(block.target > floor + HAIR, pads)
    x = block.x[0] + (np.arange(solid.shape[1]) - pad_x) * block.pitch_x
    y = block.y[0] + (np.arange(solid.shape[0]) - pad_y) * block.pitch_y
    for clamp in block.job.clamps:
        if clamp.top > floor + HAIR:
            solid |= inside(clamp.outline, x[None, :], y[:, None])
    free = np.full(solid.shape, inf)
    if solid.any():
        # samples stand half a cell behind the wall they belong to
        free = ndimage.distance_transform_edt(~solid, sampling=sampling) - block.cell / 2
    stands = free >= radius + wall - 0.71 * block.cell
    if not stands.any():
        return np.zeros(block.target.shape, dtype=bool)
    swept = ndimage.distance_transform_edt(~stands, sampling=sampling) <= radius
    return swept[pad_y:-pad_y, pad_x:-pad_x] & ~solid[pad_y:-pad_y, pad_x:-pad_x]


def reach_of_all(block: Block, used: set[str], finished: bool = True, margin: float = 0.0) -> Mask:
    """Samples that some cutter allowed for the feature they belong to can bring to height.

    ``finished=False`` keeps off the walls by whatever stock the file wants left on; what lies
    within ``margin`` cells of a wall, or of what cannot be reached, is left out.
    """
    job, wanted = block.job, block.target < block.job.raw_top - HAIR
    reached = np.zeros(block.target.shape, dtype=bool)
    radii: dict[float, set[float]] = defaultdict(set)
    for cavity in job.cavities:
        names = job.cutters_of(cavity) or tuple(sorted(used))
        radii[cavity.floor] |= {job.tools[name].radius for name in names}
    for floor, sizes in radii.items():
        here = wanted & (np.abs(block.target - floor) < HAIR)
        wall = 0.0 if finished else job.stock_on(max(sizes))[0]
        swept = reach(block, floor, min(sizes), wall)
        reached |= here & (shrink(swept, margin) if margin else swept)
    return reached


def can_sweep(block: Block, spot: tuple[float, float], radius: float, wall: float = 0.0) -> bool:
    """Whether a cutter can stand so that it takes a sample with it, told by formula.

    Positions tried: a radius off every wall, and a grid between; each must keep a radius from
    whatever stays higher than the sample's own finished height, grown by the wall stock (with
    square corners, as straight passes leave it). True is certain; False may also mean that no
    position tried will do.
    """
    row, column = np.searchsorted(block.y, spot[1] - HAIR), np.searchsorted(block.x, spot[0] - HAIR)
    floor = block.target[row, column]
    solid = block.solids[block.solids[:, 4] > floor + HAIR]
    clamps = [_bounds(c.outline) for c in block.job.clamps if c.top > floor + HAIR]
    boxes = np.vstack([solid[:, :4], *([np.array(clamps)] if clamps else [])])
    boxes = boxes + wall * np.array([-1, 1, -1, 1])
    grid = np.linspace(-radius, radius, 17)
    xs = np.concatenate(
        [spot[0] + grid, *(lines + s for lines in boxes.T[:2] for s in (-radius, radius))]
    )
    ys = np.concatenate(
        [spot[1] + grid, *(lines + s for lines in boxes.T[2:] for s in (-radius, radius))]
    )
    xs, ys = (np.unique(v[np.abs(v - at) < radius]) for v, at in zip((xs, ys), spot, strict=True))
    x, y = (grid.ravel() for grid in np.meshgrid(xs, ys))
    rounding = 2.5 * block.job.resolution  # of a position in X and in Y
    near = np.hypot(x - spot[0], y - spot[1]) < radius - rounding
    x, y = x[near, None], y[near, None]
    dx = np.maximum(boxes[:, 0] - x, x - boxes[:, 1])
    dy = np.maximum(boxes[:, 2] - y, y - boxes[:, 3])
    gap = np.hypot(np.maximum(dx, 0), np.maximum(dy, 0)).min(axis=1, initial=inf)
    return bool((gap >= radius - HAIR).any())


def _bounds(polygon: Polygon) -> tuple[float, float, float, float]:
    xs, ys = [x for x, _ in polygon], [y for _, y in polygon]
    return min(xs), max(xs), min(ys), max(ys)


def stock_left(block: Block, cavity: Cavity, radius: float) -> Left | None:
    """Wall and floor stock standing in a feature just now; None where nothing was roughed."""
    sampling = (block.pitch_y, block.pitch_x)
    own = cavity.contains(block.x[None, :], block.y[:, None])
    own &= np.abs(block.target - cavity.floor) < HAIR
    solid = np.pad(block.target > cavity.floor + HAIR, 1, mode="edge")
    removed = own & (block.height < block.job.raw_top - HAIR)
    if cavity.floor < block.job.top - HAIR:
        removed = own & (block.height < (block.job.top + cavity.floor) / 2)
    if not removed.any():
        return None
    floors = (block.height - cavity.floor)[removed]
    floor = (float(floors.min()), float(floors.max()))
    if not solid.any():
        return Left((0.0, 0.0), floor)
    away = ndimage.distance_transform_edt(~solid, sampling=sampling)[1:-1, 1:-1] - block.cell / 2
    least = float(away[removed].min()) - block.cell / 2
    reached = reach(block, cavity.floor, radius, max(least, 0.0))
    standing = own & ~removed & shrink(reached, 1.5)
    most = float(away[standing].max()) if standing.any() else least
    return Left((least, most), floor)
