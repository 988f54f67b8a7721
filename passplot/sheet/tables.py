"""The tables of a plan, every number formatted once.

What the paper, the page and the JSON print is taken from the cells of ``moves_table``.
"""

from passplot.dials import reading_step
from passplot.frozen import dataclass
from passplot.records.job import Job
from passplot.records.plan import Move, Pass, Plan
from passplot.records.sheet import Table
from passplot.sheet.minutes import minute_cells
from passplot.sheet.numbers import places_of, plain, plain_down, plain_feed

MOVE_COLUMNS = (
    "row", "setup", "feature", "cutter", "stage", "move", "x", "y", "z", "axis", "both_ways",
    "width_of_cut", "depth_of_cut", "feed", "crank", "turns", "dial", "pass", "drill_diameter", "c",
)  # fmt: skip
"""Columns of the moves table, in the order other programs read them."""

PASS_COLUMNS = (
    "pass", "feature", "cutter", "stage", "purpose", "set", "at", "feed", "from", "to",
    "until_clear", "z", "level", "width_of_cut", "depth_of_cut", "both_ways", "crank",
    "cutting_min", "handling_min",
)  # fmt: skip

ANGLE_PLACES = 4
"""Of a rotary table's angle in degrees: a minute is 0.0167."""

_DRILL_PLACES = 4
"""A drill is named by its own size, not by the readout's step."""


@dataclass(frozen=True, slots=True)
class Style:
    """How the numbers of a job are written: decimals of the readout and the dials, inch or not."""

    places: int
    inch: bool
    dial_places: int = 0

    def at(self, value: float) -> str:
        """A position or a size, plain."""
        return plain(value, self.places)

    def cut(self, value: float) -> str:
        """A width, depth or length of cut, plain; ``0`` where there is none."""
        text = plain(value, self.places)
        return text if float(text) else "0"

    def under(self, value: float) -> str:
        """A size that must not come out above its limit, plain."""
        return plain_down(value, self.places)

    def feed(self, value: float | None) -> str:
        """A feed, plain; empty out of the cut."""
        return "" if value is None else plain_feed(value, self.inch)

    def drill(self, value: float | None) -> str:
        """A drill's diameter, plain; empty where there is none."""
        return "" if value is None else plain(value, max(_DRILL_PLACES, self.places))


def style_of(job: Job) -> Style:
    """The style that the readout of the job's machine asks for."""
    machine = job.shop.machine
    steps = [reading_step(machine, dial) / machine.dial_scale for _, dial in machine.dials]
    places = max((places_of(step) for step in steps), default=0)
    return Style(places_of(machine.resolution), job.inch, places)


def moves_table(plan: Plan) -> Table:
    """The hand movements, a row each, in order."""
    style = style_of(plan.job)
    rows = tuple(_move_cells(move, style) for move in plan.moves)
    return Table("moves", MOVE_COLUMNS, rows)


def _move_cells(move: Move, style: Style) -> tuple[str, ...]:
    return (
        str(move.row),
        move.setup,
        move.feature,
        move.cutter,
        move.stage,
        move.move,
        style.at(move.x),
        style.at(move.y),
        style.at(move.z),
        move.axis,
        style.cut(move.both_ways),
        style.cut(move.width_of_cut),
        style.cut(move.depth_of_cut),
        style.feed(move.feed),
        move.crank,
        "" if move.turns is None else str(move.turns),
        "" if move.dial is None else plain(move.dial, style.dial_places),
        "" if move.number is None else str(move.number),
        style.drill(move.drill_diameter),
        "" if move.angle is None else plain(move.angle, ANGLE_PLACES),
    )


def pass_table(plan: Plan) -> Table:
    """The passes as the sheet lists them, one line each."""
    style = style_of(plan.job)
    cranks = {move.row: move.crank for move in plan.moves}
    spent = minute_cells(plan, plan.passes)
    rows = tuple(
        (
            *_pass_cells(each, style, cranks.get(each.row, "")),
            *spent.get(each.number, ("", "")),
        )
        for each in plan.passes
    )
    return Table("passes", PASS_COLUMNS, rows)


def _pass_cells(each: Pass, style: Style, crank: str) -> tuple[str, ...]:
    along_x = each.axis == "X"
    fixed = each.start.y if along_x else each.start.x
    start, end = (each.start.x, each.end.x) if along_x else (each.start.y, each.end.y)
    line = ("Y" if along_x else "X", style.at(fixed), each.axis, style.at(start), style.at(end))
    return (
        str(each.number),
        each.feature,
        each.cutter,
        each.stage,
        each.purpose,
        # a stepped wall lies on no one line: its settings are in the table of points
        *(line if each.straight else ("",) * len(line)),
        "yes" if each.end_clear else "",
        style.at(each.z),
        f"{each.level}/{each.levels}",
        style.cut(each.width_of_cut),
        style.cut(each.depth_of_cut),
        style.cut(each.both_ways),
        crank,
    )
