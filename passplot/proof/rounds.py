"""Arcs that a cutter's axis runs along when a rotary table is turned, by formula.

Angles here are radians, counter-clockwise seen from above.
"""

from math import cos, pi, sin, tau

import numpy as np

from passplot.frozen import dataclass
from passplot.proof.curves import Curves
from passplot.proof.gauge import Floats, Mask

SAMPLES = 72  # places on a whole turn, besides those found by formula
_NOTHING = 1e-12  # of a direction's length along a line: as good as across it


@dataclass(frozen=True, slots=True)
class Round:
    """The way of the axis: from angle ``first`` by ``sweep``, positive counter-clockwise.

    ``center`` and ``radius`` in job units.
    """

    center: tuple[float, float]
    radius: float
    first: float
    sweep: float

    @property
    def whole(self) -> bool:
        """Whether it goes once round or more."""
        return abs(self.sweep) >= tau - 1e-9

    @property
    def length(self) -> float:
        """Length of the way."""
        return abs(self.sweep) * self.radius

    @property
    def ends(self) -> tuple[tuple[float, float], tuple[float, float]]:
        """Where it starts and stops."""
        start = self._point(self.first)
        return start, start if self.whole else self._point(self.first + self.sweep)

    def _point(self, angle: float) -> tuple[float, float]:
        (x, y), radius = self.center, self.radius
        return x + radius * cos(angle), y + radius * sin(angle)

    def part(self, first: float, last: float) -> "Round":
        """The stretch between two shares of its length."""
        sweep = (last - first) * self.sweep
        return Round(self.center, self.radius, self.first + first * self.sweep, sweep)

    def at(self, shares: Floats) -> tuple[Floats, Floats]:
        """Points at shares of the length, and the unit direction of feed there."""
        angle = self.first + shares * self.sweep
        ray = np.stack([np.cos(angle), np.sin(angle)], axis=-1)
        sign = 1.0 if self.sweep > 0 else -1.0
        feed = sign * np.stack([-ray[..., 1], ray[..., 0]], axis=-1)
        return np.array(self.center) + self.radius * ray, feed

    def spans(self, angles: Floats) -> Mask:
        """Whether the way passes each angle."""
        gone = np.mod((angles - self.first) * np.sign(self.sweep), tau)
        within: Mask = (gone <= abs(self.sweep)) | self.whole
        return within

    def off(self, x: Floats, y: Floats) -> Floats:
        """Distance of points from the way."""
        dx, dy = x - self.center[0], y - self.center[1]
        ring = np.abs(np.hypot(dx, dy) - self.radius)
        if self.whole:
            return ring
        ends = [np.hypot(x - px, y - py) for px, py in self.ends]
        between = self.spans(np.arctan2(dy, dx))
        off: Floats = np.where(between, ring, np.minimum(*ends))
        return off

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Lowest and highest X, lowest and highest Y of the way."""
        points = self.places(None)
        (x0, y0), (x1, y1) = points.min(axis=0), points.max(axis=0)
        return float(x0), float(x1), float(y0), float(y1)

    def places(self, edges: Curves | None) -> Floats:
        """Points of the way among which lies the one nearest to each of the edges.

        A shortest distance ends at an end of the way or of the edge, or stands square to both: on
        the normal of a line through the centre, on the line of centres of an arc.
        """
        angles = [np.arange(4) * pi / 2]
        if edges is not None:
            run = edges.end - edges.start
            to = [edges.center, edges.start, edges.end]
            rays = [np.stack([-run[:, 1], run[:, 0]], axis=1), *(p - self.center for p in to)]
            some = np.concatenate([np.arctan2(ray[:, 1], ray[:, 0]) for ray in rays])
            angles += [some, some + pi]
        found = np.concatenate(angles)
        found = found[self.spans(found)]
        count = max(int(SAMPLES * abs(self.sweep) / tau), 2)
        spread = self.first + np.linspace(0.0, 1.0, count + 1) * self.sweep
        found = np.concatenate([found, spread])
        ray = np.stack([np.cos(found), np.sin(found)], axis=1)
        points: Floats = np.array(self.center) + self.radius * ray
        return points

    def crossed(self, lines: Floats, axis: int, reach: float) -> tuple[Floats, Floats]:
        """Intervals on lines across ``axis`` swept by a disc of radius ``reach`` on its way.

        Without the discs at both ends. Empty intervals are (inf, -inf).
        """
        u = lines - self.center[axis]
        outer = np.sqrt(np.maximum((self.radius + reach) ** 2 - u**2, 0.0))
        inner = np.sqrt(np.maximum(max(self.radius - reach, 0.0) ** 2 - u**2, 0.0))
        marks = [-outer, -inner, inner, outer]
        for angle in () if self.whole else (self.first, self.first + self.sweep):
            along, across = (cos(angle), sin(angle)) if axis == 0 else (sin(angle), cos(angle))
            if abs(along) > _NOTHING:
                marks.append(np.where(u / along > 0, u * across / along, outer))
        v = np.sort(np.stack(marks, axis=1), axis=1)
        middle = (v[:, 1:] + v[:, :-1]) / 2
        far = np.hypot(u[:, None], middle)
        x, y = (u[:, None], middle) if axis == 0 else (middle, u[:, None])
        swept = (np.abs(far - self.radius) < reach) & self.spans(np.arctan2(y, x + 0.0 * middle))
        low = np.where(swept, v[:, :-1] + self.center[1 - axis], np.inf)
        high = np.where(swept, v[:, 1:] + self.center[1 - axis], -np.inf)
        return low, high
