"""From job coordinates to millimetres of paper, with a piece left out where nothing happens.

A long part may be drawn interrupted, its ends moved together (ISO 128 broken view). Each axis is
therefore mapped piece by piece; the piece left out is squeezed into a narrow gap between two
break lines.
"""

from bisect import bisect_right
from itertools import pairwise

from passplot.frozen import dataclass

GAP_MM = 4.0
"""Paper between the two break lines of an interrupted view."""
_LEAST_GAIN_MM = 3.0
"""A break that saves less is not worth its lines."""


@dataclass(frozen=True, slots=True)
class AxisMap:
    """A rising job coordinate to paper, straight between ``stops`` of (job, paper)."""

    stops: tuple[tuple[float, float], ...]

    def __call__(self, value: float) -> float:
        """Paper coordinate of ``value``; past the last stop the end pieces run on."""
        index = bisect_right(self.stops, (value, float("inf"))) - 1
        index = min(max(index, 0), len(self.stops) - 2)
        (low, start), (high, end) = self.stops[index], self.stops[index + 1]
        return start + (value - low) * (end - start) / (high - low)

    @property
    def span(self) -> float:
        """Length on paper."""
        return abs(self.stops[-1][1] - self.stops[0][1])


@dataclass(frozen=True, slots=True)
class View:
    """A view: its two axis maps, its scale, and the paper spans of its breaks.

    ``breaks`` holds (axis, low, high): ``"across"`` where a vertical strip is left out,
    ``"down"`` where a level one is, with paper coordinates.
    """

    across: AxisMap
    down: AxisMap
    scale: float
    breaks: tuple[tuple[str, float, float], ...] = ()

    def at(self, x: float, y: float) -> tuple[float, float]:
        """Paper point of a job point."""
        return self.across(x), self.down(y)


@dataclass(frozen=True, slots=True)
class Reach:
    """What one axis of a view shows: from ``low`` to ``high``, less each (from, to) left out."""

    low: float
    high: float
    left_out: tuple[tuple[float, float], ...] = ()

    def length_mm(self, mm_per_unit: float) -> float:
        """Length on paper."""
        gone = sum(last - first for first, last in self.left_out)
        return (self.high - self.low - gone) * mm_per_unit + GAP_MM * len(self.left_out)

    def mapped(self, start: float, mm_per_unit: float, *, rising: bool) -> AxisMap:
        """The map that puts ``low`` at ``start``; paper rises or falls with the job."""
        way = 1.0 if rising else -1.0
        stops = [(self.low, start)]
        for first, last in self.left_out:
            job, paper = stops[-1]
            near = paper + way * (first - job) * mm_per_unit
            stops += [(first, near), (last, near + way * GAP_MM)]
        job, paper = stops[-1]
        stops.append((self.high, paper + way * (self.high - job) * mm_per_unit))
        return AxisMap(tuple(stops))


def shortened(
    reach: Reach,
    events: tuple[float, ...],
    room_mm: float,
    mm_per_unit: float,
    keep_mm: float,
    whole: tuple[tuple[float, float], ...] = (),
) -> Reach | None:
    """``reach`` with enough left out between neighbouring events to fit ``room_mm``.

    The longest stretches give way first; ``keep_mm`` stays drawn on either side of a gap; nothing
    is left out of the spans ``whole``. None where all of them together are not long enough.
    """
    excess = reach.length_mm(mm_per_unit) - room_mm
    stops = sorted({reach.low, reach.high, *(e for e in events if reach.low < e < reach.high)})
    stretches = sorted(pairwise(stops), key=lambda ends: ends[0] - ends[1])
    left_out: list[tuple[float, float]] = []
    for first, last in stretches:
        if excess <= 0:
            break
        if any(low < last and first < high for low, high in whole):
            continue
        spare = (last - first) * mm_per_unit - 2 * keep_mm - GAP_MM
        if spare < _LEAST_GAIN_MM:
            return None
        gain = min(spare, excess + 0.01)
        middle, half = (first + last) / 2, (gain + GAP_MM) / mm_per_unit / 2
        left_out.append((middle - half, middle + half))
        excess -= gain
    if excess > 0:
        return None
    return Reach(reach.low, reach.high, tuple(sorted(left_out)))
