"""How long passes take, rounded once: to hundredths of a minute in the pass table.

What the paper shows, in tenths a pass and whole minutes a job, comes from those cells.
"""

from collections.abc import Iterable, Mapping

from passplot.records.plan import Pass, Plan
from passplot.sheet.numbers import plain

_PLACES = 2
_LEAST = 0.1


def minute_cells(plan: Plan, passes: Iterable[Pass]) -> dict[int, tuple[str, str]]:
    """Minutes of cutting and of handling, plain, by number, of those passes whose time is known."""
    wanted = {each.number for each in passes}
    return {
        each.number: (plain(each.cutting / 60, _PLACES), plain(each.handling / 60, _PLACES))
        for each in plan.times
        if each.number in wanted
    }


def minutes_of(plan: Plan, passes: Iterable[Pass]) -> tuple[float, float] | None:
    """Minutes of cutting and of handling of some passes; None where no time is known."""
    mine = minute_cells(plan, passes).values()
    if not mine:
        return None
    return sum(float(cutting) for cutting, _ in mine), sum(float(handling) for _, handling in mine)


def tenths(minutes: float, *, inch: bool) -> str:
    """Minutes of a pass with one decimal, as numbers of the sheet begin."""
    text = plain(max(minutes, _LEAST), 1)
    return text.removeprefix("0") if inch else text


def minutes_text(
    cells: Mapping[int, tuple[str, str]], passes: Iterable[Pass], *, inch: bool
) -> str:
    """Minutes of each of some passes: one number where they are alike, else in their order.

    Of more than two the first stands before what the others have in common, else the longest
    stands for all. ``cells`` are those of ``minute_cells``.
    """
    mine = [cells[each.number] for each in passes if each.number in cells]
    texts = [tenths(sum(map(float, each)), inch=inch) for each in mine]
    if not texts:
        return ""
    first, *others = texts
    if set(others) <= {first}:
        return first
    if len(set(others)) == 1:
        return f"{first}/{others[0]}"
    return max(texts, key=float)
