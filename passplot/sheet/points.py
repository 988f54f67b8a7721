"""Settings of stepped walls as lists and as a table, numbered through all sheets.

Walls that are stepped off at the very same settings, level below level, share one list.
"""

from math import ceil

from passplot.frozen import dataclass
from passplot.records.plan import Pass, Plan
from passplot.records.sheet import Table
from passplot.sheet.numbers import plain
from passplot.sheet.tables import Style, style_of

POINT_COLUMNS = (
    "feature", "cutter", "stage", "pass", "point", "x", "y", "z", "first_axis", "scallop",
)  # fmt: skip
"""Columns of the points table, in the order other programs read them."""


@dataclass(frozen=True, slots=True)
class PointList:
    """Settings that one or several passes share; ``first`` is the number of the first."""

    first: int
    passes: tuple[Pass, ...]

    @property
    def count(self) -> int:
        """How many settings it has."""
        steps = self.passes[0].steps
        return len(steps.points) if steps is not None else 0

    @property
    def last(self) -> int:
        """Number of its last setting."""
        return self.first + self.count - 1

    @property
    def text(self) -> str:
        """The numbers as they are printed: ``1–64``."""
        return f"{self.first}–{self.last}"


def point_lists(plan: Plan) -> tuple[PointList, ...]:
    """Every list of settings of a plan, in the order of its passes."""
    alike: dict[tuple[object, ...], list[Pass]] = {}
    for each in plan.passes:
        if each.steps is not None:
            key = (each.feature, each.cutter, each.steps.points, each.steps.first_axes)
            alike.setdefault(key, []).append(each)
    found: list[PointList] = []
    number = 1
    for passes in alike.values():
        found.append(PointList(number, tuple(passes)))
        number += found[-1].count
    return tuple(found)


def list_of(plan: Plan, each: Pass) -> PointList:
    """The list a stepped pass belongs to."""
    return next(item for item in point_lists(plan) if each in item.passes)


def points_table(plan: Plan) -> Table:
    """A row for every setting of every stepped pass."""
    style = style_of(plan.job)
    rows: list[tuple[str, ...]] = []
    for item in point_lists(plan):
        for each in item.passes:
            rows += cells_of(item, each, style)
    return Table("points", POINT_COLUMNS, tuple(rows))


def cells_of(item: PointList, each: Pass, style: Style) -> list[tuple[str, ...]]:
    """The rows of one pass."""
    steps = each.steps
    if steps is None:
        return []
    scallop = scallop_text(steps.scallop, style)
    return [
        (
            each.feature,
            each.cutter,
            each.stage,
            str(each.number),
            str(item.first + index),
            style.at(point.x),
            style.at(point.y),
            style.at(each.z),
            steps.first_axes[index - 1] if index else "",
            scallop,
        )
        for index, point in enumerate(steps.points)
    ]


def scallop_text(height: float, style: Style) -> str:
    """A scallop, plain, never below the true one."""
    step = 10**style.places
    return plain(ceil(height * step - 1e-6) / step, style.places)


def tables_of_points(plan: Plan) -> tuple[Table, ...]:
    """The points table where there are stepped walls, else none."""
    table = points_table(plan)
    return (table,) if table.rows else ()
