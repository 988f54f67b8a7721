"""The finished part: how high it stands at each point, and its boundary at each depth.

At depth z the part is where the finished height is above z. Its boundary there is made of the
pieces of loop and stock edges with the finished height above z on one side only.
"""

import numpy as np

from passplot.frozen import dataclass
from passplot.proof.gauge import Floats, Ints, Mask
from passplot.proof.limits import cleared_most
from passplot.proof.raster import grid_inside, points_inside
from passplot.proof.slants import AIR
from passplot.proof.split import Pieces, split
from passplot.records.job import Job, Stock
from passplot.records.shapes import Edge, Loop, rectangle

Loops = tuple[Loop, ...]


@dataclass(frozen=True, slots=True)
class Ground:
    """The plan view of all features, before heights are given to it.

    Attributes
    ----------
    loops : tuple
        ``(area, keep)`` of every feature, in job order.
    pieces : Pieces
        Their edges and the stock's, cut at every intersection; owner -1 is the stock.
    left_in, right_in : ndarray, shape (features, pieces)
        Whether the feature clears the left side of the piece; the right side.
    left_stock, right_stock : ndarray
        Whether there is stock on that side.
    air : int or None
        Number of the feature that stands for the air beside a turned stock.
    """

    stock: Stock
    loops: tuple[tuple[Loops, Loops], ...]
    pieces: Pieces
    left_in: Mask
    right_in: Mask
    left_stock: Mask
    right_stock: Mask
    hair: float
    air: int | None = None


def ground(job: Job, hair: float, at_limits: bool) -> Ground:
    """The plan view of a job: as aimed at, or with every wall at the limit that clears most.

    Inside corners with a written radius are rounded.
    """
    loops = tuple(
        cleared_most(*(feature.rounded or (feature.area, feature.keep)), feature.limits, hair)
        if at_limits
        else feature.rounded or (feature.area, feature.keep)
        for feature in job.features
    )
    edges: list[Edge] = list(rectangle(*job.stock.x, *job.stock.y).edges)
    owners = [-1] * len(edges)
    for number, (area, keep) in enumerate(loops):
        for loop in area + keep:
            edges += loop.edges
            owners += [number] * len(loop.edges)
    pieces = split(edges, owners, hair)
    left = pieces.middle + hair * pieces.left
    right = pieces.middle - hair * pieces.left
    return Ground(
        job.stock,
        loops,
        pieces,
        _features_in(loops, left),
        _features_in(loops, right),
        _in_stock(job.stock, left),
        _in_stock(job.stock, right),
        hair,
        next((n for n, feature in enumerate(job.features) if feature.name == AIR), None),
    )


def _features_in(loops: tuple[tuple[Loops, Loops], ...], points: Floats) -> Mask:
    rows = [_any_inside(area, points) & ~_any_inside(keep, points) for area, keep in loops]
    return np.array(rows, dtype=bool).reshape(len(loops), len(points))


def _any_inside(loops: Loops, points: Floats) -> Mask:
    found = np.zeros(len(points), dtype=bool)
    for loop in loops:
        found |= points_inside(loop, points)
    return found


def _in_stock(stock: Stock, points: Floats) -> Mask:
    x, y = points[:, 0], points[:, 1]
    inside: Mask = (x > stock.x[0]) & (x < stock.x[1]) & (y > stock.y[0]) & (y < stock.y[1])
    return inside


class Part:
    """The plan view with a floor height for every feature.

    Parameters
    ----------
    ground : Ground
    floors : ndarray
        Z of each feature's floor, in job order.

    Attributes
    ----------
    low, high : ndarray
        Finished height on the lower and the higher side of each piece; -inf where no stock is.
    free : ndarray, shape (n, 2)
        Unit normal of each piece to its lower side.
    """

    def __init__(self, ground: Ground, floors: Floats) -> None:
        self.ground = ground
        self.floors = floors
        left = self._heights(ground.left_in, ground.left_stock)
        right = self._heights(ground.right_in, ground.right_stock)
        self.low, self.high = np.minimum(left, right), np.maximum(left, right)
        self.free = ground.pieces.left * np.where(left < right, 1.0, -1.0)[:, None]

    def _heights(self, inside: Mask, stock: Mask) -> Floats:
        heights = np.full(inside.shape[1], self.ground.stock.raw_top)
        for row, floor in zip(inside, self.floors, strict=True):
            heights[row] = np.minimum(heights[row], floor)
        if self.ground.air is not None:
            heights[inside[self.ground.air]] = -np.inf
        return np.where(stock, heights, -np.inf)

    def _level(self, z: float) -> float:
        """Below the stock the part is what stands on its bottom."""
        return max(z, self.ground.stock.bottom) + self.ground.hair

    def boundary(self, z: float) -> Mask:
        """Which pieces bound the part at depth ``z``."""
        level = self._level(z)
        return (self.low <= level) & (self.high > level)

    def walls(self, z: float) -> Mask:
        """Which pieces bound the part at depth ``z`` inside the stock: its machined walls."""
        return self.boundary(z) & np.isfinite(self.low)

    def inside(self, points: Floats, z: float) -> Mask:
        """Whether each point lies within the part at depth ``z``."""
        stock = _in_stock(self.ground.stock, points)
        return self._heights(_features_in(self.ground.loops, points), stock) > self._level(z)

    def area(self, number: int, xs: Floats, ys: Floats) -> Mask:
        """Which points of a grid within the stock a feature clears."""
        inside = np.zeros((len(xs), len(ys)), dtype=bool)
        area, keep = self.ground.loops[number]
        for loop in area:
            inside |= grid_inside(loop, xs, ys)
        for loop in keep:
            inside &= ~grid_inside(loop, xs, ys)
        return inside

    def grid(self, xs: Floats, ys: Floats) -> tuple[Floats, Ints]:
        """Finished height and number of the feature that decides it (-1: none), on a grid.

        The grid's points lie within the stock; shapes are (len(xs), len(ys)).
        """
        heights = np.full((len(xs), len(ys)), self.ground.stock.raw_top)
        decider = np.full(heights.shape, -1, dtype=np.int64)
        for number in range(len(self.floors)):
            inside = self.area(number, xs, ys) & (heights > self.floors[number])
            heights[inside] = self.floors[number]
            decider[inside] = number
        return heights, decider
