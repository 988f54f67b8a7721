"""Where the axis goes along walls: true offsets of lines and arcs, and the zone they bound.

The offset of an arc is an arc about the same centre, that of a corner of the part an arc about
the corner. Chords appear only in the zone, and there on the side on which they keep away from
the part.
"""

from collections.abc import Sequence
from math import atan2, cos, sin

import numpy as np
import shapely
from shapely import LineString, Polygon, box
from shapely.geometry.base import BaseGeometry

from passplot.curves import direction, length, meetings, point_at, sweep
from passplot.plan.distance import Distances
from passplot.plan.edges import chord_count, chords, cut_at
from passplot.plan.walls import NEAR, Chain, linked
from passplot.plan.zones import SLACK, solid
from passplot.records.shapes import Arc, Edge, Line, Point

Spot = tuple[float, float]


def offset_chains(chains: Sequence[Chain], by: float) -> list[Chain]:
    """Where the axis runs at distance ``by`` from walls, the part on its left.

    Stretches that come nearer to another wall are left out.
    """
    distances = Distances([edge for chain in chains for edge in chain.edges])
    raw = [edge for chain in chains for edge in _raw(chain, by)]
    raw = [edge for edge in raw if length(edge) > 2 * NEAR]
    parts: list[Edge] = []
    ends = [_round(end, by) for chain in chains if not chain.closed for end in _ends(chain)]
    for index, edge in enumerate(raw):
        others = [*raw[:index], *raw[index + 1 :], *ends]
        meets = [at for other in others for at in meetings(edge, other, NEAR)]
        parts += cut_at(edge, meets, 2 * NEAR)
    if not parts:
        return []
    probes = [point_at(edge, share) for edge in parts for share in (0.03, 0.5, 0.97)]
    room = distances.near(np.array([(p.x, p.y) for p in probes])).reshape(-1, 3).min(axis=1)
    kept = [edge for edge, near in zip(parts, room, strict=True) if near >= by - 2 * NEAR]
    return linked(kept, 20 * NEAR)


def _raw(chain: Chain, by: float) -> list[Edge]:
    """Offsets of the walls of a chain and of the corners between them, untrimmed."""
    out: list[Edge] = []
    count = len(chain.edges)
    for index, edge in enumerate(chain.edges):
        moved = _moved(edge, by)
        if moved is not None:
            out.append(moved)
        if index + 1 < count or chain.closed:
            corner = _corner(edge, chain.edges[(index + 1) % count], by)
            if corner is not None:
                out.append(corner)
    return out


def _ends(chain: Chain) -> tuple[Point, Point]:
    return chain.edges[0].start, chain.edges[-1].end


def _round(at: Point, by: float) -> Arc:
    """The circle round the end of a wall, which other walls' offsets may run up against."""
    side = Point(at.x + by, at.y)
    return Arc(side, side, at, by, True)


def _moved(edge: Edge, by: float) -> Edge | None:
    """An edge moved away from the part; None where nothing of it is left."""
    if isinstance(edge, Line):
        tx, ty = direction(edge, 0.0)
        return Line(
            Point(edge.start.x + by * ty, edge.start.y - by * tx),
            Point(edge.end.x + by * ty, edge.end.y - by * tx),
        )
    radius = edge.radius + (by if edge.ccw else -by)
    if radius <= 2 * NEAR:
        return None
    share = radius / edge.radius
    ends = [
        Point(
            edge.center.x + (p.x - edge.center.x) * share,
            edge.center.y + (p.y - edge.center.y) * share,
        )
        for p in (edge.start, edge.end)
    ]
    return Arc(ends[0], ends[1], edge.center, radius, edge.ccw)


def _corner(before: Edge, after: Edge, by: float) -> Arc | None:
    """The arc round a corner of the part that stands out; None where none does."""
    tx, ty = direction(before, 1.0)
    ux, uy = direction(after, 0.0)
    turn = atan2(tx * uy - ty * ux, tx * ux + ty * uy)
    if turn <= 1e-7:
        return None
    at = after.start
    start = Point(at.x + by * ty, at.y - by * tx)
    end = Point(at.x + by * uy, at.y - by * ux)
    return Arc(start, end, at, by, True)


def zone_of(
    domain: BaseGeometry,
    stock: Polygon,
    part: BaseGeometry,
    chains: Sequence[Chain],
    by: float,
    sagitta: float,
) -> BaseGeometry:
    """Where the axis may stand: the domain less the part grown by ``by`` (minus half the slack).

    Parameters
    ----------
    part : geometry
        The finished part at this height, chords of its arcs laid outside it.
    sagitta : float
        Greatest distance of chords from their arcs (job units); they keep off the part.
    """
    # what is rounded on the way must not take all of the slack
    reach = by - SLACK / 2
    bands: list[BaseGeometry] = [part, *_outer_faces(stock, part, reach)]
    for chain in chains:
        count = len(chain.edges)
        for index, edge in enumerate(chain.edges):
            bands.append(_band(edge, reach, sagitta))
            if index + 1 < count or chain.closed:
                bands += _pie(edge, chain.edges[(index + 1) % count], reach, sagitta)
        if not chain.closed:
            first, last = chain.ends
            bands += _pie(_face(stock, first.start, True), first, reach, sagitta)
            bands += _pie(last, _face(stock, last.end, False), reach, sagitta)
    # bands side by side must not leave a hairline between them
    taken = shapely.union_all(bands).buffer(SLACK / 10, join_style="mitre")
    return solid(domain.difference(taken))


def _pie(before: Edge, after: Edge, reach: float, sagitta: float) -> list[BaseGeometry]:
    """Everything nearer than ``reach`` to a corner that stands out, between its two walls."""
    corner = _corner(before, after, reach)
    if corner is None:
        return []
    rim = chords(corner, sagitta, outside=True)
    return [Polygon([*rim, (corner.end.x, corner.end.y), (corner.center.x, corner.center.y)])]


def _face(stock: Polygon, at: Point, comes: bool) -> Line:
    """The outer face of the stock that ends (``comes``) or begins at a point of its edge.

    It runs counter-clockwise, the stock on its left.
    """
    x0, y0, x1, y1 = stock.bounds
    offs = (abs(at.y - y0), abs(at.x - x1), abs(at.y - y1), abs(at.x - x0))
    dx, dy = ((1, 0), (0, 1), (-1, 0), (0, -1))[offs.index(min(offs))]
    if comes:
        return Line(Point(at.x - dx, at.y - dy), at)
    return Line(at, Point(at.x + dx, at.y + dy))


def _outer_faces(stock: Polygon, part: BaseGeometry, reach: float) -> list[BaseGeometry]:
    """Everything nearer than ``reach`` to where the part stands at the stock's edge."""
    x0, y0, x1, y1 = stock.bounds
    edges = (
        (box(x0, y0 - reach, x1, y0), LineString([(x0, y0), (x1, y0)])),
        (box(x0, y1, x1, y1 + reach), LineString([(x0, y1), (x1, y1)])),
        (box(x0 - reach, y0, x0, y1), LineString([(x0, y0), (x0, y1)])),
        (box(x1, y0, x1 + reach, y1), LineString([(x1, y0), (x1, y1)])),
    )
    out: list[BaseGeometry] = []
    for outside, edge in edges:
        found = part.intersection(edge)
        for piece in getattr(found, "geoms", [found]):
            if piece.length > 0:
                a0, b0, a1, b1 = piece.bounds
                along_x = outside.bounds[2] - outside.bounds[0] == x1 - x0
                strip = (
                    box(a0, y0 - reach, a1, y1 + reach)
                    if along_x
                    else box(x0 - reach, b0, x1 + reach, b1)
                )
                out.append(outside.intersection(strip))
    for x, y in ((x0, y0), (x0, y1), (x1, y0), (x1, y1)):
        if part.distance(shapely.Point(x, y)) == 0:
            out.append(box(x - reach, y - reach, x + reach, y + reach).difference(stock))
    return out


def _band(edge: Edge, reach: float, sagitta: float) -> BaseGeometry:
    """Everything nearer than ``reach`` to a wall on its free side."""
    if isinstance(edge, Line):
        tx, ty = direction(edge, 0.0)
        a, b = edge.start, edge.end
        dx, dy = reach * ty, -reach * tx
        return Polygon([(a.x, a.y), (b.x, b.y), (b.x + dx, b.y + dy), (a.x + dx, a.y + dy)])
    if edge.ccw:
        outer = _circle_part(edge, edge.radius + reach, sagitta, outside=True)
        inner = _circle_part(edge, edge.radius * 0.999, sagitta, outside=False)
        return _ring(outer, inner)
    inner_radius = edge.radius - reach
    outer = _circle_part(edge, edge.radius * 1.001, sagitta, outside=True)
    if inner_radius <= 0.0:
        return _ring(outer, [(edge.center.x, edge.center.y)])
    return _ring(outer, _circle_part(edge, inner_radius, sagitta, outside=False))


def _ring(outer: list[Spot], inner: list[Spot]) -> BaseGeometry:
    return shapely.make_valid(Polygon([*outer, *reversed(inner)]))


def _circle_part(arc: Arc, radius: float, sagitta: float, outside: bool) -> list[Spot]:
    """Points along an arc at another radius, the same angles, both ends kept."""
    whole = sweep(arc)
    count = chord_count(radius, whole, sagitta)
    first = atan2(arc.start.y - arc.center.y, arc.start.x - arc.center.x)
    sign = 1 if arc.ccw else -1
    angles = [first + sign * whole * index / count for index in range(count + 1)]
    far = radius / cos(whole / (2 * count)) if outside else radius
    if outside:
        middles = [first + sign * whole * (index + 0.5) / count for index in range(count)]
        spread = [(angles[0], radius), *((a, far) for a in middles), (angles[-1], radius)]
    else:
        spread = [(a, radius) for a in angles]
    return [(arc.center.x + r * cos(a), arc.center.y + r * sin(a)) for a, r in spread]
