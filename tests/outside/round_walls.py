"""The true walls of a finished part at one height, and how far a cutter's path stays from them.

A wall is a stretch of an outline with metal on one side only. Stretches are found by looking at
both sides of many places of every edge and halving the intervals between; distances are by formula.
"""

from dataclasses import dataclass
from functools import cached_property
from math import ceil, hypot

import numpy as np

from .curves import Bow, Edge, Seg, distance
from .printed import Grid, Mask
from .round_job import RoundJob

Place = tuple[float, ...]
ASIDE = 2e-6  # how far beside an edge is looked, in either unit


@dataclass(frozen=True)
class Ground:
    """The part of the finished block that stands at least as high as ``level``."""

    job: RoundJob
    level: float

    def metal(self, x: Grid, y: Grid) -> Mask:
        """Which points of the plan view are metal at that height."""
        job = self.job
        found = (job.x[0] < x) & (x < job.x[1]) & (job.y[0] < y) & (y < job.y[1])
        for cavity in job.rounds:
            if cavity.floor < self.level - 1e-6:
                found = found & ~cavity.contains(x, y)
        return found

    @cached_property
    def walls(self) -> list[Edge]:
        """Every wall, the stock's own sides among them."""
        (x0, x1), (y0, y1) = self.job.x, self.job.y
        corners = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]
        edges: list[Edge] = [Seg(corners[k - 1], corners[k]) for k in range(4)]
        for cavity in self.job.rounds:
            if cavity.floor < self.level - 1e-6:
                edges += [e for outline in (*cavity.loops, *cavity.islands) for e in outline]
        return [piece for edge in edges for piece in self._stretches(edge)]

    def _is_wall(self, edge: Edge, shares: Grid) -> Mask:
        spots = np.array([(*edge.at(s), *edge.normal(s)) for s in shares])
        x, y, nx, ny = spots.T
        left = self.metal(x + ASIDE * nx, y + ASIDE * ny)
        return np.logical_xor(left, self.metal(x - ASIDE * nx, y - ASIDE * ny))

    def _stretches(self, edge: Edge) -> list[Edge]:
        count = max(6, ceil(edge.length / self.job.length(0.01, 0.25)))
        if edge.length > 10 * (self.job.x[1] - self.job.x[0]):
            count = 4000
        middles = (np.arange(count) + 0.5) / count
        wall = np.concatenate([[False], self._is_wall(edge, middles), [False]])
        changes = np.flatnonzero(np.diff(wall.astype(int)))
        found = []
        for first, last in zip(changes[::2], changes[1::2], strict=True):
            low = self._border(edge, middles, first - 1) if first else 0.0
            high = self._border(edge, middles, last - 1) if last < count else 1.0
            found.append(edge.piece(low, high))
        return found

    def _border(self, edge: Edge, middles: Grid, before: int) -> float:
        """Share of the way at which a wall begins or ends, between two places looked at."""
        low, high = float(middles[before]), float(middles[before + 1])
        at_low = bool(self._is_wall(edge, np.array([low]))[0])
        for _ in range(26):
            middle = (low + high) / 2
            if bool(self._is_wall(edge, np.array([middle]))[0]) == at_low:
                low = middle
            else:
                high = middle
        return (low + high) / 2

    def clearance(self, x: Grid, y: Grid) -> Grid:
        """Distance of points from the metal; how deep they lie in it, negative."""
        away = distance(self.walls, x, y)
        return np.where(self.metal(x, y), -away, away)

    @cached_property
    def _boxes(self) -> Grid:
        """Least box round each wall: x low, x high, y low, y high."""
        boxes = [wall.box() for wall in self.walls]
        return np.array(boxes).reshape(len(boxes), 4)

    def path_clearance(self, start: Place, end: Place, within: float) -> float:
        """Least clearance along a straight path; walls farther off than ``within`` do not count.

        Twenty-five places along the path tell whether it runs through metal; the
        distance of a path that does not is that of its ends, of the walls' ends, and of the places
        beside the middle of an arc.
        """
        dx, dy = end[0] - start[0], end[1] - start[1]
        length, boxes = hypot(dx, dy), self._boxes
        wide = np.maximum(boxes[:, 0] - max(start[0], end[0]), min(start[0], end[0]) - boxes[:, 1])
        tall = np.maximum(boxes[:, 2] - max(start[1], end[1]), min(start[1], end[1]) - boxes[:, 3])
        near = [self.walls[k] for k in np.flatnonzero(np.maximum(wide, tall) <= within)]
        shares = set(np.linspace(0.0, 1.0, 25 if length else 1))
        for wall in near if length else ():
            spots = [wall.start, wall.end, *([wall.center] if isinstance(wall, Bow) else [])]
            for at in spots:
                share = ((at[0] - start[0]) * dx + (at[1] - start[1]) * dy) / length**2
                if 0 < share < 1:
                    shares.add(share)
        along = np.array(sorted(shares))
        x, y = start[0] + along * dx, start[1] + along * dy
        away = distance(near, x, y)
        return float(np.where(self.metal(x, y), -away, away).min())


def grounds(job: RoundJob) -> list[Ground]:
    """The finished part at each height at which it has a floor or its top, lowest first."""
    levels = sorted({cavity.floor for cavity in job.cavities} | {job.raw_top})
    faced = any(cavity.kind == "face" for cavity in job.cavities)
    return [Ground(job, level) for level in levels if not faced or level < job.raw_top - 1e-6]
