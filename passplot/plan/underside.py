"""What rounded ends leave standing: fillets and scallops that a full diameter is clear of.

A cutter with a rounded end clears a floor by its flat alone. ``Metal.under`` is the block with only
that much taken away at each tip, so wherever the flat of a cutter meets none of it, nothing under
its rounded corner is met either: what clears two areas of the flat clears them grown by any height
of the corner, too. Only where a job has rounded ends is it kept.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt
from shapely import LineString, Point, Polygon, union_all

from passplot.plan.ends import corner_of
from passplot.plan.metal import Metal, stadium
from passplot.plan.zones import solid

if TYPE_CHECKING:
    from collections.abc import Iterable

    from shapely.geometry.base import BaseGeometry

    from passplot.plan.bench import Bench
    from passplot.records.shop import Cutter

Spot = tuple[float, float]
Places = npt.NDArray[np.float64]
Heights = Callable[[Places], Places]
Cut = tuple[tuple[float, float, float], tuple[Spot, Spot]]
"""Tip, radius and corner of a cutter, and the line it went along."""

_LEAST = 0.02
"""Share of the radius that stands for the flat of a ball, which has none."""

_ALONG, _MOST_ALONG, _ACROSS = 0.08, 200, 31
"""Places along a cut, in radii apart, and across it at which its depth is looked up."""


_BEST, _CLOSER = 24, 3
"""How many places are looked round more closely, how often."""

_ROUND_IT = np.array([(x / 2, y / 2) for x in range(-2, 3) for y in range(-2, 3)])

_HAIR = 1e-6


class Under:
    """The block as flats have cleared it, and every line that was cut, with its tip."""

    def __init__(self, block: Metal) -> None:
        self._block = block
        self._new: dict[float, list[Polygon]] = {}  # cut since the block was last looked at, by tip
        self.cut: list[Cut] = []

    def take(self, bench: Bench, a: Spot, b: Spot, z: float) -> None:
        """Take away what the cutter's flat clears from ``a`` to ``b``."""
        self._new.setdefault(z, []).append(stadium(a, b, flat_of(bench), self._block.quarter))
        self.cut.append(((z, bench.radius, corner_of(bench.use.cutter)), (a, b)))

    @property
    def rounded(self) -> bool:
        """Whether anything was cut with a rounded end."""
        return any(corner > 0 for (_, _, corner), _ in self.cut)

    def at(self, z: float) -> BaseGeometry:
        """What no flat has cleared at height ``z``."""
        self._clear()
        return self._block.at(z)

    def _clear(self) -> None:
        for z, swept in self._new.items():
            self._block.remove(union_all(swept), z)
        self._new = {}

    def changed(self, change: Callable[[BaseGeometry], BaseGeometry]) -> Under:
        """The same in another setting of the work."""
        self._clear()
        twin = Under(self._block.each_layer(change))
        for end, line in self.cut:
            a, b = change(LineString(line)).coords
            twin.cut.append((end, ((a[0], a[1]), (b[0], b[1]))))
        return twin

    def covered_at(self, z: float, reach: float) -> BaseGeometry:
        """What was cut with the tip at ``z`` or lower: within ``reach`` of a rounded end's lines.

        Square ends cover all they sweep.
        """
        return union_all(
            [
                line_of(*line).buffer(reach if corner else radius, quad_segs=32)
                for (tip, radius, corner), line in self.cut
                if tip <= z + _HAIR
            ]
        )

    def heights(self, places: Places, first: int | None = None) -> Places:
        """Height down to which each place, shape (n, 2), has been cut; inf where it has not.

        Only the ``first`` so many lines are looked at, all where None.
        """
        found = np.full(len(places), np.inf)
        low, high = places.min(axis=0), places.max(axis=0)
        for (z, radius, corner), (a, b) in self.cut[:first]:
            if (np.maximum(a, b) > low - radius).all() and (np.minimum(a, b) < high + radius).all():
                off = _off(places, a, b)
                end = np.where(off < radius, z + rise(off, radius, corner), np.inf)
                found = np.minimum(found, end)
        return found


def line_of(a: Spot, b: Spot) -> BaseGeometry:
    """The line from one spot to another; a point where they are one."""
    return Point(a) if a == b else LineString([a, b])


def _off(places: Places, a: Spot, b: Spot) -> Places:
    """Distance of places from the line between two spots, which may be one."""
    along = np.subtract(b, a)
    square = max(float(along @ along), 1e-300)
    share = np.clip((places - a) @ along / square, 0.0, 1.0)
    off: Places = np.hypot(*(places - a - share[:, None] * along).T)
    return off


def rise(off: Places, radius: float, corner: float) -> Places:
    """How far above its tip a cutter's end is, ``off`` from its axis: c - sqrt(c² - t²).

    t is how far that is outside the flat, R - c.
    """
    outside = np.clip(off - (radius - corner), 0.0, corner)
    height: Places = corner - np.sqrt(corner**2 - outside**2)
    return height


def flat_of(bench: Bench) -> float:
    """Radius of the flat under the cutter."""
    return max(bench.radius - corner_of(bench.use.cutter), _LEAST * bench.radius)


def _touch(bench: Bench) -> float:
    """Nearest the axis may come to what no flat has cleared: as ``Bench.touch``, for a flat."""
    return flat_of(bench) * bench.touch / bench.radius


def keep_under(metal: Metal, cutters: Iterable[Cutter]) -> None:
    """Tell from here on what the rounded ends of these cutters leave standing."""
    if metal.under is None and any(corner_of(cutter) for cutter in cutters):
        metal.under = Under(metal.copy())


def clear_under(bench: Bench, metal: Metal, way: BaseGeometry, z: float, room: float = 0.0) -> bool:
    """Whether the cutter's end meets nothing where the axis stands, or on a way it goes.

    ``room`` is how far it is to stay from what stands. Where the flat is past the stock's edge but
    the full diameter is not, the flat says nothing of the heights between: they are looked up.
    """
    if metal.under is None:
        return True
    reach = flat_of(bench) + room if room else _touch(bench)
    if metal.under.at(z).distance(way) < reach:
        return False
    if bench.stock.buffer(-bench.radius - room).covers(way):
        return True
    ends = [(x, y) for x, y in way.coords]
    # places are looked at some way apart
    return not _meets(bench, metal.under, ends[0], ends[-1], z, 1.2 * room)


def closed_under(bench: Bench, metal: Metal, z: float) -> BaseGeometry:
    """Where the axis may not stand for what is met under the cutter."""
    if metal.under is None:
        return Polygon()
    return solid(metal.under.at(z).buffer(_touch(bench), quad_segs=metal.quarter))


def top_under(bench: Bench, metal: Metal, spot: Spot, z: float) -> float | None:
    """Height of what stands under the cutter where its full diameter is clear at ``z``."""
    deep = depth_under(bench, metal, spot, spot, z)
    return z + deep if deep > 0 else None


def depth_under(bench: Bench, metal: Metal, a: Spot, b: Spot, z: float) -> float:
    """How much the end takes off fillets and scallops from ``a`` to ``b``; 0 without rounded ends.

    Looked up at places under the cutter that have been cut before.
    """
    if metal.under is None or clear_under(bench, metal, line_of(a, b), z):
        return 0.0
    return _deepest(bench, metal.under.heights, a, b, z)


def printed_depth(
    bench: Bench, metal: Metal, row: tuple[Spot, Spot, float], depth: float, first: int | None
) -> float:
    """Depth to print of a row from one spot to another at a height, ``depth`` by the diameter.

    Unless that is all there is from the top of the block, what rounded ends have left on floors
    above may be met deeper.
    ``first`` is how many lines had been cut before a row that is cut already, None before one.
    """
    a, b, z = row
    under, grid = metal.under, bench.grid
    if under is None or z + depth >= metal.top - _HAIR:
        return grid.near(depth)
    if first is None:
        found = depth_under(bench, metal, a, b, z)
    else:
        found = _deepest(bench, partial(under.heights, first=first), a, b, z)
    return max(grid.near(depth), grid.up(found))


def _deepest(bench: Bench, heights: Heights, a: Spot, b: Spot, z: float) -> float:
    """How much an end takes off what has been cut before; 0 where it meets nothing."""
    places = _drawn_in(_lattice(a, b, bench.radius, _ALONG, _ACROSS), bench)
    found = _thickness(bench, heights, places, a, b, z)
    spread = _ALONG * bench.radius
    for _ in range(_CLOSER):  # scallops are sharp: once more, about the highest places
        best = places[np.argsort(-found)[:_BEST]]
        places = _drawn_in((best[:, None] + spread * _ROUND_IT).reshape(-1, 2), bench)
        found, spread = _thickness(bench, heights, places, a, b, z), spread / 2
    return float(found.max(initial=0.0))


def _meets(bench: Bench, under: Under, a: Spot, b: Spot, z: float, room: float) -> bool:
    """Whether an end grown sideways by ``room`` meets what has been cut before."""
    along = _ALONG / 3 if a == b else 3 * _ALONG
    places = _drawn_in(_lattice(a, b, bench.radius + room, along, 3 * _ACROSS), bench)
    places = np.unique(places[_off(places, a, b) < bench.radius + room], axis=0)
    if not len(places):
        return False
    return bool((_thickness(bench, under.heights, places, a, b, z, room) > _HAIR).any())


def _lattice(a: Spot, b: Spot, radius: float, along: float, across: int) -> Places:
    """Places under a cutter on its way, ``along`` radii apart and ``across`` from side to side."""
    way = np.subtract(b, a) if a != b else np.array([1.0, 0.0])
    ahead = radius * way / np.hypot(*way)
    aside = np.array([-ahead[1], ahead[0]])
    length = float(np.hypot(*np.subtract(b, a))) + 2 * radius
    count = min(int(length / (along * radius)) + 1, _MOST_ALONG)
    lines = np.linspace(a - ahead, b + ahead, count + 1)
    places: Places = lines[:, None] + np.linspace(-1.0, 1.0, across)[:, None] * aside
    return places.reshape(-1, 2)


def _drawn_in(places: Places, bench: Bench) -> Places:
    """Places beyond the stock moved to its edge: something may stand just there."""
    x0, y0, x1, y1 = bench.stock.bounds
    return np.clip(places, (x0 + _HAIR, y0 + _HAIR), (x1 - _HAIR, y1 - _HAIR))


def _thickness(
    bench: Bench, heights: Heights, places: Places, a: Spot, b: Spot, z: float, room: float = 0.0
) -> Places:
    """How thick the metal is that an end takes off at places; 0 where it is not over them."""
    off = _off(places, a, b)
    end = z + rise(off - room, bench.radius, corner_of(bench.use.cutter))
    stands = heights(places)
    met = np.isfinite(stands) & (off < bench.radius + room)
    return np.where(met, np.maximum(stands - end, 0.0), 0.0)
