"""Lines and arcs of the plan view as arrays, with distances by formula.

Every distance is exact for lines and for arcs; nothing is chorded. Angles are in radians.
"""

from collections.abc import Iterable
from math import tau

import numpy as np

from passplot.frozen import dataclass
from passplot.proof.gauge import Floats, Mask
from passplot.records.shapes import Arc, Edge

_TINY = 1e-300  # keeps a division by a zero length finite; the quotient is then clipped or unused


@dataclass(frozen=True, slots=True)
class Curves:
    """Any number of edges.

    Attributes
    ----------
    start, end, center : ndarray, shape (n, 2)
        Points of the plan view, job units; ``center`` is the start for a line.
    radius : ndarray, shape (n,)
        0 for a line.
    turn : ndarray, shape (n,)
        +1 for an arc that runs counter-clockwise seen from above, -1 for clockwise, 0 for a line.
    """

    start: Floats
    end: Floats
    center: Floats
    radius: Floats
    turn: Floats

    def __len__(self) -> int:
        return len(self.radius)

    def take(self, which: Mask) -> "Curves":
        """The edges where ``which`` is true (or of those numbers)."""
        return Curves(
            self.start[which],
            self.end[which],
            self.center[which],
            self.radius[which],
            self.turn[which],
        )

    @property
    def first_angle(self) -> Floats:
        """Angle of the arc's end from which it runs counter-clockwise."""
        first = np.where((self.turn > 0)[:, None], self.start, self.end) - self.center
        return np.arctan2(first[:, 1], first[:, 0])

    @property
    def sweep(self) -> Floats:
        """Angle an arc covers, (0, 2 pi]; 0 for lines. Start on end is the full circle."""
        return self._sweep_from(self.first_angle)

    def _sweep_from(self, first_angle: Floats) -> Floats:
        last = np.where((self.turn > 0)[:, None], self.end, self.start) - self.center
        angle = np.mod(np.arctan2(last[:, 1], last[:, 0]) - first_angle, tau)
        angle = np.where(angle < 1e-12, tau, angle)
        return np.where(self.turn == 0, 0.0, angle)

    def spans(self, points: Floats) -> Mask:
        """Whether the ray from each arc's center through its point (..., n, 2) meets the arc."""
        ray = points - self.center
        first = self.first_angle
        angle = np.mod(np.arctan2(ray[..., 1], ray[..., 0]) - first, tau)
        within: Mask = (angle <= self._sweep_from(first)) & (self.turn != 0)
        return within

    def to_points(self, points: Floats) -> Floats:
        """Distance of every point from every edge, shape (points, edges)."""
        return self._near(points[:, None, :])

    def to_segments(self, a: Floats, b: Floats) -> Floats:
        """Distance of every segment ``a``-``b`` from every edge, shape (segments, edges).

        A segment may be a point. Where segment and edge cross the distance is 0.
        """
        a, b = a[:, None, :], b[:, None, :]
        ends = np.minimum(self._near(a), self._near(b))
        ends = np.minimum(ends, _to_line(self.start[None], a, b))
        ends = np.minimum(ends, _to_line(self.end[None], a, b))
        if not self.turn.any():
            return np.where(_lines_cross(a, b, self.start, self.end), 0.0, ends)
        foot = _foot(self.center[None], a, b)
        ends = np.minimum(ends, np.where(self.spans(foot), self._off_circle(foot), np.inf))
        crossing = np.where(
            self.turn == 0,
            _lines_cross(a, b, self.start, self.end),
            self._arcs_cross(a, b),
        )
        return np.where(crossing, 0.0, ends)

    def _off_circle(self, points: Floats) -> Floats:
        ray = points - self.center
        return np.abs(np.hypot(ray[..., 0], ray[..., 1]) - self.radius)

    def _near(self, points: Floats) -> Floats:
        """Distance of points, shape (m, 1, 2), from every edge."""
        lines = _to_line(points, self.start, self.end)
        if not self.turn.any():
            return lines
        bent = self.turn != 0
        arcs = self.take(bent)
        ends = np.minimum(_length(points - arcs.start), _length(points - arcs.end))
        lines[..., bent] = np.where(arcs.spans(points), arcs._off_circle(points), ends)
        return lines

    def _arcs_cross(self, a: Floats, b: Floats) -> Mask:
        """Whether segment and arc meet: roots t of (a + t (b - a) - center)² = radius²."""
        along, ray = b - a, a - self.center
        square = (along**2).sum(-1)
        half = (along * ray).sum(-1)
        rest = half**2 - square * ((ray**2).sum(-1) - self.radius**2)
        root = np.sqrt(np.maximum(rest, 0.0))
        found = np.zeros(rest.shape, dtype=bool)
        for sign in (-1.0, 1.0):
            t = (-half + sign * root) / np.maximum(square, _TINY)
            at = a + np.clip(t, 0.0, 1.0)[..., None] * along
            found |= (rest >= 0) & (square > 0) & (t >= 0) & (t <= 1) & self.spans(at)
        return found


def curves(edges: Iterable[Edge]) -> Curves:
    """The edges as arrays, in order."""
    rows = [
        (
            *(edge.start.x, edge.start.y, edge.end.x, edge.end.y),
            *(
                (edge.center.x, edge.center.y, edge.radius, 1.0 if edge.ccw else -1.0)
                if isinstance(edge, Arc)
                else (edge.start.x, edge.start.y, 0.0, 0.0)
            ),
        )
        for edge in edges
    ]
    table = np.array(rows, dtype=np.float64).reshape(-1, 8)
    return Curves(table[:, 0:2], table[:, 2:4], table[:, 4:6], table[:, 6], table[:, 7])


def _length(vectors: Floats) -> Floats:
    # faster than hypot; lengths of a workpiece neither overflow nor vanish when squared
    length: Floats = np.sqrt(vectors[..., 0] ** 2 + vectors[..., 1] ** 2)
    return length


def _foot(points: Floats, a: Floats, b: Floats) -> Floats:
    """Point of segment ``a``-``b`` nearest to each point."""
    foot: Floats = a + _share(points, a, b)[..., None] * (b - a)
    return foot


def _share(points: Floats, a: Floats, b: Floats) -> Floats:
    """How far along segment ``a``-``b`` that point lies, 0 to 1."""
    x, y = b[..., 0] - a[..., 0], b[..., 1] - a[..., 1]
    square = np.maximum(x * x + y * y, _TINY)
    along = (points[..., 0] - a[..., 0]) * (x / square) + (points[..., 1] - a[..., 1]) * (
        y / square
    )
    return np.minimum(np.maximum(along, 0.0), 1.0)


def _to_line(points: Floats, a: Floats, b: Floats) -> Floats:
    """Distance of points from segments ``a``-``b``; X and Y apart, which is faster by far."""
    share = _share(points, a, b)
    x = points[..., 0] - a[..., 0] - share * (b[..., 0] - a[..., 0])
    y = points[..., 1] - a[..., 1] - share * (b[..., 1] - a[..., 1])
    distance: Floats = np.sqrt(x * x + y * y)
    return distance


def _cross(one: Floats, two: Floats) -> Floats:
    product: Floats = one[..., 0] * two[..., 1] - one[..., 1] * two[..., 0]
    return product


def _lines_cross(a: Floats, b: Floats, c: Floats, d: Floats) -> Mask:
    """Whether the segments cross properly: the ends of each on both sides of the other."""
    one = _cross(b - a, c - a) * _cross(b - a, d - a) < 0
    two = _cross(d - c, a - c) * _cross(d - c, b - c) < 0
    both: Mask = one & two
    return both
