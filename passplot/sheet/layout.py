"""A plan and its proof laid out on paper."""

from passplot.records.plan import Plan
from passplot.records.proof import Proof
from passplot.records.sheet import Page, Sheet
from passplot.sheet.areas import Areas, areas_of
from passplot.sheet.canvas import Canvas
from passplot.sheet.cautions import standing, two_that_matter
from passplot.sheet.diagram import draw_diagram
from passplot.sheet.hole_page import (
    CAUTIONS,
    HoleSheet,
    draw_drill,
    draw_holes,
    hole_sheets,
    hole_tables,
)
from passplot.sheet.listing import heading_of
from passplot.sheet.packing import pack
from passplot.sheet.paper import Paper, paper_named, scale_text
from passplot.sheet.pass_list import draw_table
from passplot.sheet.point_flow import PointPage
from passplot.sheet.point_page import (
    PointSheets,
    draw_point_page,
    heading_of_points,
    point_sheets,
)
from passplot.sheet.points import tables_of_points
from passplot.sheet.scene import Scene, scenes_of
from passplot.sheet.setup_page import draw_setup_sheet, place_setup, setup_sheets
from passplot.sheet.strips import (
    Heading,
    draw_block,
    draw_cautions,
    draw_frame,
    draw_setup,
    draw_short_block,
    draw_short_setup,
    draw_title,
    proof_line,
)
from passplot.sheet.table_flow import plan_table, used_height
from passplot.sheet.tables import moves_table, pass_table


def lay_out(
    plan: Plan, proof: Proof, paper: str = "a4", *, portrait: bool = False, date: str = ""
) -> Sheet:
    """Lay a proven plan out on sheets of paper.

    Parameters
    ----------
    plan, proof : Plan, Proof
        What to print and what its replay found.
    paper : str
        ``"a4"`` or ``"letter"``.
    portrait : bool
        Upright sheets; landscape is the default.
    date : str
        For the title block; blank unless given.

    Returns
    -------
    Sheet
        All pages with the moves and pass tables.
    """
    leaf = paper_named(paper, portrait=portrait)
    areas, short = areas_of(leaf), areas_of(leaf, passes=True)
    scenes = scenes_of(plan, pack(plan, short.table_room))
    full_text = proof_line(plan.job, proof)
    proof_text = proof_line(plan.job, proof, short=True)
    placed, columns = place_setup(plan, areas.middle, short.texts)
    setups = setup_sheets(areas.middle, columns)
    points = point_sheets(plan, short)
    listed = points.pages if points is not None else ()
    drilled = hole_sheets(plan, short)
    count = setups + len(scenes) + len(listed) + len(drilled)
    pages: list[Page] = []
    for index in range(setups):
        canvas = Canvas()
        scale = draw_setup_sheet(canvas, plan, areas.middle, placed, columns, index)
        heading = Heading(plan.job, _scale(scale), index + 1, count, date, "SET-UP")
        if index == 0:
            draw_setup(canvas, plan.job, plan.cutters[0], areas.setup)
            draw_block(canvas, heading, areas.block)
            _finish_page(canvas, areas, heading, full_text, standing(plan))
        else:
            draw_short_block(canvas, heading, short.block)
            _finish_page(canvas, short, heading, proof_text, standing(plan))
        pages.append(Page(leaf.width, leaf.height, canvas.marks, plan.job.title))
    for index, scene in enumerate(scenes):
        pages.append(_pass_page(leaf, scene, proof_text, setups + index + 1, count, date))
    if points is not None:
        for page in listed:
            number = len(pages) + 1
            pages.append(_point_page(leaf, points, page, proof_text, number, count, date))
    for holes in drilled:
        pages.append(_hole_page(leaf, plan, holes, proof_text, len(pages) + 1, count, date))
    tables = (moves_table(plan), pass_table(plan), *tables_of_points(plan), *hole_tables(plan))
    return Sheet(stem_of(plan), tuple(pages), tables)


def _scale(scale: float | None) -> str:
    return "NONE" if scale is None else scale_text(scale)


def stem_of(plan: Plan) -> str:
    """The stem of the job's file name."""
    return plan.job.file.replace("\\", "/").rsplit("/", 1)[-1].rsplit(".", 1)[0]


def _finish_page(
    canvas: Canvas,
    areas: Areas,
    heading: Heading,
    proof_text: str,
    cautions: tuple[str, str],
) -> None:
    """The strips of a sheet, round what stands in its middle."""
    draw_title(canvas, heading, areas.title)
    draw_cautions(canvas, proof_text, cautions, areas.cautions)
    draw_frame(canvas, areas.live)


def _hole_page(
    leaf: Paper,
    plan: Plan,
    holes: HoleSheet,
    proof_text: str,
    sheet: int,
    sheets: int,
    date: str,
) -> Page:
    canvas = Canvas()
    areas = areas_of(leaf, passes=True)
    scale = scale_text(draw_holes(canvas, plan, holes, areas))
    what = f"HOLES: {holes.feature.name.upper()}"
    heading = Heading(plan.job, scale, sheet, sheets, date, what)
    draw_drill(canvas, plan, holes, areas.setup)
    draw_short_block(canvas, heading, areas.block)
    _finish_page(canvas, areas, heading, proof_text, CAUTIONS)
    return Page(leaf.width, leaf.height, canvas.marks, plan.job.title)


def _point_page(
    leaf: Paper,
    points: PointSheets,
    page: PointPage,
    proof_text: str,
    sheet: int,
    sheets: int,
    date: str,
) -> Page:
    canvas = Canvas()
    areas = areas_of(leaf, passes=True)
    scale = draw_point_page(canvas, points, page, areas)
    scene = points.scene(page)
    heading = Heading(scene.job, _scale(scale), sheet, sheets, date, heading_of_points(page))
    draw_short_setup(canvas, scene.job, scene.use, areas.setup)
    draw_short_block(canvas, heading, areas.block)
    _finish_page(canvas, areas, heading, proof_text, two_that_matter(scene))
    return Page(leaf.width, leaf.height, canvas.marks, scene.job.title, page.passes)


def _pass_page(
    leaf: Paper, scene: Scene, proof_text: str, sheet: int, sheets: int, date: str
) -> Page:
    canvas = Canvas()
    areas = areas_of(leaf, passes=True)
    table = plan_table(scene, areas.table_room)
    drawing, listing = areas.split(table.width, used_height(table))
    draw_table(canvas, table, listing)
    frame = draw_diagram(canvas, scene, drawing)
    scale = scale_text(frame.view.scale)
    heading = Heading(scene.job, scale, sheet, sheets, date, heading_of(scene.runs))
    draw_short_setup(canvas, scene.job, scene.use, areas.setup)
    draw_short_block(canvas, heading, areas.block)
    _finish_page(canvas, areas, heading, proof_text, two_that_matter(scene))
    numbers = tuple(each.number for each in scene.passes)
    return Page(leaf.width, leaf.height, canvas.marks, scene.job.title, numbers)
