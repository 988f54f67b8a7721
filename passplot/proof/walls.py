"""Stock on walls by formula: how near the swept area came to points of the finished walls."""

from collections.abc import Iterable
from dataclasses import dataclass
from math import ceil

import numpy as np

from passplot.proof.case import Case
from passplot.proof.curves import Curves
from passplot.proof.gauge import Floats, Ints, Mask
from passplot.proof.part import Part
from passplot.proof.rows import Row

SAMPLES_A_RADIUS = 16  # along a wall, besides its ends
MOST_SAMPLES = 400  # a piece of wall


@dataclass(frozen=True, slots=True)
class Swept:
    """What chosen rows sweep: segments of the axis with a radius and a tip."""

    axis: Curves
    radius: Floats
    tip: Floats

    def distance(self, points: Floats, z: float) -> Floats:
        """Distance of points at height ``z`` from what was swept there (negative inside)."""
        deep = self.tip <= z
        if not deep.any():
            return np.full(len(points), np.inf)
        off = self.axis.take(deep).to_points(points) - self.radius[deep]
        nearest: Floats = off.min(axis=1)
        return nearest


def swept_by(rows: Iterable[Row], case: Case) -> Swept:
    """What the cut and plunge rows among ``rows`` sweep."""
    used = [row for row in rows if row.cuts]
    start = np.array([row.start[:2] for row in used]).reshape(-1, 2)
    end = np.array([row.end[:2] for row in used]).reshape(-1, 2)
    flat = np.zeros(len(used))
    return Swept(
        Curves(start, end, start, flat, flat),
        np.array([case.uses[row.cutter].cutter.radius for row in used]),
        np.array([row.tip for row in used]),
    )


@dataclass(frozen=True, slots=True)
class WallPoints:
    """Points of finished walls: ``free`` is the unit normal into the open, ``piece`` its number."""

    at: Floats
    free: Floats
    piece: Ints

    def take(self, which: Mask) -> "WallPoints":
        """The points where ``which`` is true."""
        return WallPoints(self.at[which], self.free[which], self.piece[which])


def wall_points(part: Part, z: float, owner: int, spacing: float) -> WallPoints:
    """Points along the walls that one feature has at depth ``z``, ends included."""
    pieces = part.ground.pieces
    at: list[Floats] = []
    free: list[Floats] = []
    numbers: list[Ints] = []
    for number in np.flatnonzero(part.walls(z) & (pieces.owner == owner)):
        points, normals = _along(pieces.curves, int(number), part.free[number], spacing)
        at.append(points)
        free.append(normals)
        numbers.append(np.full(len(points), number))
    if not at:
        nothing = np.zeros((0, 2))
        return WallPoints(nothing, nothing, np.zeros(0, dtype=np.int64))
    return WallPoints(np.vstack(at), np.vstack(free), np.concatenate(numbers))


def _along(pieces: Curves, number: int, free: Floats, spacing: float) -> tuple[Floats, Floats]:
    """Points spread over one piece, with their normals to the free side."""
    one = pieces.take(np.arange(len(pieces)) == number)
    run = one.end[0] - one.start[0]
    bent = bool(one.turn[0])
    length = float(one.sweep[0] * one.radius[0]) if bent else float(np.hypot(*run))
    share = np.linspace(0.0, 1.0, min(ceil(length / spacing), MOST_SAMPLES) + 1)
    if not bent:
        return one.start[0] + share[:, None] * run, np.tile(free, (len(share), 1))
    angle = one.first_angle[0] + share * one.sweep[0]
    ray = np.stack([np.cos(angle), np.sin(angle)], axis=1)
    middle = ray[len(ray) // 2]
    outward = 1.0 if float(middle @ free) > 0 else -1.0
    return one.center[0] + one.radius[0] * ray, outward * ray
