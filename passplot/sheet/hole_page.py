"""Sheets of holes: where each stands, drawn and in a table, numbered in the order gone to."""

from collections.abc import Iterator, Sequence

from passplot.frozen import dataclass
from passplot.records.job import Feature, Job
from passplot.records.plan import Hole, PatternUse, Plan
from passplot.records.sheet import Fill
from passplot.sheet.areas import Areas
from passplot.sheet.canvas import TONES, Canvas
from passplot.sheet.change import change_to_drill
from passplot.sheet.crank_key import KEY_HIGH_MM, draw_key
from passplot.sheet.hole_view import draw_hole_view
from passplot.sheet.ink import line, tick_box
from passplot.sheet.lettering import letter, width_of, wrap
from passplot.sheet.numbers import printed
from passplot.sheet.paper import MEDIUM, NARROW, SHADE, SMALL, WIDE, Box
from passplot.sheet.setup_strip import cutter_lines
from passplot.sheet.tables import style_of

_ROW_MM = 7.5
"""One and a half times the capitals, what ISO 3098 asks for lines of text."""
_HEAD_MM = 6.0
_NOTE_MM = 5.2
_GAP_MM = 5.0
_PAD_MM = 2.4
_TICK_MM = 6.6
_BELOW_MM = 110.0
"""Height of the table below the drawing on an upright sheet."""
_MOST_COLUMNS = 2
_PLAIN_COLUMNS = 4
"""Number, X, Y, box to tick: where the holes are gone to in the order of the print."""
CAUTIONS = ("LOCK TABLE AND SADDLE", "CHECK ROTATION FIRST")
"""Both held still while the quill drills: common practice, no source."""


@dataclass(frozen=True, slots=True)
class HoleSheet:
    """One sheet: some holes of a pattern, with what is said above their table."""

    feature: Feature
    use: PatternUse
    holes: tuple[Hole, ...]
    texts: tuple[str, ...]


def hole_sheets(plan: Plan, areas: Areas) -> tuple[HoleSheet, ...]:
    """The sheets that the patterns of a plan take, in order."""
    return tuple(sheet for use in plan.patterns for sheet in _sheets(plan, use, areas))


def _sheets(plan: Plan, use: PatternUse, areas: Areas) -> Iterator[HoleSheet]:
    feature = next(one for one in plan.job.features if one.name == use.feature)
    change = change_to_drill(plan, use.cutter)
    texts = (*(() if change is None else (change.sentence,)), *_texts(plan, feature))
    widths = _widths(plan.job, use.holes)
    inner = _inner(areas)
    height = _BELOW_MM if areas.portrait else inner.height
    columns = _MOST_COLUMNS
    width = columns * sum(widths) + (columns - 1) * _GAP_MM
    head = sum(len(wrap(text, width, SMALL)) for text in texts) * _NOTE_MM
    rows = columns * int((height - head - 2 - _HEAD_MM) // _ROW_MM)
    for first in range(0, len(use.holes), rows):
        yield HoleSheet(feature, use, use.holes[first : first + rows], texts)


def draw_holes(canvas: Canvas, plan: Plan, sheet: HoleSheet, areas: Areas) -> float:
    """Draw one sheet between its strips; returns the scale of the drawing."""
    inner = _inner(areas)
    widths = _widths(plan.job, sheet.use.holes)
    column = sum(widths)
    if areas.portrait:
        zone = Box(inner.left, inner.bottom - _BELOW_MM, inner.right, inner.bottom)
        drawing = Box(inner.left, inner.top, inner.right, zone.top - 3)
    else:
        several = len(sheet.holes) > _rows(sheet, inner.height, column)
        width = _MOST_COLUMNS * column + _GAP_MM if several else max(column, 80.0)
        zone = Box(inner.right - width, inner.top, inner.right, inner.bottom)
        drawing = Box(inner.left, inner.top, zone.left - 4, inner.bottom)
    below = _draw_table(canvas, plan.job, sheet, zone, widths)
    high = KEY_HIGH_MM + 2.0
    if below + high <= zone.bottom:
        draw_key(canvas, plan.job, zone)
    else:  # the table takes all its room: which way to crank stands below the drawing
        draw_key(canvas, plan.job, drawing)
        drawing = Box(drawing.left, drawing.top, drawing.right, drawing.bottom - high)
    return draw_hole_view(canvas, plan, sheet.feature, sheet.holes, drawing)


def draw_drill(canvas: Canvas, plan: Plan, sheet: HoleSheet, strip: Box) -> None:
    """Cutter and speed in one line; the quill is fed by feel, so no feed is said."""
    use = plan.use(sheet.use.cutter)
    _, cutter = cutter_lines(plan.job, use)
    speed = f"{use.speed_rpm:.0f} {'RPM' if plan.job.inch else 'REV/MIN'}"
    base, half = (strip.top + strip.bottom + MEDIUM) / 2, strip.left + strip.width / 2
    room = half - strip.left - 4 - width_of(cutter, MEDIUM, True)
    change = change_to_drill(plan, use.cutter.id)
    words = (use.cutter.id,) if change is None else (change.words, "CHANGE TO")
    name = next((text for text in words if width_of(text, SMALL) + 2 <= room), "")
    left = strip.left + 2
    if name:
        canvas.write(letter(name, left, base, SMALL))
        left += width_of(name, SMALL) + 1.8
    canvas.write(letter(cutter, left, base, MEDIUM, bold=True))
    canvas.put(line((half, strip.top), (half, strip.bottom), NARROW))
    canvas.write(letter(speed, half + 2, base, MEDIUM, bold=True))
    canvas.put(line((strip.left, strip.bottom), (strip.right, strip.bottom), NARROW))


def _inner(areas: Areas) -> Box:
    middle = areas.middle
    return Box(middle.left + 2, middle.top + 1, middle.right - 2, middle.bottom)


def _rows(sheet: HoleSheet, height: float, width: float) -> int:
    """Rows of one column where the texts above take the width given."""
    head = sum(len(wrap(text, max(width, 80.0), SMALL)) for text in sheet.texts) * _NOTE_MM
    return int((height - head - 2 - _HEAD_MM) // _ROW_MM)


def _texts(plan: Plan, feature: Feature) -> Iterator[str]:
    """What is said above the table."""
    job, style = plan.job, style_of(plan.job)

    def said(value: float) -> str:
        text = style.at(value)
        return "0" if float(text) == 0 else printed(text, job.inch)

    pattern = feature.pattern
    assert pattern is not None
    count = len(pattern.points)
    if pattern.center is not None and pattern.diameter is not None:
        yield f"{count} ON A CIRCLE OF Ø {said(pattern.diameter)}"
        yield f"CENTER X {said(pattern.center.x)} Y {said(pattern.center.y)}"
    else:
        yield f"{count} HOLES" if count > 1 else "1 HOLE"
    deep = plan.job.stock.top - feature.floor
    if deep > 0:
        down = plan.cross_over_z - feature.floor
        yield f"START WITH THE TIP AT Z {said(plan.cross_over_z)}"
        yield f"QUILL DOWN {said(down)}: {said(deep)} DEEP"
    else:
        yield f"CROSS OVER AT Z {said(plan.cross_over_z)}"
    yield "SPOT-DRILL ALL, THEN DRILL ALL"


def _cells(job: Job, hole: Hole) -> tuple[str, str, str]:
    style = style_of(job)
    x, y = (printed(style.at(value), job.inch) for value in (hole.at.x, hole.at.y))
    return str(hole.number), x, y


def _split(text: str) -> tuple[str, str]:
    """A number before and from its decimal point."""
    before, point, after = text.partition(".")
    return before, point + after


def _widths(job: Job, holes: Sequence[Hole]) -> tuple[float, ...]:
    """Widths of the columns number, X, Y, number on the print where it differs, box to tick."""
    rows = [_cells(job, hole) for hole in holes]
    number = max(width_of(row[0], MEDIUM, True) for row in rows)
    number = max(number, width_of("HOLE", SMALL)) + 2 * _PAD_MM
    across = [
        sum(max(width_of(_split(row[k])[part], MEDIUM) for row in rows) for part in (0, 1))
        + 2 * _PAD_MM
        for k in (1, 2)
    ]
    again = any(hole.number != hole.printed for hole in holes)
    on_print = (width_of("PRINT", SMALL) + _PAD_MM,) if again else ()
    return number, across[0], across[1], *on_print, _TICK_MM


def _draw_table(
    canvas: Canvas, job: Job, sheet: HoleSheet, zone: Box, widths: tuple[float, ...]
) -> float:
    """Draw the table from the top of its zone down; returns where it ends."""
    y = zone.top
    for text in sheet.texts:
        for part in wrap(text, zone.width, SMALL):
            canvas.write(letter(part, zone.left, y + SMALL, SMALL))
            y += _NOTE_MM
    y += 2
    rows = int((zone.bottom - y - _HEAD_MM + 0.01) // _ROW_MM)
    points = _points(job, sheet.use.holes, widths)
    for column, first in enumerate(range(0, len(sheet.holes), rows)):
        left = zone.left + column * (sum(widths) + _GAP_MM)
        mine = sheet.holes[first : first + rows]
        _draw_heads(canvas, left, y, widths)
        for index, hole in enumerate(mine):
            top = y + _HEAD_MM + index * _ROW_MM
            _draw_row(canvas, job, hole, (left, top), widths, points)
    return y + _HEAD_MM + min(rows, len(sheet.holes)) * _ROW_MM


def _points(job: Job, holes: Sequence[Hole], widths: tuple[float, ...]) -> tuple[float, float]:
    """Where the decimal points of X and Y stand, from the left of the row."""
    rows = [_cells(job, hole) for hole in holes]
    before = [max(width_of(_split(row[k])[0], MEDIUM) for row in rows) for k in (1, 2)]
    return widths[0] + _PAD_MM + before[0], widths[0] + widths[1] + _PAD_MM + before[1]


def _draw_heads(canvas: Canvas, left: float, y: float, widths: tuple[float, ...]) -> None:
    shade = Box(left, y, left + sum(widths), y + _HEAD_MM - 0.6)
    canvas.put(Fill((shade.corners,), SHADE), TONES)
    x = left
    for name, width in zip(("HOLE", "X", "Y", "PRINT"), widths[:-1], strict=False):
        canvas.write(letter(name, x + width / 2, y + SMALL + 0.9, SMALL, anchor="middle"))
        x += width
    bottom = y + _HEAD_MM - 0.3
    canvas.put(line((left, bottom), (left + sum(widths), bottom), WIDE))


def _draw_row(
    canvas: Canvas,
    job: Job,
    hole: Hole,
    corner: tuple[float, float],
    widths: tuple[float, ...],
    points: tuple[float, float],
) -> None:
    cells, (left, top) = _cells(job, hole), corner
    base = top + (_ROW_MM + MEDIUM) / 2
    number = letter(cells[0], left + widths[0] - _PAD_MM, base, MEDIUM, anchor="end", bold=True)
    canvas.write(number)
    for text, point in zip(cells[1:], points, strict=True):
        x = left + point - width_of(_split(text)[0], MEDIUM)
        canvas.write(letter(text, x, base, MEDIUM))
    if len(widths) > _PLAIN_COLUMNS:
        middle = left + sum(widths[:3]) + widths[3] / 2
        canvas.write(letter(str(hole.printed), middle, base - 0.8, SMALL, anchor="middle"))
    right = left + sum(widths)
    canvas.put(tick_box(right - 5.4, top + _ROW_MM / 2))
    canvas.put(line((left, top + _ROW_MM), (right, top + _ROW_MM), NARROW))
