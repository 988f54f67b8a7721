"""Sheets that few jobs have, of settings of stepped walls, rotary table, holes and dials."""

from functools import partial

from passplot.records.plan import Plan
from passplot.records.sheet import Page
from passplot.sheet.areas import Areas
from passplot.sheet.canvas import Canvas
from passplot.sheet.cautions import standing, two_that_matter
from passplot.sheet.dial_page import DialSheet, dial_sheets, draw_dials, heading_of_dials
from passplot.sheet.hole_page import (
    CAUTIONS,
    HoleSheet,
    draw_drill,
    draw_holes,
    hole_sheets,
)
from passplot.sheet.paper import scale_text
from passplot.sheet.point_flow import PointPage
from passplot.sheet.point_page import (
    PointSheets,
    draw_point_page,
    heading_of_points,
    point_sheets,
)
from passplot.sheet.rotary_page import (
    TURN_CAUTIONS,
    RotarySheet,
    draw_rotary,
    heading_of_turns,
    rotary_sheets,
)
from passplot.sheet.setup_strip import draw_short_setup
from passplot.sheet.stack import Further, Stack, scale_named


def further(plan: Plan, areas: Areas) -> tuple[Further, ...]:
    """What draws each of these sheets of a plan, in order."""
    points = point_sheets(plan, areas)
    listed = points.pages if points is not None else ()
    return (
        *(partial(_point_page, points, page) for page in listed if points is not None),
        *(partial(_rotary_page, plan, turns) for turns in rotary_sheets(plan, areas)),
        *(partial(_hole_page, plan, holes) for holes in hole_sheets(plan, areas)),
        *(partial(_dial_page, plan, dials) for dials in dial_sheets(plan, areas)),
    )


def _hole_page(plan: Plan, holes: HoleSheet, stack: Stack, sheet: int) -> Page:
    canvas = Canvas()
    scale = scale_text(draw_holes(canvas, plan, holes, stack.areas))
    heading = stack.heading(sheet, scale, f"HOLES: {holes.feature.name.upper()}")
    draw_drill(canvas, plan, holes, stack.areas.setup)
    return stack.page(canvas, heading, CAUTIONS)


def _rotary_page(plan: Plan, turns: RotarySheet, stack: Stack, sheet: int) -> Page:
    canvas = Canvas()
    scale = scale_text(draw_rotary(canvas, plan, turns, stack.areas))
    heading = stack.heading(sheet, scale, heading_of_turns(turns))
    draw_short_setup(canvas, plan.job, plan.use(turns.passes[0].cutter), stack.areas.setup)
    numbers = tuple(each.number for each in turns.passes)
    return stack.page(canvas, heading, TURN_CAUTIONS, numbers)


def _point_page(points: PointSheets, page: PointPage, stack: Stack, sheet: int) -> Page:
    canvas = Canvas()
    scale = draw_point_page(canvas, points, page, stack.areas)
    scene = points.scene(page)
    heading = stack.heading(sheet, scale_named(scale), heading_of_points(page))
    draw_short_setup(canvas, scene.job, scene.use, stack.areas.setup)
    return stack.page(canvas, heading, two_that_matter(scene), page.passes)


def _dial_page(plan: Plan, dials: DialSheet, stack: Stack, sheet: int) -> Page:
    canvas = Canvas()
    draw_dials(canvas, plan, dials, stack.areas)
    heading = stack.heading(sheet, scale_named(None), heading_of_dials(dials))
    draw_short_setup(canvas, plan.job, plan.use(dials.cutter), stack.areas.setup)
    return stack.page(canvas, heading, standing(plan), dials.passes)
