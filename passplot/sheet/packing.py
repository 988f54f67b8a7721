"""Which rows share a sheet: as few sheets as hold them, evenly filled, never smaller type."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from passplot.frozen import dataclass
from passplot.records.plan import Plan
from passplot.sheet.areas import TableRoom
from passplot.sheet.groups import Run, runs_of
from passplot.sheet.listing import Listing, kind_of, listing_of
from passplot.sheet.scene import Scene, scenes_of
from passplot.sheet.table_flow import holds

_LEAST_ROWS = 2
"""Fewer rows of a run are not worth a heading on another's sheet."""
_MOST_FEATURES = 3
"""Features on one drawing."""
_MOST_TOGETHER = 6
"""Runs that are looked at together."""

Sheet = tuple[Run, ...]
_Key = tuple[int, int]
"""What tells stretches of the runs of a plan apart: number of the first pass, count of rows."""


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
        self._known: dict[tuple[_Key, ...], bool] = {}
        self._listings: dict[_Key, Listing] = {}

    def packed(self, runs: Sheet) -> tuple[Sheet, ...]:
        """The fewest sheets that hold the runs, in the clearest company.

        Runs are taken together in groups that share sheets; of all ways that take as few sheets,
        that with the fewest features, and kinds of cut, on one drawing.
        """
        if len(runs) > 1 and _mixed(runs) == 0 and self._fits(runs):
            return (runs,)
        best = [_Choice((0, 0), ())]
        for stop in range(1, len(runs) + 1):
            found: _Choice | None = None
            for start in range(max(0, stop - _MOST_TOGETHER), stop):
                found = self._cheaper(found, best[start], runs[start:stop])
            assert found is not None, "every run may begin a group"
            best.append(found)
        return best[-1].sheets

    def _cheaper(self, found: _Choice | None, before: _Choice, runs: Sheet) -> _Choice:
        """``before`` with the runs as one more group, or what was found where that costs no more.

        A group is filled, and evened out, only where it may still cost less.
        """
        sheets, mixed = before.cost
        if found is not None and found.cost <= (sheets + 1, mixed):
            return found
        fewest = self._filled(runs, _rows(runs))
        if found is not None and found.cost <= (sheets + len(fewest), mixed):
            return found
        group = self._evened(runs, fewest)
        cost = sheets + len(group), mixed + sum(map(_mixed, group))
        if found is not None and found.cost <= cost:
            return found
        return _Choice(cost, (*before.sheets, *group))

    def _evened(self, runs: Sheet, fewest: list[Sheet]) -> list[Sheet]:
        """As many sheets as the fewest that hold the runs, none much fuller than the others."""
        least = -(-_rows(runs) // len(fewest))
        for most in range(least, max(_rows(sheet) for sheet in fewest)):
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
        key = tuple(map(_key, runs))
        if key not in self._known:
            scene = scenes_of(self._plan, (runs,))[0]
            listings = tuple(self._listing(scene, run) for run in runs)
            self._known[key] = holds(scene, self._room, listings)
        return self._known[key]

    def _listing(self, scene: Scene, run: Run) -> Listing:
        """A run as the table prints it, made once: it is tried in many companies."""
        key = _key(run)
        if key not in self._listings:
            self._listings[key] = listing_of(scene, run)
        return self._listings[key]


def _key(run: Run) -> _Key:
    return run.rows[0].first.number, len(run.rows)


def _rows(sheet: Sheet) -> int:
    return sum(len(run.rows) for run in sheet)


def _mixed(sheet: Sheet) -> int:
    """How many features and kinds of cut a sheet shows besides the first."""
    return len({run.feature for run in sheet}) + 2 * len({kind_of(run) for run in sheet}) - 3
