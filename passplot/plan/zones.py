"""Where the cutter's axis may stand: walls grown by radius and stock, as outlines to follow.

Straight walls along X and Y are grown by a square, so that every outline is made of lines
along X and Y and each corner of the part is rounded by two of them. Where a square does not
fit but the round cutter does, ``reachable`` still tells what the cutter could sweep.
"""

from collections.abc import Sequence
from math import cos, pi

import shapely
from shapely import MultiPolygon, Polygon, box
from shapely.geometry.base import BaseGeometry

from passplot.frozen import dataclass
from passplot.plan.cells import Rect

SLACK = 1e-6
"""Slack taken off every growth so that a gap the cutter's own width stays a line (job units)."""

_QUARTER = 24
"""Chords to a quarter circle."""


@dataclass(frozen=True, slots=True)
class Growth:
    """How far walls push the axis away: to their right (east), left, back (north), front."""

    east: float
    west: float
    north: float
    south: float

    @classmethod
    def even(cls, by: float) -> "Growth":
        """The same on all sides."""
        return cls(by, by, by, by)


def polygons(shape: BaseGeometry) -> list[Polygon]:
    """The polygons of a geometry, empty ones dropped."""
    if isinstance(shape, Polygon):
        return [] if shape.is_empty else [shape]
    if hasattr(shape, "geoms"):
        return [piece for part in shape.geoms for piece in polygons(part)]
    return []


def solid(shape: BaseGeometry) -> BaseGeometry:
    """The area of a geometry, lines and points left over by an overlay dropped."""
    if isinstance(shape, Polygon | MultiPolygon):
        return shape
    return MultiPolygon(polygons(shape))


def rect_union(rects: Sequence[Rect]) -> BaseGeometry:
    """Union of rectangles."""
    return shapely.union_all([box(x0, y0, x1, y1) for x0, x1, y0, y1 in rects])


def square_zone(domain: Rect, walls: Sequence[Rect], growth: Growth) -> BaseGeometry:
    """The domain less every wall rectangle grown by ``growth`` (minus the slack)."""
    grown = [
        box(
            x0 - growth.west + SLACK,
            y0 - growth.south + SLACK,
            x1 + growth.east - SLACK,
            y1 + growth.north - SLACK,
        )
        for x0, x1, y0, y1 in walls
    ]
    return _domain(domain).difference(shapely.union_all(grown))


def round_zone(domain: Rect, walls: Sequence[Rect], by: float) -> BaseGeometry:
    """The domain less every wall rectangle grown by a disc of radius ``by`` (minus the slack).

    The chords are laid outside the arcs: chords inside would let the cutter gouge a corner by
    their sagitta.
    """
    if not walls:
        return _domain(domain)
    outside = (by - SLACK) / cos(pi / (4 * _QUARTER))
    grown = rect_union(walls).buffer(outside, quad_segs=_QUARTER)
    # flat walls must not move with the corner's chords
    flat = square_zone(domain, walls, Growth.even(by))
    return _domain(domain).difference(grown).union(flat)


def reachable(zone: BaseGeometry, radius: float) -> BaseGeometry:
    """What a cutter sweeps with its axis anywhere in ``zone``."""
    return zone.buffer(radius + SLACK, quad_segs=_QUARTER)


def _domain(domain: Rect) -> Polygon:
    x0, x1, y0, y1 = domain
    return box(x0, y0, x1, y1)


def outlines(shape: BaseGeometry) -> list[list[tuple[float, float]]]:
    """Closed outlines of a shape, corners only: outer ones clockwise, holes counter-clockwise.

    Followed in this order the outside of the shape (the wall) lies on the left.
    """
    out = []
    for polygon in polygons(shape):
        turned = shapely.orient_polygons(polygon, exterior_cw=True)
        for ring in (turned.exterior, *turned.interiors):
            corners = _corners(list(ring.coords)[:-1])
            if len(corners) >= 4:
                out.append(corners)
    return out


def _corners(points: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """The points at which a level outline turns."""
    out = []
    count = len(points)
    for i, (x, y) in enumerate(points):
        (x0, y0), (x1, y1) = points[i - 1], points[(i + 1) % count]
        straight_x = abs(x0 - x) < SLACK / 10 and abs(x1 - x) < SLACK / 10
        straight_y = abs(y0 - y) < SLACK / 10 and abs(y1 - y) < SLACK / 10
        if not (straight_x or straight_y):
            out.append((x, y))
    return out
