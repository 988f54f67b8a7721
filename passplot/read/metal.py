"""Whether anything is left of an area: looked for beside every stretch of every outline.

The outlines cut the plan view into pieces; each piece that there is has a stretch of some outline
at its edge. So it is enough to look to both sides of the middle of each stretch between two
crossings. Pieces narrower than a hair count as none.
"""

from collections.abc import Sequence
from itertools import pairwise

from passplot.curves import direction, holds, length, meetings, point_at, share_of
from passplot.read.block import SAME
from passplot.records.shapes import Edge, Loop, Point

Loops = tuple[Loop, ...]
Cleared = tuple[Loops, Loops]
"""Loops whose union is cleared, less the union of those that are kept."""


def anything_left(within: Sequence[Loops], without: Sequence[Cleared]) -> bool:
    """Whether some place lies in a loop of each of ``within`` and in nothing of ``without``."""
    groups = [*within, *(loops for cleared in without for loops in cleared)]
    edges = [edge for loops in groups for loop in loops for edge in loop.edges]
    return any(
        all(_in_any(loops, spot) for loops in within)
        and not any(_in_any(area, spot) and not _in_any(keep, spot) for area, keep in without)
        for edge in edges
        for spot in _beside(edge, edges)
    )


def _in_any(loops: Loops, spot: Point) -> bool:
    return any(holds(loop, spot) for loop in loops)


def _beside(edge: Edge, edges: list[Edge]) -> list[Point]:
    """Places a hair to the left and right of each stretch of an edge."""
    span = length(edge)
    shares = {0.0, 1.0}
    for other in edges:
        if other is not edge:
            shares |= {share_of(edge, at) for at in meetings(edge, other)}
    spots = []
    for first, last in pairwise(sorted(share for share in shares if 0 <= share <= 1)):
        if (last - first) * span <= SAME:
            continue
        middle = (first + last) / 2
        at, (dx, dy) = point_at(edge, middle), direction(edge, middle)
        spots += [
            Point(at.x - side * SAME / 2 * dy, at.y + side * SAME / 2 * dx) for side in (-1, 1)
        ]
    return spots
