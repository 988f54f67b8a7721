"""Sheets of a plan for dials: every row with its wheel, turns and reading, in the order cranked."""

from collections.abc import Sequence

from passplot.dials import Wheel, wheel_of
from passplot.frozen import dataclass
from passplot.records.plan import Plan
from passplot.records.sheet import Fill
from passplot.sheet.areas import Areas
from passplot.sheet.canvas import TONES, Canvas
from passplot.sheet.dial_face import draw_face
from passplot.sheet.dial_lines import FEED, PAST, SET, START, DialLine, dial_lines
from passplot.sheet.ink import line, tick_box, turning
from passplot.sheet.lettering import letter, width_of, wrap
from passplot.sheet.numbers import ranged
from passplot.sheet.paper import MEDIUM, NARROW, SHADE, SMALL, WIDE, Box

ROW_MM = 8.4
FACE_ROW_MM = 10.6
"""A row that shows its dial."""
_HEADS_MM = 6.0
_GAP_MM = 4.0
_FACE_MM = 32.0
_PAD_MM = 1.6
_TICK_MM = 6.0
_NOTE_MM = 5.4
_TABLE = {("X", 1): "table left", ("X", -1): "table right", ("Y", 1): "table toward you"}
_TABLE |= {("Y", -1): "table away", ("Z", 1): "knee down", ("Z", -1): "knee up"}


@dataclass(frozen=True, slots=True)
class DialColumns:
    """Widths of the columns: pass, word, axis, crank, turns, reading."""

    number: float
    word: float
    axis: float
    turns: float
    reading: float

    @property
    def width(self) -> float:
        """Width of all of them with the dial's picture and the box to tick."""
        used = self.number + self.word + self.axis + self.turns + self.reading
        return used + _FACE_MM + _PAD_MM + _TICK_MM


@dataclass(frozen=True, slots=True)
class DialSheet:
    """One sheet: its columns of lines; the cutter in the spindle."""

    columns: tuple[tuple[DialLine, ...], ...]
    cutter: str

    @property
    def passes(self) -> tuple[int, ...]:
        """Numbers of the passes that begin on it."""
        return tuple(int(one.number) for column in self.columns for one in column if one.number)

    @property
    def rows(self) -> tuple[int, int]:
        """First and last row of the moves table."""
        return self.columns[0][0].row, self.columns[-1][-1].row


def dial_sheets(plan: Plan, areas: Areas) -> tuple[DialSheet, ...]:
    """All sheets of a plan's dials; none where it is planned for a readout."""
    lines = dial_lines(plan)
    if not lines:
        return ()
    width = _columns(lines).width
    count = max(1, int((areas.middle.width - 4 + _GAP_MM) // (width + _GAP_MM)))
    notes = _notes(plan, areas.middle.width - 4)
    height = areas.middle.height - _NOTE_MM * len(notes) - _HEADS_MM - 1.0
    sheets: list[DialSheet] = []
    columns: list[list[DialLine]] = []
    used = 0.0
    for index, one in enumerate(lines):
        need = _height(one)
        together = need + (_height(lines[index + 1]) if one.word == PAST else 0.0)
        fresh = one.word == START and bool(columns)
        if fresh or (columns and used + together > height and len(columns) == count):
            sheets.append(_sheet(columns))
            columns, used = [], 0.0
        if not columns or used + together > height:
            columns.append([])
            used = 0.0
        columns[-1].append(one)
        used += need
    return (*sheets, _sheet(columns))


def heading_of_dials(sheet: DialSheet) -> str:
    """What the title strip says of a sheet of dials."""
    numbers = sheet.passes
    what = f": PASSES {ranged(list(numbers))}" if numbers else ""
    return f"DIALS{what}"


def draw_dials(canvas: Canvas, plan: Plan, sheet: DialSheet, areas: Areas) -> None:
    """Draw one sheet of dials."""
    zone = Box(areas.middle.left + 2, areas.middle.top, areas.middle.right - 2, areas.middle.bottom)
    y = zone.top
    for text in _notes(plan, zone.width):
        canvas.write(letter(text, zone.left, y + SMALL + 0.6, SMALL))
        y += _NOTE_MM
    columns = _columns(dial_lines(plan))
    wheels = _wheels(plan)
    x = zone.left
    for lines in sheet.columns:
        _draw_column(canvas, plan, (x, y + 1.0), columns, lines, wheels)
        x += columns.width + _GAP_MM


def _sheet(columns: Sequence[Sequence[DialLine]]) -> DialSheet:
    return DialSheet(tuple(tuple(column) for column in columns), columns[0][0].cutter)


def _height(one: DialLine) -> float:
    return FACE_ROW_MM if one.word == SET else ROW_MM


def _wheels(plan: Plan) -> dict[str, Wheel]:
    assert plan.approach is not None
    machine = plan.job.shop.machine
    found = {}
    for axis, approach in zip("XYZ", plan.approach, strict=True):
        wheel = wheel_of(machine, axis, approach)
        if wheel is not None:
            found[axis] = wheel
    return found


def _notes(plan: Plan, width: float) -> tuple[str, ...]:
    """How to read the table: said on every sheet, for sheets get parted."""
    assert plan.approach is not None
    come = ", ".join(
        f"{axis} {_TABLE[axis, sense]}" for axis, sense in zip("XYZ", plan.approach, strict=True)
    )
    texts = (
        f"SET comes in with {come}, the play taken up: lock it. Dials read 0 at X0 Y0 Z0, come to "
        "in the same way. Whole turns first, then on to the reading. PAST goes too far on purpose, "
        "clear of metal.",
    )
    return tuple(part for text in texts for part in wrap(text, width, SMALL))


def _columns(lines: Sequence[DialLine]) -> DialColumns:
    def widest(texts: Sequence[str], bold: bool = False) -> float:
        return max((width_of(text, MEDIUM, bold) for text in texts), default=0.0) + _PAD_MM

    return DialColumns(
        number=widest([one.number for one in lines], bold=True) + 1.0,
        word=_words_width(lines),
        axis=widest(["X"], bold=True) + 8.0,
        turns=widest([f"{one.turns} +" for one in lines if one.turns], bold=True),
        reading=widest([one.reading for one in lines], bold=True),
    )


def _words_width(lines: Sequence[DialLine]) -> float:
    """Width that holds the words, each in its own size."""
    words = {one.word for one in lines if one.word != START}
    sizes = [width_of(word, *_size(word)) for word in words]
    return max(sizes, default=0.0) + _PAD_MM


def _size(word: str) -> tuple[float, bool]:
    """Height of a word's capitals and whether it is bold: what counts is found first."""
    return (MEDIUM if word in (SET, FEED) else SMALL), word == SET


def _draw_column(
    canvas: Canvas,
    plan: Plan,
    corner: tuple[float, float],
    columns: DialColumns,
    lines: Sequence[DialLine],
    wheels: dict[str, Wheel],
) -> None:
    left, y = corner
    heads = Box(left, y, left + columns.width, y + _HEADS_MM)
    canvas.put(Fill((heads.corners,), SHADE), TONES)
    canvas.put(line((heads.left, heads.bottom), (heads.right, heads.bottom), WIDE))
    base = heads.bottom - 1.3
    turns = left + columns.number + columns.word + columns.axis + columns.turns
    canvas.write(letter("PASS", left + 0.4, base, SMALL))
    canvas.write(letter("TURNS", turns - _PAD_MM, base, SMALL, anchor="end"))
    canvas.write(letter("DIAL", turns + columns.reading - _PAD_MM, base, SMALL, anchor="end"))
    canvas.write(letter("AS IT LOOKS", turns + columns.reading + 1.0, base, SMALL))
    y += _HEADS_MM
    for one in lines:
        box = Box(left, y, heads.right, y + _height(one))
        _draw_line(canvas, plan, box, columns, one, wheels)
        y = box.bottom


def _draw_line(
    canvas: Canvas,
    plan: Plan,
    box: Box,
    columns: DialColumns,
    one: DialLine,
    wheels: dict[str, Wheel],
) -> None:
    middle = (box.top + box.bottom) / 2
    base = middle + MEDIUM / 2
    canvas.put(line((box.left, box.bottom), (box.right, box.bottom), NARROW))
    if one.word == START:
        canvas.put(Fill((box.corners,), SHADE), TONES)
        canvas.write(letter(one.text, box.left + 0.6, middle + SMALL / 2, SMALL, bold=True))
        return
    x = box.left
    if one.number:
        right = x + columns.number - _PAD_MM
        canvas.write(letter(one.number, right, base, MEDIUM, anchor="end", bold=True))
    x += columns.number
    strong = one.word in (SET, FEED)
    size, bold = _size(one.word)
    canvas.write(letter(one.word, x, base, size, bold=bold))
    x += columns.word
    canvas.write(letter(one.axis, x, base, MEDIUM, bold=True))
    for mark in turning((x + columns.axis - 5.2, middle), 2.3, clockwise=one.crank == "cw"):
        canvas.put(mark)
    x += columns.axis + columns.turns
    if one.turns != "0":
        text = f"{one.turns} +"
        canvas.write(letter(text, x - _PAD_MM, base, MEDIUM, anchor="end", bold=strong))
    x += columns.reading
    canvas.write(letter(one.reading, x - _PAD_MM, base, MEDIUM, anchor="end", bold=strong))
    face = Box(x, box.top + 0.5, x + _FACE_MM, box.bottom - 0.5)
    if one.word == SET:
        move = plan.moves[one.row - 1]
        assert move.dial is not None
        inch = plan.job.shop.machine.dial_units == "inch"
        draw_face(canvas, face, wheels[one.axis], move.dial, inch=inch)
    else:
        canvas.write(letter(_remark(one), x + 1.0, middle + SMALL / 2, SMALL))
    canvas.put(tick_box(box.right - _TICK_MM + 1.0, middle, 4.6))


def _remark(one: DialLine) -> str:
    """What stands where a setting shows its dial: how a feed runs, else the place reached."""
    if one.word != FEED:
        return f"{one.axis} {one.place}"
    if one.clear:
        return "UNTIL CLEAR"
    return f"FROM {one.begins}" if one.begins else f"{one.axis} {one.place}"
