"""Inside corners with a written radius: how far the rounding may differ from it.

Such a corner must come out within the scallop or within its radius's own limits. The middle of a
square corner rounded with R lies (√2 - 1) R from it, so a radius that differs by e moves it by
(√2 - 1) e.
"""

import numpy as np

from passplot.proof.case import Case
from passplot.proof.gauge import Floats, Mask
from passplot.proof.part import Part
from passplot.records.job import Feature
from passplot.records.shapes import Arc

CORNER_SHARE = 2**0.5 - 1


def corner_room(case: Case, part: Part, *, out: bool) -> Floats:
    """What each boundary piece may keep (``out``) or lose beyond the part; job units.

    Any piece may keep the scallop; only a rounded corner may lose as much.
    """
    pieces = part.ground.pieces
    room = np.full(len(pieces.owner), case.job.finish.cusp if out else 0.0)
    for number, feature in enumerate(case.job.features):
        if feature.corner_radius is None and feature.rounded is None:
            continue
        mine = _rounded(part, number, feature)
        spread = 0.0
        if feature.corner_radius is not None:
            size = feature.corner_radius
            spread = size.high - size.middle if out else size.middle - size.low
        room[mine] = max(case.job.finish.cusp, CORNER_SHARE * spread)
    return room


def _rounded(part: Part, number: int, feature: Feature) -> Mask:
    """The arcs of a feature's boundary that round its inside corners.

    They are those which its loops have only when rounded; of loops that come rounded, those with
    the center on the free side.
    """
    pieces = part.ground.pieces
    inward = ((pieces.curves.center - pieces.middle) * part.free).sum(axis=1) > 0
    mine: Mask = (pieces.owner == number) & (pieces.curves.turn != 0) & inward
    if feature.rounded is None:
        return mine
    for loop in (*feature.area, *feature.keep):
        for edge in loop.edges:
            if isinstance(edge, Arc):
                center = np.array([edge.center.x, edge.center.y])
                hair = part.ground.hair
                same = np.abs(pieces.curves.center - center).max(axis=1) < hair
                mine &= ~(same & (np.abs(pieces.curves.radius - edge.radius) < hair))
    return mine
