"""The metal just ahead of a cutter: on which side of a line of feed, how wide, how high.

A cutter that stands at c and is about to move along a heading meets the metal that touches its
front, the half circle ahead of c. That half is looked at in single points, ``AHEAD`` outside the
cutter; where metal begins is then found by looking closer between two of them.
"""

import numpy as np

from passplot.frozen import dataclass
from passplot.proof.engagement import LINE_SHARE
from passplot.proof.gauge import Floats, Gauge, Mask
from passplot.proof.metal import Metal

POINTS = 96  # on the front; close together towards the flanks, where scallops stand
CLOSER = 2  # times that the gap between two points is looked at again, as finely
AHEAD = 2.0  # hairs from the cutter to the points looked at
CLOSE = (1.02, 1.5, 2.0, 3.0)  # places beside the line of feed, in widths of its band
FLANK = 2**0.5  # readout steps beside the flank left out: rounding of X and of Y, no cut


@dataclass(frozen=True, slots=True)
class Ahead:
    """What stands ahead of a cutter at some places along one heading.

    Attributes
    ----------
    asked, other, any : ndarray of bool
        Whether metal stands on the asked-for side of the line of feed, on the other, on any (in
        the band that has no side as well); a place each.
    heights : ndarray
        Z of the highest metal met at each place; -inf where there is none.
    """

    asked: Mask
    other: Mask
    any: Mask
    heights: Floats

    @property
    def height(self) -> float:
        """Z of the highest metal met; -inf where there is none."""
        return float(self.heights.max(initial=-np.inf))


class Front:
    """The front of a cutter at work in a block.

    Parameters
    ----------
    metal : Metal
        What stands, the rows before this one taken away.
    gauge : Gauge
    radius, tip : float
        Of the cutter; Z of its tip. Job units.
    metal_on_left : bool
        The asked-for side.
    """

    def __init__(
        self, metal: Metal, gauge: Gauge, radius: float, tip: float, metal_on_left: bool
    ) -> None:
        self.metal = metal
        self.radius = radius
        self.tip = tip + gauge.hair
        self.left = 1.0 if metal_on_left else -1.0
        self.line = 2 * radius * LINE_SHARE
        self.ahead = AHEAD * gauge.hair
        turn = np.linspace(-np.pi / 2, np.pi / 2, POINTS)
        # positive on the asked-for side
        spread = (radius - FLANK * gauge.resolution - gauge.hair) * np.sin(turn)
        # thin metal close to the line of feed decides whether both sides are cut
        close = self.line * np.array(CLOSE)
        self.beside: Floats = np.sort(np.concatenate([spread, close, -close]))

    def heights(self, places: Floats, heading: Floats, beside: Floats) -> Floats:
        """Height of the metal ahead of places (m, 2), ``beside`` (m, n) the line of feed.

        ``heading`` is one unit vector, or one a place.
        """
        forward = np.sqrt(np.maximum(self.radius**2 - beside**2, 0.0)) + self.ahead
        aside = self.left * beside
        way_x, way_y = heading[..., 0, None], heading[..., 1, None]
        x = places[:, 0, None] + forward * way_x - aside * way_y
        y = places[:, 1, None] + forward * way_y + aside * way_x
        stock = self.metal.stock
        here = (x > stock.x[0]) & (x < stock.x[1]) & (y > stock.y[0]) & (y < stock.y[1])
        tops = np.full(x.shape, -np.inf)
        tops[here] = self.metal.above(x[here], y[here], self.tip)
        return tops

    def met(self, places: Floats, heading: Floats) -> Ahead:
        """What stands ahead at places, shape (m, 2), along a unit heading (or one a place)."""
        beside = np.broadcast_to(self.beside, (len(places), len(self.beside)))
        tops = self.heights(places, heading, beside)
        there = tops > self.tip
        return Ahead(
            np.logical_or.reduce(there[:, self.beside > self.line], axis=1),
            np.logical_or.reduce(there[:, self.beside < -self.line], axis=1),
            np.logical_or.reduce(there, axis=1),
            np.where(there, tops, -np.inf).max(axis=1),
        )

    def widths(self, places: Floats, headings: Floats) -> Floats:
        """Radial engagement at places: from the flank on the asked-for side to the last metal."""
        beside = np.broadcast_to(self.beside, (len(places), len(self.beside)))
        there = self.heights(places, headings, beside) > self.tip
        there &= self.beside >= -self.line
        first = there.argmax(axis=1)
        found = np.where(there.any(axis=1), self.radius + self.line, 0.0)
        some = np.flatnonzero(first > 0)
        air, metal = self.beside[first[some] - 1], self.beside[first[some]]
        share, each = np.linspace(0.0, 1.0, POINTS), np.arange(len(some))
        for _ in range(CLOSER):
            between = air[:, None] + share * (metal - air)[:, None]
            between[:, -1] = metal
            tops = self.heights(places[some], headings[some], between)
            place = np.maximum((tops > self.tip).argmax(axis=1), 1)
            air, metal = between[each, place - 1], between[each, place]
        found[some] = self.radius - np.maximum(metal, -self.line)
        return found
