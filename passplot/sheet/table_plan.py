"""The pass table measured: its columns, what stands above the rows, whether it finds room."""

from dataclasses import dataclass

from passplot.sheet.areas import TableRoom
from passplot.sheet.lettering import width_of, wrap
from passplot.sheet.listing import CLEAR, Line, Listing, Said, listing_of, title_of
from passplot.sheet.paper import MEDIUM, SMALL
from passplot.sheet.scene import Scene
from passplot.sheet.way_back import way_back_sentence

ROW_MM = 8.8
HEAD_MM = 6.5
SAID_MM = 8.0
TITLE_MM = 8.5
NOTE_MM = 5.6
COLUMN_GAP_MM = 5.0
_MOST_TITLE_LINES = 2
_ORDER = ("pass", "set", "start", "end", "z", "crank", "full", "note")
NUMBERS = ("set", "start", "end", "z")
PAD_MM = 2.4
TICK_MM = 5.0


@dataclass(frozen=True, slots=True)
class TablePlan:
    """The table of a sheet, measured.

    ``common`` is said once for all runs; ``widths`` are the column widths every run shares.
    """

    listings: tuple[Listing, ...]
    common: tuple[Said, ...]
    widths: tuple[tuple[str, float], ...]
    columns: int
    way_back: tuple[str, ...]
    room: TableRoom

    @property
    def column_width(self) -> float:
        return sum(width for _, width in self.widths)

    @property
    def width(self) -> float:
        rows = self.columns * self.column_width + (self.columns - 1) * COLUMN_GAP_MM
        return max(rows, self.room.least_wide)

    @property
    def alone(self) -> bool:
        """Whether it lists one run only: its heading then spans the whole table."""
        return len(self.listings) == 1

    @property
    def own_width(self) -> float:
        """Room for what a run says once."""
        return self.width if self.columns == 1 or self.alone else self.column_width


def plan_table(scene: Scene, room: TableRoom) -> TablePlan:
    """Measure the table of a scene."""
    listings = tuple(listing_of(scene, run) for run in scene.runs)
    common = tuple(
        said for said in listings[0].said if all(said in other.said for other in listings[1:])
    )
    widths = _widths(listings)
    titles = max(width_of(title_of(run), MEDIUM, True) for run in scene.runs)
    column = sum(width for _, width in widths)
    columns = 2 if 2 * column + COLUMN_GAP_MM <= room.most_wide and _long(listings, room) else 1
    spare = (room.most_wide - COLUMN_GAP_MM) / 2
    extra = max(0.0, min(titles, spare) - column) if columns == 2 else 0.0
    widths = (*widths[:-1], (widths[-1][0], widths[-1][1] + extra))
    table = TablePlan(listings, common, widths, columns, (), room)
    note = wrap(way_back_sentence(scene), table.width, SMALL)
    return TablePlan(listings, common, widths, columns, note, room)


def _long(listings: tuple[Listing, ...], room: TableRoom) -> bool:
    """Whether the rows are better in two columns.

    Beside a drawing a second column takes its room, so only a second run is worth it.
    """
    below_drawing = room.least_wide == room.most_wide
    return len(listings) > 1 or (
        below_drawing and len(listings[0].lines) * ROW_MM > 0.4 * room.height
    )


def _widths(listings: tuple[Listing, ...]) -> tuple[tuple[str, float], ...]:
    """Widths of the columns that any of the listings needs, with room for their headings."""
    lines = [one for listing in listings for one in listing.lines]
    needed = {"pass"}.union(*(listing.columns for listing in listings))
    sizes = {
        "pass": max(_numbers_width(one) for one in lines),
        "set": _letter_width() + _aligned_width([one.set_at for one in lines]),
        "start": _aligned_width([one.start for one in lines]),
        "end": _letter_width() + _aligned_width([one.end for one in lines]),
        "z": _aligned_width([one.z for one in lines]),
        "crank": 8.0 + width_of("CCW", SMALL),
        "full": 9.0,
        "note": max(width_of(one.note, SMALL) for one in lines),
    }
    return tuple(
        (name, max(sizes[name], width_of(HEADS[name], SMALL)) + PAD_MM)
        for name in _ORDER
        if name in needed
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
}


def _numbers_width(one: Line) -> float:
    """Numbers of a row, each with its box to tick."""
    texts = [str(each.number) for each in one.row.passes]
    return sum(width_of(text, MEDIUM, True) + TICK_MM + 2.5 for text in texts)


def _letter_width() -> float:
    """An axis letter and the space after it."""
    return width_of("X ", MEDIUM, True) + 0.6


def _aligned_width(values: list[str]) -> float:
    """Width of numbers lined up on their decimal points, words flush right."""
    numbers = [value for value in values if value != CLEAR] or ["0"]
    before = max(width_of(value.partition(".")[0], MEDIUM) for value in numbers)
    after = max(after_point(value) for value in numbers)
    return max((before + after, *(width_of(value, MEDIUM) for value in values)))


def heading_height(table: TablePlan, listing: Listing) -> float:
    """Height of what stands above a run's rows."""
    lines = len(title_lines(table, listing))
    said = len(flow(own_said(table, listing), table.own_width))
    notes = len(entry_lines(table, listing)) * NOTE_MM
    return lines * TITLE_MM + said * SAID_MM + notes + HEAD_MM


def own_said(table: TablePlan, listing: Listing) -> tuple[Said, ...]:
    """What a run says once that is not said for all."""
    return tuple(said for said in listing.said if said not in table.common)


def title_lines(table: TablePlan, listing: Listing) -> tuple[str, ...]:
    """The heading of a run in two lines at most; what is longer ends in dots."""
    lines = wrap(title_of(listing.run), table.own_width, MEDIUM, True)
    if len(lines) <= _MOST_TITLE_LINES:
        return lines
    room = table.own_width - width_of("…", MEDIUM, True)
    return (*lines[: _MOST_TITLE_LINES - 1], wrap(lines[1], room, MEDIUM, True)[0] + "…")


def entry_lines(table: TablePlan, listing: Listing) -> tuple[str, ...]:
    """How the cutter gets into the metal, in lines."""
    return tuple(line for text in listing.entries for line in wrap(text, table.own_width, SMALL))


def top_height(table: TablePlan) -> float:
    """Height of what stands above all runs."""
    said = len(flow(table.common, table.width)) * SAID_MM
    notes = len(table.way_back) + has_full(table)
    return said + notes * NOTE_MM + 3.0


def has_full(table: TablePlan) -> bool:
    """Whether any pass of the table cuts both ways."""
    return any(name == "full" for name, _ in table.widths)


def fits(table: TablePlan) -> bool:
    """Whether the table finds room."""
    return _columns_needed(table, table.room.height - top_height(table)) <= table.columns


def _columns_needed(table: TablePlan, height: float) -> int:
    """How many columns the rows take; one more than there are where a heading does not fit."""
    if table.alone:
        listing = table.listings[0]
        each = int((height - heading_height(table, listing)) // ROW_MM)
        return -(-len(listing.lines) // each) if each > 0 else table.columns + 1
    column, left = 1, height
    for listing in table.listings:
        head = heading_height(table, listing)
        rows = len(listing.lines)
        if left < head + ROW_MM * min(rows, 2):
            column, left = column + 1, height
        if head + ROW_MM > height:
            return table.columns + 1
        left -= head
        while rows > 0:
            here = min(rows, int(left // ROW_MM))
            rows -= here
            left -= here * ROW_MM
            if rows:
                column, left = column + 1, height - HEAD_MM
    return column


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
        used += size + 4.5
    return tuple(tuple(each) for each in lines)


def said_width(item: Said) -> float:
    """Width of a label with its value."""
    return width_of(item.label, SMALL) + 1.5 + width_of(item.value, MEDIUM, True)


def after_point(text: str) -> float:
    """Width of a number from its decimal point on."""
    return width_of(text, MEDIUM) - width_of(text.partition(".")[0], MEDIUM)
