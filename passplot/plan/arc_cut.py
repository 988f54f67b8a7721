"""What a cut along an arc meets: width and both-ways length, looked at from place to place."""

from math import ceil, cos, radians, sin

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString
from shapely import Point as Where
from shapely.geometry.base import BaseGeometry

from passplot.frozen import dataclass
from passplot.plan.edges import chord_count
from passplot.plan.metal import CENTRE_BAND, FINE_QUARTER, Metal, thick
from passplot.records.shapes import Point

Spot = tuple[float, float]

_FRONT = 1.004
"""How far ahead of the cutter metal counts as met, in radii."""

_PLACES = 15
"""Places looked at on a radius of feed."""

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
    width, both, taken = 0.0, 0.0, 0
    for number in range(count):
        angle = radians(way.first + way.swing * number / count)
        feed = np.array([-sin(angle), cos(angle)]) * sign
        asked, other = _ahead(twin, way.at(number / count), feed, z, radius, left)
        width = max(width, 0.0 if other else asked)
        both += way.length / count if asked and other else 0.0
        if number - taken >= _TAKEN:
            behind = [way.at(each / count) for each in range(taken, number + 1)]
            twin.remove(LineString(behind).buffer(radius, quad_segs=FINE_QUARTER), z)
            taken = number
    return Met(width, both)


def _ahead(
    metal: Metal, here: Spot, feed: NDArray[np.float64], z: float, radius: float, left: bool
) -> tuple[float, bool]:
    """Radial engagement on the asked-for side, and whether metal stands on the other."""
    front = Where(here).buffer(radius * _FRONT, quad_segs=FINE_QUARTER // 2)
    met = metal.at(z).intersection(front)
    if not thick(met, metal.fine):
        return 0.0, False
    spots = shapely.get_coordinates(met) - here
    ahead = spots @ feed
    aside = spots @ np.array([-feed[1], feed[0]]) * (1 if left else -1)
    band = 2 * CENTRE_BAND * radius
    asked = aside[(ahead > 0) & (aside > band)]
    other = aside[(ahead > 0) & (aside < -band)]
    return (radius - float(asked.min()) if asked.size else 0.0), bool(other.size)
