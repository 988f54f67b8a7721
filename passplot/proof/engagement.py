"""What a cut row meets: on which side of the line of feed, how wide, how deep.

The advancing cutter first touches a point at (u forward, v to the left of its line) when its
axis stands at s = u - √(r² - v²). The metal met at s on both sides of the line is cut both ways,
metal on the asked-for side alone is conventional (or the climb that was asked for), metal on the
other side alone is climb (the reverse). Lines across the way stand for the strip of one cell.

The rule is the vector test of the direction table: with the spindle clockwise seen from above a
tooth on the left side moves the way the cutter is fed, against the work, hence conventional.
"""

import numpy as np

from passplot.frozen import dataclass
from passplot.proof.gauge import Floats, Mask
from passplot.proof.metal import Frame, Gaps

LINE_SHARE = 0.01  # metal within this share of the diameter of the line of feed has no side
STATIONS_A_CELL = 4  # places along the feed at which a side is noted


@dataclass(frozen=True, slots=True)
class Bite:
    """What one cut row met; lengths in job units.

    Attributes
    ----------
    right_side, wrong_side, both_ways, cutting : float
        Length of feed with metal on the asked-for side only, on the other only, on both, on any.
    width : float
        Greatest radial engagement with metal on the asked-for side alone, held over more than a
        cell of feed. The growth beside a both-ways length and at the end of the way is left out:
        within one cutter radius of a corner the width changes by itself.
    steady : float
        The like, exceeded for no more than a cutter radius of feed in all.
    held_width : float
        Width, metal past the line of feed included, that is exceeded for no more than a cutter
        radius of feed in all; 0 for a row no longer than that.
    slot : float
        Longest unbroken both-ways length.
    depth, both_depth : float
        Greatest axial engagement away from, and in, the both-ways lengths.
    short : bool
        Whether it is of a short row of a stepped wall (stepped.py).
    """

    right_side: float = 0.0
    wrong_side: float = 0.0
    both_ways: float = 0.0
    cutting: float = 0.0
    width: float = 0.0
    steady: float = 0.0
    held_width: float = 0.0
    slot: float = 0.0
    depth: float = 0.0
    both_depth: float = 0.0
    short: bool = False


@dataclass(frozen=True, slots=True)
class _Stations:
    """Places along the feed, one every ``step``, at which what is met is noted.

    ``radius`` is the cutter's; each line looked at stands for a strip of ``pitch``.
    """

    step: float
    count: int
    radius: float
    pitch: float

    def touched(self, u: Floats, near: Floats, far: Floats) -> Mask:
        """Places at which metal from ``near`` to ``far`` beside the line of feed is first met."""
        first = u - np.sqrt(np.maximum(self.radius**2 - near**2, 0.0)) - self.pitch / 2
        last = u - np.sqrt(np.maximum(self.radius**2 - far**2, 0.0)) + self.pitch / 2
        return self.marked(first, last)

    def marked(self, low: Floats, high: Floats) -> Mask:
        """Places that lie in any of the intervals."""
        # the nudge keeps neighbouring intervals from parting where they round to a half
        first = np.clip(np.round(low / self.step - 1e-6), 0, self.count).astype(np.int64)
        last = np.clip(np.round(high / self.step + 1e-6), 0, self.count).astype(np.int64)
        change = np.bincount(first, minlength=self.count + 1).astype(np.int64)
        change -= np.bincount(last, minlength=self.count + 1)
        return np.cumsum(change[:-1]) > 0

    def at(self, places: Floats) -> np.ndarray[tuple[int, ...], np.dtype[np.int64]]:
        """Number of the station each place along the feed belongs to."""
        return np.clip(places / self.step, 0, self.count - 1).astype(np.int64)

    def widths(self, places: Floats, widths: Floats) -> tuple[float, float]:
        """Greatest width met along the feed but for one cell; but for a cutter radius in all.

        At the end of its way a cutter may touch a sliver with all of its front.
        """
        cells = np.zeros(self.count // STATIONS_A_CELL + 1)
        np.maximum.at(cells, self.at(places) // STATIONS_A_CELL, widths)
        cells.sort()
        spare = int(self.radius / self.pitch) + 2
        return (
            float(cells[-2]) if len(cells) > 1 else 0.0,
            float(cells[-spare]) if len(cells) >= spare else 0.0,
        )

    def length(self, which: Mask) -> float:
        """Feed covered by the marked stations."""
        return float(np.count_nonzero(which) * self.step)


def engage(
    gaps: Gaps, frame: Frame, radius: float, pitch: float, metal_on_left: bool
) -> tuple[Bite, "BothWays"]:
    """Measure the bite of a row from the metal on lines across its way.

    Parameters
    ----------
    gaps : Gaps
        Metal in the row's way, on lines ``pitch`` apart.
    frame : Frame
        The row seen along its feed.
    radius, pitch : float
        Of the cutter; from line to line. Job units.
    metal_on_left : bool
        The asked-for side.

    Returns
    -------
    Bite
        Depths still 0.
    BothWays
        Where along the feed metal is met on both sides.
    """
    count = max(int(np.ceil(frame.length / pitch * STATIONS_A_CELL)), 1)
    stations = _Stations(frame.length / count, count, radius, pitch)
    right, wrong, any_metal = _sides(gaps, stations, metal_on_left)
    both = right & wrong
    where = BothWays(stations, both)
    widths, held = _widths(gaps, radius, metal_on_left)
    met = gaps.u - np.sqrt(np.maximum(radius**2 - (radius - widths) ** 2, 0.0))
    # running up to a corner the cut widens by itself over the last radius, even where the bite
    # stops short of the line of feed; a row that runs off the work meets nothing there
    running_in = met > frame.length - radius
    width, steady = stations.widths(met, np.where(where.near(met) | running_in, 0.0, widths))
    bite = Bite(
        right_side=stations.length(right & ~wrong),
        wrong_side=stations.length(wrong & ~right),
        both_ways=stations.length(both),
        cutting=stations.length(any_metal),
        width=width,
        steady=steady,
        held_width=_held(held[gaps.u <= frame.length], radius, pitch),
        slot=_longest(both) * stations.step,
    )
    return bite, where


def _sides(gaps: Gaps, stations: _Stations, metal_on_left: bool) -> tuple[Mask, Mask, Mask]:
    """Places at which metal is met on the asked-for side, on the other, and at all."""
    u = np.broadcast_to(gaps.u[:, None], gaps.low.shape)[gaps.there]
    low, high = gaps.low[gaps.there], gaps.high[gaps.there]
    if not metal_on_left:
        low, high = -high, -low  # from here on the asked-for side is positive
    line = 2 * stations.radius * LINE_SHARE
    asked, other = high > line, low < -line
    nearest = np.where((low < 0) & (high > 0), 0.0, np.minimum(np.abs(low), np.abs(high)))
    return (
        stations.touched(u[asked], np.maximum(low[asked], line), high[asked]),
        stations.touched(u[other], np.maximum(-high[other], line), -low[other]),
        stations.touched(u, nearest, np.maximum(np.abs(low), np.abs(high))),
    )


def _widths(gaps: Gaps, radius: float, metal_on_left: bool) -> tuple[Floats, Floats]:
    """Radial engagement on each line: of metal beside the line of feed, and past it too.

    Metal beside the line is taken to reach as far as the cutter does; with what lies past it, a
    land narrower than the cutter is as wide as it is.
    """
    inner = gaps.low if metal_on_left else -gaps.high
    outer = gaps.high if metal_on_left else -gaps.low
    line = 2 * radius * LINE_SHARE  # metal this little past the line is not cut both ways
    beside = np.where(gaps.there & (outer > 0), np.maximum(inner, -line), np.inf).min(axis=1)
    past = np.where(gaps.there, inner, np.inf).min(axis=1)
    edge = np.minimum(np.where(gaps.there, outer, -np.inf).max(axis=1), radius)
    return np.maximum(radius - beside, 0.0), np.maximum(edge - past, 0.0)


def _held(widths: Floats, radius: float, pitch: float) -> float:
    """The width exceeded on lines that make up no more than a cutter radius."""
    spare = int(radius / pitch) + 1
    return float(np.sort(widths)[-spare - 1]) if len(widths) > spare else 0.0


def _longest(marks: Mask) -> int:
    """Length of the longest unbroken run of marks."""
    edges = np.flatnonzero(np.diff(np.concatenate([[False], marks, [False]]).astype(np.int8)))
    return int((edges[1::2] - edges[::2]).max(initial=0))


class BothWays:
    """Where along a row metal is met on both sides of the line of feed."""

    def __init__(self, stations: _Stations, both: Mask) -> None:
        self._stations = stations
        self._both = both
        starts, radius = np.flatnonzero(both).astype(np.float64) * stations.step, stations.radius
        self._beside = stations.marked(starts - radius, starts + radius + stations.step)

    @property
    def ends(self) -> tuple[float, float]:
        """The both-ways lengths that the row begins and ends with."""
        one_way = np.flatnonzero(~self._both)
        whole = len(self._both)
        lead = int(one_way[0]) if len(one_way) else whole
        trail = whole - 1 - int(one_way[-1]) if len(one_way) else whole
        return lead * self._stations.step, trail * self._stations.step

    def near(self, places: Floats) -> Mask:
        """Whether each place along the feed is within a cutter radius of a both-ways length."""
        beside: Mask = self._beside[self._stations.at(places)]
        return beside

    def depths(self, u: Floats, v: Floats, depth: Floats) -> tuple[float, float]:
        """Greatest depth of metal away from the both-ways lengths, and in them.

        Parameters
        ----------
        u, v, depth : ndarray
            Points of the metal met, seen along the feed, and how deep it is cut there.
        """
        radius = self._stations.radius
        touched = u - np.sqrt(np.maximum(radius**2 - v**2, 0.0))
        both: Mask = self._both[self._stations.at(touched)]
        return float(depth[~both].max(initial=0.0)), float(depth[both].max(initial=0.0))
