"""Outlines of true lines and arcs, as the job file has them, for the checks from outside.

Everything is by formula: which points lie inside an outline, and how far points are from an edge.
"""

from dataclasses import dataclass, replace
from math import atan2, cos, hypot, pi, sin, tan

import numpy as np

from .printed import Grid, Mask

Spot = tuple[float, float]
FULL = 2 * pi


@dataclass(frozen=True, slots=True)
class Seg:
    """A straight edge."""

    start: Spot
    end: Spot

    @property
    def length(self) -> float:
        return hypot(self.end[0] - self.start[0], self.end[1] - self.start[1])

    def at(self, share: float) -> Spot:
        """The point that share of the way along."""
        return (
            self.start[0] + share * (self.end[0] - self.start[0]),
            self.start[1] + share * (self.end[1] - self.start[1]),
        )

    def normal(self, _share: float) -> Spot:
        """Unit vector to the left."""
        return (
            (self.start[1] - self.end[1]) / self.length,
            (self.end[0] - self.start[0]) / self.length,
        )

    def distance(self, x: Grid, y: Grid) -> Grid:
        """Distance of points from the edge."""
        dx, dy = self.end[0] - self.start[0], self.end[1] - self.start[1]
        along = ((x - self.start[0]) * dx + (y - self.start[1]) * dy) / self.length**2
        along = np.clip(along, 0.0, 1.0)
        return np.hypot(x - self.start[0] - along * dx, y - self.start[1] - along * dy)

    def piece(self, low: float, high: float) -> "Seg":
        """The part between two shares of the way."""
        return Seg(self.at(low), self.at(high))

    def box(self) -> tuple[float, float, float, float]:
        """A box round it: x low, x high, y low, y high."""
        (x0, y0), (x1, y1) = self.start, self.end
        return min(x0, x1), max(x0, x1), min(y0, y1), max(y0, y1)

    def crossings(self, x: Grid, y: Grid) -> Mask:
        """Which points have the edge to their right, an odd number of times."""
        (x0, y0), (x1, y1) = self.start, self.end
        if y0 == y1:
            return np.zeros(np.broadcast(x, y).shape, dtype=bool)
        met = (min(y0, y1) <= y) & (y < max(y0, y1))
        return met & (x < x0 + (y - y0) * (x1 - x0) / (y1 - y0))


@dataclass(frozen=True, slots=True)
class Bow:
    """An arc from ``start`` to ``end`` about ``center``; ``sweep`` in radians, positive ccw."""

    start: Spot
    end: Spot
    center: Spot
    radius: float
    sweep: float

    @property
    def length(self) -> float:
        return abs(self.sweep) * self.radius

    @property
    def first(self) -> float:
        """Angle of the start."""
        return atan2(self.start[1] - self.center[1], self.start[0] - self.center[0])

    def at(self, share: float) -> Spot:
        """The point that share of the way along."""
        if share in (0.0, 1.0):
            return self.end if share else self.start
        return polar(self.center, self.radius, self.first + share * self.sweep)

    def normal(self, share: float) -> Spot:
        """Unit vector to the left."""
        angle = self.first + share * self.sweep
        inward = -1.0 if self.sweep > 0 else 1.0
        return inward * cos(angle), inward * sin(angle)

    def distance(self, x: Grid, y: Grid) -> Grid:
        """Distance of points from the edge."""
        dx, dy = x - self.center[0], y - self.center[1]
        first = self.first if self.sweep > 0 else self.first + self.sweep
        beside = (np.arctan2(dy, dx) - first) % FULL <= abs(self.sweep)
        ends = [np.hypot(x - p[0], y - p[1]) for p in (self.start, self.end)]
        return np.where(beside, np.abs(np.hypot(dx, dy) - self.radius), np.minimum(*ends))

    def piece(self, low: float, high: float) -> "Bow":
        """The part between two shares of the way."""
        sweep = self.sweep * (high - low)
        return Bow(self.at(low), self.at(high), self.center, self.radius, sweep)

    def box(self) -> tuple[float, float, float, float]:
        """A box round the whole circle: x low, x high, y low, y high."""
        (x, y), r = self.center, self.radius
        return x - r, x + r, y - r, y + r

    def crossings(self, x: Grid, y: Grid) -> Mask:
        """Which points have the edge to their right, an odd number of times."""
        found = np.zeros(np.broadcast(x, y).shape, dtype=bool)
        for y0, y1, right in self._halves():
            met = (min(y0, y1) <= y) & (y < max(y0, y1))
            half = np.sqrt(np.maximum(self.radius**2 - (y - self.center[1]) ** 2, 0.0))
            found ^= met & (x < self.center[0] + (half if right else -half))
        return found

    def _halves(self) -> list[tuple[float, float, bool]]:
        """Stretches between the highest and the lowest point: y from, y to, right half or not."""
        low, high = sorted((self.first, self.first + self.sweep))
        poles = [pi / 2 + k * pi for k in range(-4, 5) if low < pi / 2 + k * pi < high]
        if self.sweep < 0:
            poles.reverse()
        stops = [self.first, *poles, self.first + self.sweep]
        ys = [
            self.start[1],
            *(self.center[1] + round(sin(a)) * self.radius for a in poles),
            self.end[1],
        ]
        return [
            (ys[k], ys[k + 1], cos((stops[k] + stops[k + 1]) / 2) > 0)
            for k in range(len(stops) - 1)
        ]


Edge = Seg | Bow
Outline = tuple[Edge, ...]


def polar(center: Spot, radius: float, angle: float) -> Spot:
    """The point at an angle on a circle."""
    return center[0] + radius * cos(angle), center[1] + radius * sin(angle)


def bow(start: Spot, end: Spot, center: Spot, ccw: bool) -> Bow:
    """The arc that turns that way; a whole turn where start and end are one point."""
    a, b = (atan2(p[1] - center[1], p[0] - center[0]) for p in (start, end))
    sweep = (b - a) % FULL if ccw else -((a - b) % FULL)
    if abs(sweep) < 1e-9 or FULL - abs(sweep) < 1e-9:
        sweep = FULL if ccw else -FULL
    return Bow(start, end, center, hypot(start[0] - center[0], start[1] - center[1]), sweep)


def circle(center: Spot, diameter: float) -> Outline:
    """A circle, as two half circles."""
    right, left = (center[0] + diameter / 2, center[1]), (center[0] - diameter / 2, center[1])
    return bow(right, left, center, True), bow(left, right, center, True)


def polygon(corners: list[Spot], radii: list[float]) -> Outline:
    """A closed outline of straight edges, each corner rounded with its radius (0: sharp)."""
    count, rounds = len(corners), []
    for k, (corner, radius) in enumerate(zip(corners, radii, strict=True)):
        rounds.append(_rounded(corners[k - 1], corner, corners[(k + 1) % count], radius))
    edges: list[Edge] = []
    for k, (_, arc, leave) in enumerate(rounds):
        if arc:
            edges.append(arc)
        after = rounds[(k + 1) % count][0]
        if hypot(after[0] - leave[0], after[1] - leave[1]) > 1e-9:
            edges.append(Seg(leave, after))
        elif arc and k + 1 < count:
            # no edge left between two arcs: they share the very same point, or a crack opens
            edges[-1] = replace(arc, end=after)
        elif arc:
            first = edges[0]
            assert isinstance(first, Bow)
            edges[0] = replace(first, start=arc.end)
    return tuple(edges)


def _rounded(
    before: Spot, corner: Spot, after: Spot, radius: float
) -> tuple[Spot, Bow | None, Spot]:
    if not radius:
        return corner, None, corner
    u = _unit(before, corner)
    v = _unit(corner, after)
    turn = atan2(u[0] * v[1] - u[1] * v[0], u[0] * v[0] + u[1] * v[1])
    back = radius * tan(abs(turn) / 2)
    side = 1.0 if turn > 0 else -1.0
    arrive = (corner[0] - back * u[0], corner[1] - back * u[1])
    leave = (corner[0] + back * v[0], corner[1] + back * v[1])
    center = (arrive[0] - side * radius * u[1], arrive[1] + side * radius * u[0])
    return arrive, Bow(arrive, leave, center, radius, turn), leave


def _unit(start: Spot, end: Spot) -> Spot:
    length = hypot(end[0] - start[0], end[1] - start[1])
    return (end[0] - start[0]) / length, (end[1] - start[1]) / length


def inside(outline: Outline, x: Grid, y: Grid) -> Mask:
    """Which points lie inside an outline (even-odd)."""
    found = np.zeros(np.broadcast(x, y).shape, dtype=bool)
    for edge in outline:
        found ^= edge.crossings(x, y)
    return found


def distance(edges: list[Edge], x: Grid, y: Grid) -> Grid:
    """Distance of points from the nearest of the edges; infinite without any."""
    least = np.full(np.broadcast(x, y).shape, np.inf)
    for edge in edges:
        least = np.minimum(least, edge.distance(x, y))
    return least
