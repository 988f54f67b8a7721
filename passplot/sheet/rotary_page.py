"""Sheets for the rotary table: centre, radius setting, angles as its dial shows them, which way.

With the table's axis under the spindle the readout is set to the centre of the arc; then every X
and Y of the plan holds while the table stands at 0, and a radius is set along X there.
"""

from collections.abc import Iterator, Sequence

from passplot.frozen import dataclass
from passplot.records.job import Job
from passplot.records.plan import Pass, Plan
from passplot.records.sheet import Fill
from passplot.sheet.areas import Areas
from passplot.sheet.canvas import TONES, Canvas
from passplot.sheet.ink import line, tick_box, turning
from passplot.sheet.lettering import letter, width_of, wrap
from passplot.sheet.numbers import printed
from passplot.sheet.paper import MEDIUM, NARROW, SHADE, SMALL, WIDE, Box
from passplot.sheet.rotary_view import draw_rotary_view
from passplot.sheet.tables import style_of
from passplot.sheet.turns import dial_text, table_way

TURN_CAUTIONS = ("CLAMPS CLEAR ALL ROUND", "LOCK X, Y AND THE TABLE")
"""The two that matter on a rotary table: common practice, no source."""

_ROW_MM, _HEAD_MM, _NOTE_MM, _PAD_MM, _TICK_MM = 8.0, 6.0, 5.2, 2.0, 6.6
_GROUP_MM = 7.0
_WAY_MM = 12.0
"""Paper that says which way the table turns, above the drawing."""
_BELOW_MM = 120.0
"""Height of the table below the drawing on an upright sheet."""
_HEADS = ("PASS", "SET X", "FROM", "TO", "TABLE")


@dataclass(frozen=True, slots=True)
class Group:
    """Passes about one centre at one height, in order; ``fresh`` where the work is set anew."""

    passes: tuple[Pass, ...]
    fresh: bool


@dataclass(frozen=True, slots=True)
class RotarySheet:
    """One sheet: groups of passes."""

    groups: tuple[Group, ...]

    @property
    def passes(self) -> tuple[Pass, ...]:
        """Its passes by number."""
        return tuple(each for group in self.groups for each in group.passes)


def rotary_sheets(plan: Plan, areas: Areas) -> tuple[RotarySheet, ...]:
    """The sheets that the arcs of a plan take; none where nothing is turned."""
    groups = _groups(plan)
    if not groups:
        return ()
    inner = _inner(areas)
    room = (_BELOW_MM if areas.portrait else inner.height) - _HEAD_MM - 2
    width = sum(_widths(plan.job, [each for group in groups for each in group.passes]))
    room -= len(_wrapped(_texts(plan), width)) * _NOTE_MM
    sheets: list[list[Group]] = [[]]
    left = room
    for group in _fitting(groups, int((room - _GROUP_MM) // _ROW_MM)):
        need = _GROUP_MM + len(group.passes) * _ROW_MM
        if need > left and sheets[-1]:
            sheets.append([])
            left = room
        sheets[-1].append(group)
        left -= need
    return tuple(RotarySheet(tuple(sheet)) for sheet in sheets)


def _groups(plan: Plan) -> list[Group]:
    groups: list[Group] = []
    for each in plan.passes:
        if each.turn is None:
            continue
        last = groups[-1].passes[-1] if groups else None
        same = last is not None and last.turn is not None and last.turn.center == each.turn.center
        alike = last is not None and (last.z, last.cutter) == (each.z, each.cutter)
        if same and alike:
            groups[-1] = Group((*groups[-1].passes, each), groups[-1].fresh)
        else:
            groups.append(Group((each,), not same))
    return groups


def _fitting(groups: Sequence[Group], most: int) -> Iterator[Group]:
    """The groups, none longer than a sheet."""
    for group in groups:
        for first in range(0, len(group.passes), most):
            yield Group(group.passes[first : first + most], group.fresh and first == 0)


def heading_of_turns(sheet: RotarySheet) -> str:
    """What the title strip says."""
    names = dict.fromkeys(each.feature for each in sheet.passes)
    return f"ROTARY TABLE: {', '.join(names).upper()}"


def _texts(plan: Plan) -> list[str]:
    """What is said above the table."""
    style = style_of(plan.job)
    turns = [each.turn for each in plan.passes if each.turn is not None]
    saved = sum(turn.settings for turn in turns)
    cross = printed(style.at(plan.cross_over_z), plan.job.inch)
    texts = [
        "Center of the arc on the table's axis. That axis under the spindle, set X and Y to the "
        "center; lock Y there.",
        "Angle 0: cutter in +X of the center. Angles count counter-clockwise round the work: they "
        "rise as the table turns CW, seen from above. A dial numbered the other way shows 360° "
        "less the angle.",
    ]
    if any(turn.whole for turn in turns):
        texts.append("Once round: feed X to its setting at 0°, lock it, turn the table.")
    if not all(turn.whole for turn in turns):
        texts.append(
            f"Part of a circle: at Z {cross} set X at 0°, lock it, turn to FROM, down, turn to TO, "
            "raise, back to 0°."
        )
    texts.append(f"Stepped off, these arcs would take {saved} settings.")
    return texts


def draw_rotary(canvas: Canvas, plan: Plan, sheet: RotarySheet, areas: Areas) -> float:
    """Draw one sheet between its strips; returns the scale of the drawing."""
    inner = _inner(areas)
    widths = _widths(plan.job, [each for each in plan.passes if each.turn is not None])
    if areas.portrait:
        high = min(_height(plan, sheet, sum(widths)), _BELOW_MM)
        zone = Box(inner.left, inner.bottom - high, inner.right, inner.bottom)
        drawing = Box(inner.left, inner.top, inner.right, zone.top - 3)
    else:
        zone = Box(inner.right - sum(widths), inner.top, inner.right, inner.bottom)
        drawing = Box(inner.left, inner.top, zone.left - 4, inner.bottom)
    _draw_table(canvas, plan, sheet, zone, widths)
    _draw_way(canvas, sheet, drawing)
    drawing = Box(drawing.left, drawing.top + _WAY_MM, drawing.right, drawing.bottom)
    return draw_rotary_view(canvas, plan, sheet.passes, drawing)


def _height(plan: Plan, sheet: RotarySheet, width: float) -> float:
    """Paper that the table of a sheet takes."""
    head = len(_wrapped(_texts(plan), width)) * _NOTE_MM + 2 + _HEAD_MM
    return head + sum(_GROUP_MM + len(group.passes) * _ROW_MM for group in sheet.groups) + 2


def _draw_way(canvas: Canvas, sheet: RotarySheet, drawing: Box) -> None:
    """Which way cutter and table turn, where all passes of a sheet go one way."""
    swings = {(each.turn.swing > 0) for each in sheet.passes if each.turn is not None}
    if len(swings) > 1:
        return
    counter, x, middle = swings.pop(), drawing.left, drawing.top + _WAY_MM / 2
    for word, clockwise in (("CUTTER", not counter), ("TABLE", counter)):
        canvas.write(letter(word, x, middle + MEDIUM / 2, MEDIUM, bold=True))
        x += width_of(word, MEDIUM, True) + 8.5
        for mark in turning((x, middle), 4.2, clockwise=clockwise):
            canvas.put(mark)
        x += 11.0
    canvas.block(Box(drawing.left, drawing.top, x, drawing.top + _WAY_MM))


def _inner(areas: Areas) -> Box:
    middle = areas.middle
    return Box(middle.left + 2, middle.top + 1, middle.right - 2, middle.bottom)


def _wrapped(texts: Sequence[str], width: float) -> list[str]:
    return [part for text in texts for part in wrap(text, width, SMALL)]


def _cells(job: Job, each: Pass) -> tuple[str, ...]:
    assert each.turn is not None
    turn = each.turn
    x = printed(style_of(job).at(turn.setting.x), job.inch)
    way = table_way(turn.swing)
    if turn.whole:
        return str(each.number), x, dial_text(turn.start), "ONCE ROUND", way
    return str(each.number), x, dial_text(turn.start), dial_text(turn.end), way


def _widths(job: Job, passes: Sequence[Pass]) -> tuple[float, ...]:
    """Widths of the columns and of the box to tick."""
    rows = [_cells(job, each) for each in passes]
    columns = [
        max(*(width_of(row[k], MEDIUM, k in (0, 4)) for row in rows), width_of(name, SMALL))
        + 2 * _PAD_MM
        for k, name in enumerate(_HEADS)
    ]
    return (_TICK_MM, *columns)


def _draw_table(
    canvas: Canvas, plan: Plan, sheet: RotarySheet, zone: Box, widths: tuple[float, ...]
) -> None:
    y, wide = zone.top, sum(widths)
    for part in _wrapped(_texts(plan), wide):
        canvas.write(letter(part, zone.left, y + SMALL, SMALL))
        y += _NOTE_MM
    y += 2
    shade = Box(zone.left, y, zone.left + wide, y + _HEAD_MM - 0.6)
    canvas.put(Fill((shade.corners,), SHADE), TONES)
    x = zone.left + widths[0]
    for name, width in zip(_HEADS, widths[1:], strict=True):
        canvas.write(letter(name, x + _PAD_MM, y + SMALL + 0.9, SMALL))
        x += width
    y += _HEAD_MM
    canvas.put(line((zone.left, y - 0.3), (zone.left + wide, y - 0.3), WIDE))
    for group in sheet.groups:
        _draw_group(canvas, plan.job, group, zone.left, y + SMALL + 2.2, wide)
        y += _GROUP_MM
        for each in group.passes:
            _draw_row(canvas, _cells(plan.job, each), zone.left, y, widths, each.number)
            y += _ROW_MM


def _draw_group(
    canvas: Canvas, job: Job, group: Group, left: float, base: float, wide: float
) -> None:
    """Where the centre is, bold where the work is to be set anew, and the height of the tip."""
    each, style = group.passes[0], style_of(job)
    assert each.turn is not None
    center = each.turn.reading

    def said(value: float) -> str:
        return "0" if float(style.at(value)) == 0 else printed(style.at(value), job.inch)

    what = "SET CENTER" if group.fresh else "CENTER"
    text = f"{what} X {said(center.x)} Y {said(center.y)}"
    canvas.write(letter(text, left, base, SMALL, bold=group.fresh))
    canvas.write(letter(f"Z {said(each.z)}", left + wide, base, SMALL, anchor="end"))


def _draw_row(
    canvas: Canvas,
    cells: tuple[str, ...],
    left: float,
    top: float,
    widths: tuple[float, ...],
    number: int,
) -> None:
    base = top + (_ROW_MM + MEDIUM) / 2
    canvas.put(tick_box(left + 0.6, top + _ROW_MM / 2))
    x = left + widths[0]
    for k, (text, width) in enumerate(zip(cells, widths[1:], strict=True)):
        bold = k in (0, len(cells) - 1)
        canvas.write(letter(text, x + _PAD_MM, base, MEDIUM, bold=bold, number=number))
        x += width
    bottom = top + _ROW_MM
    canvas.put(line((left, bottom), (left + sum(widths), bottom), NARROW))
