"""What a cut along an arc meets: both-ways length from place to place, width from every corner.

The width changes fast where a corner of the metal is met, so it is not looked at in places only.
"""

from math import ceil, cos, radians, sin, tau

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString, MultiPolygon
from shapely import Point as Where
from shapely.geometry.base import BaseGeometry

from passplot.frozen import dataclass
from passplot.plan.edges import chord_count
from passplot.plan.metal import CENTRE_BAND, FINE_QUARTER, Metal, thick
from passplot.plan.zones import polygons
from passplot.records.shapes import Point

Spot = tuple[float, float]
Floats = NDArray[np.float64]

_FRONT = 1.004
"""How far ahead of the cutter metal counts as met, in radii."""

_PLACES = 15
"""Places looked at on a radius of feed."""

_CLOSE = 40
"""Places to a radius along edges of the metal at which the width is taken."""

_TAKEN = 4
"""Places after which what was swept is taken away."""


@dataclass(frozen=True, slots=True)
class Met:
    """Greatest radial engagement on one side, and the length of feed with metal on both."""

    width: float
    both_ways: float


@dataclass(frozen=True, slots=True)
class Way:
    """An arc of the axis: ``first`` angle and ``swing``, degrees, positive counter-clockwise."""

    center: Point
    radius: float
    first: float
    swing: float

    @property
    def length(self) -> float:
        return abs(radians(self.swing)) * self.radius

    def at(self, share: float) -> Spot:
        """The point at a share of its length."""
        angle = radians(self.first + self.swing * share)
        return self.center.x + self.radius * cos(angle), self.center.y + self.radius * sin(angle)

    def swept(self, radius: float, resolution: float) -> BaseGeometry:
        """What a cutter sweeps; chords keep within a tenth of a readout step of the arc."""
        count = chord_count(self.radius, abs(radians(self.swing)), resolution / 10)
        line = LineString([self.at(index / count) for index in range(count + 1)])
        return line.buffer(radius, quad_segs=FINE_QUARTER)


def measure(metal: Metal, way: Way, z: float, radius: float, left: bool) -> Met:
    """What a cutter meets along an arc; the metal is left as it is."""
    twin = metal.copy()
    count = max(2, ceil(way.length / radius * _PLACES))
    sign = 1 if way.swing > 0 else -1
    both, taken = np.zeros(count, dtype=bool), 0
    for number in range(count):
        angle = radians(way.first + way.swing * number / count)
        feed = np.array([-sin(angle), cos(angle)]) * sign
        both[number] = _on_both(twin, way.at(number / count), feed, z, radius)
        if number - taken >= _TAKEN:
            behind = [way.at(each / count) for each in range(taken, number + 1)]
            twin.remove(LineString(behind).buffer(radius, quad_segs=FINE_QUARTER), z)
            taken = number
    shares, aside = _first_met(metal.at(z), way, radius, metal.fine)
    asked = aside if left else -aside
    single = ~both[np.minimum(shares * count, count - 1).astype(int)]
    nearest = asked[single & (asked > 2 * CENTRE_BAND * radius)]
    width = radius - float(nearest.min()) if nearest.size else 0.0
    return Met(width, float(both.sum()) * way.length / count)


def _first_met(layer: BaseGeometry, way: Way, radius: float, fine: float) -> tuple[Floats, Floats]:
    """Corners of the metal on an arc: the share of it at which each is met, and how far beside.

    ``beside`` is positive on the left. A point at distance p from the centre is met by a cutter of
    radius r at distance R when cos d = (R^2 + p^2 - r^2) / (2 R p), d the angle it is ahead.
    """
    swept = way.swept(radius, radius / 100)
    pieces = [piece for piece in polygons(layer.intersection(swept)) if thick(piece, fine)]
    met = shapely.segmentize(MultiPolygon(pieces), radius / _CLOSE)
    ray = shapely.get_coordinates(met) - (way.center.x, way.center.y)
    off, own = np.maximum(np.hypot(ray[:, 0], ray[:, 1]), radius / 1e6), way.radius
    ahead = np.clip((own**2 + off**2 - radius**2) / (2 * own * off), -1.0, 1.0)
    sign = 1.0 if way.swing > 0 else -1.0
    angle = sign * (np.arctan2(ray[:, 1], ray[:, 0]) - radians(way.first)) - np.arccos(ahead)
    shares = np.mod(angle, tau) / abs(radians(way.swing))
    begun = shares <= 1.0  # what is met already where it begins is not met on the way
    return shares[begun], (sign * (own - off * ahead))[begun]


def _on_both(metal: Metal, here: Spot, feed: Floats, z: float, radius: float) -> bool:
    """Whether metal stands ahead on both sides of the line of feed."""
    front = Where(here).buffer(radius * _FRONT, quad_segs=FINE_QUARTER // 2)
    met = metal.near(z, front).intersection(front)
    if not thick(met, metal.fine):
        return False
    spots = shapely.get_coordinates(met) - here
    aside = (spots @ np.array([-feed[1], feed[0]]))[spots @ feed > 0]
    band = 2 * CENTRE_BAND * radius
    return bool((aside > band).any() and (aside < -band).any())
