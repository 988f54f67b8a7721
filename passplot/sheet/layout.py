"""A plan and its proof laid out on paper."""

from passplot.records.plan import CutterUse, Plan
from passplot.records.proof import Proof
from passplot.records.sheet import Page, Sheet
from passplot.sheet.areas import Areas, areas_of
from passplot.sheet.canvas import Canvas
from passplot.sheet.cautions import standing, two_that_matter
from passplot.sheet.diagram import draw_diagram
from passplot.sheet.listing import stage_of
from passplot.sheet.packing import pack
from passplot.sheet.paper import Paper, paper_named, scale_text
from passplot.sheet.pass_list import draw_table
from passplot.sheet.scene import Scene, scenes_of
from passplot.sheet.setup_page import draw_setup_sheet, place_setup, setup_sheets
from passplot.sheet.strips import (
    Heading,
    draw_block,
    draw_cautions,
    draw_frame,
    draw_setup,
    draw_title,
    proof_line,
)
from passplot.sheet.table_plan import plan_table
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
    areas = areas_of(leaf)
    scenes = scenes_of(plan, pack(plan, areas.table_room))
    proof_text = proof_line(plan.job, proof)
    placed, columns = place_setup(plan, areas.middle)
    setups = setup_sheets(areas.middle, columns)
    count = setups + len(scenes)
    pages: list[Page] = []
    for index in range(setups):
        canvas = Canvas()
        scale = draw_setup_sheet(canvas, plan, areas.middle, placed, columns, index)
        heading = Heading(plan.job, _scale(scale), index + 1, count, date, "SET-UP")
        use = plan.cutters[0] if index == 0 else None
        _finish_page(canvas, areas, heading, use, proof_text, standing(plan))
        pages.append(Page(leaf.width, leaf.height, canvas.marks, plan.job.title))
    for index, scene in enumerate(scenes):
        pages.append(_pass_page(leaf, areas, scene, proof_text, setups + index + 1, count, date))
    return Sheet(stem_of(plan), tuple(pages), (moves_table(plan), pass_table(plan)))


def _scale(scale: float | None) -> str:
    return "NONE" if scale is None else scale_text(scale)


def stem_of(plan: Plan) -> str:
    """The stem of the job's file name."""
    return plan.job.file.replace("\\", "/").rsplit("/", 1)[-1].rsplit(".", 1)[0]


def _finish_page(
    canvas: Canvas,
    areas: Areas,
    heading: Heading,
    use: CutterUse | None,
    proof_text: str,
    cautions: tuple[str, str],
) -> None:
    """The strips of a sheet, round what stands in its middle."""
    draw_title(canvas, heading, areas.title)
    if use is not None:
        draw_setup(canvas, heading.job, use, areas.setup)
    draw_cautions(canvas, proof_text, cautions, areas.cautions)
    draw_block(canvas, heading, areas.block)
    draw_frame(canvas, areas.live)


def _pass_page(
    leaf: Paper,
    areas: Areas,
    scene: Scene,
    proof_text: str,
    sheet: int,
    sheets: int,
    date: str,
) -> Page:
    canvas = Canvas()
    table = plan_table(scene, areas.table_room)
    drawing, listing = areas.split(table.width)
    draw_table(canvas, table, listing)
    frame = draw_diagram(canvas, scene, drawing)
    heading = Heading(
        scene.job, scale_text(frame.view.scale), sheet, sheets, date, stage_of(scene.runs)
    )
    _finish_page(canvas, areas, heading, scene.use, proof_text, two_that_matter(scene))
    numbers = tuple(each.number for each in scene.passes)
    return Page(leaf.width, leaf.height, canvas.marks, scene.job.title, numbers)
