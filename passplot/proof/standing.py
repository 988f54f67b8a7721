"""Where a cutter may stand, what wall it can come up to, what it can cover from there."""

from math import sqrt

import numpy as np

from passplot.frozen import dataclass
from passplot.proof.case import Case
from passplot.proof.gauge import Floats, Mask
from passplot.proof.raster import disc_reach
from passplot.proof.walls import WallPoints

PITCHES_A_RADIUS = 30
_AT_ONCE = 20_000  # standing places judged together, to bound memory


@dataclass(frozen=True, slots=True)
class Standing:
    """A cutter of ``radius`` with its tip at ``z`` that leaves ``stock`` on each boundary piece.

    What it covers is within ``radius`` less ``short`` of its axis.
    """

    case: Case
    z: float
    radius: float
    stock: Floats
    short: float = 0.0

    def allowed(self, points: Floats) -> Mask:
        """Whether the cutter's axis may stand at each point, shape (n, 2)."""
        part, hair = self.case.part, self.case.gauge.hair
        bounds = part.boundary(self.z)
        free = ~part.inside(points, self.z)
        if bounds.any():
            off = part.ground.pieces.curves.take(bounds).to_points(points)
            free &= (off >= self.radius + self.stock[bounds] - hair).all(axis=1)
        for block in self.case.blocks:
            if block.keep_out.top > self.z:
                free &= block.clear_of(points, self.radius - hair)
        return free

    def touches(self, walls: WallPoints) -> Mask:
        """Which wall points the cutter can come up to along their normals."""
        away = self.radius + self.stock[walls.piece]
        places = walls.at + away[:, None] * walls.free
        found = np.zeros(len(places), dtype=bool)
        for begin in range(0, len(places), _AT_ONCE):
            some = slice(begin, begin + _AT_ONCE)
            found[some] = self.allowed(places[some])
        return found

    def covers(self, points: Floats, cell: float) -> Mask:
        """Whether the cutter can pass over each point, shape (n, 2).

        Standing places are looked for on a square grid, no finer than ``cell``, and judged by
        formula: a point that is said to be covered is. A strip of about one pitch beside what
        cannot be covered may be missed.
        """
        open_to = np.flatnonzero(self._off_the_stock(points))
        found = np.zeros(len(points), dtype=bool)
        if len(open_to):
            found[open_to] = self._covers(points[open_to], cell)
        return found

    def _off_the_stock(self, points: Floats) -> Mask:
        """Whether each point is out of the stock to be left.

        Round an outside corner the stock of two walls stands √2 as far out, each of them up to a
        step of the readout more than meant; what a rounded end falls ``short`` of stands there
        likewise where rows along both walls meet.
        """
        bounds = self.case.part.boundary(self.z)
        curves = self.case.part.ground.pieces.curves.take(bounds)
        off = curves.to_points(points)
        stock = self.stock[bounds]
        far = sqrt(2.0) * np.where(stock > 0, stock + self.case.gauge.resolution, 0.0)
        clear: Mask = np.logical_and.reduce(off >= far, axis=1)
        if self.short and len(curves):
            ends = np.vstack([curves.start, curves.end])
            to_end = np.hypot(*(points[:, None, :] - ends).T).min(axis=0)
            near = off.min(axis=1)
            corner = to_end <= near + self.case.gauge.hair
            clear &= ~corner | (near >= sqrt(2.0) * self.short + far.max())
        return clear

    def _covers(self, points: Floats, cell: float) -> Mask:
        pitch = max(cell, self.radius / PITCHES_A_RADIUS)
        reach = max(self.radius - self.short, pitch)
        edge = reach + 2 * pitch
        low = points.min(axis=0) - edge
        size = np.ceil((points.max(axis=0) + edge - low) / pitch).astype(np.int64) + 1
        nearest = np.round((points - low) / pitch).astype(np.int64)
        wanted = np.zeros(tuple(size), dtype=bool)
        wanted[nearest[:, 0], nearest[:, 1]] = True
        places = np.argwhere(disc_reach(wanted, reach, pitch))
        allowed = np.zeros(wanted.shape, dtype=bool)
        for begin in range(0, len(places), _AT_ONCE):
            some = places[begin : begin + _AT_ONCE]
            allowed[some[:, 0], some[:, 1]] = self.allowed(low + some * pitch)
        # a point lies within √½ pitch of its grid point
        covered = disc_reach(allowed, reach - sqrt(0.5) * pitch, pitch)
        found: Mask = covered[nearest[:, 0], nearest[:, 1]]
        return found
