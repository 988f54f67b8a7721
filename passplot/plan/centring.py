"""Gaps a cutter's own width: whether the readout can show where they are centred."""

from itertools import pairwise

from passplot.plan.areas import standing
from passplot.plan.cells import Cells
from passplot.plan.grid import Grid
from passplot.plan.zones import SLACK
from passplot.records.job import Job
from passplot.records.shop import Cutter


def worth_using(
    cells: Cells, job: Job, index: int, cutters: tuple[Cutter, ...], grid: Grid
) -> tuple[Cutter, ...]:
    """The cutters of a feature without those that a smaller one has to stand in for.

    A cutter just as wide as a gap whose middle the readout cannot show has no position in it.
    """
    smallest = min((cutter.radius for cutter in cutters), default=0.0)
    return tuple(
        cutter
        for cutter in cutters
        if cutter.radius == smallest or _centred(cells, job, index, cutter.radius, grid)
    )


def _centred(cells: Cells, job: Job, index: int, radius: float, grid: Grid) -> bool:
    """Whether a cutter has a position in every gap of a feature it fits into."""
    feature = job.features[index]
    walls = standing(cells, job, tuple(each.floor for each in job.features), feature.floor)
    own = cells.inner(cells.clears[index])
    limited = {
        (limit.axis.upper(), round(limit.at / SLACK))
        for limit in feature.limits
        if limit.high > limit.low
    }
    for axis, mask, mine, borders in (("X", walls, own, cells.xs), ("Y", walls.T, own.T, cells.ys)):
        for j in range(mask.shape[1]):
            stops = [i for i in range(mask.shape[0]) if mask[i, j]]
            for low, high in pairwise(stops):
                if high == low + 1 or not mine[low + 1 : high, j].any():
                    continue
                a, b = borders[low + 1], borders[high]
                room, middle = (b - a) / 2 - radius, (a + b) / 2
                off = abs(grid.near(middle) - middle)
                kept = {(axis, round(a / SLACK)), (axis, round(b / SLACK))} <= limited
                if -SLACK <= room < off - 2 * SLACK and not kept:
                    return False
    return True
