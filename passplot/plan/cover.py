"""What the passes of a rounded end leave of a floor: places too far from all of them.

Rings and passes are laid by the full diameter, and one that has met all its metal stops: under a
rounded end a place may then stand higher than the scallop allowed, though the diameter has passed
over it. Such places are gone over once more.
"""

from math import sqrt

from shapely import LineString, Point, Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import nearest_points

from passplot.plan.areas import standing
from passplot.plan.ends import corner_of, covered
from passplot.plan.entry import approach
from passplot.plan.finishing import final_floors, floor_left
from passplot.plan.grid import CLOSE
from passplot.plan.legs import heading
from passplot.plan.rings import whole
from passplot.plan.rough import rough_floors
from passplot.plan.spans import total
from passplot.plan.stage import feature_area
from passplot.plan.terms import FeatureTerms
from passplot.plan.walker import Task, Walker
from passplot.plan.zones import Growth, polygons, solid, square_zone
from passplot.records import plan as names

Spot = tuple[float, float]
Terms = tuple[FeatureTerms, ...]

_FINE = 0.04
"""Places narrower than this share of the radius are let be."""

_ROUNDS = 3
"""How often what is left is gone over."""


def cover_rough(walker: Walker, known: Terms, terms: Terms, width: float) -> None:
    """Bring rough floors down to the scallop that rings ``width`` apart leave."""
    for term in _rounded(walker, terms):
        walker.floors = rough_floors(known)
        walker.task = Task(term.name, names.ROUGH)
        reach = max(_reach(walker), (2 - sqrt(2)) * width)
        _cover(walker, term, term.rough_z, term.wall, reach, "width")


def cover_floors(walker: Walker, known: Terms, terms: Terms, *, walls: bool) -> None:
    """Bring finished floors down to ``[finish] cusp``; the ``walls`` are still to be cut or are.

    The walk along a curved wall takes along what passes have left beside it.
    """
    features = walker.bench.job.features
    for term in _rounded(walker, terms):
        if not walls and term.wall_skims and features[term.index].curved:
            continue
        walker.floors = final_floors(known)
        walker.task = Task(term.name, names.FINISH)
        wall = 0.0 if walls and term.wall_skims else term.wall
        _cover(walker, term, floor_left(term), wall, _reach(walker), "floor")


def _rounded(walker: Walker, terms: Terms) -> Terms:
    return terms if corner_of(walker.bench.use.cutter) else ()


def _reach(walker: Walker) -> float:
    return covered(walker.bench.use.cutter, walker.bench.job.finish.cusp)


def _cover(
    walker: Walker, term: FeatureTerms, z: float, wall: float, reach: float, purpose: str
) -> None:
    """Go over every place of a feature's floor that is farther than ``reach`` from all passes."""
    job = walker.bench.job
    base = walker.bench.radius + wall
    if job.features[term.index].curved:
        # steps keep off a wall by their scallop, and rounding both axes: so does its fillet
        base += job.finish.cusp + 2 * job.shop.machine.resolution
    zone, target = _zone(walker, z, base), _target(walker, term)
    for _ in range(_ROUNDS):
        pieces = _uncovered(walker, zone, target, z, reach)
        if not pieces:
            return
        for piece in pieces:
            for line in _lines(walker, piece, zone, reach):
                a, b = _turned(walker, line, z)
                approach(walker, a, z, heading(a, b), zone)
                if a != b:
                    walker.cut(b, purpose)


def _zone(walker: Walker, z: float, base: float) -> BaseGeometry:
    """Where the axis may stand."""
    bench = walker.bench
    cells = bench.cells
    if bench.ground is not None:
        zone: BaseGeometry = bench.ground.zone(walker.floors, z, base)
    else:
        walls = cells.rectangles(standing(cells, bench.job, walker.floors, z))
        # round an outside corner the fillets of both walls run on until they meet
        zone = square_zone(cells.domain, walls, Growth.even(base))
    return bench.clear_of_obstacles(zone, z).buffer(CLOSE)


def _target(walker: Walker, term: FeatureTerms) -> BaseGeometry:
    bench = walker.bench
    if bench.ground is not None:
        area: BaseGeometry = bench.ground.area(term.index)
    else:
        area = feature_area(walker, term.index)
    return area.intersection(bench.stock)


def _uncovered(
    walker: Walker, zone: BaseGeometry, target: BaseGeometry, z: float, reach: float
) -> list[Polygon]:
    """Places the cutter could come near enough to and has not, where no other metal stands."""
    under = walker.metal.under
    assert under is not None, "rounded ends are kept account of from the start"
    done = under.covered_at(z, reach)
    near = zone.buffer(reach, quad_segs=32).intersection(target)
    left = near.difference(done).difference(walker.metal.at(z))
    # rounding to the readout leaves a hair along every wall, which joins what is apart
    fine = _FINE * walker.bench.radius / 2
    return polygons(solid(left.buffer(-fine).buffer(fine)))


def _lines(
    walker: Walker, piece: BaseGeometry, zone: BaseGeometry, reach: float
) -> list[tuple[Spot, Spot]]:
    """Passes over a piece along its longer side, from one to the next, ends on the readout."""
    x0, y0, x1, y1 = piece.bounds
    along_x = x1 - x0 >= y1 - y0
    low, high = (y0, y1) if along_x else (x0, x1)
    count = max(1, whole((high - low) / (1.6 * reach)))
    found = []
    for number in range(count):
        at = low + (high - low) * (number + 0.5) / count
        line = LineString([(x0, at), (x1, at)] if along_x else [(at, y0), (at, y1)])
        line = line if zone.intersects(line) else _beside(line, zone)
        found += _legs(walker, line, zone)
    return found or _spot(walker, piece, zone)


def _turned(walker: Walker, line: tuple[Spot, Spot], z: float) -> tuple[Spot, Spot]:
    """A pass the way round in which less of what the diameter still meets is on the wrong side."""
    bench, (a, b) = walker.bench, line
    there, back = (
        total(walker.metal.contact(*way, z, bench.radius, bench.left).climbing)
        for way in ((a, b), (b, a))
    )
    return (b, a) if back < there else (a, b)


def _spot(walker: Walker, piece: BaseGeometry, zone: BaseGeometry) -> list[tuple[Spot, Spot]]:
    """The place on the readout nearest to a piece at which the axis may stand."""
    grid, middle = walker.bench.grid, piece.representative_point()
    near = nearest_points(zone, middle)[0]
    steps = [step * grid.resolution for step in range(-2, 3)]
    spots = [(grid.near(near.x + dx), grid.near(near.y + dy)) for dx in steps for dy in steps]
    spots = [spot for spot in spots if zone.covers(Point(spot))]
    spots.sort(key=lambda spot: middle.distance(Point(spot)))
    return [(spot, spot) for spot in spots[:1]]


def _beside(line: LineString, zone: BaseGeometry) -> LineString:
    """A line moved sideways to where the axis may stand."""
    there, here = nearest_points(zone, line)
    dx, dy = there.x - here.x, there.y - here.y
    return LineString([(x + dx, y + dy) for x, y in line.coords])


def _legs(walker: Walker, line: LineString, zone: BaseGeometry) -> list[tuple[Spot, Spot]]:
    """The stretches of a line within the zone, on the readout's grid."""
    grid = walker.bench.grid
    (x0, y0), (x1, y1) = line.coords
    parts = zone.intersection(line)
    found = []
    for part in getattr(parts, "geoms", [parts]):
        if part.is_empty:
            continue
        (ax, ay, bx, by) = part.bounds
        a, b = (grid.near(ax), grid.near(ay)), (grid.near(bx), grid.near(by))
        if abs(x1 - x0) >= abs(y1 - y0):
            a, b = (grid.up(ax), a[1]), (max(grid.up(ax), grid.down(bx)), a[1])
        else:
            a, b = (a[0], grid.up(ay)), (a[0], max(grid.up(ay), grid.down(by)))
        if zone.covers(Point(a)) and zone.covers(Point(b)):
            found.append((a, b))
    return found
