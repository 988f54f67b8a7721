"""The metal as each cutter meets it.

To a cutter with a rounded end, sides and widths are told by full diameters. A square one meets the
fillets and scallops that rounded ends before it left.
"""

from collections.abc import Iterable

from passplot.proof.forms import corner_of
from passplot.proof.gauge import Floats
from passplot.proof.metal import Metal
from passplot.proof.rows import Row
from passplot.records.job import Stock
from passplot.records.shop import Cutter


class Met:
    """Two tellings of one block, kept apart where rounded and square ends work it.

    Parameters
    ----------
    stock : Stock
    cutters : iterable of Cutter
        All that work it.
    room : int
        About how many rows there are.
    pitch : float
        Of cells for a first look, job units.
    """

    def __init__(self, stock: Stock, cutters: Iterable[Cutter], room: int, pitch: float) -> None:
        corners = [corner_of(cutter) for cutter in cutters]
        self.rounded = any(corners)
        self._full = Metal(stock, room, pitch)
        both = self.rounded and not all(corners)
        self._sharp = Metal(stock, room, pitch) if both else self._full

    def by(self, cutter: Cutter) -> Metal:
        """What that cutter meets."""
        return self._full if corner_of(cutter) else self._sharp

    def sweep(self, row: Row, cutter: Cutter) -> None:
        """Take away what a row sweeps."""
        self._full.sweep(row, cutter.radius)
        if self._sharp is not self._full:
            self._sharp.sweep(row, cutter.radius, corner_of(cutter))

    def carve(self, loop: Floats, tip: float) -> None:
        """Take away what lies within a convex polygon."""
        self._full.carve(loop, tip)
        if self._sharp is not self._full:
            self._sharp.carve(loop, tip)
