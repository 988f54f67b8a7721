"""Which rows share a sheet: as few sheets as hold them, evenly filled, never smaller type."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from passplot.frozen import dataclass
from passplot.records.plan import Plan
from passplot.sheet.areas import TableRoom
from passplot.sheet.groups import Run, runs_of
from passplot.sheet.listing import kind_of
from passplot.sheet.scene import scenes_of
from passplot.sheet.table_flow import holds

_LEAST_ROWS = 2
"""Fewer rows of a run are not worth a heading on another's sheet."""
_MOST_FEATURES = 3
"""Features on one drawing."""
_MOST_TOGETHER = 6
"""Runs that are looked at together."""

Sheet = tuple[Run, ...]


def pack(plan: Plan, room: TableRoom) -> tuple[Sheet, ...]:
    """The runs of each sheet, whose table has that room."""
    packer = _Packer(plan, room)
    return tuple(sheet for runs in _families(runs_of(plan)) for sheet in packer.packed(runs))


def _families(runs: Sequence[Run]) -> Iterator[Sheet]:
    """Runs in a row that may be drawn together: one cutter, one stage, as many levels."""
    family: list[Run] = []
    for run in runs:
        if family and _kind(family[-1]) != _kind(run):
            yield tuple(family)
            family = []
        family.append(run)
    if family:
        yield tuple(family)


def _kind(run: Run) -> tuple[object, ...]:
    return run.cutter, run.stage, len(run.levels), run.to_floor


@dataclass(frozen=True, slots=True)
class _Choice:
    """The sheets of the first runs of a family, with what speaks against them."""

    cost: tuple[int, int]
    sheets: tuple[Sheet, ...]


class _Packer:
    """Fills sheets of one plan whose tables have a certain room."""

    def __init__(self, plan: Plan, room: TableRoom) -> None:
        self._plan, self._room = plan, room
        self._known: dict[tuple[tuple[int, int], ...], bool] = {}

    def packed(self, runs: Sheet) -> tuple[Sheet, ...]:
        """The fewest sheets that hold the runs, in the clearest company.

        Runs are taken together in groups that share sheets; of all ways that take as few sheets,
        that with the fewest features, and kinds of cut, on one drawing.
        """
        if len(runs) > 1 and self._fits(runs) and _mixed(runs) == 0:
            return (runs,)
        best = [_Choice((0, 0), ())]
        for stop in range(1, len(runs) + 1):
            choices = []
            for start in range(max(0, stop - _MOST_TOGETHER), stop):
                group = self.even(runs[start:stop])
                before = best[start]
                cost = before.cost[0] + len(group), before.cost[1] + sum(map(_mixed, group))
                choices.append(_Choice(cost, (*before.sheets, *group)))
            best.append(min(choices, key=lambda choice: choice.cost))
        return best[-1].sheets

    def even(self, runs: Sheet) -> list[Sheet]:
        """The fewest sheets that hold the runs, none much fuller than the others."""
        rows = sum(len(run.rows) for run in runs)
        fewest = self._filled(runs, rows)
        for most in range(-(-rows // len(fewest)), max(_rows(sheet) for sheet in fewest)):
            sheets = self._filled(runs, most)
            if len(sheets) == len(fewest):
                return sheets
        return fewest

    def _filled(self, runs: Sheet, most: int) -> list[Sheet]:
        """Sheets of at most that many rows, each filled before the next is begun."""
        sheets: list[Sheet] = []
        for run in runs:
            rest = run
            while rest.rows:
                last = sheets[-1] if sheets else ()
                count = self._room_for(last, rest, most) if last else 0
                if count == 0:
                    last, count = (), max(1, self._room_for((), rest, most))
                    sheets.append(())
                sheets[-1] = (*last, replace(rest, rows=rest.rows[:count]))
                rest = replace(rest, rows=rest.rows[count:])
        return sheets

    def _room_for(self, sheet: Sheet, run: Run, most: int) -> int:
        """How many rows of a run a sheet still takes; 0 where that is not worth a heading."""
        if len({each.feature for each in (*sheet, run)}) > _MOST_FEATURES:
            return 0
        low, high = 0, min(len(run.rows), most - _rows(sheet))
        if high == len(run.rows) and self._fits((*sheet, run)):
            return high
        while low < high:
            middle = (low + high + 1) // 2
            if self._fits((*sheet, replace(run, rows=run.rows[:middle]))):
                low = middle
            else:
                high = middle - 1
        return low if low == len(run.rows) or low >= _LEAST_ROWS else 0

    def _fits(self, runs: Sheet) -> bool:
        key = tuple((run.rows[0].first.number, len(run.rows)) for run in runs)
        if key not in self._known:
            scene = scenes_of(self._plan, (runs,))[0]
            self._known[key] = holds(scene, self._room)
        return self._known[key]


def _rows(sheet: Sheet) -> int:
    return sum(len(run.rows) for run in sheet)


def _mixed(sheet: Sheet) -> int:
    """How many features and kinds of cut a sheet shows besides the first."""
    return len({run.feature for run in sheet}) + 2 * len({kind_of(run) for run in sheet}) - 3
