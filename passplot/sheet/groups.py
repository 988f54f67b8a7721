"""Passes put together as they are drawn: a run of one feature, its levels on top of each other."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import groupby

from passplot.frozen import dataclass
from passplot.records.plan import FINISH, WHOLE_TURN, Pass, Plan, Turn
from passplot.records.shapes import Point
from passplot.sheet.turns import arc_points

MOST_LEVELS = 4
"""Numbers that find room in a line of the table."""
_MOST_AGAIN = 1.5
_FEWEST_AGAIN = 10
"""A floor that goes along few of the rough lines has a list of its own, with its walls."""


@dataclass(frozen=True, slots=True)
class Row:
    """A line of the pass table: the same settings at every level of its run.

    The last levels may want it: a floor is finished along most of the lines of its roughing.
    """

    passes: tuple[Pass, ...]

    @property
    def first(self) -> Pass:
        return self.passes[0]


@dataclass(frozen=True, slots=True)
class Run:
    """Rows of one feature with one cutter in one stage, drawn and listed together.

    ``levels`` are the heights of the tip, one for each pass of a row; finish cuts over the floor
    that follow the very lines of the rough ones before them are further levels, if not of every
    row.
    """

    feature: str
    cutter: str
    stage: str
    levels: tuple[float, ...]
    rows: tuple[Row, ...]

    @property
    def passes(self) -> tuple[Pass, ...]:
        """Every pass, by number."""
        found = (each for row in self.rows for each in row.passes)
        return tuple(sorted(found, key=lambda each: each.number))

    @property
    def finishing(self) -> bool:
        return self.stage == FINISH

    @property
    def to_floor(self) -> bool:
        """Whether it is roughed and its floor finished along the same lines."""
        last = (row.passes[-1] for row in self.rows)
        return not self.finishing and any(each.stage == FINISH for each in last)

    def at_level(self, index: int) -> tuple[Pass, ...]:
        """The passes at one of its levels, by number."""
        found = (row.passes[index] for row in self.rows if index < len(row.passes))
        return tuple(sorted(found, key=lambda each: each.number))


def runs_of(plan: Plan) -> tuple[Run, ...]:
    """All passes of a plan as runs, in order.

    Passes of neighbouring numbers with one feature, cutter and stage belong together; the depth
    levels of which only Z differs become one run of as many levels.
    """
    kinds = {
        each.number: (each.feature, each.cutter, each.stage, kind)
        for each, kind in zip(plan.passes, _kinds(plan.passes), strict=True)
    }
    runs: list[Run] = []
    for _, together in groupby(plan.passes, key=lambda each: kinds[each.number]):
        runs += _levelled(tuple(together))
    return tuple(_with_floors(runs))


def _with_floors(runs: list[Run]) -> list[Run]:
    """The runs, each floor finished along the lines of its roughing made further levels of it."""
    found: list[Run] = []
    for run in runs:
        rows = _along(found[-1], run) if found and _floor_of(found[-1], run) else None
        if rows is None:
            found.append(run)
        else:
            before = found[-1]
            found[-1] = replace(before, levels=(*before.levels, *run.levels), rows=rows)
    return found


def _along(rough: Run, floor: Run) -> tuple[Row, ...] | None:
    """The rows of a rough run with those of its floor; None where that goes along other lines.

    What is left out on the floor has been cut to size, or is taken by the skims of the wall.
    """
    left = list(floor.rows)
    rows: list[Row] = []
    for row in rough.rows:
        again = left and line_of(row.first) == line_of(left[0].first)
        rows.append(Row((*row.passes, *left.pop(0).passes)) if again else row)
    return None if left else tuple(rows)


def _floor_of(rough: Run, floor: Run) -> bool:
    """Whether a run may finish the floor along the lines by which the one before roughed it."""
    return (
        (rough.feature, rough.cutter) == (floor.feature, floor.cutter)
        and not rough.finishing
        and floor.finishing
        and len(rough.levels) + len(floor.levels) <= MOST_LEVELS
        and not rough.to_floor
        and all(row.first.z == rough.levels[0] for row in rough.rows)
        and (len(floor.rows) == len(rough.rows) or _worth_it(rough, floor))
        and all(row.first.purpose in ("floor", "entry") for row in floor.rows)
    )


def _worth_it(rough: Run, floor: Run) -> bool:
    """Whether it saves sheets that a floor leaves some of the rough lines out."""
    return len(rough.rows) <= _MOST_AGAIN * len(floor.rows) and len(floor.rows) >= _FEWEST_AGAIN


def _kinds(passes: Sequence[Pass]) -> list[str]:
    """Floor or wall for each finish pass; a step in belongs to what it leads to."""
    kinds: list[str] = []
    for each in reversed(passes):
        if each.stage != FINISH:
            kinds.append("")
        elif each.purpose == "floor":
            kinds.append("floor")
        elif each.purpose == "entry" and kinds:
            kinds.append(kinds[-1])
        else:
            kinds.append("wall")
    return kinds[::-1]


def _levelled(passes: tuple[Pass, ...]) -> list[Run]:
    blocks = [tuple(block) for _, block in groupby(passes, key=lambda each: each.z)]
    runs: list[Run] = []
    for block in blocks:
        run = Run(
            block[0].feature,
            block[0].cutter,
            block[0].stage,
            (block[0].z,),
            tuple(Row((each,)) for each in block),
        )
        if runs and _same_but_z(runs[-1], block):
            before = runs[-1]
            rows = tuple(
                Row((*row.passes, each)) for row, each in zip(before.rows, block, strict=True)
            )
            runs[-1] = replace(before, levels=(*before.levels, block[0].z), rows=rows)
        elif runs and len(block) == 1 and len(runs[-1].levels) == 1:
            runs[-1] = _joined(runs[-1], run)
        else:
            runs.append(run)
    return runs


def _joined(first: Run, second: Run) -> Run:
    return replace(first, rows=first.rows + second.rows)


def _same_but_z(run: Run, block: Sequence[Pass]) -> bool:
    """Whether the block repeats the run's passes at another height."""
    if len(run.rows) != len(block) or len(run.levels) >= MOST_LEVELS:
        return False
    return all(
        settings(row.first) == settings(each) for row, each in zip(run.rows, block, strict=True)
    )


def settings(each: Pass) -> tuple[object, ...]:
    """What an operator sets for a pass, Z aside, with the width it cuts."""
    return (*line_of(each), each.purpose, round(each.width_of_cut, 6))


def line_of(each: Pass) -> tuple[object, ...]:
    """The line of a pass, and whether it cuts at full width somewhere."""
    way = _way(each.turn) if each.turn is not None else each.steps
    return each.start, each.end, each.start_clear, each.end_clear, each.both_ways > 0, way


def _way(turn: Turn) -> tuple[object, ...]:
    """An arc, whichever turn of the table it is cut in."""
    return turn.center, turn.setting, round(turn.start % WHOLE_TURN, 4), round(turn.swing, 4)


def stops_of(each: Pass) -> tuple[Point, ...]:
    """Where the cutter's axis stops on a pass: the settings of a stepped wall, else its ends.

    An arc on a rotary table is followed from point to point.
    """
    if each.turn is not None:
        return arc_points(each.turn)
    return each.steps.points if each.steps is not None else (each.start, each.end)


def alike(values: Iterable[object]) -> bool:
    """Whether all values are the same."""
    return len(set(values)) <= 1
