"""The metal that still stands, in layers, and what a straight cut meets of it."""

from collections.abc import Callable
from typing import TYPE_CHECKING

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString, Point, Polygon, box
from shapely.geometry.base import BaseGeometry

from passplot.frozen import dataclass
from passplot.plan.layer import Layer
from passplot.plan.spans import Span, meet, merged, total, without
from passplot.plan.zones import polygons, solid

if TYPE_CHECKING:
    from passplot.plan.underside import Under

Spot = tuple[float, float]

QUARTER = 32
"""Chords to a quarter circle of the cutter."""

FINE_QUARTER = 96
"""The same beside slanted and curved walls, where passes end on each other's round ends."""

CENTRE_BAND = 0.01
"""Metal within this share of the diameter from the line of feed does not count as a side."""


@dataclass(frozen=True, slots=True)
class Contact:
    """What a straight cut meets, lengths along it from its start.

    Attributes
    ----------
    right, wrong : tuple of spans
        Stretches with metal on the side it must lie on; on the other side.
    width : float
        Greatest radial engagement away from stretches cut on both sides and the run into them.
    depth : float
        Greatest axial engagement.
    met : geometry
        Plan-view area of the metal met.
    beside : array
        (position along the cut, distance beside its line) of metal on the right side.
    """

    right: tuple[Span, ...]
    wrong: tuple[Span, ...]
    width: float
    depth: float
    met: BaseGeometry
    beside: NDArray[np.float64]

    @property
    def empty(self) -> bool:
        """Whether no metal is met."""
        return not self.right and not self.wrong

    @property
    def both(self) -> tuple[Span, ...]:
        """Stretches with metal on both sides."""
        return meet(self.right, self.wrong)

    @property
    def climbing(self) -> tuple[Span, ...]:
        """Stretches with metal on the wrong side only."""
        return without(self.wrong, self.right)

    @property
    def both_ways(self) -> float:
        """Length with metal on both sides."""
        return total(self.both)

    @property
    def first(self) -> float:
        """Where metal is first met."""
        return min(span[0] for span in self.right + self.wrong)

    @property
    def last(self) -> float:
        """Where metal is last met."""
        return max(span[1] for span in self.right + self.wrong)


_MERGED = 25
"""Cuts after which layers are looked at for being the same."""

_NO_LAYER = Layer(Polygon())
NOTHING = Contact((), (), 0.0, 0.0, Polygon(), np.empty((0, 2)))
"""No metal met."""


class Metal:
    """The block while it is being cut: layers from the bottom up, each a plan-view area.

    Nothing overhangs: what stands at a height stands at every lower one, so the layer just
    above a tip height holds all a cutter down there can meet.

    ``thin`` metal is not worth a cut (chords leave slivers); ``fine`` metal, just under a step of
    the readout, has no side.
    """

    def __init__(
        self,
        stock: Polygon,
        bottom: float,
        top: float,
        thin: float,
        fine: float,
        quarter: int = QUARTER,
    ) -> None:
        self.quarter = quarter
        self.top = top
        self.bottom = bottom
        self.thin = thin
        self.fine = fine
        self._layers: list[tuple[float, Layer]] = [(bottom, Layer(stock))]
        self._known: dict[tuple[Spot, Spot, float, float, bool], Contact] = {}
        self.under: Under | None = None  # what rounded ends leave
        self._removed = 0

    def copy(self) -> "Metal":
        """The block as it stands, to try a cut on."""
        twin = Metal(Polygon(), self.bottom, self.top, self.thin, self.fine, self.quarter)
        twin._layers = list(self._layers)
        return twin

    def each_layer(self, change: Callable[[BaseGeometry], BaseGeometry]) -> "Metal":
        """The block with every layer changed, to go on with in another setting of the work."""
        twin = self.copy()
        twin._layers = [(low, Layer(change(layer.whole))) for low, layer in self._layers]
        if self.under is not None:
            twin.under = self.under.changed(change)
        return twin

    def at(self, z: float) -> BaseGeometry:
        """Plan-view area of the metal that reaches above height ``z``."""
        return self._layer(z).whole

    def near(self, z: float, area: BaseGeometry) -> BaseGeometry:
        """The same within the bounds of an area; beyond them there may be less than there is."""
        return self._layer(z).near(area.bounds)

    def _layer(self, z: float) -> Layer:
        found = _NO_LAYER
        for low, layer in self._layers:
            if low > z + self.thin * 1e-3:
                break
            found = layer
        return found if z < self.top - self.thin * 1e-3 else _NO_LAYER

    def highest(self, area: BaseGeometry, thin: float | None = None) -> float | None:
        """Height of the highest metal inside ``area``; None if nothing thicker than ``thin``."""
        limit = self.thin if thin is None else thin
        uppers = [low for low, _ in self._layers[1:]] + [self.top]
        for upper, (_, layer) in zip(reversed(uppers), reversed(self._layers), strict=True):
            if not area.is_empty and thick(layer.near(area.bounds).intersection(area), limit):
                return upper
        return None

    def remove(self, swept: BaseGeometry, z: float) -> None:
        """Take away everything inside ``swept`` above height ``z``."""
        small = self.thin * 1e-3
        self._known.clear()
        if all(abs(low - z) > small for low, _ in self._layers):
            below = [layer for layer in self._layers if layer[0] < z]
            if below:
                self._layers.insert(len(below), (z, below[-1][1]))
        self._layers = [
            (low, layer if low < z - small else layer.minus(swept)) for low, layer in self._layers
        ]
        self._removed += 1
        if self._removed % _MERGED == 0:
            self._merge()

    def _merge(self) -> None:
        """Make one of layers that have become the same, as when all levels of a slot are cut."""
        kept = self._layers[:1]
        for low, layer in self._layers[1:]:
            if layer.whole.area < kept[-1][1].whole.area - self.thin**2 * 1e-6:
                kept.append((low, layer))
        self._layers = kept

    def contact(self, a: Spot, b: Spot, z: float, radius: float, left: bool) -> Contact:
        """What a cutter meets feeding straight from ``a`` to ``b``, both on a line along X or Y.

        A point of metal beside the line by ``v`` and ahead by ``u`` is met when the axis stands
        at ``u - sqrt(r² - v²)``: only the leading half of the cutter cuts.
        """
        key = (a, b, z, radius, left)
        if key not in self._known:
            self._known[key] = self._contact(a, b, z, radius, left)
        return self._known[key]

    def _contact(self, a: Spot, b: Spot, z: float, radius: float, left: bool) -> Contact:
        swept = self.swept(a, b, radius)
        met = solid(self.near(z, swept).intersection(swept))
        if not thick(met, self.thin):
            return NOTHING
        length = abs(b[0] - a[0]) + abs(b[1] - a[1])
        sides = []
        for side in (left, not left):
            pieces = polygons(_half(met, a, b, radius, side))
            found = [
                _reach(piece, a, b, radius, length) for piece in pieces if self._sided(piece, a, b)
            ]
            sides.append([one for one in found if one is not None])
        spans = [merged([one[0] for one in side], 1e-9) for side in sides]
        both = meet(spans[0], spans[1])
        beside = np.concatenate([one[1] for one in sides[0]] or [np.empty((0, 2))])
        width = width_of(beside, both, radius, length)
        return Contact(spans[0], spans[1], width, self._depth(met, z), met, beside)

    def _sided(self, piece: Polygon, a: Spot, b: Spot) -> bool:
        """Whether metal is a side of a cut: thick enough, along the feed too."""
        x0, y0, x1, y1 = piece.bounds
        return (x1 - x0 if a[1] == b[1] else y1 - y0) > 2.5 * self.fine and thick(piece, self.fine)

    def _depth(self, met: BaseGeometry, z: float) -> float:
        highest = self.highest(met)
        return 0.0 if highest is None else highest - z

    def swept(self, a: Spot, b: Spot, radius: float) -> Polygon:
        """What a cutter sweeps from ``a`` to ``b``."""
        return stadium(a, b, radius, self.quarter)

    def free(self, spot: Spot, z: float, room: float) -> bool:
        """Whether the axis may stand at ``spot`` with metal no nearer than ``room``."""
        (x, y), layer = spot, self._layer(z)
        near = layer.near((x - room, y - room, x + room, y + room))
        return bool(near.is_empty or near.distance(Point(spot)) >= room)


def stadium(a: Spot, b: Spot, radius: float, quarter: int = QUARTER) -> Polygon:
    """What a cutter sweeps from ``a`` to ``b``, ``quarter`` chords to a quarter circle."""
    line = Point(a) if a == b else LineString([a, b])
    return line.buffer(radius, quad_segs=quarter)


def thick(shape: BaseGeometry, thin: float) -> bool:
    """Whether a shape has a piece thicker than ``thin`` (slivers of chords do not count)."""
    for piece in polygons(shape):
        if piece.area < thin * thin:
            continue
        if 2 * piece.area / piece.length > thin or not piece.buffer(-thin / 2).is_empty:
            return True
    return False


def _half(met: BaseGeometry, a: Spot, b: Spot, radius: float, left: bool) -> BaseGeometry:
    """The part of ``met`` on one side of the line of feed."""
    (ax, ay), (bx, by) = a, b
    near = CENTRE_BAND * 2 * radius
    x0, x1 = min(ax, bx) - radius, max(ax, bx) + radius
    y0, y1 = min(ay, by) - radius, max(ay, by) + radius
    if ay == by:
        up = (bx > ax) == left
        y0, y1 = (ay + near, y1) if up else (y0, ay - near)
    else:
        right = (by > ay) != left
        x0, x1 = (ax + near, x1) if right else (x0, ax - near)
    return met.intersection(box(x0, y0, x1, y1))


def _reach(
    piece: Polygon, a: Spot, b: Spot, radius: float, length: float
) -> tuple[Span, NDArray[np.float64]] | None:
    """Span of axis positions at which a piece is met, and (position, side distance) samples."""
    if length == 0:
        return None
    points = shapely.get_coordinates(shapely.segmentize(piece, radius / 10))
    direction = np.array([(b[0] - a[0]) / length, (b[1] - a[1]) / length])
    ahead = (points - np.array(a)) @ direction
    beside = np.abs((points - np.array(a)) @ np.array([-direction[1], direction[0]]))
    met = ahead - np.sqrt(np.maximum(radius**2 - beside**2, 0.0))
    first, last = max(float(met.min()), 0.0), min(float(met.max()), length)
    if last <= first:
        return None
    return (first, last), np.column_stack((met, beside))


def width_of(
    beside: NDArray[np.float64],
    both: tuple[Span, ...],
    radius: float,
    length: float,
    margin: float = 0.0,
) -> float:
    """Radial engagement away from the stretches cut on both sides and the run into a corner.

    Running into a corner the width grows by itself over about a radius before metal is met on
    both sides; that run and the way out of it belong to the bite.

    Parameters
    ----------
    beside : array of shape (n, 2)
        Position along the cut and distance beside its line, of the metal met.
    both : tuple of spans
        Stretches cut on both sides.
    margin : float
        How much shorter the run into a corner is taken to be.
    """
    away = (beside[:, 0] >= -margin) & (beside[:, 0] < length - radius + margin)
    for a, b in both:
        away &= (beside[:, 0] < a - radius + margin) | (beside[:, 0] > b + radius / 4)
    distances = beside[away, 1]
    if not distances.size:
        return 0.0
    nearest = float(distances.min())
    # metal that reaches the band beside the line of feed reaches the line
    return radius if nearest < 2.1 * CENTRE_BAND * radius else radius - nearest


def early_width(
    beside: NDArray[np.float64], both: tuple[Span, ...], radius: float, length: float
) -> float:
    """Radial engagement over the first quarter of what a row cuts on one side only.

    A row so short that it runs into a corner all the way still has a width: that of its start.
    """
    count = max(int(10 * length / radius), 4)
    place = np.clip(beside[:, 0] / length * count, 0, count - 1e-9).astype(int)
    nearest = np.full(count, np.inf)
    np.minimum.at(nearest, place, beside[:, 1])
    middles = (np.arange(count) + 0.5) * length / count
    for a, b in both:
        nearest[(middles >= a) & (middles <= b)] = np.inf
    widths = radius - nearest[np.isfinite(nearest)]
    return float(np.percentile(widths, 25)) if widths.size else 0.0
