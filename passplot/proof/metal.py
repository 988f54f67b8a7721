"""The metal that still stands, by formula: stock less everything earlier rows swept.

A row sweeps a slot with round ends (a disc for Z moves), cleared down to its tip. Across the way
of a cutter the metal is looked at on parallel lines; on each line the swept slots are intervals
with exact ends, and the gaps between them are metal.
"""

import numpy as np

from passplot.frozen import dataclass
from passplot.proof.cleared import Cleared
from passplot.proof.forms import radius_at, rise
from passplot.proof.gauge import Floats, Mask
from passplot.proof.rounds import Round
from passplot.proof.rows import Row
from passplot.proof.slants import Corner, Slant
from passplot.records.job import Stock

_ROWS_AT_FIRST = 8  # looked at together for what they cleared, then twice as many


@dataclass(frozen=True, slots=True)
class Frame:
    """A row seen along its feed: ``u`` forward from its start, ``v`` to the left.

    ``axis`` is 0 for X, 1 for Y; ``ahead`` and ``aside`` are the signs of u along that axis and
    of v along the other; ``origin`` is the start.
    """

    axis: int
    ahead: float
    aside: float
    origin: tuple[float, float]
    length: float

    def shortened(self, by: float) -> "Frame":
        """The same way without its first ``by``; its length may come out below 0."""
        origin = [*self.origin]
        origin[self.axis] += self.ahead * by
        start = (origin[0], origin[1])
        return Frame(self.axis, self.ahead, self.aside, start, self.length - by)

    def u(self, along: Floats) -> Floats:
        """Forward position of coordinates along the feed axis."""
        return self.ahead * (along - self.origin[self.axis])

    def v(self, across: Floats) -> Floats:
        """Position to the left of the line of feed."""
        return self.aside * (across - self.origin[1 - self.axis])


def frame_of(row: Row) -> Frame | None:
    """The frame of a row; a row that holds X and Y still is seen along X. None if it has none."""
    dx, dy = row.end[0] - row.start[0], row.end[1] - row.start[1]
    if row.turn is not None or (dx and dy):
        return None
    if dy:
        ahead = 1.0 if dy > 0 else -1.0
        return Frame(1, ahead, -ahead, row.start[:2], abs(dy))
    ahead = 1.0 if dx >= 0 else -1.0
    return Frame(0, ahead, ahead, row.start[:2], abs(dx))


@dataclass(frozen=True, slots=True)
class Gaps:
    """Metal on lines across the way of a cutter.

    ``u`` is where each line crosses the way, shape (m,); ``low`` and ``high`` bound the metal to
    the left of the line of feed (negative: right), shape (m, n), where ``there`` is true.
    """

    u: Floats
    low: Floats
    high: Floats
    there: Mask


class Metal:
    """Stock and the list of what has been swept, in order; ``pitch`` of cells for a first look.

    A sweep with a rounded end of corner radius c clears less than its whole radius near its tip:
    it is r - c + √(c² - (c - h)²) there at a height h, see forms.py.
    """

    def __init__(self, stock: Stock, room: int, pitch: float) -> None:
        self.stock = stock
        self._surely = Cleared(stock, pitch)
        self._swept = np.zeros((7, max(room, 1)))  # x0, x1, y0, y1, radius, tip, corner
        self._count = 0
        # way, radius, tip, corner
        self._arcs: list[tuple[Round | Slant | Corner, float, float, float]] = []

    def mark(self) -> tuple[int, int]:
        """How much has been swept, to come back to."""
        return self._count, len(self._arcs)

    def back_to(self, mark: tuple[int, int]) -> None:
        """Put back what was swept since a mark."""
        self._count = mark[0]
        del self._arcs[mark[1] :]

    def sweep_arc(self, way: Round | Slant, radius: float, tip: float, corner: float = 0.0) -> None:
        """Take away what is swept along an arc."""
        self._arcs.append((way, radius, tip, corner))
        for x, y in way.ends:
            self._add(x, x, y, y, radius, tip, corner)

    def carve(self, loop: Floats, tip: float) -> None:
        """Take away what lies within a convex polygon."""
        self._arcs.append((Corner(loop), 0.0, tip, 0.0))

    def sweep(self, row: Row, radius: float, corner: float = 0.0) -> None:
        """Take away what a row sweeps."""
        (x0, y0, _), (x1, y1, _) = row.start, row.end
        if row.turn is not None:
            self.sweep_arc(row.turn, radius, row.tip, corner)
            return
        if x0 == x1 or y0 == y1:
            low = np.array([min(x0, x1), min(y0, y1)])
            high = np.array([max(x0, x1), max(y0, y1)])
            self._add(low[0], high[0], low[1], high[1], radius, row.tip, corner)
            self._surely.lower(low, high, radius - corner, row.tip)
            return
        self.sweep_arc(Slant((x0, y0), (x1, y1)), radius, row.tip, corner)

    def _add(self, *values: float) -> None:
        if self._count == self._swept.shape[1]:
            self._swept = np.hstack([self._swept, np.zeros_like(self._swept)])
        self._swept[:, self._count] = values
        self._count += 1

    def gaps(
        self,
        frame: Frame,
        lines: Floats,
        tip: float,
        reach: float,
        *,
        least: float,
        clear_start: float = 0.0,
    ) -> Gaps:
        """Metal above ``tip`` within a slot of radius ``reach`` about a row.

        Parameters
        ----------
        frame : Frame
            The row seen along its feed.
        lines : ndarray
            Coordinates, along the feed axis, of the lines to look at.
        tip, reach : float
            Z above which, and distance from the row's line within which, metal counts.
        least : float
            Metal thinner than this is passed over.
        clear_start : float
            Radius of a disc about the row's start that is taken for clear.
        """
        u = frame.u(lines)
        chord = _chord(np.maximum(np.maximum(-u, u - frame.length), 0.0), reach)
        here = frame.origin[1 - frame.axis]
        stock_along, stock_across = self._bounds(frame.axis)
        start = np.maximum(here - chord, stock_across[0])
        end = np.minimum(here + chord, stock_across[1])
        off = (lines < stock_along[0]) | (lines > stock_along[1]) | (chord <= 0)
        end = np.where(off, start, end)
        low, high = self._cleared(frame, lines, tip, reach)
        if clear_start > 0:
            half = _chord(np.abs(u), clear_start)
            low = np.hstack([low, np.where(half > 0, here - half, np.inf)[:, None]])
            high = np.hstack([high, np.where(half > 0, here + half, -np.inf)[:, None]])
        each, order = np.arange(len(lines))[:, None], np.argsort(low, axis=1)
        low, high = low[each, order], high[each, order]
        after = np.maximum.accumulate(np.hstack([start[:, None], high]), axis=1)
        until = np.minimum(np.hstack([low, end[:, None]]), end[:, None])
        there = until - after > least
        if frame.aside > 0:
            return Gaps(u, frame.v(after), frame.v(until), there)
        return Gaps(u, frame.v(until), frame.v(after), there)

    def top(self, frame: Frame, u: Floats, v: Floats) -> Floats:
        """Height of the metal at points given along and beside a row."""
        along = frame.origin[frame.axis] + frame.ahead * u
        across = frame.origin[1 - frame.axis] + frame.aside * v
        x, y = (along, across) if frame.axis == 0 else (across, along)
        return self.heights(x, y)

    def heights(self, x: Floats, y: Floats) -> Floats:
        """Height of the metal at points within the stock, one-dimensional arrays."""
        return self._lowered(self._near(x, y), x, y)

    def _lowered(self, swept: Floats, x: Floats, y: Floats) -> Floats:
        """Height of the metal at points that some of the slots and every arc may have lowered."""
        ends = swept[5]
        if swept[6].any():
            ends = ends + rise(np.sqrt(_off_square(swept, x, y)), swept[4], swept[6])
        tops: Floats = np.where(_covers(swept, x, y), ends, np.inf).min(
            axis=1, initial=self.stock.raw_top
        )
        for way, radius, tip, corner in self._arcs:
            off = way.off(x, y)
            end = tip + rise(off, radius, corner) if corner else tip
            tops = np.where(off < radius, np.minimum(tops, end), tops)
        return tops

    def above(self, x: Floats, y: Floats, tip: float) -> Floats:
        """Height of the metal at points within the stock; -inf where none stands above ``tip``.

        Most points near a cutter at work lie in cells that are cleared for certain, or are cleared
        by one of the last few rows: these are looked at first, the others only for what is left.
        """
        tops = np.full(len(x), -np.inf)
        left = np.flatnonzero(self._surely.depth(x, y) > tip)
        swept = self._near(x[left], y[left])
        deep = _narrowed(swept[:, swept[5] <= tip], tip)
        for way, radius, deepest, corner in reversed(self._arcs):
            if deepest <= tip:
                left = left[way.off(x[left], y[left]) >= radius_at(tip - deepest, radius, corner)]
        end, count = deep.shape[1], _ROWS_AT_FIRST
        while end > 0 and len(left):
            some = deep[:, max(end - count, 0) : end]
            left = left[~_covers(some, x[left], y[left]).any(axis=1)]
            end, count = end - count, 2 * count
        some = swept[:, (swept[5] > tip) | (swept[6] > 0)]
        tops[left] = self._lowered(some, x[left], y[left])
        return tops

    def _near(self, x: Floats, y: Floats) -> Floats:
        """What was swept within the bounds of some points."""
        swept = self._swept[:, : self._count]
        if not len(x):
            return swept[:, :0]
        near = (swept[0] - swept[4] < x.max()) & (swept[1] + swept[4] > x.min())
        near &= (swept[2] - swept[4] < y.max()) & (swept[3] + swept[4] > y.min())
        return swept[:, near]

    def _bounds(self, axis: int) -> tuple[tuple[float, float], tuple[float, float]]:
        return (self.stock.x, self.stock.y) if axis == 0 else (self.stock.y, self.stock.x)

    def _cleared(
        self, frame: Frame, lines: Floats, tip: float, reach: float
    ) -> tuple[Floats, Floats]:
        """Intervals swept at or below ``tip`` on each line; empty ones are (inf, -inf)."""
        swept = self._swept[:, : self._count]
        along0, along1, across0, across1 = swept[[0, 1, 2, 3] if frame.axis == 0 else [2, 3, 0, 1]]
        radius, depth = swept[4], swept[5]
        here = frame.origin[1 - frame.axis]
        near = (depth <= tip + 1e-9) & (across0 - radius < here + reach)
        near &= across1 + radius > here - reach
        near &= (along0 - radius < lines.max()) & (along1 + radius > lines.min())
        at = lines[:, None]
        off = np.maximum(np.maximum(along0[near] - at, at - along1[near]), 0.0)
        half = _chord(off, _narrowed(swept[:, near], tip)[4])
        low = [np.where(half > 0, across0[near] - half, np.inf)]
        high = [np.where(half > 0, across1[near] + half, -np.inf)]
        for way, reached, deepest, corner in self._arcs:
            if deepest <= tip + 1e-9:
                wide = float(radius_at(tip - deepest, reached, corner))
                one, two = way.crossed(lines, frame.axis, wide)
                low.append(one)
                high.append(two)
        return np.hstack(low), np.hstack(high)


def _covers(swept: Floats, x: Floats, y: Floats) -> Mask:
    """Which of the swept slots each point lies in, shape (points, slots)."""
    covered: Mask = _off_square(swept, x, y) < swept[4] ** 2
    return covered


def _off_square(swept: Floats, x: Floats, y: Floats) -> Floats:
    """Squared distance of points from the way of each slot, shape (points, slots)."""
    x0, x1, y0, y1 = swept[:4]
    dx = np.maximum(np.maximum(x0 - x[:, None], x[:, None] - x1), 0.0)
    dy = np.maximum(np.maximum(y0 - y[:, None], y[:, None] - y1), 0.0)
    square: Floats = dx * dx + dy * dy
    return square


def _narrowed(swept: Floats, tip: float) -> Floats:
    """Slots that reach down to ``tip`` with the radius that each clears at that height."""
    if not swept[6].any():
        return swept
    narrow = swept.copy()
    narrow[4] = radius_at(tip - swept[5], swept[4], swept[6])
    return narrow


def _chord(off: Floats, radius: float | Floats) -> Floats:
    """Half the chord of a circle at distance ``off`` from its center; 0 outside it."""
    chord: Floats = np.sqrt(np.maximum(radius**2 - off**2, 0.0))
    return chord
