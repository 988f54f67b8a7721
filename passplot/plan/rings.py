"""Courses over an area: centre lines first, then rings from far off the walls up to them.

Rings at growing distance from the walls serve every area alike: in a closed pocket they run
from the inside out, round a boss from the outside in, and along a shoulder they are straight
lines from the free side to the wall. Regions that fall apart as the distance grows are
finished one after the other before the ring that joins them.
"""

from collections.abc import Callable, Sequence
from math import ceil, floor

import numpy as np
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon, get_coordinates
from shapely.affinity import scale, translate
from shapely.geometry.base import BaseGeometry

from passplot.frozen import dataclass
from passplot.plan.cells import Cells, Mask, Rect
from passplot.plan.zones import SLACK, Growth, outlines, polygons, square_zone

Spot = tuple[float, float]

RUBS = 0.8
"""Metal thinner than this share of a round setting is rubbed, not cut."""


@dataclass(frozen=True, slots=True)
class Middle:
    """A line down the middle of a narrow stretch, ``room`` to either side of it."""

    start: Spot
    end: Spot
    room: float


@dataclass(frozen=True, slots=True)
class Course:
    """What to follow: an outline with the walls on one side, or centre lines in any order.

    ``ring`` is the number of width steps off the walls (0 is the last). ``corners`` are those of
    a closed outline, empty where ``lines`` are given; ``piece`` is the zone it belongs to.
    """

    corners: tuple[Spot, ...]
    lines: tuple[Middle, ...]
    ring: int
    piece: Polygon


@dataclass(frozen=True, slots=True)
class Steps:
    """Width of cut towards walls facing each way, and how many rings are needed.

    ``widest`` is the widest of the passes towards each: the one at the free side, or in the
    middle, takes what the others leave.
    """

    widths: Growth
    rings: int
    widest: Growth


def whole(quotient: float) -> int:
    """Ceiling that takes quotients within 1e-6 of a whole number as whole."""
    return max(0, ceil(quotient - 1e-6))


@dataclass(frozen=True, slots=True)
class Spacing:
    """What widths of cut are shared out with.

    ``radius`` of the cutter, ``wall`` stock left on, the greatest width (``limit``) and the step
    of round settings (``setting``), job units.
    """

    radius: float
    wall: float
    limit: float
    setting: float

    def share(self, size: float, least: float = 0.0) -> tuple[float, int, float]:
        """Width, no less than ``least``, number, and widest of near-equal passes over ``size``.

        n = ceil(size / limit). The width is a whole number of settings where the pass at the
        free side, which takes what that leaves, stays within the limit and is no thinner than
        three quarters of the others.
        """
        count = whole(size / self.limit)
        even = size / count
        steps = even / self.setting
        for width in (floor(steps + 1e-6) * self.setting, ceil(steps - 1e-6) * self.setting):
            last = size - (count - 1) * width
            if least < width <= self.limit + 1e-9 and 0.75 * width <= last <= self.limit + 1e-9:
                return width, count, max(width, last)
        return even, count, even

    def reaching(self, size: float, count: int) -> float:
        """Width at which ``count`` passes over ``size`` leave nothing to one more."""
        even = size / count
        wide = ceil(even / self.setting - 1e-6) * self.setting
        thick = size - (count - 1) * wide >= 0.75 * wide
        return wide if thick and wide <= self.limit + 1e-9 else even


def plan_steps(
    cells: Cells, walls: Mask, metal: Mask, spacing: Spacing, round_corners: bool = False
) -> Steps:
    """Near-equal widths of cut towards the walls of an area.

    Towards a free side all metal out to its edge is shared: n = ceil((width - wall) / limit).
    Between two walls a cut down the middle comes first and the rest of each half is shared.

    Parameters
    ----------
    walls, metal : mask
        Cells that stay, and cells to clear.
    round_corners : bool
        Whether to reach metal that no wall looks at along X or Y.
    """
    xs, ys = np.array(cells.xs), np.array(cells.ys)
    shares = []
    for mask, target, borders in (
        (walls, metal, xs),
        (walls[::-1], metal[::-1], -xs[::-1]),
        (walls.T, metal.T, ys),
        (walls.T[::-1], metal.T[::-1], -ys[::-1]),
    ):
        beside = np.flatnonzero(mask.any(axis=1)) if round_corners else np.array([], dtype=int)
        shares.append(_share(mask, target, borders, spacing, beside))
    widths, counts, widest, sizes = zip(*shares, strict=True)
    most = max(counts)
    reaching = [
        max(width, spacing.reaching(size, count + 1)) if count < most else width
        for width, count, size in zip(widths, counts, sizes, strict=True)
    ]
    return Steps(Growth(*reaching), most, Growth(*widest))


def _share(
    walls: Mask,
    metal: Mask,
    borders: NDArray[np.float64],
    spacing: Spacing,
    beside: NDArray[np.int64],
) -> tuple[float, int, float, float]:
    """Width, number and widest of steps off walls that look along rising ``borders``.

    ``beside`` are the places of walls that count for metal which none looks at. Last comes how
    far the metal reaches where it ends at a free side only, else 0.
    """
    free, between = 0.0, 0.0
    for j in range(walls.shape[1]):
        stops = np.flatnonzero(walls[:, j])
        for i in np.flatnonzero(metal[:, j]):
            before, after = stops[stops < i], stops[stops > i]
            if not stops.size:
                before = beside[beside < i]
            if not before.size:
                continue
            start = borders[before[-1] + 1]
            if after.size:
                gap = borders[after[0]] - start
                between = max(between, gap / 2 - spacing.radius - spacing.wall)
            else:
                free = max(free, borders[i + 1] - start - spacing.wall)
    found = []
    if free > SLACK:
        width, count, widest = spacing.share(free)
        # the first pass, from the free side, is one of them
        found.append((width, count - 1, widest))
    if between > max(RUBS * spacing.setting, SLACK):
        # the cut down the middle comes on top; no narrower rings, which would not meet there
        count = whole(between / spacing.limit)
        found.append(spacing.share(between, between / count - SLACK))
    if not found:
        return spacing.limit, 0, spacing.limit, 0.0
    widths, counts, widest_ones = zip(*found, strict=True)
    # in a gap too narrow for another ring of the wider kind there is its middle
    width = widths[0] if widths[0] >= between else min(widths)
    return width, max(counts), max(widest_ones), free if len(found) == 1 and free > SLACK else 0.0


def courses(
    cells: Cells,
    walls: Sequence[Rect],
    steps: Steps,
    base: float,
    useful: Callable[[BaseGeometry], bool],
    fine: float,
    rubs: Callable[[int, Middle], bool],
) -> list[Course]:
    """Everything to follow, in order, for an area bounded by ``walls``.

    Parameters
    ----------
    walls : sequence of Rect
        What stays, the border beyond the stock included.
    base : float
        Distance of the axis from a wall on the last ring: radius plus wall stock.
    useful : callable
        Whether a piece of a zone has metal near enough to be worth following.
    fine : float
        A piece of the last ring no wider than this is followed down its middle only.
    rubs : callable
        Whether beside a middle of a ring passes would only rub: then the walls are followed one
        after the other, the second pass takes all there is.
    """
    zones = []
    for ring in range(steps.rings + 1):
        zone = square_zone(cells.domain, walls, _offset(base, steps.widths, ring))
        if zone.is_empty:
            break
        zones.append(zone)
    pieces = [[p for p in polygons(zone) if useful(p)] for zone in zones]
    out: list[Course] = []
    seen: set[tuple[int, int]] = set()

    def visit(ring: int, index: int) -> None:
        seen.add((ring, index))
        piece = pieces[ring][index]
        for inner, other in enumerate(pieces[ring + 1] if ring + 1 < len(pieces) else ()):
            if (ring + 1, inner) not in seen and piece.covers(other.representative_point()):
                visit(ring + 1, inner)
        if not ring and _narrow(piece, fine):
            out.append(Course((), (_lengthwise(piece),), ring, piece))
            return
        inner_zone = zones[ring + 1] if ring + 1 < len(zones) else MultiPolygon()
        lines = _centre_lines(piece, steps.widths, inner_zone, cells.domain)
        lines = tuple(line for line in lines if not rubs(ring, line))
        if lines:
            out.append(Course((), lines, ring, piece))
        out.extend(Course(tuple(line), (), ring, piece) for line in outlines(piece))

    for index in range(len(pieces[0]) if pieces else 0):
        visit(0, index)
    return out


def _narrow(piece: Polygon, fine: float) -> bool:
    x0, y0, x1, y1 = piece.bounds
    return len(piece.exterior.coords) == 5 and min(x1 - x0, y1 - y0) <= fine + 3 * SLACK


def _lengthwise(piece: Polygon) -> Middle:
    """The line down the middle of a narrow rectangle, from end to end."""
    x0, y0, x1, y1 = piece.bounds
    x, y = (x0 + x1) / 2, (y0 + y1) / 2
    if x1 - x0 >= y1 - y0:
        return Middle((x0, y), (x1, y), y - y0)
    return Middle((x, y0), (x, y1), x - x0)


def _offset(base: float, widths: Growth, ring: int) -> Growth:
    return Growth(
        base + ring * widths.east,
        base + ring * widths.west,
        base + ring * widths.north,
        base + ring * widths.south,
    )


def _centre_lines(
    piece: Polygon, widths: Growth, inner: BaseGeometry, domain: Rect
) -> tuple[Middle, ...]:
    """Lines down the middle of what the next ring inwards does not cover."""
    thin = piece.difference(_grown_back(inner, widths))
    parts = [part for part in polygons(thin) if part.area > SLACK * SLACK]
    return tuple(line for part in parts for line in _middles(part, domain))


def _grown_back(inner: BaseGeometry, widths: Growth) -> BaseGeometry:
    """A zone of level edges grown by one width of cut on each side."""
    if inner.is_empty:
        return inner
    x, y = (widths.east + widths.west) / 2, (widths.north + widths.south) / 2
    even = scale(inner, 1 / x, 1 / y, origin=(0, 0)).buffer(1.0 + SLACK, join_style="mitre")
    shift = (widths.west - widths.east) / 2, (widths.south - widths.north) / 2
    return translate(scale(even, x, y, origin=(0, 0)), *shift)


def _middles(part: Polygon, domain: Rect) -> list[Middle]:
    """Centre lines of the long rectangles a thin level shape is made of."""
    lines = []
    for x0, x1, y0, y1 in _bars(part):
        half = min(x1 - x0, y1 - y0) / 2
        if x1 - x0 >= y1 - y0:
            y = (y0 + y1) / 2
            a = x0 if x0 <= domain[0] + SLACK else x0 + half
            b = x1 if x1 >= domain[1] - SLACK else x1 - half
            lines.append(Middle((a, y), (b, y), half))
        else:
            x = (x0 + x1) / 2
            a = y0 if y0 <= domain[2] + SLACK else y0 + half
            b = y1 if y1 >= domain[3] - SLACK else y1 - half
            lines.append(Middle((x, a), (x, b), half))
    lines.sort(key=lambda line: -abs(line.end[0] - line.start[0] + line.end[1] - line.start[1]))
    return lines


def _bars(part: Polygon) -> list[Rect]:
    """Rectangles of a level polygon, cut along whichever axis gives the fewer."""
    points = get_coordinates(part)
    xs = _distinct(points[:, 0])
    ys = _distinct(points[:, 1])
    if len(xs) < 2 or len(ys) < 2:
        return [(xs[0], xs[-1], ys[0], ys[-1])]
    mask = np.zeros((len(xs) - 1, len(ys) - 1), dtype=bool)
    for i in range(len(xs) - 1):
        for j in range(len(ys) - 1):
            spot = ((xs[i] + xs[i + 1]) / 2, (ys[j] + ys[j + 1]) / 2)
            mask[i, j] = _inside(part, spot)
    flat = Cells(tuple(xs), tuple(ys), (mask,), 0.0).rectangles(mask)
    tall = [
        (c, d, a, b)
        for a, b, c, d in Cells(tuple(ys), tuple(xs), (mask.T,), 0.0).rectangles(mask.T)
    ]
    return flat if len(flat) <= len(tall) else tall


def _inside(part: Polygon, spot: Spot) -> bool:
    from shapely import Point  # noqa: PLC0415

    return bool(part.covers(Point(spot)))


def _distinct(values: np.ndarray) -> list[float]:
    out: list[float] = []
    for value in sorted(float(v) for v in values):
        if not out or value - out[-1] > SLACK / 10:
            out.append(value)
    return out
