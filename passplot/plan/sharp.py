"""The block as a square end meets it after cutters with rounded ends: their fillets stand on it.

``Metal`` takes away whole diameters, which is right for walls; what rounded ends leave lower down
is told here in layers: n + 1 of them to a corner radius, each cleared no farther than the end
reaches at its lower side, so that a little more stands than in truth, never less.
"""

from collections.abc import Iterable
from math import sqrt
from operator import itemgetter

import shapely
from shapely.geometry.base import BaseGeometry

from passplot.plan.bench import Bench
from passplot.plan.ends import corner_of
from passplot.plan.metal import Metal, stadium, thick
from passplot.plan.underside import Cut, line_of
from passplot.records import plan as names
from passplot.records.plan import Move

_LAYERS = 8
"""Layers to a corner radius, an eighth of it apart in plan view."""


def as_met(bench: Bench, metal: Metal, block: Metal) -> Metal:
    """The metal as a cutter meets it: with fillets on it if its end is square and they are there.

    ``block`` is the same with nothing cut of it. What is cut of another than ``metal`` is not cut
    of that: see ``caught_up``.
    """
    under = metal.under
    if under is None or not under.rounded or corner_of(bench.use.cutter):
        return metal
    return with_fillets(block, under.cut)


def with_fillets(block: Metal, cut: Iterable[Cut]) -> Metal:
    """A whole block with what was cut of it taken away, all but what rounded ends leave.

    Parameters
    ----------
    cut : iterable
        Tip, radius and corner of a cutter with the line it went along.
    """
    for (z, radius, corner), ways in sorted(_ways(cut).items(), key=itemgetter(0)):
        for layer in range(_LAYERS if corner else 0):
            beyond = corner * layer / _LAYERS
            low = z + corner - sqrt(corner**2 - beyond**2)
            _clear(block, ways, radius - corner + beyond, low)
        _clear(block, ways, radius, z + corner)
    return block


def _clear(block: Metal, ways: list[BaseGeometry], radius: float, z: float) -> None:
    """Take away what is swept along ways, unless lower ones have taken it: layers cost time."""
    swept = shapely.union_all(shapely.buffer(ways, radius, quad_segs=block.quarter))
    if thick(block.at(z).intersection(swept), block.fine):
        block.remove(swept, z)


def _ways(cut: Iterable[Cut]) -> dict[tuple[float, float, float], list[BaseGeometry]]:
    """The ways of the axis by tip, radius and corner of the cutter."""
    found: dict[tuple[float, float, float], list[BaseGeometry]] = {}
    for end, (a, b) in cut:
        found.setdefault(end, []).append(line_of(a, b))
    return found


def caught_up(metal: Metal, bench: Bench, moves: tuple[Move, ...]) -> None:
    """Take from ``metal`` what a cutter has cut of the block with its fillets."""
    at = [(move.x, move.y) for move in moves]
    for a, b, move in zip(at, at[1:], moves[1:], strict=False):
        if move.move in (names.CUT, names.PLUNGE) and move.stage != names.HOLES:
            metal.remove(stadium(a, b, bench.radius, metal.quarter), move.z)
            if metal.under is not None:
                metal.under.take(bench, a, b, move.z)
