"""Inside or outside: crossing counts of loops with lines and arcs, for points and for grids.

Arcs are split where they are highest and lowest, so that every piece meets a level line at most
once; the crossing is then counted half open in Y, which is right at the joints as well.
"""

from itertools import pairwise
from math import sqrt

import numpy as np

from passplot.proof.gauge import Floats, Mask
from passplot.records.shapes import Arc, Edge, Loop, Point

# A piece of an edge that only rises or only falls: y0, y1, x0, x1, then center x, y, radius and
# side (+1 right half of the circle, -1 left half, 0 a line).
_Piece = tuple[float, float, float, float, float, float, float, float]


def _angle_from(arc: Arc, at: Point) -> float:
    first = arc.start if arc.ccw else arc.end
    begin = np.arctan2(first.y - arc.center.y, first.x - arc.center.x)
    here = np.arctan2(at.y - arc.center.y, at.x - arc.center.x)
    return float(np.mod(here - begin, 2 * np.pi))


def _pieces(edge: Edge) -> list[_Piece]:
    if not isinstance(edge, Arc):
        if edge.start.y == edge.end.y:
            return []
        return [(edge.start.y, edge.end.y, edge.start.x, edge.end.x, 0.0, 0.0, 0.0, 0.0)]
    first, last = (edge.start, edge.end) if edge.ccw else (edge.end, edge.start)
    whole = _angle_from(edge, last) or 2 * np.pi
    center = edge.center
    poles = [Point(center.x, center.y + edge.radius), Point(center.x, center.y - edge.radius)]
    inner = sorted((_angle_from(edge, pole), pole.x, pole.y) for pole in poles)
    stops = [first, *(Point(x, y) for turn, x, y in inner if 1e-12 < turn < whole - 1e-12), last]
    found: list[_Piece] = []
    for low, high in pairwise(stops):
        side = 1.0 if high.y > low.y else -1.0  # counter-clockwise: the right half rises
        found.append((low.y, high.y, low.x, high.x, center.x, center.y, edge.radius, side))
    return found


def _crossing(piece: _Piece, y: Floats) -> Floats:
    """X at which a piece meets each level of ``y`` (all of them between its ends)."""
    y0, y1, x0, x1, center_x, center_y, radius, side = piece
    if side:
        return center_x + side * np.sqrt(np.maximum(radius**2 - (y - center_y) ** 2, 0.0))
    return x0 + (y - y0) * ((x1 - x0) / (y1 - y0))


def _between(piece: _Piece, y: Floats) -> Mask:
    return (y >= min(piece[0], piece[1])) & (y < max(piece[0], piece[1]))


def points_inside(loop: Loop, points: Floats) -> Mask:
    """Whether each point, shape (n, 2), lies inside the loop."""
    odd = np.zeros(len(points), dtype=bool)
    for edge in loop.edges:
        for piece in _pieces(edge):
            here = np.flatnonzero(_between(piece, points[:, 1]))
            odd[here] ^= _crossing(piece, points[here, 1]) > points[here, 0]
    return odd


def grid_inside(loop: Loop, xs: Floats, ys: Floats) -> Mask:
    """Whether each point of the grid lies inside the loop, shape (len(xs), len(ys))."""
    toggles = np.zeros((len(xs) + 1, len(ys)), dtype=np.int8)
    for edge in loop.edges:
        for piece in _pieces(edge):
            rows = np.flatnonzero(_between(piece, ys))
            # everything right of the crossing changes sides
            toggles[np.searchsorted(xs, _crossing(piece, ys[rows])), rows] ^= 1
    inside: Mask = np.bitwise_xor.accumulate(toggles[:-1], axis=0).astype(bool)
    return inside


def disc_reach(mask: Mask, radius: float, pitch: float) -> Mask:
    """Every point of a square grid within ``radius`` of a marked one (exact on the grid).

    The disc is laid down as rows: a point is within reach of a marked one ``j`` rows away when
    that row's nearest mark is at most √(radius² - j² pitch²) off.
    """
    count, far = mask.shape[0], np.int32(1 << 20)
    index = np.arange(count, dtype=np.int32)[:, None]
    before = np.maximum.accumulate(np.where(mask, index, -far), axis=0)
    after = np.minimum.accumulate(np.where(mask, index, far)[::-1], axis=0)[::-1]
    near = np.minimum(index - before, after - index)
    out = np.zeros_like(mask)
    reach = int(radius / pitch + 1e-9)
    for row in range(min(reach, mask.shape[1] - 1) + 1):
        wide = int(sqrt(max((radius / pitch) ** 2 - row**2, 0.0)) + 1e-9)
        hit = near <= wide
        if row == 0:
            out |= hit
        else:
            out[:, row:] |= hit[:, :-row]
            out[:, :-row] |= hit[:, row:]
    return out
