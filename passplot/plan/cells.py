"""The plan view cut into cells along every wall: which features clear each cell, and how deep.

All walls run along X or Y, so lines through every wall cut the stock into rectangles inside
which nothing changes. Beyond the stock the cells repeat the nearest cell of the stock: a wall
that meets an open edge is carried on past it, so that no sliver of allowed space appears
beyond its end.
"""

from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from passplot.frozen import dataclass
from passplot.records.job import Feature, Job
from passplot.records.shapes import Loop

Mask = NDArray[np.bool_]
Rect = tuple[float, float, float, float]
"""x low, x high, y low, y high."""


@dataclass(frozen=True, slots=True)
class Cells:
    """Cells of the stock and of a border of width ``pad`` round it.

    Attributes
    ----------
    xs, ys : tuple of float
        Cell borders, rising; the first and last lie ``pad`` outside the stock.
    clears : tuple of mask
        For each feature of the job, the cells it clears, shape (len(xs) - 1, len(ys) - 1).
    pad : float
        Width of the border, job units.
    """

    xs: tuple[float, ...]
    ys: tuple[float, ...]
    clears: tuple[Mask, ...]
    pad: float

    @property
    def domain(self) -> Rect:
        """The rectangle the cells cover."""
        return self.xs[0], self.xs[-1], self.ys[0], self.ys[-1]

    def heights(self, floors: tuple[float, ...], top: float) -> NDArray[np.float64]:
        """Height left in every cell when feature ``i`` is cut down to ``floors[i]``."""
        out = np.full(self.clears[0].shape, float(top))
        for mask, floor in zip(self.clears, floors, strict=True):
            np.minimum(out, np.where(mask, floor, top), out=out)
        return out

    def inner(self, mask: Mask) -> Mask:
        """``mask`` without the border cells."""
        out = np.zeros_like(mask)
        out[1:-1, 1:-1] = mask[1:-1, 1:-1]
        return out

    def rectangles(self, mask: Mask) -> list[Rect]:
        """Disjoint rectangles that cover exactly the cells of ``mask``."""
        out: list[Rect] = []
        running: dict[tuple[int, int], int] = {}
        for j in range(mask.shape[1] + 1):
            runs = _runs(mask[:, j]) if j < mask.shape[1] else []
            for run in list(running):
                if run not in runs:
                    first = running.pop(run)
                    out.append((self.xs[run[0]], self.xs[run[1]], self.ys[first], self.ys[j]))
            for run in runs:
                running.setdefault(run, j)
        return out


def _runs(column: Mask) -> list[tuple[int, int]]:
    """(first, past the last) of every run of True."""
    flags = np.concatenate(([False], column, [False]))
    steps = np.flatnonzero(flags[1:] != flags[:-1])
    return [(int(a), int(b)) for a, b in zip(steps[::2], steps[1::2], strict=True)]


def build(job: Job, pad: float) -> Cells:
    """Cells of a job with a border of width ``pad``."""
    xs = _borders(job, 0, job.stock.x)
    ys = _borders(job, 1, job.stock.y)
    clears = tuple(_pad(_inside(feature, xs, ys)) for feature in job.features)
    return Cells((xs[0] - pad, *xs, xs[-1] + pad), (ys[0] - pad, *ys, ys[-1] + pad), clears, pad)


def _borders(job: Job, axis: int, edges: tuple[float, float]) -> list[float]:
    low, high = edges
    found = {low, high}
    for feature in job.features:
        for loop in (*feature.area, *feature.keep):
            for corner in loop.corners:
                value = (corner.x, corner.y)[axis]
                if low < value < high:
                    found.add(value)
    ordered = sorted(found)
    # two walls closer than this are one wall written twice
    same = 1e-9 * max(1.0, high - low)
    return [ordered[0]] + [b for a, b in pairwise(ordered) if b - a > same]


def _inside(feature: Feature, xs: list[float], ys: list[float]) -> Mask:
    mask = np.zeros((len(xs) - 1, len(ys) - 1), dtype=bool)
    for i, (x0, x1) in enumerate(pairwise(xs)):
        for j, (y0, y1) in enumerate(pairwise(ys)):
            x, y = (x0 + x1) / 2, (y0 + y1) / 2
            mask[i, j] = any(within(loop, x, y) for loop in feature.area) and not any(
                within(loop, x, y) for loop in feature.keep
            )
    return mask


def within(loop: Loop, x: float, y: float) -> bool:
    """Whether a point lies inside a loop of straight edges (even-odd rule)."""
    odd = False
    for edge in loop.edges:
        a, b = edge.start, edge.end
        if (a.y > y) != (b.y > y) and x < a.x + (y - a.y) * (b.x - a.x) / (b.y - a.y):
            odd = not odd
    return odd


def _pad(mask: Mask) -> Mask:
    return np.pad(mask, 1, mode="edge")
