"""Where the metal is gone for certain: cells of the stock that lie wholly in what one row swept.

Only a quick first look: a point in another cell may be cleared as well; that a formula has to tell.
"""

from math import ceil, hypot

import numpy as np

from passplot.proof.gauge import Floats
from passplot.records.job import Stock

_MARGIN = 1e-6  # of a cell: rounding of which cell a point lies in
MOST_CELLS = 1_000_000


class Cleared:
    """How deep each cell is cleared.

    Parameters
    ----------
    stock : Stock
    pitch : float
        About the size of a cell, job units.
    """

    def __init__(self, stock: Stock, pitch: float) -> None:
        (x0, x1), (y0, y1) = stock.x, stock.y
        pitch = max(pitch, ((x1 - x0) * (y1 - y0) / MOST_CELLS) ** 0.5)
        shape = (ceil((x1 - x0) / pitch), ceil((y1 - y0) / pitch))
        self._tips = np.full(shape, np.inf)
        self._corner = np.array([x0, y0])
        self._cell = np.array([(x1 - x0) / shape[0], (y1 - y0) / shape[1]])
        self._half = hypot(*self._cell) / 2 * (1 + _MARGIN)

    def lower(self, low: Floats, high: Floats, radius: float, tip: float) -> None:
        """Note what a cutter clears between two corners, ``low`` and ``high``, of its way."""
        reach = radius - self._half
        if reach <= 0:
            return
        first = np.maximum(np.floor((low - reach - self._corner) / self._cell).astype(int), 0)
        last = np.ceil((high + reach - self._corner) / self._cell).astype(int)
        off = []
        for axis in (0, 1):
            count = np.arange(first[axis], min(last[axis], self._tips.shape[axis]))
            at = self._corner[axis] + (count + 0.5) * self._cell[axis]
            off.append(np.maximum(np.maximum(low[axis] - at, at - high[axis]), 0.0) ** 2)
        view = self._tips[first[0] : first[0] + len(off[0]), first[1] : first[1] + len(off[1])]
        np.minimum(view, tip, out=view, where=off[0][:, None] + off[1] < reach**2)

    def depth(self, x: Floats, y: Floats) -> Floats:
        """Z down to which points within the stock are cleared for certain; inf where they may not.

        A single look at each point's own cell.
        """
        last = np.array(self._tips.shape) - 1
        i = np.minimum(((x - self._corner[0]) / self._cell[0]).astype(int), last[0])
        j = np.minimum(((y - self._corner[1]) / self._cell[1]).astype(int), last[1])
        tips: Floats = self._tips[i, j]
        return tips
