"""Which runs share a sheet: as many as its table holds, never smaller type."""

from dataclasses import replace

from passplot.records.plan import Plan
from passplot.sheet.areas import TableRoom
from passplot.sheet.groups import Run, runs_of
from passplot.sheet.scene import scenes_of
from passplot.sheet.table_plan import fits, plan_table

_MOST_ROWS = 40
_LEAST_ROWS = 3
"""Fewer rows of a run are not worth a heading on another's sheet."""


def pack(plan: Plan, room: TableRoom) -> tuple[tuple[Run, ...], ...]:
    """The runs of each sheet, whose table has that room."""
    sheets: list[tuple[Run, ...]] = []
    for run in runs_of(plan):
        rest = run
        if sheets and _go_together(sheets[-1], run):
            if _fits(plan, (*sheets[-1], run), room):
                sheets[-1] = (*sheets[-1], run)
                continue
            head = _head(plan, sheets[-1], run, room)
            if head is not None:
                sheets[-1] = (*sheets[-1], head)
                rest = replace(run, rows=run.rows[len(head.rows) :], whole=False)
        sheets += [(part,) for part in _split(plan, rest, room)]
    return tuple(sheets)


def _head(plan: Plan, runs: tuple[Run, ...], run: Run, room: TableRoom) -> Run | None:
    """The first rows of a run that still fit on the sheet of the same feature's runs before it."""
    if runs[-1].feature != run.feature:
        return None
    for count in range(len(run.rows) - 1, _LEAST_ROWS - 1, -1):
        head = replace(run, rows=run.rows[:count], whole=False)
        if _fits(plan, (*runs, head), room):
            return head
    return None


def _go_together(runs: tuple[Run, ...], run: Run) -> bool:
    """Whether a run may be drawn with others: same cutter, same stage, a diagram stays readable."""
    last = runs[-1]
    if (last.cutter, last.stage) != (run.cutter, run.stage) or not last.whole:
        return False
    return len({each.feature for each in (*runs, run)}) <= 2 and len(last.levels) == len(run.levels)


def _fits(plan: Plan, runs: tuple[Run, ...], room: TableRoom) -> bool:
    scene = scenes_of(plan, (runs,))[0]
    return fits(plan_table(scene, room))


def _split(plan: Plan, run: Run, room: TableRoom) -> tuple[Run, ...]:
    """A run in pieces, each as long as a sheet holds, the last not much shorter."""
    if _fits(plan, (run,), room):
        return (run,)
    parts: list[Run] = []
    rows = run.rows
    while rows:
        count = next(
            (
                count
                for count in range(min(len(rows), _MOST_ROWS), 1, -1)
                if _fits(plan, (replace(run, rows=rows[:count], whole=False),), room)
            ),
            1,
        )
        left = len(rows) - count
        if 0 < left < _LEAST_ROWS < count:
            count -= _LEAST_ROWS - left
        parts.append(replace(run, rows=rows[:count], whole=False))
        rows = rows[count:]
    return tuple(parts)
