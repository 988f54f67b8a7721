"""The tables of a plan alone, for a run that draws nothing."""

from passplot.records.plan import Plan
from passplot.records.sheet import Sheet, Table
from passplot.sheet.hole_page import hole_tables
from passplot.sheet.points import tables_of_points
from passplot.sheet.tables import moves_table, pass_table


def all_tables(plan: Plan) -> tuple[Table, ...]:
    """Moves, passes, and the settings of stepped walls and holes where there are any."""
    return (moves_table(plan), pass_table(plan), *tables_of_points(plan), *hole_tables(plan))


def tables_alone(plan: Plan) -> Sheet:
    """A sheet without pages: laying them out takes as long as planning and proving."""
    return Sheet(stem_of(plan), (), all_tables(plan))


def stem_of(plan: Plan) -> str:
    """The stem of the job's file name."""
    return plan.job.file.replace("\\", "/").rsplit("/", 1)[-1].rsplit(".", 1)[0]
