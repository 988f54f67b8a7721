"""The pass table measured: its columns, what stands above the rows, whether it finds room."""

from dataclasses import replace

from passplot.frozen import dataclass
from passplot.records.plan import FINISH, ROUGH
from passplot.sheet.areas import TableRoom
from passplot.sheet.change import change_at
from passplot.sheet.groups import Run
from passplot.sheet.lettering import width_of, wrap
from passplot.sheet.listing import CLEAR, Line, Listing, Said, title_of, which_full
from passplot.sheet.paper import MEDIUM, SMALL
from passplot.sheet.scene import Scene
from passplot.sheet.way_back import way_back_sentence

ROW_MM = 7.5
"""One and a half times the capitals, what ISO 3098 asks for lines of text."""
HEAD_MM = 6.0
SAID_MM = 7.2
TITLE_MM = 7.8
NOTE_MM = 5.2
COLUMN_GAP_MM = 5.0
SIDE_GAP_MM = 7.0
_LEAST_SIDE_MM = 60.0
TOP_GAP_MM = 2.0
LABEL_GAP_MM = 1.5
_SHORT_TITLE = 0.75
SAID_GAP_MM = 3.2
_MOST_TITLE_LINES = 3
_ORDER = ("pass", "set", "start", "end", "z", "crank", "full", "note", "min")
NUMBERS = ("set", "start", "end", "z")
PAD_MM, TIGHT_PAD_MM = 2.4, 1.8
LETTER_MM, TIGHT_LETTER_MM = 3.0, 1.6
"""From an axis letter to its number."""
TICK_MM = 4.6

Cells = tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True)
class TablePlan:
    """The table of a sheet, measured.

    ``titles`` are the headings of its runs; ``common`` is said once for all runs; ``widths`` are
    the cells of each run's rows, ``column_width`` what the widest of them takes; ``notes`` the
    lines above everything but what ``change`` says of a new cutter. ``tight`` has the way to
    crank in letters only.
    """

    listings: tuple[Listing, ...]
    titles: tuple[str, ...]
    common: tuple[Said, ...]
    widths: tuple[Cells, ...]
    column_width: float
    columns: int
    notes: tuple[str, ...]
    room: TableRoom
    tight: bool = False
    change: tuple[Said, ...] = ()

    @property
    def rows_width(self) -> float:
        """Width of all columns of rows."""
        return self.columns * self.column_width + (self.columns - 1) * COLUMN_GAP_MM

    @property
    def width(self) -> float:
        return max(self.rows_width, self.room.least_wide)

    @property
    def side_width(self) -> float:
        """Width beside the only column of a table below a drawing; 0 where that is no use."""
        if not self.room.below or self.columns > 1 or not self.alone:
            return 0.0
        left = self.room.most_wide - self.column_width - SIDE_GAP_MM
        need = max((said_width(item) for item in self.common), default=0.0)
        return left if left >= max(need, _LEAST_SIDE_MM) else 0.0

    @property
    def alone(self) -> bool:
        """Whether it lists one run only: its heading then spans the whole table."""
        return len(self.listings) == 1

    @property
    def own_width(self) -> float:
        """Room for what a run says once."""
        if self.side_width:
            return self.column_width
        return self.width if self.columns == 1 or self.alone else self.column_width


def columned(
    scene: Scene, room: TableRoom, listings: tuple[Listing, ...], columns: int, *, tight: bool
) -> TablePlan:
    """The table in that many columns."""
    common = tuple(
        said for said in listings[0].said if all(said in other.said for other in listings[1:])
    )
    titles = tuple(title_of(scene, run) for run in scene.runs)
    widths = _widths(listings, tight=tight)
    column = max(sum(width for _, width in cells) for cells in widths)
    times = max((width for cells in widths for name, width in cells if name == "min"), default=0.0)
    lines = (one for listing in listings for one in listing.lines if one.points)
    column = max((column, *(_points_width(one) + times for one in lines)))
    if columns > 1:
        column = max(column, (room.least_wide + COLUMN_GAP_MM) / columns - COLUMN_GAP_MM)
    change = _change(scene)
    table = TablePlan(listings, titles, common, widths, column, columns, (), room, tight, change)
    return replace(table, notes=wrap(_notes(scene, listings), top_width(table), SMALL))


def _change(scene: Scene) -> tuple[Said, ...]:
    """That another cutter goes in first, and what is touched off with it."""
    change = change_at(scene.plan, (each.number for each in scene.passes))
    if change is None:
        return ()
    return (Said("CHANGE TO", change.cutter), Said("TOUCH TOP: SET Z", change.z))


def top_width(table: TablePlan) -> float:
    """Room for what is said of all runs: above them, or beside them if the table is narrow."""
    return table.side_width or table.width


def _notes(scene: Scene, listings: tuple[Listing, ...]) -> str:
    """What is said above everything: the way back, and what a dashed line means."""
    lines = [line for listing in listings for line in listing.lines]
    said = [way_back_sentence(scene)]
    if any(line.full for line in lines):
        said.append(f"{which_full(lines) or 'Where dashed'}: full width, ease the feed.")
    if any(len(run.levels) > 1 for run in scene.runs):
        said.append("Drawn with the numbers of the first level.")
    said += [text for run in scene.runs if run.to_floor and (text := _rough_first(run))]
    return " ".join(said)


def _rough_first(run: Run) -> str:
    """That roughing goes on, on another sheet, before the floor is finished; else nothing."""
    rough = max(each.number for each in run.passes if each.stage == ROUGH)
    floor = min((each.number for each in run.passes if each.stage == FINISH), default=0)
    return f"After {rough} comes {rough + 1}, not {floor}." if floor > rough + 1 else ""


def _widths(listings: tuple[Listing, ...], *, tight: bool) -> tuple[Cells, ...]:
    """Widths of the cells each listing needs, with room for their headings, alike in all."""
    lines = [one for listing in listings for one in listing.lines]
    letter_room = width_of("X", MEDIUM, True) + (TIGHT_LETTER_MM if tight else LETTER_MM)
    pad = TIGHT_PAD_MM if tight else PAD_MM
    sizes = {
        "pass": max(_numbers_width(one) for one in lines),
        "set": letter_room + _aligned_width([one.set_at for one in lines]),
        "start": _aligned_width([one.start for one in lines]),
        "end": letter_room + _aligned_width([one.end for one in lines]),
        "z": _aligned_width([one.z for one in lines]),
        "crank": (0.8 if tight else 8.0) + width_of("CCW", SMALL),
        "full": 9.0,
        "note": max(width_of(one.note, SMALL) for one in lines),
        "min": max(width_of(one.minutes, SMALL) for one in lines),
    }
    return tuple(
        tuple(
            (name, max(sizes[name], width_of(HEADS[name], SMALL)) + pad)
            for name in _ORDER
            if name == "pass" or name in listing.columns
        )
        for listing in listings
    )


HEADS = {
    "pass": "PASS",
    "set": "SET, LOCK",
    "start": "FROM",
    "end": "FEED TO",
    "z": "Z",
    "crank": "CRANK",
    "full": "FULL",
    "note": "",
    "min": "MIN",
}


def _points_width(one: Line) -> float:
    """A row that refers to a table of points."""
    return _numbers_width(one) + 2 * PAD_MM + width_of(one.points, MEDIUM, True)


def _numbers_width(one: Line) -> float:
    """Numbers of a row, each with its box to tick."""
    texts = [str(each.number) for each in one.row.passes]
    return sum(width_of(text, MEDIUM, True) + TICK_MM + 2.2 for text in texts)


def _aligned_width(values: list[str]) -> float:
    """Width of numbers lined up on their decimal points, words flush right."""
    numbers = [value for value in values if value != CLEAR] or ["0"]
    before = max(width_of(value.partition(".")[0], MEDIUM) for value in numbers)
    after = max(after_point(value) for value in numbers)
    return max((before + after, *(width_of(value, MEDIUM) for value in values)))


def heading_height(table: TablePlan, listing: Listing) -> float:
    """Height of what stands above the column heads of a run."""
    lines = len(title_lines(table, listing))
    said = said_height(flow(own_said(table, listing), table.own_width))
    notes = len(entry_lines(table, listing)) * NOTE_MM
    return lines * TITLE_MM + said + notes


def own_said(table: TablePlan, listing: Listing) -> tuple[Said, ...]:
    """What a run says once that is not said for all, behind its title where that is short."""
    own = tuple(said for said in listing.said if said not in table.common)
    title = _title(table, listing)
    return (Said("", title), *own) if title and _short(table, title) else own


def _title(table: TablePlan, listing: Listing) -> str:
    return table.titles[table.listings.index(listing)]


def _short(table: TablePlan, title: str) -> bool:
    """Whether a title leaves room for what is said behind it."""
    return width_of(title, MEDIUM, True) <= _SHORT_TITLE * table.own_width


def cells_of(table: TablePlan, listing: Listing) -> Cells:
    """The cells of a run's rows: names with widths."""
    return table.widths[table.listings.index(listing)]


def title_lines(table: TablePlan, listing: Listing) -> tuple[str, ...]:
    """A long title of a run in three lines at most; what is longer ends in dots."""
    title = _title(table, listing)
    if _short(table, title):
        return ()
    lines = wrap(title, table.own_width, MEDIUM, True)
    if len(lines) <= _MOST_TITLE_LINES:
        return lines
    room = table.own_width - width_of("…", MEDIUM, True)
    last = _MOST_TITLE_LINES - 1
    return (*lines[:last], wrap(lines[last], room, MEDIUM, True)[0] + "…")


def entry_lines(table: TablePlan, listing: Listing) -> tuple[str, ...]:
    """How the cutter gets into the metal, in lines."""
    return tuple(line for text in listing.entries for line in wrap(text, table.own_width, SMALL))


def above_lines(table: TablePlan, one: Line) -> tuple[str, ...]:
    """What stands above a row, in lines."""
    width = table.column_width if table.columns > 1 or table.side_width else table.width
    return tuple(line for text in one.above for line in wrap(text, width - 0.8, SMALL))


def top_height(table: TablePlan) -> float:
    """Height of what stands above all runs."""
    return TOP_GAP_MM if table.side_width else said_once_height(table) + TOP_GAP_MM


def said_once_height(table: TablePlan) -> float:
    """Height of what is said of all runs, above or beside them."""
    width = top_width(table)
    said = said_height(flow(table.change, width)) + said_height(flow(table.common, width))
    return said + len(table.notes) * NOTE_MM


def flow(items: tuple[Said, ...], width: float) -> tuple[tuple[Said, ...], ...]:
    """Said things in lines no wider than ``width``."""
    lines: list[list[Said]] = []
    used = 0.0
    for item in items:
        size = said_width(item)
        if not lines or used + size > width:
            lines.append([])
            used = 0.0
        lines[-1].append(item)
        used += size + SAID_GAP_MM
    return tuple(tuple(each) for each in lines)


def said_height(lines: tuple[tuple[Said, ...], ...]) -> float:
    """Height of lines of said things."""
    return sum(line_height(items) for items in lines)


def line_height(items: tuple[Said, ...]) -> float:
    """Height of one line of said things: less where nothing in it is large."""
    return SAID_MM if any(item.large for item in items) else NOTE_MM


def said_width(item: Said) -> float:
    """Width of a label with its value."""
    height = MEDIUM if item.large else SMALL
    label = width_of(item.label, SMALL) + LABEL_GAP_MM if item.label else 0.0
    return label + width_of(item.value, height, True)


def after_point(text: str) -> float:
    """Width of a number from its decimal point on."""
    return width_of(text, MEDIUM) - width_of(text.partition(".")[0], MEDIUM)
