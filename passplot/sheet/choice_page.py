"""The sheets of cutters: a block a feature, a row a cutter, the one to take at the top."""

from collections.abc import Sequence

from passplot.frozen import dataclass
from passplot.records.choice import Crew, FeatureChoice
from passplot.records.job import Job
from passplot.records.sheet import Fill, Page, Sheet
from passplot.sheet.alone import stem_of
from passplot.sheet.areas import Areas, areas_of
from passplot.sheet.canvas import TONES, Canvas
from passplot.sheet.choice_text import (
    ChoiceText,
    CutterRow,
    choice_table,
    choice_texts,
    crew_lines,
    crew_title,
)
from passplot.sheet.ink import line
from passplot.sheet.lettering import letter, width_of, wrap
from passplot.sheet.paper import MEDIUM, NARROW, SHADE, SMALL, WIDE, Box, paper_named
from passplot.sheet.strips import (
    Heading,
    draw_cautions,
    draw_frame,
    draw_short_block,
    draw_title,
)

CAUTIONS = ("POWER OFF TO CHANGE CUTTERS", "DRAWBAR WRENCH OFF AT ONCE")
"""Louisiana State University, milling safety rules."""
_NOTE = "Numbers are those of the widest rough pass."

_TITLE_MM, _HEAD_MM, _PITCH_MM = 8.2, 6.0, 5.05
_TOP_MM, _FOOT_MM, _BLOCK_GAP_MM = 1.6, 1.6, 3.0
_PAD_MM = 3.0
_CUTTER_MM = 60.0
_LEAST_REASONS_MM = 80.0
_GOES_ON = " (GOES ON)"


@dataclass(frozen=True, slots=True)
class _Columns:
    """Edges of the columns and where the reasons stand: beside the numbers, or below.

    The verdict stands at its left edge, numbers stand at their right ones.
    """

    verdict: float
    speed: float
    feed: float
    turn: float
    reasons: Box
    beside: bool


@dataclass(frozen=True, slots=True)
class _Placed:
    """A row of a feature on a sheet; ``headed`` where its feature's heading stands above it."""

    text: ChoiceText
    row: CutterRow
    headed: bool
    y: float


def lay_out_choice(
    job: Job,
    choices: Sequence[FeatureChoice],
    crew: Crew | None,
    paper: str = "a4",
    *,
    portrait: bool = False,
    date: str = "",
) -> Sheet:
    """Lay out which cutter to take for each feature, on as many sheets as that takes.

    Parameters
    ----------
    choices : sequence of FeatureChoice
        The features, each with the crib judged for it.
    crew : Crew or None
        The cutters for the whole job; None where the job names its own.
    """
    leaf = paper_named(paper, portrait=portrait)
    areas = areas_of(leaf, passes=True)
    texts = choice_texts(job, choices)
    notes = _crew_notes(crew, areas)
    columns = _columns(texts, areas, job)
    sheets = _flow(texts, columns, areas, _notes_height(notes))
    pages = []
    for index, placed in enumerate(sheets):
        canvas = Canvas()
        _draw_strip(canvas, crew_title(crew), areas.setup)
        if index == 0:
            _draw_notes(canvas, notes, areas.middle)
        for each in placed:
            _draw(canvas, job, each, columns, areas.middle)
        heading = Heading(job, "NONE", index + 1, len(sheets), date, "WHICH CUTTER")
        draw_short_block(canvas, heading, areas.block)
        draw_title(canvas, heading, areas.title)
        draw_cautions(canvas, _NOTE, CAUTIONS, areas.cautions)
        draw_frame(canvas, areas.live)
        pages.append(Page(leaf.width, leaf.height, canvas.marks, job.title))
    return Sheet(stem_of(job), tuple(pages), (choice_table(texts),))


def _crew_notes(crew: Crew | None, areas: Areas) -> tuple[str, ...]:
    room = areas.middle.width - 6
    lines = () if crew is None else crew_lines(crew)
    return tuple(part for text in lines for part in wrap(text, room, SMALL))


def _notes_height(notes: Sequence[str]) -> float:
    return len(notes) * _PITCH_MM + (_BLOCK_GAP_MM if notes else 0.0)


def _draw_notes(canvas: Canvas, notes: Sequence[str], zone: Box) -> None:
    for index, text in enumerate(notes):
        base = zone.top + index * _PITCH_MM + SMALL + 0.6
        canvas.write(letter(text, zone.left + 3, base, SMALL))


def _draw_strip(canvas: Canvas, cutters: str, strip: Box) -> None:
    """The cutters for the whole job; what the line has no room for stands below it by feature."""
    base = (strip.top + strip.bottom + MEDIUM) / 2
    label = "FOR THE WHOLE JOB"
    canvas.write(letter(label, strip.left + 2, base, SMALL))
    left = strip.left + 4 + width_of(label, SMALL)
    room = strip.right - 2 - left
    lines = wrap(cutters, room, MEDIUM, True)
    if len(lines) > 1:
        cutters = wrap(cutters, room - width_of("…", MEDIUM, True), MEDIUM, True)[0] + "…"
    canvas.write(letter(cutters, left, base, MEDIUM, bold=True))
    canvas.put(line((strip.left, strip.bottom), (strip.right, strip.bottom), NARROW))


def _columns(texts: Sequence[ChoiceText], areas: Areas, job: Job) -> _Columns:
    """Columns as wide as the widest text in them."""
    rows = [row for each in texts for row in each.rows]
    heads = _heads(job)

    def wide(values: Sequence[str], head: str) -> float:
        sizes = [width_of(head, SMALL), *(width_of(text, MEDIUM, True) for text in values)]
        return max(sizes) + _PAD_MM

    zone = areas.middle
    verdict = zone.left + 3 + _CUTTER_MM + _PAD_MM
    speed = verdict + max((_verdict_width(row) for row in rows), default=0.0)
    speed += wide([row.speed for row in rows], heads[0])
    feed = speed + wide([row.feed for row in rows], heads[1])
    turn = feed + wide([text for row in rows for text in row.turn], heads[2])
    right, end = zone.right - 3, turn + _PAD_MM
    beside = right - end >= _LEAST_REASONS_MM
    left = end if beside else zone.left + 3 + _PAD_MM
    return _Columns(verdict, speed, feed, turn, Box(left, zone.top, right, zone.bottom), beside)


def _verdict_width(row: CutterRow) -> float:
    return width_of(row.verdict, _verdict_height(row), True)


def _verdict_height(row: CutterRow) -> float:
    """What counts is found first."""
    return MEDIUM if row.taken else SMALL


def _heads(job: Job) -> tuple[str, str, str]:
    return ("RPM", "IPM", "S/TURN") if job.inch else ("REV/MIN", "MM/MIN", "S/TURN")


def _name_lines(row: CutterRow) -> tuple[str, ...]:
    return wrap(row.cutter, _CUTTER_MM, MEDIUM, True)


def _word_lines(row: CutterRow) -> tuple[str, ...]:
    return wrap(row.words, _CUTTER_MM, SMALL)


def _reason_lines(row: CutterRow, columns: _Columns) -> tuple[str, ...]:
    return wrap(row.reasons, columns.reasons.width, SMALL)


def _row_height(row: CutterRow, columns: _Columns) -> float:
    name = len(_name_lines(row)) * (MEDIUM + 2.0) + len(_word_lines(row)) * _PITCH_MM
    reasons = len(_reason_lines(row, columns)) * _PITCH_MM
    numbers = len(row.turn) * (MEDIUM + 2.0)
    tall = max(name, reasons, numbers) if columns.beside else max(name, numbers) + reasons
    return _TOP_MM + tall + _FOOT_MM


def _flow(
    texts: Sequence[ChoiceText], columns: _Columns, areas: Areas, taken: float
) -> list[list[_Placed]]:
    """The rows of each sheet; no row is parted, and a heading keeps two rows with it."""
    height, width = areas.middle.height, areas.middle.width
    sheets: list[list[_Placed]] = [[]]
    y = taken
    for text in texts:
        headed = True
        for index, row in enumerate(text.rows):
            tall = _row_height(row, columns)
            more = _heading_height(text, width) if headed else 0.0
            kept = text.rows[index + 1 : index + 2] if headed else ()
            need = more + tall + sum(_row_height(each, columns) for each in kept)
            if y + need > height and sheets[-1]:
                sheets.append([])
                y, headed = 0.0, True
                more = _heading_height(text, width)
            sheets[-1].append(_Placed(text, row, headed, y))
            y += more + tall
            headed = False
        y += _BLOCK_GAP_MM
    return sheets


def _draw(canvas: Canvas, job: Job, placed: _Placed, columns: _Columns, zone: Box) -> None:
    y = zone.top + placed.y
    if placed.headed:
        _draw_heading(canvas, placed, y, zone)
        y += _heading_height(placed.text, zone.width)
        _draw_heads(canvas, job, columns, y - _HEAD_MM, zone)
    _draw_row(canvas, placed.row, columns, y, zone)


def _below(text: ChoiceText, width: float) -> tuple[str, ...]:
    """What a feature asks for in lines below its name, where it finds no room beside it."""
    name = width_of(text.name.upper() + _GOES_ON, MEDIUM, True)
    if name + _PAD_MM + width_of(text.needs, SMALL) <= width - 6:
        return ()
    return wrap(text.needs, width - 6, SMALL)


def _heading_height(text: ChoiceText, width: float) -> float:
    return _TITLE_MM + len(_below(text, width)) * _PITCH_MM + _HEAD_MM


def _draw_heading(canvas: Canvas, placed: _Placed, y: float, zone: Box) -> None:
    goes_on = placed.row is not placed.text.rows[0]
    name = placed.text.name.upper() + (_GOES_ON if goes_on else "")
    base, left, room = y + MEDIUM + 1.4, zone.left + 3, zone.width - 6
    if width_of(name, MEDIUM, True) > room:
        name = wrap(name, room - width_of("…", MEDIUM, True), MEDIUM, True)[0] + "…"
    canvas.write(letter(name, left, base, MEDIUM, bold=True))
    below = _below(placed.text, zone.width)
    if not below:
        beside = left + width_of(name, MEDIUM, True) + _PAD_MM
        canvas.write(letter(placed.text.needs, beside, base, SMALL))
    base = y + _TITLE_MM + SMALL
    for text in below:
        canvas.write(letter(text, left, base, SMALL))
        base += _PITCH_MM


def _draw_heads(canvas: Canvas, job: Job, columns: _Columns, y: float, zone: Box) -> None:
    box = Box(zone.left + 2, y, zone.right - 2, y + _HEAD_MM)
    canvas.put(Fill((box.corners,), SHADE), TONES)
    canvas.put(line((box.left, box.bottom), (box.right, box.bottom), WIDE))
    base = box.bottom - 1.3
    speed, feed, turn = _heads(job)
    for text, x in (("CUTTER", zone.left + 3), ("VERDICT", columns.verdict)):
        canvas.write(letter(text, x, base, SMALL))
    for text, x in ((speed, columns.speed), (feed, columns.feed), (turn, columns.turn)):
        canvas.write(letter(text, x, base, SMALL, anchor="end"))
    if columns.beside:
        canvas.write(letter("WHY", columns.reasons.left, base, SMALL))


def _draw_row(canvas: Canvas, row: CutterRow, columns: _Columns, y: float, zone: Box) -> None:
    top, left = y + _TOP_MM, zone.left + 3
    base = top + MEDIUM
    for text in _name_lines(row):
        canvas.write(letter(text, left, base, MEDIUM, bold=True))
        base += MEDIUM + 2.0
    base -= MEDIUM + 2.0
    for text in _word_lines(row):
        base += _PITCH_MM
        canvas.write(letter(text, left, base, SMALL))
    low = base
    base = top + MEDIUM
    canvas.write(letter(row.verdict, columns.verdict, base, _verdict_height(row), bold=True))
    for text, x in ((row.speed, columns.speed), (row.feed, columns.feed)):
        if text:
            canvas.write(letter(text, x, base, MEDIUM, anchor="end", bold=row.taken))
    for index, text in enumerate(row.turn):
        at = base + index * (MEDIUM + 2.0)
        low = max(low, at)
        canvas.write(letter(text, columns.turn, at, MEDIUM, anchor="end", bold=row.taken))
    base = top + SMALL if columns.beside else low + _PITCH_MM
    for text in _reason_lines(row, columns):
        canvas.write(letter(text, columns.reasons.left, base, SMALL))
        base += _PITCH_MM
    foot = y + _row_height(row, columns)
    canvas.put(line((zone.left + 2, foot), (zone.right - 2, foot), NARROW))
