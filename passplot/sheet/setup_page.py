"""The set-up sheets: the whole work with its zero, how to hold it, which way to crank, cautions."""

from passplot.records.plan import Plan
from passplot.records.set_over import SetOver
from passplot.sheet.blocks import Block, Paragraph, Placed, block, draw_placed, flow
from passplot.sheet.canvas import Canvas
from passplot.sheet.cautions import ALWAYS
from passplot.sheet.cut_text import cutting_lines
from passplot.sheet.diagram import draw_work
from passplot.sheet.figures import CrankTable, Legend, StockBoxes
from passplot.sheet.framing import frame_fits, frame_of
from passplot.sheet.paper import Box
from passplot.sheet.scene import Scene
from passplot.sheet.set_over_text import (
    check_lines,
    corner_lines,
    saving_lines,
    turn_lines,
    wall_lines,
)
from passplot.sheet.setup_text import (
    cutter_texts,
    finish_lines,
    hold_lines,
    readout_lines,
    rotary_lines,
    zero_lines,
)
from passplot.sheet.shaft_view import draw_shaft

TEXT_MM = 110.0
"""Width of the text beside the drawing of the work."""
_GUTTER_MM = 6.0
_ABOVE_TEXT_MM = 4.0
_UPRIGHT_SHARES = (0.34, 0.42, 0.5, 0.58)
"""Shares of an upright sheet that the drawing of the work may take."""
_UPRIGHT_MM = 200.0
"""A middle narrower than this is that of an upright sheet."""


def setup_blocks(plan: Plan, over: SetOver | None, *, legend: bool) -> tuple[Block, ...]:
    """Everything the set-up sheets say, in the order it is done."""
    job = plan.job
    if over is not None:
        return over_blocks(plan, over)
    blocks = [
        block("1 HOLD THE WORK", hold_lines(job)),
        Block("2 FIND ZERO", tuple(_touch(text) for text in zero_lines(plan))),
        Block("3 MEASURE THE STOCK", (StockBoxes(job),)),
        block("4 CHECK AND LOCK", readout_lines(plan)),
        *_rotary_block(plan),
        Block("WHICH WAY TO CRANK", (CrankTable(job),)),
    ]
    if len(plan.cutters) > 1:
        blocks.append(block("CUTTERS, IN ORDER", cutter_texts(plan)))
    blocks.append(block("FINISHING", finish_lines(plan)))
    blocks.append(block("CUTTING", cutting_lines(plan)))
    if plan.notes:
        blocks.append(block("NOTES", (note[:1].upper() + note[1:] for note in plan.notes)))
    blocks.append(block("CAUTIONS", ALWAYS))
    if legend:
        blocks.append(Block("LINES AND TONES", (Legend(),)))
    return tuple(blocks)


def over_blocks(plan: Plan, over: SetOver) -> tuple[Block, ...]:
    """What the set-up sheets of a turned setting say."""
    blocks = [
        block("1 SET THE WORK OVER", turn_lines(plan.job, over)),
        Block("2 FIND ZERO AGAIN", tuple(_touch(text) for text in corner_lines(plan, over))),
        block("3 CHECK AND LOCK", check_lines(plan)),
        block("SLANTED WALLS NOW", wall_lines(plan, over)),
        Block("WHICH WAY TO CRANK", (CrankTable(plan.job),)),
        block("WHAT IT SAVES", saving_lines(over)),
    ]
    return tuple(blocks)


def _rotary_block(plan: Plan) -> tuple[Block, ...]:
    lines = rotary_lines(plan)
    return (Block("ROTARY TABLE", tuple(_touch(line) for line in lines)),) if lines else ()


def _touch(text: str) -> Paragraph:
    """A touch is bold: it carries the reading to set."""
    return Paragraph(text, bold=text.startswith(("TOUCH", "SET")))


def place_setup(
    plan: Plan, middle: Box, texts: Box, over: SetOver | None = None
) -> tuple[list[Placed], list[Box]]:
    """The text of the set-up sheets put into columns: ``middle`` of the first, ``texts`` of others.

    Returns where everything stands and the columns: the first beside (or below) the drawing on
    the first sheet, the others two a sheet.
    """
    first, *more = setup_columns(middle, texts, _share(plan, middle))
    placed = flow(setup_blocks(plan, over, legend=_upright(middle)), [first, *more])
    count = max(each.column for each in placed) + 1
    columns = [first]
    while len(columns) < count:
        columns += more
    return placed, columns[:count]


def _share(plan: Plan, middle: Box) -> float:
    """The least share of an upright sheet that draws the work as large as the greatest does."""
    *less, most = _UPRIGHT_SHARES
    if not _upright(middle):
        return most
    scene = _whole(plan)
    scale = frame_of(scene, _above(middle, most)).view.scale
    fitting = (each for each in less if frame_fits(scene, _above(middle, each), scale))
    return next(fitting, most)


def _whole(plan: Plan) -> Scene:
    return Scene(plan, (), (), plan.job.features, (), ())


def _above(middle: Box, share: float) -> Box:
    """The upper part of an upright sheet."""
    bottom = middle.top + middle.height * share - _ABOVE_TEXT_MM
    return Box(middle.left + 3, middle.top, middle.right - 3, bottom)


def setup_columns(middle: Box, texts: Box, share: float) -> tuple[Box, ...]:
    """The column beside the drawing, then those of a further sheet: two, one if upright."""
    inner = Box(middle.left + 3, middle.top, middle.right - 3, middle.bottom)
    half = (inner.width - _GUTTER_MM) / 2
    if _upright(middle):
        first = Box(inner.left, inner.top + inner.height * share, inner.right, inner.bottom)
        return first, Box(inner.left, texts.top, inner.right, texts.bottom)
    first = Box(inner.right - TEXT_MM, inner.top, inner.right, inner.bottom)
    left = Box(inner.left, texts.top, inner.left + half, texts.bottom)
    right = Box(inner.right - half, texts.top, inner.right, texts.bottom)
    return first, left, right


def _upright(middle: Box) -> bool:
    return middle.width < _UPRIGHT_MM


def draw_setup_sheet(
    canvas: Canvas, plan: Plan, middle: Box, placed: list[Placed], columns: list[Box], sheet: int
) -> float | None:
    """Draw one set-up sheet, counted from 0; returns the scale of the drawing on the first."""
    if sheet == 0:
        draw_placed(canvas, placed, 0, columns[0])
        scene = _whole(plan)
        if _upright(middle):
            zone = Box(
                middle.left + 3, middle.top, middle.right - 3, columns[0].top - _ABOVE_TEXT_MM
            )
            drawing = draw_shaft(canvas, plan, zone, beside=True)
            return draw_work(canvas, scene, drawing).view.scale
        zone = Box(middle.left + 3, middle.top, columns[0].left - 6, middle.bottom)
        legend = Legend()
        top = zone.bottom - legend.room(zone.width)
        legend.draw(canvas, Box(zone.left, top, zone.right, zone.bottom))
        drawing = Box(zone.left, zone.top, zone.right, top - 2)
        drawing = draw_shaft(canvas, plan, drawing, beside=False)
        return draw_work(canvas, scene, drawing).view.scale
    each = _columns_a_sheet(middle)
    for index in range(1 + (sheet - 1) * each, 1 + sheet * each):
        if index < len(columns):
            draw_placed(canvas, placed, index, columns[index])
    return None


def _columns_a_sheet(middle: Box) -> int:
    return 1 if _upright(middle) else 2


def setup_sheets(middle: Box, columns: list[Box]) -> int:
    """How many set-up sheets that many columns take."""
    each = _columns_a_sheet(middle)
    return 1 + -(-(len(columns) - 1) // each)
