"""Edges cut at their mutual intersections, so that each piece has one height on either side."""

from itertools import pairwise
from math import cos, hypot, sin, sqrt, tau

import numpy as np

from passplot.frozen import dataclass
from passplot.proof.curves import Curves, curves
from passplot.proof.gauge import Floats, Ints, Mask
from passplot.records.shapes import Arc, Edge, Line, Point

LEVEL = 1e-9  # as near as reckoned ends of an edge along X or Y come to one coordinate


@dataclass(frozen=True, slots=True)
class Pieces:
    """Pieces of edges between their intersections.

    Attributes
    ----------
    curves : Curves
        The pieces, running the way their edges ran.
    owner : ndarray of int
        Number given to the edge each piece comes from.
    middle, left : ndarray, shape (n, 2)
        Middle of each piece and the unit normal there, to the left of its run.
    """

    curves: Curves
    owner: Ints
    middle: Floats
    left: Floats

    @property
    def stepped(self) -> Mask:
        """Which pieces do not run along X or Y, so that a wall there is stepped off."""
        level = (np.abs(self.curves.end - self.curves.start) < LEVEL).any(axis=1)
        stepped: Mask = ~level | (self.curves.turn != 0)
        return stepped


def split(edges: list[Edge], owners: list[int], hair: float) -> Pieces:
    """Cut every edge where it meets any other; pieces shorter than ``hair`` are dropped."""
    whole = curves(edges)
    meetings = np.vstack([whole.start, whole.end, *_line_meetings(whole), *_arc_meetings(edges)])
    touches = whole.to_points(meetings) < hair
    # full circles meet edges where the arc itself does not
    shared = touches.sum(axis=1) > 1
    meetings, touches = meetings[shared], touches[shared]
    parts: list[Edge] = []
    owner: list[int] = []
    for number, edge in enumerate(edges):
        for piece in _cut(edge, meetings[touches[:, number]], hair):
            parts.append(piece)
            owner.append(owners[number])
    found = curves(parts)
    middle, left = _middles(found)
    return Pieces(found, np.array(owner, dtype=np.int64), middle, left)


def _line_meetings(whole: Curves) -> list[Floats]:
    """Where straight edges cross: a + t d for each pair, the two solved together."""
    straight = np.flatnonzero(whole.turn == 0)
    a = whole.start[straight]
    d = whole.end[straight] - a
    gap = a[None, :, :] - a[:, None, :]
    across = d[:, None, 0] * d[None, :, 1] - d[:, None, 1] * d[None, :, 0]
    slanted = np.abs(across) > 1e-12
    safe = np.where(slanted, across, 1.0)
    t = (gap[..., 0] * d[None, :, 1] - gap[..., 1] * d[None, :, 0]) / safe
    s = (gap[..., 0] * d[:, None, 1] - gap[..., 1] * d[:, None, 0]) / safe
    one, two = np.nonzero(slanted & (t >= 0) & (t <= 1) & (s >= 0) & (s <= 1))
    return [a[one] + t[one, two][:, None] * d[one]]


def _arc_meetings(edges: list[Edge]) -> list[Floats]:
    """Where the full circle of an arc meets the full line or circle of any other edge."""
    found: list[tuple[float, float]] = []
    for number, arc in enumerate(edges):
        if not isinstance(arc, Arc):
            continue
        for other_number, other in enumerate(edges):
            if isinstance(other, Line):
                found += _line_on_circle(arc, other)
            elif other_number > number:
                found += _circle_on_circle(arc, other)
    return [np.array(found, dtype=np.float64).reshape(-1, 2)]


def _line_on_circle(arc: Arc, line: Line) -> list[tuple[float, float]]:
    dx, dy = line.end.x - line.start.x, line.end.y - line.start.y
    fx, fy = line.start.x - arc.center.x, line.start.y - arc.center.y
    square = dx * dx + dy * dy
    half = (fx * dx + fy * dy) / square
    rest = half**2 - (fx * fx + fy * fy - arc.radius**2) / square
    if rest < 0:
        return []
    roots = (-half - sqrt(rest), -half + sqrt(rest))
    return [(line.start.x + t * dx, line.start.y + t * dy) for t in roots]


def _circle_on_circle(one: Arc, two: Arc) -> list[tuple[float, float]]:
    dx, dy = two.center.x - one.center.x, two.center.y - one.center.y
    apart = hypot(dx, dy)
    if apart == 0 or apart > one.radius + two.radius or apart < abs(one.radius - two.radius):
        return []
    along = (apart**2 + one.radius**2 - two.radius**2) / (2 * apart)
    aside = sqrt(max(one.radius**2 - along**2, 0.0))
    ux, uy = dx / apart, dy / apart
    x, y = one.center.x + along * ux, one.center.y + along * uy
    return [(x - aside * uy, y + aside * ux), (x + aside * uy, y - aside * ux)]


def _cut(edge: Edge, at: Floats, hair: float) -> list[Edge]:
    """The pieces of one edge between the points ``at``, which lie on it."""
    if isinstance(edge, Arc):
        return _cut_arc(edge, at, hair)
    length = edge.length
    ux, uy = (edge.end.x - edge.start.x) / length, (edge.end.y - edge.start.y) / length
    stations = (at[:, 0] - edge.start.x) * ux + (at[:, 1] - edge.start.y) * uy
    stops = _distinct(stations, length, hair)
    ends = [Point(edge.start.x + s * ux, edge.start.y + s * uy) for s in stops]
    ends[0], ends[-1] = edge.start, edge.end
    return [Line(a, b) for a, b in pairwise(ends)]


def _cut_arc(arc: Arc, at: Floats, hair: float) -> list[Edge]:
    turn = 1.0 if arc.ccw else -1.0
    center = arc.center
    begin = float(np.arctan2(arc.start.y - center.y, arc.start.x - center.x))
    angles = np.arctan2(at[:, 1] - center.y, at[:, 0] - center.x)
    whole = float(curves([arc]).sweep[0])
    stations = np.mod(turn * (angles - begin), tau)
    stops = _distinct(stations, whole, hair / arc.radius)
    ends = [
        Point(
            center.x + arc.radius * cos(begin + turn * s),
            center.y + arc.radius * sin(begin + turn * s),
        )
        for s in stops
    ]
    ends[0], ends[-1] = arc.start, arc.end
    return [Arc(a, b, center, arc.radius, arc.ccw) for a, b in pairwise(ends)]


def _distinct(stations: Floats, whole: float, hair: float) -> list[float]:
    """0, the stations between in order, and ``whole``, none closer together than ``hair``."""
    stops = [0.0]
    for station in np.sort(stations):
        if station - stops[-1] > hair and whole - station > hair:
            stops.append(float(station))
    return [*stops, whole]


def _middles(found: Curves) -> tuple[Floats, Floats]:
    """Middle of each piece and the unit normal to the left of its run."""
    run = found.end - found.start
    length = np.maximum(np.hypot(run[:, 0], run[:, 1]), 1e-300)
    flat_left = np.stack([-run[:, 1], run[:, 0]], axis=1) / length[:, None]
    angle = found.first_angle + found.sweep / 2
    ray = np.stack([np.cos(angle), np.sin(angle)], axis=1)
    bent = (found.turn != 0)[:, None]
    middle = np.where(
        bent, found.center + found.radius[:, None] * ray, (found.start + found.end) / 2
    )
    # left of a counter-clockwise arc lies towards its center
    return middle, np.where(bent, -found.turn[:, None] * ray, flat_left)
