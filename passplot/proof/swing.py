"""What a row of axis C meets: the front of the cutter looked at from place to place of its arc."""

from math import ceil, floor

import numpy as np

from passplot.frozen import dataclass
from passplot.proof.engagement import Bite
from passplot.proof.front import Front
from passplot.proof.gauge import Floats, Gauge, Mask
from passplot.proof.metal import Metal
from passplot.proof.rounds import Round

TAKEN = 0.5  # of the radius: length of arc after which what was swept is taken away


@dataclass(frozen=True, slots=True)
class Cutting:
    """A cutter at work: radius, tip, the asked-for side, and the cell lengths are judged by."""

    radius: float
    tip: float
    metal_on_left: bool
    cell: float


def swing(metal: Metal, gauge: Gauge, way: Round, cut: Cutting) -> Bite:
    """The bite of an arc; ``metal`` is left as it was."""
    front = Front(metal, gauge, cut.radius, cut.tip, cut.metal_on_left)
    count = max(ceil(way.length / cut.cell), 8)
    shares = (np.arange(count) + 0.5) / count
    places, feeds = way.at(shares)
    step = way.length / count
    asked, other, any_metal = (np.zeros(count, dtype=bool) for _ in range(3))
    widths, tops = np.zeros(count), np.full(count, cut.tip)
    mark, run = metal.mark(), max(floor(TAKEN * cut.radius / step), 1)
    for begin in range(0, count, run):
        if begin:
            metal.back_to(mark)
            metal.sweep_arc(way.part(0.0, begin / count), cut.radius, cut.tip)
        some = slice(begin, begin + run)
        met = front.met(places[some], feeds[some])
        asked[some], other[some], any_metal[some] = met.asked, met.other, met.any
        tops[some] = np.maximum(met.heights, cut.tip)
        single = begin + np.flatnonzero(met.asked & ~met.other)
        widths[single] = front.widths(places[single], feeds[single])
    metal.back_to(mark)
    return _bite(asked, other, any_metal, widths, tops - cut.tip, step, way.whole, cut)


def _bite(
    asked: Mask,
    other: Mask,
    any_metal: Mask,
    widths: Floats,
    deep: Floats,
    step: float,
    whole: bool,
    cut: Cutting,
) -> Bite:
    both = asked & other
    counted = widths[~_near(both, ceil(cut.radius / step), whole)]
    counted = np.sort(counted)
    spare = int(cut.radius / step) + 2

    def length(which: Mask) -> float:
        return float(np.count_nonzero(which) * step)

    return Bite(
        right_side=length(asked & ~other),
        wrong_side=length(other & ~asked),
        both_ways=length(both),
        cutting=length(any_metal),
        width=float(counted[-2]) if len(counted) > 1 else 0.0,
        steady=float(counted[-spare]) if len(counted) >= spare else 0.0,
        held_width=float(np.sort(widths)[-spare]) if len(widths) >= spare else 0.0,
        slot=_longest(both) * step,
        depth=float(deep[~both].max(initial=0.0)),
        both_depth=float(deep[both].max(initial=0.0)),
    )


def _near(both: Mask, reach: int, whole: bool) -> Mask:
    """Places within a cutter radius of metal met on both sides, or of the end of the way.

    There the width changes by itself; once round has no end.
    """
    near = both.copy()
    for place in np.flatnonzero(both):
        near[max(place - reach, 0) : place + reach + 1] = True
    if not whole:
        near[max(len(near) - reach, 0) :] = True
    return near


def _longest(marks: Mask) -> int:
    edges = np.flatnonzero(np.diff(np.concatenate([[False], marks, [False]]).astype(np.int8)))
    return int((edges[1::2] - edges[::2]).max(initial=0))
