"""Where the cutter is changed: what to put in, and what to touch off with it.

A cutter stands as far out of the spindle as it is clamped, so its tip is found anew; the axis stays
where it was, so X and Y keep their zero (common practice, no source).
"""

from collections.abc import Iterable

from passplot.frozen import dataclass
from passplot.records.plan import CUT, Move, Plan
from passplot.sheet.numbers import printed
from passplot.sheet.tables import style_of


@dataclass(frozen=True, slots=True)
class Change:
    """A change of cutter: to which, and the Z of the top it is touched off on, as printed."""

    cutter: str
    z: str

    @property
    def words(self) -> str:
        """What stands in the strip before the cutter."""
        return f"CHANGE TO {self.cutter}"

    @property
    def sentence(self) -> str:
        """What there is to do, where there is room for words only."""
        return f"Change to {self.cutter}. Touch the top with it: set Z {self.z}. Keep X and Y."


def change_at(plan: Plan, numbers: Iterable[int]) -> Change | None:
    """The change of cutter before some passes of a plan; None where there is none.

    Parameters
    ----------
    numbers : iterable of int
        Of the passes, in any order.
    """
    first = min(numbers, default=0)
    mine = next((each for each in plan.passes if each.number == first), None)
    before = [each for each in plan.passes if each.number < first]
    if mine is None or not before:
        return None
    last = max(before, key=lambda each: each.number)
    return None if last.cutter == mine.cutter else _change(plan, mine.cutter)


def change_to_drill(plan: Plan, cutter: str) -> Change | None:
    """The change to what goes over a pattern of holes, if it has cut nothing before."""
    if not plan.passes or any(each.cutter == cutter for each in plan.passes):
        return None
    return _change(plan, cutter)


def _change(plan: Plan, cutter: str) -> Change:
    row = next(move.row for move in plan.moves if move.cutter == cutter)
    z = style_of(plan.job).at(top_before(plan, row))
    return Change(cutter, "0" if float(z) == 0 else printed(z, plan.job.inch))


def top_before(plan: Plan, row: int) -> float:
    """Z of the top of the work before a row: the raw one until it has been faced."""
    faces = {feature.name for feature in plan.job.features if feature.kind == "face"}

    def faced(move: Move) -> bool:
        return move.row < row and move.move == CUT and move.feature in faces

    return min((move.z for move in plan.moves if faced(move)), default=plan.job.stock.raw_top)
