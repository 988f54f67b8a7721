"""Distances from walls by formula, many points at a time."""

from collections.abc import Sequence
from math import atan2, tau

import numpy as np
from numpy.typing import NDArray

from passplot.curves import sweep
from passplot.records.shapes import Arc, Edge, Line

Floats = NDArray[np.float64]
Spot = tuple[float, float]


class Distances:
    """Lines and arcs as arrays; distances are exact (job units)."""

    def __init__(self, edges: Sequence[Edge]) -> None:
        lines = [edge for edge in edges if isinstance(edge, Line)]
        arcs = [edge for edge in edges if isinstance(edge, Arc)]
        self._a = np.array([(e.start.x, e.start.y) for e in lines]).reshape(-1, 2)
        self._b = np.array([(e.end.x, e.end.y) for e in lines]).reshape(-1, 2)
        self._center = np.array([(e.center.x, e.center.y) for e in arcs]).reshape(-1, 2)
        self._radius = np.array([e.radius for e in arcs])
        self._sweep = np.array([sweep(e) for e in arcs])
        firsts = [e.start if e.ccw else e.end for e in arcs]
        self._first = np.array(
            [atan2(p.y - e.center.y, p.x - e.center.x) for p, e in zip(firsts, arcs, strict=True)]
        )
        ends = [(e.start.x, e.start.y) for e in arcs] + [(e.end.x, e.end.y) for e in arcs]
        self._ends = np.array(ends).reshape(-1, 2)

    def near(self, points: Floats) -> Floats:
        """Distance of each point from the nearest wall, shape (n,); inf where there is none."""
        best = np.full(len(points), np.inf)
        if len(self._a):
            best = np.minimum(best, _to_lines(points, self._a, self._b).min(axis=1))
        if len(self._center):
            best = np.minimum(best, self._to_arcs(points).min(axis=1))
            best = np.minimum(best, _apart(points[:, None], self._ends[None]).min(axis=1))
        return best

    def beside(self, a: Spot, b: Spot) -> float:
        """Least distance of the straight way from ``a`` to ``b`` from any wall."""
        if a == b:
            return float(self.near(np.array([a]))[0])
        p, q = np.array([a]), np.array([b])
        best = float(self.near(np.array([a, b])).min())
        if len(self._a):
            ends = np.concatenate((self._a, self._b))
            best = min(best, float(_to_lines(ends, p, q).min()))
            if _cross(p, q, self._a, self._b).any():
                return 0.0
        if len(self._center):
            best = min(best, float(_to_lines(self._ends, p, q).min()))
            best = min(best, self._feet(p, q))
        return best

    def _feet(self, a: Floats, b: Floats) -> float:
        """Distance at the foot of each arc's centre, and 0 where the way crosses the arc."""
        way = b - a
        square = float((way**2).sum())
        along = ((self._center - a) @ way[0]) / square
        foot = a + np.clip(along, 0.0, 1.0)[:, None] * way
        ray = foot - self._center
        off = np.hypot(ray[:, 0], ray[:, 1])
        near = np.where(self._spans(ray), np.abs(off - self._radius), np.inf)
        # the line crosses a circle at either side of its own foot, not of the way's
        aside = a + along[:, None] * way - self._center
        room = self._radius**2 - (aside**2).sum(axis=1)
        half = np.sqrt(np.maximum(room, 0.0) / square)
        for at in (along - half, along + half):
            hit = a + at[:, None] * way - self._center
            if ((room > 0) & (at > 0) & (at < 1) & self._spans(hit)).any():
                return 0.0
        return float(near.min())

    def _spans(self, ray: Floats) -> NDArray[np.bool_]:
        angle = np.mod(np.arctan2(ray[..., 1], ray[..., 0]) - self._first, tau)
        within: NDArray[np.bool_] = angle <= self._sweep
        return within

    def _to_arcs(self, points: Floats) -> Floats:
        ray = points[:, None] - self._center[None]
        off = np.abs(np.hypot(ray[..., 0], ray[..., 1]) - self._radius)
        out: Floats = np.where(self._spans(ray), off, np.inf)
        return out


def _apart(a: Floats, b: Floats) -> Floats:
    out: Floats = np.hypot(a[..., 0] - b[..., 0], a[..., 1] - b[..., 1])
    return out


def _to_lines(points: Floats, a: Floats, b: Floats) -> Floats:
    """Distance of each point from each segment, shape (points, segments)."""
    way = b - a
    square = np.maximum((way**2).sum(axis=1), 1e-300)
    ray = points[:, None] - a[None]
    share = np.clip((ray * way[None]).sum(axis=2) / square, 0.0, 1.0)
    return _apart(points[:, None], a[None] + share[..., None] * way[None])


def _cross(p: Floats, q: Floats, a: Floats, b: Floats) -> NDArray[np.bool_]:
    """Whether the segment p-q crosses each segment a-b."""

    def side(u: Floats, v: Floats, w: Floats) -> Floats:
        out: Floats = (v[:, 0] - u[:, 0]) * (w[:, 1] - u[:, 1]) - (v[:, 1] - u[:, 1]) * (
            w[:, 0] - u[:, 0]
        )
        return out

    crossed: NDArray[np.bool_] = (side(p, q, a) * side(p, q, b) < 0) & (
        side(a, b, p) * side(a, b, q) < 0
    )
    return crossed
