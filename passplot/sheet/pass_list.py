"""The pass table on paper: headings, rows of 7.5 mm with 5 mm capitals, a box to tick a pass."""

from passplot.records.sheet import Fill
from passplot.sheet.canvas import TONES, Canvas
from passplot.sheet.ink import full_width_sample, line, tick_box, turning
from passplot.sheet.lettering import letter, width_of
from passplot.sheet.listing import CLEAR, Line, Listing, Said
from passplot.sheet.paper import MEDIUM, NARROW, SHADE, SMALL, WIDE, Box
from passplot.sheet.table_flow import Place, flowed
from passplot.sheet.table_plan import (
    COLUMN_GAP_MM,
    HEAD_MM,
    HEADS,
    NOTE_MM,
    NUMBERS,
    PAD_MM,
    ROW_MM,
    SAID_GAP_MM,
    SIDE_GAP_MM,
    TICK_MM,
    TIGHT_PAD_MM,
    TITLE_MM,
    TOP_GAP_MM,
    Cells,
    TablePlan,
    above_lines,
    after_point,
    cells_of,
    entry_lines,
    flow,
    line_height,
    own_said,
    said_width,
    title_lines,
    top_width,
)

_SLACK_MM = 0.01


def draw_table(canvas: Canvas, table: TablePlan, zone: Box) -> None:
    """Draw the table in its zone."""
    left = zone.left
    if table.side_width:
        left += table.column_width + SIDE_GAP_MM
    right = left + top_width(table)
    y = _draw_said(canvas, table.change, Box(left, zone.top, right, zone.bottom))
    for text in table.notes:
        canvas.write(letter(text, left, y + SMALL, SMALL))
        y += NOTE_MM
    y = _draw_said(canvas, table.common, Box(left, y, right, zone.bottom))
    if table.side_width:
        y = zone.top
    _draw_runs(canvas, table, Box(zone.left, y + TOP_GAP_MM, zone.right, zone.bottom))


def _draw_runs(canvas: Canvas, table: TablePlan, zone: Box) -> None:
    """The runs from the top of the zone down, column by column."""
    places = flowed(table, zone.height + _SLACK_MM)
    assert places is not None, "fault of passplot: more rows than their sheet holds"
    for place in places:
        left = zone.left + place.column * (table.column_width + COLUMN_GAP_MM)
        y = zone.top + place.y
        if place.line is not None:
            _draw_row(canvas, table, place, left, y)
        elif place.what == "heads":
            _draw_head_row(canvas, table, cells_of(table, place.listing), left, y)
        else:
            _draw_heading(canvas, table, place.listing, left, y)


def _draw_heading(
    canvas: Canvas, table: TablePlan, listing: Listing, left: float, y: float
) -> None:
    width = table.own_width
    for text in title_lines(table, listing):
        canvas.write(letter(text, left, y + MEDIUM + 1.2, MEDIUM, bold=True))
        y += TITLE_MM
    y = _draw_said(canvas, own_said(table, listing), Box(left, y, left + width, y))
    for text in entry_lines(table, listing):
        canvas.write(letter(text, left, y + SMALL, SMALL))
        y += NOTE_MM


def _draw_said(canvas: Canvas, items: tuple[Said, ...], zone: Box) -> float:
    y = zone.top
    for each in flow(items, zone.width):
        x = zone.left
        base = y + line_height(each) - 1.4
        for item in each:
            height = MEDIUM if item.large else SMALL
            at = x + said_width(item) - width_of(item.value, height, True)
            if item.label:
                canvas.write(letter(item.label, x, base, SMALL))
            canvas.write(letter(item.value, at, base, height, bold=True))
            x += said_width(item) + SAID_GAP_MM
        y += line_height(each)
    return y


def _draw_head_row(canvas: Canvas, table: TablePlan, cells: Cells, left: float, y: float) -> None:
    right = left + table.column_width
    box = Box(left, y, right, y + HEAD_MM)
    canvas.put(Fill((box.corners,), SHADE), TONES)
    canvas.put(line((left, y + HEAD_MM), (right, y + HEAD_MM), WIDE))
    x = left
    for name, width in cells:
        if name == "min":
            canvas.write(letter(HEADS[name], right - 0.8, y + HEAD_MM - 1.3, SMALL, anchor="end"))
        else:
            canvas.write(letter(HEADS[name], x + 0.8, y + HEAD_MM - 1.3, SMALL))
        x += width


def _draw_row(canvas: Canvas, table: TablePlan, place: Place, left: float, y: float) -> None:
    one = place.line
    assert one is not None
    x = left
    for text in above_lines(table, one):
        canvas.write(letter(text, left + 0.8, y + NOTE_MM - 1.0, SMALL))
        y += NOTE_MM
    base = y + (ROW_MM + MEDIUM) / 2
    right = left + table.column_width
    cells = cells_of(table, place.listing)
    for name, width in cells:
        if name == "min":
            at = base - (MEDIUM - SMALL) / 2
            canvas.write(letter(one.minutes, right - 0.8, at, SMALL, anchor="end"))
        elif name == "pass" or not one.points:
            _draw_cell(canvas, table, one, name, Box(x, y, x + width, base))
        x += width
    if one.points:
        number, x = one.row.first.number, left + cells[0][1]
        canvas.write(letter(one.points, x + 0.8, base, MEDIUM, bold=True, number=number))
    canvas.put(line((left, y + ROW_MM), (right, y + ROW_MM), NARROW))


def _draw_cell(canvas: Canvas, table: TablePlan, one: Line, name: str, box: Box) -> None:
    """One cell; the bottom of ``box`` is the base line of its text."""
    middle_y = box.bottom - MEDIUM / 2
    number = one.row.first.number
    if name == "pass":
        _draw_numbers(canvas, one, box)
    elif name == "crank" and one.crank:
        center = (box.left + 4.6, middle_y)
        if not table.tight:
            for mark in turning(center, 2.6, clockwise=one.crank == "cw", width=WIDE):
                canvas.put(mark)
        at = box.left + (0.8 if table.tight else 8.6)
        canvas.write(letter(one.crank.upper(), at, middle_y + SMALL / 2, SMALL))
    elif name == "full" and one.full:
        for mark in full_width_sample(box.left + 0.8, middle_y, 8.4):
            canvas.put(mark)
    elif name == "note" and one.note:
        canvas.write(letter(one.note, box.left + 0.8, middle_y + SMALL / 2, SMALL))
    elif name in NUMBERS:
        axis, value = _number_cell(one, name)
        if axis:
            canvas.write(letter(axis, box.left + 0.8, box.bottom, MEDIUM, bold=True, number=number))
        lines = (each for listing in table.listings for each in listing.lines)
        right = box.right - (TIGHT_PAD_MM if table.tight else PAD_MM) + 0.8
        cell = Box(box.left, box.top, right, box.bottom)
        _aligned(canvas, value, [_number_cell(each, name)[1] for each in lines], cell, number)


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
    right = box.right
    if value == CLEAR:
        canvas.write(letter(value, right, box.bottom, MEDIUM, anchor="end", number=number))
        return
    after = max(after_point(text) for text in others if text != CLEAR)
    start = right - after - width_of(value.partition(".")[0], MEDIUM)
    canvas.write(letter(value, start, box.bottom, MEDIUM, number=number))


def _draw_numbers(canvas: Canvas, one: Line, box: Box) -> None:
    x = box.left + 0.6
    for each in one.row.passes:
        text = str(each.number)
        canvas.put(tick_box(x, box.bottom - MEDIUM / 2, TICK_MM))
        x += TICK_MM + 1.0
        canvas.write(letter(text, x, box.bottom, MEDIUM, bold=True, number=each.number))
        x += width_of(text, MEDIUM, True) + 1.5
