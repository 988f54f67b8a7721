"""Which cells are walls, which are metal, for a feature at a height."""

import numpy as np
from shapely import box, union_all
from shapely.geometry.base import BaseGeometry

from passplot.frozen import dataclass
from passplot.plan.cells import Cells, Mask, Rect
from passplot.plan.metal import Metal, thick
from passplot.plan.zones import reachable, rect_union, round_zone, solid
from passplot.records.job import Job


@dataclass(frozen=True, slots=True)
class Area:
    """An area to clear: what bounds it and where metal stands in it.

    ``walls`` are rectangles (border included); ``wall_mask`` the same as cells; ``around`` the
    walls the cutter has to keep clear of, those to features still to be cut left out.
    """

    wall_mask: Mask
    metal_mask: Mask
    walls: list[Rect]
    around: list[Rect]

    @property
    def closed(self) -> bool:
        """Whether there are walls all round, so that it can only be entered from above."""
        mask = self.wall_mask
        return bool(mask[0].all() and mask[-1].all() and mask[:, 0].all() and mask[:, -1].all())


def standing(cells: Cells, job: Job, floors: tuple[float, ...], z: float) -> Mask:
    """Cells whose finished height lies above ``z`` when the features go down to ``floors``."""
    top = job.stock.raw_top
    return cells.heights(floors, top) > z + 1e-9 * max(1.0, abs(top))


def own_area(
    cells: Cells, job: Job, floors: tuple[float, ...], index: int, z: float, done: Mask
) -> Mask:
    """Cells in which feature ``index`` may be cut at height ``z`` on its own.

    That is what it clears itself, and on beyond every side along all of which the way is open
    already (``done``: cells cleared to that height).
    """
    open_cells = ~standing(cells, job, floors, z)
    own: Mask = cells.clears[index] & open_cells
    beyond = done & open_cells & ~own
    grown: Mask = own.copy()
    for axis, shift in ((0, 1), (0, -1), (1, 1), (1, -1)):
        edge = own & ~_shifted(own, axis, -shift)
        outside = _shifted(edge, axis, shift)
        for first, second in _runs_across(outside, axis):
            run = (first, second)
            while _inside(run, own.shape) and bool(np.all(beyond[run])):
                grown[run] = True
                run = (run[0] + shift, run[1]) if axis == 0 else (run[0], run[1] + shift)
    return grown


def _inside(run: tuple[np.ndarray, np.ndarray], shape: tuple[int, ...]) -> bool:
    return all(
        bool(np.all((indices >= 0) & (indices < size)))
        for indices, size in zip(run, shape, strict=True)
    )


def _shifted(mask: Mask, axis: int, by: int) -> Mask:
    out = np.zeros_like(mask)
    if axis == 0:
        if by > 0:
            out[1:, :] = mask[:-1, :]
        else:
            out[:-1, :] = mask[1:, :]
    elif by > 0:
        out[:, 1:] = mask[:, :-1]
    else:
        out[:, :-1] = mask[:, 1:]
    return out


def _runs_across(mask: Mask, axis: int) -> list[tuple[np.ndarray, np.ndarray]]:
    """Index pairs of each unbroken run of True that lies across ``axis``."""
    out = []
    lines = mask.shape[axis]
    for line in range(lines):
        row = mask[line, :] if axis == 0 else mask[:, line]
        flags = np.concatenate(([False], row, [False]))
        steps = np.flatnonzero(flags[1:] != flags[:-1])
        for a, b in zip(steps[::2], steps[1::2], strict=True):
            along = np.arange(a, b)
            across = np.full_like(along, line)
            out.append((across, along) if axis == 0 else (along, across))
    return out


def free_face(cells: Cells, left: bool, overhang: float) -> Area:
    """An area without walls, to be crossed in straight passes along its longer side.

    The border beyond the far side stands in for a wall; the last pass hangs over it.
    """
    nx, ny = cells.clears[0].shape
    long_x = cells.xs[-2] - cells.xs[1] >= cells.ys[-2] - cells.ys[1]
    walls = np.zeros((nx, ny), dtype=bool)
    if long_x:
        walls[:, ny - 1] = True
    elif left:
        walls[0, :] = True
    else:
        walls[nx - 1, :] = True
    metal = cells.inner(np.ones((nx, ny), dtype=bool))
    x0, x1, y0, y1 = cells.domain
    (edge_x0, edge_x1), (_, edge_y1) = (
        (cells.xs[1], cells.xs[-2]),
        (cells.ys[1], cells.ys[-2]),
    )
    if long_x:
        far = (x0, x1, edge_y1 + overhang, y1)
    elif left:
        far = (x0, edge_x0 - overhang, y0, y1)
    else:
        far = (edge_x1 + overhang, x1, y0, y1)
    return Area(walls, metal, [far], [far])


def make_area(
    cells: Cells, open_mask: Mask, way_open: Mask, target: Mask, metal: Metal, z: float
) -> Area:
    """The area of ``open_mask`` with the target cells in which metal stands above ``z``.

    ``way_open`` are all cells that may be cut to this height, of other features too.
    """
    walls = ~open_mask
    standing_metal = metal.at(z)
    mask = np.zeros_like(target)
    inner = cells.inner(target & open_mask)
    for i, j in zip(*np.nonzero(inner), strict=True):
        cell = rect_union([(cells.xs[i], cells.xs[i + 1], cells.ys[j], cells.ys[j + 1])])
        mask[i, j] = thick(standing_metal.intersection(cell), metal.thin)
    return Area(walls, mask, cells.rectangles(walls), cells.rectangles(~way_open))


def leftover(
    cells: Cells,
    walls: list[Rect],
    target: BaseGeometry,
    metal: Metal,
    z: float,
    base: float,
    radius: float,
    thin: float,
) -> list[BaseGeometry]:
    """Pieces of metal above ``z`` in ``target`` that the round cutter could have taken."""
    zone = round_zone(cells.domain, walls, base)
    rest = solid(metal.at(z).intersection(target))
    rest = solid(rest.intersection(reachable(zone, radius)))
    if base > radius and walls:
        # stock left on goes square round the part's corners, as the passes do
        stock_on = [
            box(a - w, c - w, b + w, d + w) for w in (base - radius,) for a, b, c, d in walls
        ]
        rest = solid(rest.difference(union_all(stock_on)))
    pieces = getattr(rest, "geoms", [rest])
    return [piece for piece in pieces if thick(piece, thin)]
