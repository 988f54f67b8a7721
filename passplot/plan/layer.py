"""One layer of the metal: a plan-view area that many small cuts are taken from.

A cut changes little of a large outline. So one window of it is kept up to date cut by cut, and the
whole of it only when it is asked for, all cuts since then taken at once.
"""

import shapely
from shapely import box
from shapely.geometry.base import BaseGeometry

from passplot.plan.zones import solid

Bounds = tuple[float, float, float, float]

_WIDER = 1.0
"""How far a window goes beyond what is looked at, in its longer sides."""

_LARGE = 0.2
"""Share of the whole from which on a window is no help."""

_MOST = 100
"""Cuts that are kept for later at most."""


class Layer:
    """A plan-view area; ``minus`` makes another, so that one may be tried on."""

    __slots__ = ("_box", "_cuts", "_part", "_whole")

    def __init__(self, whole: BaseGeometry) -> None:
        shapely.prepare(whole)
        self._whole = whole
        self._cuts: tuple[BaseGeometry, ...] = ()
        self._box: Bounds | None = None
        self._part: BaseGeometry = whole

    @property
    def whole(self) -> BaseGeometry:
        """All of it."""
        if self._cuts:
            self._whole = solid(self._whole.difference(shapely.union_all(self._cuts)))
            self._cuts = ()
            shapely.prepare(self._whole)
        return self._whole

    def minus(self, swept: BaseGeometry) -> "Layer":
        """What a cut leaves."""
        bounds = swept.bounds
        if len(self._cuts) >= _MOST or self._large(bounds):
            return Layer(solid(self.whole.difference(swept)))
        left = Layer.__new__(Layer)
        left._whole, left._cuts = self._whole, (*self._cuts, swept)
        left._box, left._part = self._box, self._part
        if self._box is not None and _meet(self._box, bounds):
            left._part = solid(self._part.difference(swept))
        return left

    def near(self, bounds: Bounds) -> BaseGeometry:
        """All of it within some bounds; beyond them there may be less than there is."""
        if self._box is not None and _within(bounds, self._box):
            return self._part
        if self._large(bounds):
            return self.whole
        x0, y0, x1, y1 = bounds
        wider = _WIDER * max(x1 - x0, y1 - y0)
        self._box = (x0 - wider, y0 - wider, x1 + wider, y1 + wider)
        self._part = solid(self.whole.intersection(box(*self._box)))
        return self._part

    def _large(self, bounds: Bounds) -> bool:
        x0, y0, x1, y1 = self._whole.bounds
        size = (bounds[2] - bounds[0]) * (bounds[3] - bounds[1])
        return not size < _LARGE * (x1 - x0) * (y1 - y0)


def _within(one: Bounds, other: Bounds) -> bool:
    return one[0] >= other[0] and one[1] >= other[1] and one[2] <= other[2] and one[3] <= other[3]


def _meet(one: Bounds, other: Bounds) -> bool:
    return one[0] <= other[2] and other[0] <= one[2] and one[1] <= other[3] and other[1] <= one[3]
