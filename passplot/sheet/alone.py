"""The tables of a plan alone, for a run that draws nothing."""

from passplot.records.job import Job
from passplot.records.plan import Plan
from passplot.records.sheet import Sheet, Table
from passplot.sheet.points import tables_of_points
from passplot.sheet.tables import moves_table, pass_table, style_of

HOLE_COLUMNS = ("hole", "feature", "cutter", "x", "y", "print", "row")
"""Columns of the table of holes, in the order other programs read them."""


def all_tables(plan: Plan) -> tuple[Table, ...]:
    """Moves, passes, and the settings of stepped walls and holes where there are any."""
    return (moves_table(plan), pass_table(plan), *tables_of_points(plan), *hole_tables(plan))


def tables_alone(plan: Plan) -> Sheet:
    """A sheet without pages: laying them out takes as long as planning and proving."""
    return Sheet(stem_of(plan.job), (), all_tables(plan))


def stem_of(job: Job) -> str:
    """The stem of the job's file name."""
    return job.file.replace("\\", "/").rsplit("/", 1)[-1].rsplit(".", 1)[0]


def hole_tables(plan: Plan) -> tuple[Table, ...]:
    """The holes, a row each, in the order gone to; no table where there are none."""
    if not plan.patterns:
        return ()
    style = style_of(plan.job)
    rows = tuple(
        (
            str(hole.number),
            use.feature,
            use.cutter,
            style.at(hole.at.x),
            style.at(hole.at.y),
            str(hole.printed),
            str(hole.row),
        )
        for use in plan.patterns
        for hole in use.holes
    )
    return (Table("holes", HOLE_COLUMNS, rows),)
