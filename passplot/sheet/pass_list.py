"""The pass table on paper: headings, rows of 9 mm with 5 mm capitals, a box to tick a pass."""

from dataclasses import dataclass

from passplot.records.sheet import Fill
from passplot.sheet.areas import TableRoom
from passplot.sheet.canvas import TONES, Canvas
from passplot.sheet.ink import full_width_sample, line, tick_box, turning
from passplot.sheet.lettering import letter, width_of, wrap
from passplot.sheet.listing import CLEAR, Line, Listing, Said, listing_of, title_of
from passplot.sheet.paper import MEDIUM, NARROW, SHADE, SMALL, WIDE, Box
from passplot.sheet.scene import Scene
from passplot.sheet.way_back import way_back_sentence

ROW_MM = 8.8
HEAD_MM = 6.5
SAID_MM = 8.0
TITLE_MM = 8.5
NOTE_MM = 5.6
COLUMN_GAP_MM = 5.0
_ORDER = ("pass", "set", "start", "end", "z", "crank", "full", "note")
_NUMBERS = ("set", "start", "end", "z")
_PAD_MM = 2.4
_TICK_MM = 5.0


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
    def own_width(self) -> float:
        """Room for what a run says once: the whole table where it stands alone."""
        return self.width if self.columns == 1 else self.column_width


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
    """Whether the rows are better in two columns."""
    return len(listings) > 1 or len(listings[0].lines) * ROW_MM > 0.6 * room.height


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
        (name, max(sizes[name], width_of(_HEADS[name], SMALL)) + _PAD_MM)
        for name in _ORDER
        if name in needed
    )


_HEADS = {
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
    return sum(width_of(text, MEDIUM, True) + _TICK_MM + 2.5 for text in texts)


def _letter_width() -> float:
    """An axis letter and the space after it."""
    return width_of("X ", MEDIUM, True) + 0.6


def _aligned_width(values: list[str]) -> float:
    """Width of numbers lined up on their decimal points, words flush right."""
    numbers = [value for value in values if value != CLEAR] or ["0"]
    before = max(width_of(value.partition(".")[0], MEDIUM) for value in numbers)
    after = max(_after_point(value) for value in numbers)
    return max((before + after, *(width_of(value, MEDIUM) for value in values)))


def heading_height(table: TablePlan, listing: Listing) -> float:
    """Height of what stands above a run's rows."""
    lines = len(wrap(title_of(listing.run), table.own_width, MEDIUM, True))
    said = len(flow(_own_said(table, listing), table.own_width))
    notes = len(_entry_lines(table, listing)) * NOTE_MM
    return lines * TITLE_MM + said * SAID_MM + notes + HEAD_MM


def _own_said(table: TablePlan, listing: Listing) -> tuple[Said, ...]:
    """What a run says once that is not said for all."""
    return tuple(said for said in listing.said if said not in table.common)


def _entry_lines(table: TablePlan, listing: Listing) -> tuple[str, ...]:
    return tuple(line for text in listing.entries for line in wrap(text, table.own_width, SMALL))


def top_height(table: TablePlan) -> float:
    """Height of what stands above all runs."""
    said = len(flow(table.common, table.width)) * SAID_MM
    notes = len(table.way_back) + _has_full(table)
    return said + notes * NOTE_MM + 3.0


def _has_full(table: TablePlan) -> bool:
    return any(name == "full" for name, _ in table.widths)


def fits(table: TablePlan) -> bool:
    """Whether the table finds room."""
    return _columns_needed(table, table.room.height - top_height(table)) <= table.columns


def _columns_needed(table: TablePlan, height: float) -> int:
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


def draw_table(canvas: Canvas, table: TablePlan, zone: Box) -> None:
    """Draw the table in its zone."""
    y = zone.top
    for text in table.way_back:
        canvas.write(letter(text, zone.left, y + SMALL, SMALL))
        y += NOTE_MM
    if _has_full(table):
        for mark in full_width_sample(zone.left, y + SMALL / 2):
            canvas.put(mark)
        words = letter("FULL WIDTH: EASE THE FEED", zone.left + 16.5, y + SMALL, SMALL)
        canvas.write(words)
        y += NOTE_MM
    y = _draw_said(canvas, table.common, Box(zone.left, y + 0.5, zone.right, zone.bottom))
    top = y + 2.5
    left = zone.left
    y = top
    for listing in table.listings:
        run = listing.run
        if y + heading_height(table, listing) + ROW_MM * min(2, len(run.rows)) > zone.bottom + 0.01:
            left, y = left + table.column_width + COLUMN_GAP_MM, top
        y = _draw_heading(canvas, table, listing, left, y)
        for one in listing.lines:
            if y + ROW_MM > zone.bottom + 0.01:
                left, y = left + table.column_width + COLUMN_GAP_MM, top
                y = _draw_head_row(canvas, table, left, y)
            _draw_row(canvas, table, one, left, y)
            y += ROW_MM


def _draw_heading(
    canvas: Canvas, table: TablePlan, listing: Listing, left: float, y: float
) -> float:
    width = table.own_width
    for text in wrap(title_of(listing.run), width, MEDIUM, True):
        canvas.write(letter(text, left, y + MEDIUM + 1.2, MEDIUM, bold=True))
        y += TITLE_MM
    y = _draw_said(canvas, _own_said(table, listing), Box(left, y, left + width, y))
    for text in _entry_lines(table, listing):
        canvas.write(letter(text, left, y + SMALL, SMALL))
        y += NOTE_MM
    return _draw_head_row(canvas, table, left, y)


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


def _draw_said(canvas: Canvas, items: tuple[Said, ...], zone: Box) -> float:
    y = zone.top
    for each in flow(items, zone.width):
        x = zone.left
        base = y + MEDIUM + 1.4
        for item in each:
            canvas.write(letter(item.label, x, base, SMALL))
            at = x + width_of(item.label, SMALL) + 1.5
            canvas.write(letter(item.value, at, base, MEDIUM, bold=True))
            x += said_width(item) + 4.5
        y += SAID_MM
    return y


def _draw_head_row(canvas: Canvas, table: TablePlan, left: float, y: float) -> float:
    right = left + table.column_width
    box = Box(left, y, right, y + HEAD_MM)
    canvas.put(Fill((box.corners,), SHADE), TONES)
    canvas.put(line((left, y + HEAD_MM), (right, y + HEAD_MM), WIDE))
    x = left
    for name, width in table.widths:
        text = _head_text(table, name)
        canvas.write(letter(text, x + 0.8, y + HEAD_MM - 1.5, SMALL))
        x += width
    return y + HEAD_MM


def _head_text(table: TablePlan, name: str) -> str:
    return _HEADS[name]


def _draw_row(canvas: Canvas, table: TablePlan, one: Line, left: float, y: float) -> None:
    base = y + (ROW_MM + MEDIUM) / 2
    x = left
    for name, width in table.widths:
        _draw_cell(canvas, table, one, name, Box(x, y, x + width, base))
        x += width
    canvas.put(line((left, y + ROW_MM), (x, y + ROW_MM), NARROW))


def _draw_cell(canvas: Canvas, table: TablePlan, one: Line, name: str, box: Box) -> None:
    """One cell; the bottom of ``box`` is the base line of its text."""
    middle_y = box.bottom - MEDIUM / 2
    number = one.row.first.number
    if name == "pass":
        _draw_numbers(canvas, one, box)
    elif name == "crank" and one.crank:
        center = (box.left + 4.6, middle_y)
        for mark in turning(center, 2.6, clockwise=one.crank == "cw", width=WIDE):
            canvas.put(mark)
        canvas.write(letter(one.crank.upper(), box.left + 8.6, middle_y + SMALL / 2, SMALL))
    elif name == "full" and one.full:
        for mark in full_width_sample(box.left + 0.8, middle_y, 8.4):
            canvas.put(mark)
    elif name == "note" and one.note:
        canvas.write(letter(one.note, box.left + 0.8, middle_y + SMALL / 2, SMALL))
    elif name in _NUMBERS:
        axis, value = _number_cell(one, name)
        if axis:
            canvas.write(letter(axis, box.left + 0.8, box.bottom, MEDIUM, bold=True, number=number))
        lines = (each for listing in table.listings for each in listing.lines)
        _aligned(canvas, value, [_number_cell(each, name)[1] for each in lines], box, number)


def _number_cell(one: Line, name: str) -> tuple[str, str]:
    """The axis letter and the number of a cell."""
    return {
        "set": (one.set_axis, one.set_at),
        "start": ("", one.start),
        "end": (one.feed_axis, one.end),
        "z": ("", one.z),
    }[name]


def _aligned(canvas: Canvas, value: str, others: list[str], box: Box, number: int) -> None:
    """A number with its decimal point under those of the other rows; a word flush right."""
    right = box.right - _PAD_MM + 0.8
    if value == CLEAR:
        canvas.write(letter(value, right, box.bottom, MEDIUM, anchor="end", number=number))
        return
    after = max(_after_point(text) for text in others if text != CLEAR)
    start = right - after - width_of(value.partition(".")[0], MEDIUM)
    canvas.write(letter(value, start, box.bottom, MEDIUM, number=number))


def _after_point(text: str) -> float:
    """Width of a number from its decimal point on."""
    return width_of(text, MEDIUM) - width_of(text.partition(".")[0], MEDIUM)


def _draw_numbers(canvas: Canvas, one: Line, box: Box) -> None:
    x = box.left + 0.6
    for each in one.row.passes:
        text = str(each.number)
        canvas.put(tick_box(x, box.bottom - MEDIUM / 2, _TICK_MM))
        x += _TICK_MM + 1.0
        canvas.write(letter(text, x, box.bottom, MEDIUM, bold=True, number=each.number))
        x += width_of(text, MEDIUM, True) + 1.5
