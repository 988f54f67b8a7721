"""What no cutter can sweep beside slanted and curved walls: corners, and places too narrow."""

from math import atan2, pi, tan

from shapely import Point, Polygon, union_all
from shapely.geometry.base import BaseGeometry

from passplot.curves import direction
from passplot.plan.ground import Floors, Ground
from passplot.plan.metal import thick
from passplot.plan.reach import Reach
from passplot.plan.zones import polygons, reachable, solid
from passplot.records.job import Job
from passplot.records.plan import UncutCorner
from passplot.records.shapes import Point as Where


def ground_reach(
    ground: Ground, job: Job, index: int, radii: tuple[float, ...], thin: float
) -> Reach:
    """What cutters of the given radii, one after the other, leave of feature ``index``."""
    feature = job.features[index]
    floors: Floors = tuple(each.floor for each in job.features)
    z = feature.floor
    rest = ground.area(index)
    for radius in radii:  # one by one: the union of areas that share most of their edges may fail
        rest = rest.difference(reachable(ground.zone(floors, z, radius), radius))
    slack = max(thin, 2 * ground.sagitta + thin)
    pieces = [piece for piece in polygons(rest) if thick(piece, slack)]
    if not pieces:
        return Reach((), (), 0.0)
    radius = min(radii)
    corners: list[UncutCorner] = []
    fillets: list[BaseGeometry] = []
    for at, reach in inside_corners(ground, floors, z, radius):
        fillet = Point(at.x, at.y).buffer(reach + 2 * slack)
        left = solid(union_all(pieces).intersection(fillet))
        if thick(left, slack):
            fillets.append(fillet)
            corners.append(UncutCorner(feature.name, at, radius, float(left.area)))
    allowed = union_all(fillets) if fillets else Polygon()
    blocked = tuple(piece for piece in pieces if thick(piece.difference(allowed), slack))
    area = float(sum(piece.area for piece in pieces))
    return Reach(tuple(corners), blocked, area)


def inside_corners(
    ground: Ground, floors: Floors, z: float, radius: float
) -> list[tuple[Where, float]]:
    """Sharp corners between walls, with how far along the walls a cutter stays off them."""
    found = []
    for chain in ground.chains(floors, z):
        count = len(chain.edges)
        for index, edge in enumerate(chain.edges):
            if index + 1 == count and not chain.closed:
                continue
            after = chain.edges[(index + 1) % count]
            tx, ty = direction(edge, 1.0)
            ux, uy = direction(after, 0.0)
            turn = atan2(tx * uy - ty * ux, tx * ux + ty * uy)
            if turn < -1e-6:
                half = (pi + turn) / 2
                found.append((edge.end, radius / tan(half) if half > 0.05 else 20 * radius))
    return found
