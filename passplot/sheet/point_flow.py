"""Tables of points flowed over columns and sheets: what stands in which row of which column.

Every list has a heading; heads above the columns say which of the two moves is made first, and
are written again where that changes.
"""

from collections.abc import Iterator
from itertools import groupby

from passplot.frozen import dataclass
from passplot.records.plan import FINISH, Plan, Steps
from passplot.sheet.lettering import width_of, wrap
from passplot.sheet.numbers import printed, ranged
from passplot.sheet.paper import SMALL
from passplot.sheet.points import PointList, cells_of, point_lists, scallop_text
from passplot.sheet.tables import Style, style_of

ROW_MM = 6.0
"""Rows of tables of points: capitals of 3.5 mm."""
GAP_MM = 4.0
PAD_MM = 2.0
_NUMBER, _X, _Y = 4, 5, 6
"""Cells of the points table that the sheet shows."""
_KEPT_ROWS = 4
"""Settings that stay with their heading."""


@dataclass(frozen=True, slots=True)
class Entry:
    """What stands in a column: ``cells`` are its texts, ``owner`` the list it belongs to.

    ``kind`` is ``"title"``, ``"note"``, ``"heads"`` (of the columns, with the axis that is moved
    first, if either may have to be) or ``"point"``.
    """

    kind: str
    cells: tuple[str, ...]
    owner: PointList

    @property
    def height(self) -> float:
        """Paper it takes."""
        return {"title": 8.0, "note": 5.2}.get(self.kind, ROW_MM)


@dataclass(frozen=True, slots=True)
class Grid:
    """The columns of tables of points: widths of number, X and Y."""

    number: float
    x: float
    y: float

    @property
    def width(self) -> float:
        """Width of a column."""
        return self.number + self.x + self.y

    def columns(self, room: float) -> int:
        """How many columns find room side by side."""
        return max(1, int((room + GAP_MM + 1e-6) // (self.width + GAP_MM)))


@dataclass(frozen=True, slots=True)
class PointPage:
    """One sheet of points, column by column; ``starts`` are the lists that begin on it."""

    columns: tuple[tuple[Entry, ...], ...]
    starts: tuple[PointList, ...]

    @property
    def passes(self) -> tuple[int, ...]:
        """Numbers of the passes whose settings it lists."""
        owners = dict.fromkeys(each.owner for column in self.columns for each in column)
        return tuple(each.number for owner in owners for each in owner.passes)


def grid_of(plan: Plan) -> Grid:
    """Columns that hold every number of a plan's points."""
    cells = [row for item in point_lists(plan) for row in item_rows(plan, item)]

    def widest(index: int) -> float:
        return max(width_of(row[index], SMALL) for row in cells) + PAD_MM

    heads = width_of("X 2ND", SMALL, bold=True) + PAD_MM
    return Grid(widest(0) + 0.6, max(widest(1), heads), max(widest(2), heads))


def item_rows(plan: Plan, item: PointList) -> list[tuple[str, str, str]]:
    """Number, X and Y of a list as the paper prints them: the cells of the points table."""
    inch = plan.job.inch
    rows = cells_of(item, item.passes[0], style_of(plan.job))
    return [(row[_NUMBER], printed(row[_X], inch), printed(row[_Y], inch)) for row in rows]


def orders(steps: Steps) -> list[str]:
    """For each setting after the first, the axis that is moved first.

    Where one axis alone moves, either order is as good: that of its neighbours is said; nothing
    where no setting takes two moves.
    """
    found: list[str] = []
    for index, axis in enumerate(steps.first_axes):
        a, b = steps.points[index], steps.points[index + 1]
        single = a.x == b.x or a.y == b.y
        found.append("" if single else axis)
    said = next((each for each in found if each), "")
    for index, each in enumerate(found):
        said = each or said
        found[index] = said
    return found


def entries_of(plan: Plan, item: PointList, width: float) -> list[Entry]:
    """Everything a list prints, in order."""
    steps = item.passes[0].steps
    if steps is None:
        return []
    style = style_of(plan.job)
    entries = [Entry("title", (_title(item),), item)]
    for text in _head_texts(plan, item, steps, style):
        entries += [Entry("note", (part,), item) for part in wrap(text, width - 0.6, SMALL)]
    order = orders(steps)
    rows = zip([*order[:1], *order], item_rows(plan, item), strict=True)
    for first, together in groupby(rows, key=lambda pair: pair[0]):
        entries.append(Entry("heads", (first,), item))
        entries += [Entry("point", row, item) for _, row in together]
    return entries


def _title(item: PointList) -> str:
    word = "PASS" if len(item.passes) == 1 else "PASSES"
    return f"{word} {ranged([each.number for each in item.passes])}"


def _head_texts(plan: Plan, item: PointList, steps: Steps, style: Style) -> Iterator[str]:
    inch = plan.job.inch
    first = item.passes[0]
    left = printed(scallop_text(steps.scallop, style), inch)
    if len({each.feature for each in plan.passes if each.steps is not None}) > 1:
        yield first.feature.upper()
    stages = list(dict.fromkeys(_stage(plan, item, index) for index in range(len(item.passes))))
    levels = ", ".join(
        f"Z {z}" for z in dict.fromkeys(printed(style.at(each.z), inch) for each in item.passes)
    )
    yield f"{', '.join(stages)}, {levels}"
    if first.stage == FINISH and steps.scallop > 0:
        yield f"SCALLOP {left}"


def _stage(plan: Plan, item: PointList, index: int) -> str:
    """Rough, or which skim of the wall a pass is."""
    each = item.passes[index]
    if each.stage != FINISH:
        return "ROUGH"
    if each.purpose == "floor":
        return "FLOOR"
    if each.steps is None:
        return "WALL"
    skims = [
        other
        for other in plan.passes
        if other.steps is not None
        and (other.feature, other.cutter, other.stage, other.z)
        == (each.feature, each.cutter, each.stage, each.z)
        and _beside(other.steps, each.steps)
    ]
    number = 1 + sum(other.number < each.number for other in skims)
    return f"SKIM {number}" if len(skims) > 1 else "SKIM"


def _beside(one: Steps, other: Steps) -> bool:
    """Whether two stepped walls go along the same wall: by the boxes they fill."""

    def box(steps: Steps) -> tuple[float, float, float, float]:
        xs, ys = [p.x for p in steps.points], [p.y for p in steps.points]
        return min(xs), max(xs), min(ys), max(ys)

    a, b = box(one), box(other)
    size = max(a[1] - a[0], a[3] - a[2], b[1] - b[0], b[3] - b[2])
    return all(abs(u - v) < 0.25 * size for u, v in zip(a, b, strict=True))


def flow_points(
    plan: Plan, grid: Grid, beside: tuple[int, float], alone: tuple[int, float]
) -> list[PointPage]:
    """All lists of a plan flowed over sheets.

    ``beside`` is how many columns, and how high, stand beside a drawing; ``alone`` those of a
    sheet without one, which only goes on with lists begun before.
    """
    waiting = [entries_of(plan, item, grid.width) for item in point_lists(plan)]
    pages: list[PointPage] = []
    while waiting:
        left = sum(each.height for each in waiting[0])
        goes_on = waiting[0][0].kind != "title"
        room = alone if goes_on and left > beside[0] * (beside[1] - 2 * ROW_MM) else beside
        filler = _Filler(*room)
        starts: list[PointList] = []
        while waiting:
            begins = waiting[0][0].kind == "title"
            if begins and room is alone and room is not beside:
                break
            owner = waiting[0][0].owner
            other = filler.owner is not None and owner.passes[0].cutter != filler.cutter
            if begins and (other or not filler.begin(waiting[0])):
                break
            rest = filler.fill(waiting[0])
            if begins:
                starts.append(owner)
            if rest:
                waiting[0] = rest
                break
            waiting.pop(0)
        pages.append(PointPage(filler.done(), tuple(starts)))
    return pages


class _Filler:
    """Fills the columns of one sheet from the left."""

    def __init__(self, columns: int, height: float) -> None:
        self._most, self._height = columns, height
        self._columns: list[list[Entry]] = [[]]

    def done(self) -> tuple[tuple[Entry, ...], ...]:
        """What stands in each column."""
        return tuple(tuple(column) for column in self._columns)

    @property
    def owner(self) -> PointList | None:
        """The list that the sheet begins with."""
        return self._columns[0][0].owner if self._columns[0] else None

    @property
    def cutter(self) -> str:
        """The cutter of the list it begins with."""
        return self.owner.passes[0].cutter if self.owner is not None else ""

    def begin(self, entries: list[Entry]) -> bool:
        """Make sure that a heading has its first settings below it; False if there is no room."""
        heading = next(i for i, each in enumerate(entries) if each.kind == "heads") + 1
        need = sum(each.height for each in entries[: heading + _KEPT_ROWS])
        if self._used and self._used + need > self._height:
            return self._next()
        return True

    def fill(self, entries: list[Entry]) -> list[Entry]:
        """Put entries in; returns what finds no room, to be gone on with on the next sheet."""
        heads: Entry | None = None
        for index, each in enumerate(entries):
            heads = each if each.kind == "heads" else heads
            need = each.height + (ROW_MM if each.kind == "heads" else 0.0)
            if self._used + need > self._height + 1e-6:
                again = [heads] if heads is not None and each.kind == "point" else []
                if not self._next():
                    return [*again, *entries[index:]]
                self._columns[-1] += again
            self._columns[-1].append(each)
        return []

    @property
    def _used(self) -> float:
        return sum(each.height for each in self._columns[-1])

    def _next(self) -> bool:
        if len(self._columns) >= self._most:
            return False
        self._columns.append([])
        return True
