"""A plan and its proof laid out on paper."""

from passplot.frozen import dataclass
from passplot.records.job import Job
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
from passplot.sheet.dial_page import DialSheet, dial_sheets, draw_dials, heading_of_dials
from passplot.sheet.hole_page import (
    CAUTIONS,
    HoleSheet,
    draw_drill,
    draw_holes,
    hole_sheets,
)
from passplot.sheet.listing import heading_of
from passplot.sheet.minutes import minutes_of
from passplot.sheet.packing import pack
from passplot.sheet.paper import Paper, paper_named, scale_text
from passplot.sheet.parting import parted
from passplot.sheet.pass_list import draw_table
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
from passplot.sheet.scene import Scene, scenes_of
from passplot.sheet.set_over_text import angle_text, settings_of
from passplot.sheet.setup_page import draw_setup_sheet, place_setup, setup_sheets
from passplot.sheet.setup_strip import draw_setup, draw_short_setup
from passplot.sheet.strips import (
    Heading,
    draw_block,
    draw_cautions,
    draw_frame,
    draw_short_block,
    draw_title,
    proof_line,
)
from passplot.sheet.table_choice import roomiest
from passplot.sheet.table_flow import used_height


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
    return Sheet(stem_of(plan), tuple(pages), all_tables(plan))


class Section:
    """The sheets of one setting of the work."""

    def __init__(self, plan: Plan, over: SetOver | None, areas: Areas, short: Areas) -> None:
        self.plan, self.over = plan, over
        sheets = pack(plan, short.table_room) if plan.passes else ()
        self.scenes = scenes_of(plan, parted(plan, sheets, short)) if sheets else ()
        self.placed, self.columns = place_setup(plan, areas.middle, short.texts, over)
        self.setups = setup_sheets(areas.middle, self.columns)
        self.points = point_sheets(plan, short)
        self.listed = self.points.pages if self.points is not None else ()
        self.turned, self.drilled = rotary_sheets(plan, short), hole_sheets(plan, short)
        self.dials = dial_sheets(plan, short)

    @property
    def count(self) -> int:
        """How many sheets."""
        work = (self.scenes, self.listed, self.turned, self.drilled, self.dials)
        return self.setups + sum(len(each) for each in work)

    @property
    def title(self) -> str:
        """What its set-up sheets are headed."""
        return "SET-UP" if self.over is None else f"SET OVER {angle_text(self.over.angle)}"


@dataclass(frozen=True, slots=True)
class Stack:
    """What all sheets after the first have in common."""

    leaf: Paper
    areas: Areas
    job: Job
    proof_text: str
    count: int
    date: str

    def heading(self, sheet: int, scale: str, what: str) -> Heading:
        """Title of one sheet."""
        return Heading(self.job, scale, sheet, self.count, self.date, what)

    def page(
        self,
        canvas: Canvas,
        heading: Heading,
        cautions: tuple[str, str],
        numbers: tuple[int, ...] = (),
    ) -> Page:
        """A sheet with its strips drawn round what stands on it; ``numbers`` are its passes."""
        draw_short_block(canvas, heading, self.areas.block)
        _finish_page(canvas, self.areas, heading, self.proof_text, cautions)
        return Page(self.leaf.width, self.leaf.height, canvas.marks, self.job.title, numbers)


def _setup_pages(
    stack: Stack, section: Section, areas: Areas, proof_text: str, pages: list[Page]
) -> None:
    """The set-up sheets of a setting; the first sheet of all has the whole title block."""
    plan = section.plan
    for index in range(section.setups):
        canvas = Canvas()
        scale = draw_setup_sheet(canvas, plan, areas.middle, section.placed, section.columns, index)
        heading = stack.heading(len(pages) + 1, _scale(scale), section.title)
        if index == 0:
            cut = cut_line(plan, areas.setup.width - 4)
            draw_setup(canvas, stack.job, plan.cutters[0], cut, areas.setup)
            draw_block(canvas, heading, areas.block)
            _finish_page(canvas, areas, heading, proof_text, standing(plan))
            leaf = stack.leaf
            pages.append(Page(leaf.width, leaf.height, canvas.marks, stack.job.title))
        else:
            pages.append(stack.page(canvas, heading, standing(plan)))


def _work_pages(stack: Stack, section: Section, pages: list[Page]) -> None:
    plan, points = section.plan, section.points
    for scene in section.scenes:
        pages.append(_pass_page(stack, scene, len(pages) + 1))
    if points is not None:
        for page in section.listed:
            pages.append(_point_page(stack, points, page, len(pages) + 1))
    for turns in section.turned:
        pages.append(_rotary_page(stack, plan, turns, len(pages) + 1))
    for holes in section.drilled:
        pages.append(_hole_page(stack, plan, holes, len(pages) + 1))
    for each in section.dials:
        pages.append(_dial_page(stack, plan, each, len(pages) + 1))


def _scale(scale: float | None) -> str:
    return "NONE" if scale is None else scale_text(scale)


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


def _hole_page(stack: Stack, plan: Plan, holes: HoleSheet, sheet: int) -> Page:
    canvas = Canvas()
    scale = scale_text(draw_holes(canvas, plan, holes, stack.areas))
    heading = stack.heading(sheet, scale, f"HOLES: {holes.feature.name.upper()}")
    draw_drill(canvas, plan, holes, stack.areas.setup)
    return stack.page(canvas, heading, CAUTIONS)


def _rotary_page(stack: Stack, plan: Plan, turns: RotarySheet, sheet: int) -> Page:
    canvas = Canvas()
    scale = scale_text(draw_rotary(canvas, plan, turns, stack.areas))
    heading = stack.heading(sheet, scale, heading_of_turns(turns))
    draw_short_setup(canvas, plan.job, plan.use(turns.passes[0].cutter), stack.areas.setup)
    numbers = tuple(each.number for each in turns.passes)
    return stack.page(canvas, heading, TURN_CAUTIONS, numbers)


def _point_page(stack: Stack, points: PointSheets, page: PointPage, sheet: int) -> Page:
    canvas = Canvas()
    scale = draw_point_page(canvas, points, page, stack.areas)
    scene = points.scene(page)
    heading = stack.heading(sheet, _scale(scale), heading_of_points(page))
    draw_short_setup(canvas, scene.job, scene.use, stack.areas.setup)
    return stack.page(canvas, heading, two_that_matter(scene), page.passes)


def _dial_page(stack: Stack, plan: Plan, dials: DialSheet, sheet: int) -> Page:
    canvas = Canvas()
    draw_dials(canvas, plan, dials, stack.areas)
    heading = stack.heading(sheet, _scale(None), heading_of_dials(dials))
    draw_short_setup(canvas, plan.job, plan.use(dials.cutter), stack.areas.setup)
    return stack.page(canvas, heading, standing(plan), dials.passes)


def _pass_page(stack: Stack, scene: Scene, sheet: int) -> Page:
    canvas = Canvas()
    table = roomiest(scene, stack.areas)
    drawing, listing = stack.areas.split(table.width, used_height(table))
    draw_table(canvas, table, listing)
    frame = draw_diagram(canvas, scene, drawing)
    what = heading_of(scene.runs)
    if scene.job.stock.outline:
        what = f"SET OVER: {what}"
    heading = stack.heading(sheet, scale_text(frame.view.scale), what)
    spent = minutes_of(scene.plan, scene.passes)
    minutes = None if spent is None else sum(spent)
    numbers = tuple(each.number for each in scene.passes)
    change = change_at(scene.plan, numbers)
    draw_short_setup(canvas, scene.job, scene.use, stack.areas.setup, change, minutes)
    return stack.page(canvas, heading, two_that_matter(scene), numbers)
