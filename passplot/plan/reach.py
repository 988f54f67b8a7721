"""What no cutter of the job can sweep: corners that keep its radius, and walls out of reach."""

from shapely import MultiPolygon, Point, Polygon, box, union_all
from shapely.geometry.base import BaseGeometry

from passplot.frozen import dataclass
from passplot.plan.areas import standing
from passplot.plan.cells import Cells, Mask
from passplot.plan.metal import thick
from passplot.plan.zones import outlines, polygons, reachable, rect_union, round_zone
from passplot.records.job import Feature, Job
from passplot.records.plan import UncutCorner
from passplot.records.shapes import Point as Where


@dataclass(frozen=True, slots=True)
class Reach:
    """What the cutters leave of one feature.

    ``corners`` keep a radius; ``blocked`` are pieces of wall or floor out of reach; ``area`` is
    the plan-view area of both, job units squared.
    """

    corners: tuple[UncutCorner, ...]
    blocked: tuple[Polygon, ...]
    area: float


def reach_of(cells: Cells, job: Job, index: int, radii: tuple[float, ...], thin: float) -> Reach:
    """What cutters of the given radii, one after the other, leave of feature ``index``."""
    feature = job.features[index]
    floors = tuple(each.floor for each in job.features)
    walls = standing(cells, job, floors, feature.floor)
    rects = cells.rectangles(cells.inner(walls))
    target = rect_union(cells.rectangles(cells.inner(cells.clears[index])))
    swept = union_all(
        [reachable(round_zone(cells.domain, rects, radius), radius) for radius in radii]
    )
    rest = target.difference(swept)
    pieces = [piece for piece in polygons(rest) if thick(piece, thin)]
    if not pieces:
        return Reach((), (), 0.0)
    radius = min(radii)
    corners = inside_corners(cells, walls)
    fillets = {corner: _fillet(corner, radius) for corner in corners}
    allowed = union_all(list(fillets.values())).buffer(thin) if fillets else MultiPolygon()
    blocked = tuple(piece for piece in pieces if thick(piece.difference(allowed), thin))
    kept = _kept_corners(feature, fillets, pieces, radius, thin)
    area = float(sum(piece.area for piece in pieces))
    return Reach(kept, blocked + _narrow_ends(cells, walls, target, radius, thin), area)


Corner = tuple[float, float, int, int]
"""x, y, and the direction (±1, ±1) into the cleared side."""


def inside_corners(cells: Cells, walls: Mask) -> list[Corner]:
    """Every corner at which two walls meet on the cleared side, inside the stock's border."""
    out: list[Corner] = []
    for loop in outlines(rect_union(cells.rectangles(~walls))):
        count = len(loop)
        for i, (x, y) in enumerate(loop):
            (ax, ay), (bx, by) = loop[i - 1], loop[(i + 1) % count]
            turn = (x - ax) * (by - y) - (y - ay) * (bx - x)
            x0, x1, y0, y1 = cells.domain
            border = x in (x0, x1) or y in (y0, y1)
            if turn < 0 and not border:  # walls on the left: a right turn is an inside corner
                sx = _sign(ax - x) or _sign(bx - x)
                sy = _sign(ay - y) or _sign(by - y)
                out.append((x, y, sx, sy))
    return out


def _sign(value: float) -> int:
    return (value > 0) - (value < 0)


def _fillet(corner: Corner, radius: float) -> BaseGeometry:
    """What a cutter pushed into a square corner leaves of it."""
    x, y, sx, sy = corner
    square = box(*sorted_box(x, x + sx * radius, y, y + sy * radius))
    disc = Point(x + sx * radius, y + sy * radius).buffer(radius, quad_segs=24)
    return square.difference(disc)


def sorted_box(x0: float, x1: float, y0: float, y1: float) -> tuple[float, float, float, float]:
    """Bounds in shapely's order."""
    return min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1)


def _kept_corners(
    feature: Feature,
    fillets: dict[Corner, BaseGeometry],
    pieces: list[Polygon],
    radius: float,
    thin: float,
) -> tuple[UncutCorner, ...]:
    rest = union_all(pieces)
    out = []
    for (x, y, _, _), fillet in fillets.items():
        left = rest.intersection(fillet)
        if thick(left, thin):
            out.append(UncutCorner(feature.name, Where(x, y), radius, float(left.area)))
    return tuple(out)


def _narrow_ends(
    cells: Cells, walls: Mask, target: BaseGeometry, radius: float, thin: float
) -> tuple[Polygon, ...]:
    """Ends of notches narrower than the cutter: a wall between two inside corners."""
    out = []
    for loop in outlines(rect_union(cells.rectangles(~walls))):
        count = len(loop)
        for i in range(count):
            a, b, c, d = (loop[(i + k) % count] for k in range(4))
            first = (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])
            second = (c[0] - b[0]) * (d[1] - c[1]) - (c[1] - b[1]) * (d[0] - c[0])
            length = abs(c[0] - b[0]) + abs(c[1] - b[1])
            if first < 0 and second < 0 and length < 2 * radius - thin:
                strip = Polygon([b, c, d]).buffer(thin)
                if strip.intersects(target):
                    out.append(strip)
    return tuple(out)
