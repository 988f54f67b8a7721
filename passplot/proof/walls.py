"""Stock on walls by formula: how near the swept area came to points of the finished walls."""

from collections.abc import Iterable, Iterator
from math import ceil

import numpy as np

from passplot.frozen import dataclass
from passplot.proof.case import Case
from passplot.proof.curves import Curves
from passplot.proof.gauge import Floats, Ints, Mask
from passplot.proof.part import Part
from passplot.proof.rows import Row

SAMPLES_A_RADIUS = 16  # along a wall, besides its ends
MOST_SAMPLES = 400  # a piece of wall
SCALLOP_SAMPLES = 20_000  # a piece of stepped wall, a step of the readout apart or more
NORMAL_SHARE = 0.25  # of the largest radius: how much farther off a row may be met on the normal
_TINY = 1e-12  # of a unit normal: as good as across the axis
_AT_ONCE = 96  # neighbouring wall points judged against the rows near them


@dataclass(frozen=True, slots=True)
class Swept:
    """What chosen rows sweep: segments of the axis with a radius and a tip."""

    axis: Curves
    radius: Floats
    tip: Floats

    def distance(self, points: Floats, z: float) -> Floats:
        """Distance of points at height ``z`` from what was swept there (negative inside)."""
        nearest = np.full(len(points), np.inf)
        for some, near in self._take(self.tip <= z)._neighbours(points):
            nearest[some] = near._off(points[some]).min(axis=1)
        return nearest

    def standing(self, points: Floats, free: Floats, z: float) -> Floats:
        """How far metal at height ``z`` stands out from wall points along their normals ``free``.

        Where the normal meets none of the rows that come near, the distance from the nearest.
        """
        high = np.full(len(points), np.inf)
        far = NORMAL_SHARE * float(self.radius.max())
        for some, near in self._take(self.tip <= z)._neighbours(points, far):
            at, out = points[some], free[some]
            for more in (far / 16, far):
                close = near._within(at, more)
                off = close._off(at).min(axis=1)
                way_in = _way_in(close.axis, close.radius, at, out)
                # the normal enters no row nearer than that row is
                if ((way_in <= off + more) & (off + more >= 0)).all():
                    break
            high[some] = np.where(np.isfinite(way_in), way_in, off)
        return high

    def left_on(self, walls: "WallPoints", z: float) -> Floats:
        """Metal left at wall points at height ``z``: on stepped walls out along the normal."""
        left = self.distance(walls.at, z)
        if walls.stepped.any():
            some = walls.stepped
            left[some] = self.standing(walls.at[some], walls.free[some], z)
        return left

    def _neighbours(self, points: Floats, more: float = 0.0) -> Iterator[tuple[slice, "Swept"]]:
        """Runs of points with the rows that are within ``more`` of the nearest to any of them."""
        if not len(self.tip):
            return
        for first in range(0, len(points), _AT_ONCE**2):
            wide = self._within(points[first : first + _AT_ONCE**2], more)
            for begin in range(first, min(first + _AT_ONCE**2, len(points)), _AT_ONCE):
                some = slice(begin, begin + _AT_ONCE)
                yield some, wide._within(points[some], more)

    def _within(self, points: Floats, more: float) -> "Swept":
        """The rows that are within ``more`` of the nearest to any of some points.

        All lie within ``spread`` of their middle, so a row farther from there than the nearest by
        twice that is the nearest of none of them.
        """
        low, high = points.min(axis=0), points.max(axis=0)
        spread = float(np.hypot(*(high - low))) / 2
        off = self._off((low + high)[None, :] / 2)[0]
        return self._take(off <= off.min() + 2 * spread + more)

    def _off(self, points: Floats) -> Floats:
        """Distance of every point from what every row sweeps, shape (points, rows)."""
        return self.axis.to_points(points) - self.radius

    def _take(self, which: Mask) -> "Swept":
        return Swept(self.axis.take(which), self.radius[which], self.tip[which])


def _way_in(axis: Curves, radius: Floats, points: Floats, free: Floats) -> Floats:
    """How far along its normal each point's ray enters what rows sweep.

    The ray meets the discs at both ends of a row, and the box (on an arc: the ring) between them;
    inf where it meets none ahead of or about the point.
    """
    nearest: Floats = np.full(len(points), np.inf)
    for center in (axis.start, axis.end):
        along, aside = _beside(center, points, free)
        rest = radius**2 - aside
        half = np.sqrt(np.maximum(rest, 0.0))
        nearest = np.minimum(nearest, _first(along - half, along + half, rest > 0))
    still = axis.start == axis.end
    level = (still[:, 0] ^ still[:, 1]) & (axis.turn == 0)
    enter, leave = np.array(-np.inf), np.array(np.inf)
    for k in (0, 1):
        wide = radius * still[:, k]
        low = np.minimum(axis.start[:, k], axis.end[:, k]) - wide
        high = np.maximum(axis.start[:, k], axis.end[:, k]) + wide
        slope = np.where(np.abs(free[:, k]) > _TINY, free[:, k], _TINY)[:, None]
        one, two = (low - points[:, k, None]) / slope, (high - points[:, k, None]) / slope
        enter = np.maximum(enter, np.minimum(one, two))
        leave = np.minimum(leave, np.maximum(one, two))
    nearest = np.minimum(nearest, _first(enter, leave, level & (enter < leave)))
    if axis.turn.any():
        bent = axis.turn != 0
        nearest = np.minimum(nearest, _into_rings(axis.take(bent), radius[bent], points, free))
    slanted = ~still.any(axis=1) & (axis.turn == 0)
    if slanted.any():  # rows of another setting
        some = axis.take(slanted)
        nearest = np.minimum(nearest, _into_slants(some, radius[slanted], points, free))
    return nearest


def _into_slants(axis: Curves, radius: Floats, points: Floats, free: Floats) -> Floats:
    """How far along its normal each point's ray enters the boxes of slanted rows, ends apart."""
    run = axis.end - axis.start
    long = np.hypot(run[:, 0], run[:, 1])
    ahead = run / long[:, None]
    across = np.stack([-ahead[:, 1], ahead[:, 0]], axis=1)
    off = points[:, None] - axis.start[None]
    enter, leave = np.array(-np.inf), np.array(np.inf)
    for way, low, high in ((ahead, 0.0, long), (across, -radius, radius)):
        slope = free @ way.T
        slope = np.where(np.abs(slope) > _TINY, slope, _TINY)
        at = (off * way[None]).sum(-1)
        one, two = (low - at) / slope, (high - at) / slope
        enter = np.maximum(enter, np.minimum(one, two))
        leave = np.minimum(leave, np.maximum(one, two))
    return _first(enter, leave, enter < leave)


def _into_rings(axis: Curves, radius: float | Floats, points: Floats, free: Floats) -> Floats:
    """How far along its normal each point's ray enters what is swept along arcs, their ends apart.

    The ray lies in the ring from the outer circle to the inner one and from there to the outer
    one again, or from end to end where it misses the inner one.
    """
    along, aside = _beside(axis.center, points, free)
    outer = (axis.radius + radius) ** 2 - aside
    inner = np.maximum(axis.radius - radius, 0.0) ** 2 - aside
    far, near = np.sqrt(np.maximum(outer, 0.0)), np.sqrt(np.maximum(inner, 0.0))
    nearest: Floats = np.full(len(points), np.inf)
    for enter, leave in ((along - far, along - near), (along + near, along + far)):
        within = axis.spans(points[:, None] + enter[..., None] * free[:, None])
        within |= axis.spans(points[:, None] + leave[..., None] * free[:, None])
        nearest = np.minimum(nearest, _first(enter, leave, within & (outer > 0)))
    return nearest


def _beside(centers: Floats, points: Floats, free: Floats) -> tuple[Floats, Floats]:
    """How far along each point's normal a center lies, and its squared distance from the normal."""
    x, y = centers[:, 0] - points[:, 0, None], centers[:, 1] - points[:, 1, None]
    along = x * free[:, 0, None] + y * free[:, 1, None]
    return along, x * x + y * y - along * along


def _first(enter: Floats, leave: Floats, met: Mask) -> Floats:
    """The first of several stretches of a ray that does not lie behind its start; inf if none."""
    first: Floats = np.where(met & (leave >= 0), enter, np.inf).min(axis=1, initial=np.inf)
    return first


def swept_by(rows: Iterable[Row], case: Case) -> Swept:
    """What the cut and plunge rows among ``rows`` sweep."""
    used = [row for row in rows if row.cuts]
    start = np.array([row.start[:2] for row in used]).reshape(-1, 2)
    end = np.array([row.end[:2] for row in used]).reshape(-1, 2)
    turns = [row.turn for row in used]
    about = [t.center if t else row.start[:2] for t, row in zip(turns, used, strict=True)]
    away = np.array([t.radius if t else 0.0 for t in turns])
    sense = np.array([float(np.sign(t.sweep)) if t else 0.0 for t in turns])
    return Swept(
        Curves(start, end, np.array(about).reshape(-1, 2), away, sense),
        np.array([case.uses[row.cutter].cutter.radius for row in used]),
        np.array([row.tip for row in used]),
    )


@dataclass(frozen=True, slots=True)
class WallPoints:
    """Points of finished walls.

    ``free`` is the unit normal into the open, ``piece`` the number of the boundary piece,
    ``stepped`` whether that does not run along X or Y.
    """

    at: Floats
    free: Floats
    piece: Ints
    stepped: Mask

    def take(self, which: Mask) -> "WallPoints":
        """The points where ``which`` is true."""
        return WallPoints(self.at[which], self.free[which], self.piece[which], self.stepped[which])


def wall_points(part: Part, z: float, owner: int, spacing: float, fine: float) -> WallPoints:
    """Points along the walls that one feature has at depth ``z``, ends included.

    Walls along X or Y have one every ``spacing``; others, which may keep scallops, every ``fine``.
    """
    pieces = part.ground.pieces
    stepped = pieces.stepped
    at: list[Floats] = []
    free: list[Floats] = []
    numbers: list[Ints] = []
    for number in np.flatnonzero(part.walls(z) & (pieces.owner == owner)):
        apart, most = (fine, SCALLOP_SAMPLES) if stepped[number] else (spacing, MOST_SAMPLES)
        points, normals = _along(pieces.curves, int(number), part.free[number], apart, most)
        at.append(points)
        free.append(normals)
        numbers.append(np.full(len(points), number))
    if not at:
        nothing = np.zeros((0, 2))
        none = np.zeros(0, dtype=np.int64)
        return WallPoints(nothing, nothing, none, none > 0)
    piece = np.concatenate(numbers)
    return WallPoints(np.vstack(at), np.vstack(free), piece, stepped[piece])


def _along(
    pieces: Curves, number: int, free: Floats, spacing: float, most: int
) -> tuple[Floats, Floats]:
    """Points spread over one piece, with their normals to the free side."""
    one = pieces.take(np.arange(len(pieces)) == number)
    run = one.end[0] - one.start[0]
    bent = bool(one.turn[0])
    length = float(one.sweep[0] * one.radius[0]) if bent else float(np.hypot(*run))
    share = np.linspace(0.0, 1.0, min(ceil(length / spacing), most) + 1)
    if not bent:
        return one.start[0] + share[:, None] * run, np.tile(free, (len(share), 1))
    angle = one.first_angle[0] + share * one.sweep[0]
    ray = np.stack([np.cos(angle), np.sin(angle)], axis=1)
    middle = ray[len(ray) // 2]
    outward = 1.0 if float(middle @ free) > 0 else -1.0
    return one.center[0] + one.radius[0] * ray, outward * ray
