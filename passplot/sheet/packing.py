"""Which runs share a sheet: as many as its table holds, never smaller type."""

from dataclasses import replace

from passplot.records.plan import Plan
from passplot.sheet.areas import TableRoom
from passplot.sheet.groups import Run, chunks, runs_of
from passplot.sheet.pass_list import fits, plan_table
from passplot.sheet.scene import scenes_of

_MOST_ROWS = 40


def pack(plan: Plan, room: TableRoom) -> tuple[tuple[Run, ...], ...]:
    """The runs of each sheet, whose table has that room."""
    sheets: list[tuple[Run, ...]] = []
    for run in runs_of(plan):
        together = (*sheets[-1], run) if sheets else (run,)
        if sheets and _go_together(sheets[-1], run) and _fits(plan, together, room):
            sheets[-1] = together
            continue
        sheets += [(part,) for part in _split(plan, run, room)]
    return tuple(sheets)


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
    """A run in as few pieces as each fit a sheet."""
    for most in range(min(len(run.rows), _MOST_ROWS), 0, -1):
        parts = chunks(run, most)
        if all(_fits(plan, (part,), room) for part in parts):
            return parts
    return chunks(replace(run), 1)
