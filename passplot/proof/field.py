"""The height map: how high the metal stands at the middle of each cell of the stock.

A cell is lowered when the cutter passes over its middle. Heights are exact, being tips of rows;
sideways the map knows nothing finer than its cell, so lengths that must be exact come from
formulas instead (metal.py, walls.py).
"""

from math import ceil, sqrt

import numpy as np

from passplot.frozen import dataclass
from passplot.proof.gauge import Floats, Mask
from passplot.proof.rows import Row
from passplot.records.job import Stock

CELLS_A_DIAMETER = 40  # of the smallest cutter: cusps and corners show
MOST_CELLS = 1_000_000  # keeps a large plate and a small cutter within a second


@dataclass(frozen=True, slots=True)
class Window:
    """What one row meets in the map: a rectangle of cells about it.

    ``x``, ``y`` are slices of the map; ``swept`` marks cells whose middle the cutter passes over;
    ``off`` is the squared distance of every cell from the axis; ``height`` is a copy of the
    heights before the row.
    """

    x: slice
    y: slice
    swept: Mask
    off: Floats
    height: Floats


class Field:
    """The map of a block.

    Attributes
    ----------
    xs, ys : ndarray
        Middles of the cells.
    cell : float
        The longer side of a cell, job units; cells fill the stock exactly.
    height : ndarray, shape (len(xs), len(ys))
    """

    def __init__(self, stock: Stock, diameter: float) -> None:
        length, width = stock.x[1] - stock.x[0], stock.y[1] - stock.y[0]
        pitch = max(diameter / CELLS_A_DIAMETER, sqrt(length * width / MOST_CELLS))
        columns, rows = ceil(length / pitch), ceil(width / pitch)
        self.xs = stock.x[0] + (np.arange(columns, dtype=np.float64) + 0.5) * (length / columns)
        self.ys = stock.y[0] + (np.arange(rows, dtype=np.float64) + 0.5) * (width / rows)
        self.pitches = (length / columns, width / rows)
        self.cell = max(self.pitches)
        self.height = np.full((columns, rows), stock.raw_top)

    def window(self, row: Row, reach: float) -> Window:
        """The cells within ``reach`` of the axis during a row."""
        (x0, y0, _), (x1, y1, _) = row.start, row.end
        x = _slice(self.xs, min(x0, x1) - reach, max(x0, x1) + reach)
        y = _slice(self.ys, min(y0, y1) - reach, max(y0, y1) + reach)
        if row.turn is not None:
            low_x, high_x, low_y, high_y = row.turn.bounds
            x = _slice(self.xs, low_x - reach, high_x + reach)
            y = _slice(self.ys, low_y - reach, high_y + reach)
            off = row.turn.off(self.xs[x][:, None], self.ys[y][None, :]) ** 2
        elif x0 != x1 and y0 != y1:
            off = _slanted(self.xs[x], self.ys[y], row)
        else:
            off = _beyond(self.xs[x], x0, x1)[:, None] ** 2 + _beyond(self.ys[y], y0, y1) ** 2
        return Window(x, y, off <= reach**2 + 1e-12, off, self.height[x, y].copy())

    def lower(self, window: Window, bottom: float | Floats) -> None:
        """Cut the swept cells of a window down to ``bottom``: a Z, or one for each cell."""
        view = self.height[window.x, window.y]
        np.minimum(view, bottom, out=view, where=window.swept)

    def along(self, axis: int, low: float, high: float) -> Floats:
        """Middles of the cells between two coordinates along X (0) or Y (1)."""
        places = self.xs if axis == 0 else self.ys
        return places[_slice(places, low, high)]


def _slice(places: Floats, low: float, high: float) -> slice:
    return slice(int(np.searchsorted(places, low)), int(np.searchsorted(places, high)))


def _beyond(places: Floats, one: float, two: float) -> Floats:
    """How far each coordinate lies outside the interval between two others."""
    low, high = min(one, two), max(one, two)
    return np.maximum(np.maximum(low - places, places - high), 0.0)


def _slanted(xs: Floats, ys: Floats, row: Row) -> Floats:
    """Squared distance of a grid from a row that moves X and Y at once."""
    (x0, y0, _), (x1, y1, _) = row.start, row.end
    dx, dy = x1 - x0, y1 - y0
    t = ((xs[:, None] - x0) * dx + (ys - y0) * dy) / (dx * dx + dy * dy)
    t = np.clip(t, 0.0, 1.0)
    off: Floats = (xs[:, None] - x0 - t * dx) ** 2 + (ys - y0 - t * dy) ** 2
    return off
