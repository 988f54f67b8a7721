"""A sheet of several features whose drawing would come out too small: a sheet for each of them."""

from collections.abc import Sequence
from itertools import groupby

from passplot.records.plan import Plan
from passplot.sheet.areas import Areas
from passplot.sheet.packing import Sheet
from passplot.sheet.scene import MM_PER_INCH, scenes_of
from passplot.sheet.table_choice import roomiest

_SMALL = 0.5
"""A scale below 1:2 is too small to be read from the machine."""
_LARGE_WORK_MM = 120.0
"""Work no longer than this finds room at 1:2 beside any table."""


def parted(plan: Plan, sheets: Sequence[Sheet], areas: Areas) -> tuple[Sheet, ...]:
    """The sheets, those parted by feature that are drawn larger then."""
    stock = plan.job.stock
    mm = MM_PER_INCH if plan.job.inch else 1.0
    longest = max(high - low for low, high in (stock.x, stock.y)) * mm
    if longest <= _LARGE_WORK_MM:
        return tuple(sheets)
    return tuple(part for sheet in sheets for part in _parts(plan, sheet, areas))


def _parts(plan: Plan, sheet: Sheet, areas: Areas) -> list[Sheet]:
    """The features of a sheet, as many together as are drawn large enough."""
    features = [tuple(runs) for _, runs in groupby(sheet, lambda run: run.feature)]
    if len(features) == 1 or _scale(plan, sheet, areas) >= _SMALL:
        return [sheet]
    found: list[Sheet] = []
    for runs in features:
        if found and _scale(plan, (*found[-1], *runs), areas) >= _SMALL:
            found[-1] = (*found[-1], *runs)
        elif _scale(plan, runs, areas) < _SMALL:
            return [sheet]
        else:
            found.append(runs)
    return found


def _scale(plan: Plan, sheet: Sheet, areas: Areas) -> float:
    """The scale a sheet's drawing comes out at."""
    scene = scenes_of(plan, (sheet,))[0]
    return roomiest(scene, areas).frame.view.scale
