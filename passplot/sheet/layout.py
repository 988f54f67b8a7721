"""A plan and its proof laid out on paper."""

from passplot.records.plan import Plan
from passplot.records.proof import Proof
from passplot.records.set_over import SetOver
from passplot.records.sheet import Page, Sheet
from passplot.sheet.alone import all_tables, stem_of
from passplot.sheet.areas import Areas, areas_of
from passplot.sheet.canvas import Canvas
from passplot.sheet.cautions import standing, two_that_matter
from passplot.sheet.change import change_at
from passplot.sheet.cut_text import cut_line
from passplot.sheet.diagram import draw_diagram
from passplot.sheet.listing import heading_of
from passplot.sheet.minutes import minutes_of
from passplot.sheet.packing import pack
from passplot.sheet.paper import paper_named, scale_text
from passplot.sheet.parting import parted
from passplot.sheet.pass_list import draw_table
from passplot.sheet.scene import Scene, scenes_of
from passplot.sheet.set_over_text import angle_text, settings_of
from passplot.sheet.setup_page import draw_setup_sheet, place_setup, setup_sheets
from passplot.sheet.setup_strip import draw_setup, draw_short_setup
from passplot.sheet.stack import Further, Stack, finish_page, scale_named
from passplot.sheet.strips import (
    draw_block,
    proof_line,
)
from passplot.sheet.table_choice import roomiest


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
    sections = [Section(each, over, areas, short) for each, over in settings_of(plan)]
    count = sum(section.count for section in sections)
    stack = Stack(leaf, short, plan.job, proof_line(plan, proof, short=True), count, date)
    pages: list[Page] = []
    for section in sections:
        _setup_pages(stack, section, areas, proof_line(plan, proof), pages)
        _work_pages(stack, section, pages)
    return Sheet(stem_of(plan.job), tuple(pages), all_tables(plan))


class Section:
    """The sheets of one setting of the work."""

    def __init__(self, plan: Plan, over: SetOver | None, areas: Areas, short: Areas) -> None:
        self.plan, self.over = plan, over
        sheets = pack(plan, short.table_room) if plan.passes else ()
        self.scenes = scenes_of(plan, parted(plan, sheets, short)) if sheets else ()
        self.placed, self.columns = place_setup(plan, areas.middle, short.texts, over)
        self.setups = setup_sheets(areas.middle, self.columns)
        self.further = further_pages(plan, short)

    @property
    def count(self) -> int:
        """How many sheets."""
        return self.setups + len(self.scenes) + len(self.further)

    @property
    def title(self) -> str:
        """What its set-up sheets are headed."""
        return "SET-UP" if self.over is None else f"SET OVER {angle_text(self.over.angle)}"


def _setup_pages(
    stack: Stack, section: Section, areas: Areas, proof_text: str, pages: list[Page]
) -> None:
    """The set-up sheets of a setting; the first sheet of all has the whole title block."""
    plan = section.plan
    for index in range(section.setups):
        canvas = Canvas()
        scale = draw_setup_sheet(canvas, plan, areas.middle, section.placed, section.columns, index)
        heading = stack.heading(len(pages) + 1, scale_named(scale), section.title)
        if index == 0:
            cut = cut_line(plan, areas.setup.width - 4)
            draw_setup(canvas, stack.job, plan.cutters[0], cut, areas.setup)
            draw_block(canvas, heading, areas.block)
            finish_page(canvas, areas, heading, proof_text, standing(plan))
            leaf = stack.leaf
            pages.append(Page(leaf.width, leaf.height, canvas.marks, stack.job.title))
        else:
            pages.append(stack.page(canvas, heading, standing(plan)))


def _work_pages(stack: Stack, section: Section, pages: list[Page]) -> None:
    for scene in section.scenes:
        pages.append(_pass_page(stack, scene, len(pages) + 1))
    for draw in section.further:
        pages.append(draw(stack, len(pages) + 1))


def further_pages(plan: Plan, areas: Areas) -> tuple[Further, ...]:
    """Sheets that few jobs have: of settings of stepped walls, rotary table, holes and dials."""
    listed = any(each.steps is not None or each.turn is not None for each in plan.passes)
    if not (listed or plan.patterns or plan.approach is not None):
        return ()
    from passplot.sheet.further import further  # noqa: PLC0415 - for few jobs, and slow

    return further(plan, areas)


def _pass_page(stack: Stack, scene: Scene, sheet: int) -> Page:
    canvas = Canvas()
    fitted = roomiest(scene, stack.areas)
    draw_table(canvas, fitted.table, fitted.listing)
    draw_diagram(canvas, scene, fitted.zone, fitted.frame)
    what = heading_of(scene.runs)
    if scene.job.stock.outline:
        what = f"SET OVER: {what}"
    heading = stack.heading(sheet, scale_text(fitted.frame.view.scale), what)
    spent = minutes_of(scene.plan, scene.passes)
    minutes = None if spent is None else sum(spent)
    numbers = tuple(each.number for each in scene.passes)
    change = change_at(scene.plan, numbers)
    draw_short_setup(canvas, scene.job, scene.use, stack.areas.setup, change, minutes)
    return stack.page(canvas, heading, two_that_matter(scene), numbers)
