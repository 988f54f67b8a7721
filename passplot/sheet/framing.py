"""Which part of the work a diagram shows, how large, and where on the paper.

Of all ISO 5455 scales that fit the clearest framing is taken: passes far enough apart to carry
their numbers, then as large as may be, the whole block before its surroundings, these before a
detail round the passes, and no more breaks than needed, none of them through a boss or an island.
"""

from dataclasses import replace
from itertools import pairwise
from math import log2

from passplot.frozen import dataclass
from passplot.sheet.feeds import BOTTOM, COLUMN, LEFT, RIGHT, TOP, Feed, beside, feeds_of
from passplot.sheet.margins import COLUMN_MM, PAIR_MM, Margins, margins_of
from passplot.sheet.paper import SCALES, Box
from passplot.sheet.reaches import AROUND, DETAIL, WHOLE, Extent, extent_of, span_of
from passplot.sheet.scene import Scene
from passplot.sheet.view import Reach, View, shortened

BELOW_FLOOR_MM = 6.0
"""How much of the part an elevation shows below the deepest floor."""
ELEVATION_GAP_MM = 4.0
_FAIR_SPACING_MM = 2.9
"""Between lines that have their numbers off their ends."""
_NUMBER_SPACING_MM = 5.4
"""Between lines that have their numbers in them."""
_MERGED_MM = 1.4
"""Lines nearer than this are drawn as one anyway."""
_KEEP_MM = 4.0
_BREAK_IN_CUT = 2.5
_OTHER_AXIS = 1.5
"""A section along the feed shows no steps: worth it for a drawing twice as large."""
_LEAST_VIEW_MM = 5.0
_MOST_CUTTER = 0.6
_LOW_ZONE = 1.6
_AXES_MM = 24.0
_LARGE_ENOUGH = 2.0
"""A view that needs no break at this scale or a smaller one is not made clearer by less."""


@dataclass(frozen=True, slots=True)
class Frame:
    """A diagram framed: the plan view, what of the work it shows, and the elevation.

    ``plan`` is the paper the plan view covers, ``shown`` the job rectangle (x low, x high, y low,
    y high); ``along`` the axis the elevation runs along, ``elevation`` its paper, ``floor_z`` the
    lowest Z it shows.
    """

    view: View
    plan: Box
    shown: tuple[float, float, float, float]
    along: str
    elevation: Box
    floor_z: float
    margins: Margins
    feeds: tuple[Feed, ...]

    def inner(self, zone: Box) -> Box:
        """The zone less the room of the pairs of arrows."""
        sides = {feed.side for feed in self.feeds}
        return Box(
            zone.left + PAIR_MM * (LEFT in sides),
            zone.top + PAIR_MM * (TOP in sides),
            zone.right - PAIR_MM * (RIGHT in sides) - COLUMN_MM * (COLUMN in sides),
            zone.bottom - PAIR_MM * (BOTTOM in sides),
        )


@dataclass(frozen=True, slots=True)
class _Option:
    """One way of framing, with the scale it comes out at."""

    x: Reach
    y: Reach
    scale: float
    crop: int

    @property
    def unbroken(self) -> bool:
        """Whether nothing is left out of it."""
        return not (self.x.left_out or self.y.left_out)


@dataclass(frozen=True, slots=True)
class _Work:
    """What is framed, and where: ``along`` is the axis the elevation runs along."""

    scene: Scene
    zone: Box
    along: str
    x: Extent
    y: Extent


def _work(scene: Scene, zone: Box) -> _Work:
    return _Work(scene, zone, section_axis(scene), extent_of(scene, "X"), extent_of(scene, "Y"))


def frame_fits(scene: Scene, zone: Box, scale: float) -> bool:
    """Whether the whole work finds room in a zone at a scale."""
    margins = margins_of(scene, (), all_ends=False)
    return _fit(_work(scene, zone), margins, scale, WHOLE, interrupted=False) is not None


def frame_of(scene: Scene, zone: Box, *, pairs: bool = True) -> Frame:
    """The best framing of a scene in a zone of the sheet, with room for pairs of arrows or not."""
    feeds = feeds_of(scene.passes) if pairs else ()
    if zone.width > _LOW_ZONE * zone.height:
        feeds = beside(feeds)
    work = _work(scene, zone)
    found = _best(work, feeds)
    if scene.passes and (found is None or found[2].scale < 1.0):
        across = replace(work, along="X" if work.along == "Y" else "Y")
        other = _best(across, feeds)
        if other is not None and (found is None or other[0] + _OTHER_AXIS < found[0]):
            work, found = across, other
    if found is None:
        # rather a cutter drawn large on its first pass than no drawing
        found = _best(work, feeds, any_cutter=True) or _best(work, (), any_cutter=True)
    assert found is not None, "fault of passplot: a drawing zone too small for any scale"
    _, margins, option = found
    return _placed(work, margins, option, feeds)


def _best(
    work: _Work, feeds: tuple[Feed, ...], *, any_cutter: bool = False
) -> tuple[float, Margins, _Option] | None:
    """The framing of least cost with its elevation along an axis, with that cost."""
    scene = work.scene
    gap_mm = _tightest(work) * scene.mm
    fair = _FAIR_SPACING_MM if _numbers_off(scene) else _NUMBER_SPACING_MM
    found: list[tuple[float, int, Margins, _Option]] = []
    for all_ends in (False, True) if scene.passes else (False,):
        margins = margins_of(scene, feeds, all_ends=all_ends)
        for option in _options(work, margins, any_cutter=any_cutter):
            close = max(0.0, log2(fair / max(option.scale * gap_mm, _MERGED_MM)))
            cost = _cost(option, close, all_ends=all_ends)
            cost += _BREAK_IN_CUT * _broken_cuts(scene, option)
            found.append((cost, len(found), margins, option))
    if not found:
        return None
    cost, _, margins, option = min(found, key=lambda each: each[:2])
    return cost, margins, option


def _numbers_off(scene: Scene) -> bool:
    """Whether most passes have their numbers off their ends."""
    through = [row for row in scene.rows if row.first.start_clear and row.first.end_clear]
    return 2 * len(through) >= len(scene.rows)


def _broken_cuts(scene: Scene, option: _Option) -> int:
    """How many breaks run through a cut; passes that run through from side to side may be."""
    count = 0
    for axis, reach in (("X", option.x), ("Y", option.y)):
        spans = [
            span_of((each.start, each.end), axis.lower())
            for each in scene.passes
            if each.axis == axis and not (each.start_clear and each.end_clear)
        ]
        for first, last in reach.left_out:
            count += any(low < last and first < high for low, high in spans)
    return count


def _cost(option: _Option, close: float, *, all_ends: bool) -> float:
    """How far a framing is from a clear drawing.

    In halvings of what is wanted: lines too close to be told apart weigh most, then a scale below
    1:1, then each break, a view of the surroundings only and scales above 2:1. Numbers off all
    ends cost little, numbers in lines too close for them much.
    """
    small = log2(option.scale)
    breaks = len(option.x.left_out) + len(option.y.left_out)
    cost = 3.0 * close + (-2.0 if small < 0 else -0.5) * small + 0.7 * option.crop
    cost += 1.5 * breaks + 2.0 * max(0, breaks - 1) + max(0.0, small - 1.0)
    if all_ends:
        return cost + 0.3
    return cost + (2.0 if close > 0 else 0.0)


def section_axis(scene: Scene) -> str:
    """The axis an elevation runs along: across the main direction of feed."""
    straight = [each for each in scene.passes if each.straight]
    along_x = sum(each.length for each in straight if each.axis == "X")
    along_y = sum(each.length for each in straight if each.axis == "Y")
    closed = not any(each.start_clear for each in scene.passes)
    return "Y" if along_x > along_y and not closed else "X"


def depth_window(scene: Scene, mm_per_unit: float) -> tuple[float, float]:
    """Lowest and highest Z an elevation shows."""
    stock = scene.job.stock
    low = max(stock.bottom, scene.lowest - BELOW_FLOOR_MM / mm_per_unit)
    return low, stock.raw_top


def _options(work: _Work, margins: Margins, *, any_cutter: bool) -> list[_Option]:
    """Every framing that may be the best: whole or surroundings, interrupted or not, any scale."""
    found: list[_Option] = []
    scene = work.scene
    either = (False, True) if scene.passes else (False,)
    crops = (WHOLE, AROUND, DETAIL) if scene.passes else (WHOLE,)  # set-up sheets show it whole
    for crop in crops:
        for scale in SCALES:
            if not (any_cutter or _cutter_fits(scene, work.zone, scale)):
                continue
            option = None
            for interrupted in either:
                option = _fit(work, margins, scale, crop, interrupted=interrupted)
                if option is not None:
                    found.append(option)
                    break
            if option is not None and option.unbroken and scale <= _LARGE_ENOUGH:
                break
    return found


def _cutter_fits(scene: Scene, zone: Box, scale: float) -> bool:
    """Whether the cutter drawn at its true size stays well inside the zone."""
    if not scene.passes:
        return True
    across = 2 * scene.use.cutter.radius * scene.mm * scale
    return across <= _MOST_CUTTER * min(zone.width, zone.height)


def _fit(
    work: _Work, margins: Margins, scale: float, crop: int, *, interrupted: bool
) -> _Option | None:
    mm = work.scene.mm * scale
    low, high = depth_window(work.scene, mm)
    depth = (high - low) * mm + ELEVATION_GAP_MM
    room_x = work.zone.width - margins.left - margins.right - (depth if work.along == "Y" else 0.0)
    room_y = work.zone.height - margins.top - margins.bottom - (depth if work.along == "X" else 0.0)
    x = _fitted(work.x, room_x, crop, mm, interrupted=interrupted)
    if x is None:
        return None
    room_y -= margins.reading_row(x.length_mm(mm))
    y = _fitted(work.y, room_y, crop, mm, interrupted=interrupted)
    return None if y is None else _Option(x, y, scale, crop)


def _fitted(
    extent: Extent, room: float, crop: int, mm: float, *, interrupted: bool
) -> Reach | None:
    """What an axis shows in that much paper; None where it finds no room."""
    if room <= _LEAST_VIEW_MM:
        return None
    reach = extent.reach(crop, mm)
    if not interrupted:
        return reach if reach.length_mm(mm) <= room else None
    return shortened(reach, extent.seen, room, mm, _KEEP_MM, extent.whole)


def _tightest(work: _Work) -> float:
    """Least distance between the lines of neighbouring passes, skims aside, job units."""
    least = min((high - low) / 4 for low, high in (work.x.edges, work.y.edges))
    straight = [row.first for row in work.scene.rows if row.first.straight]
    rows = [each for each in straight if each.purpose not in ("wall", "spring")]
    for axis in "XY":
        key = "y" if axis == "X" else "x"
        lines = sorted({round(getattr(e.start, key), 6) for e in rows if e.axis == axis})
        least = min((least, *(b - a for a, b in pairwise(lines))))
    return least


def _placed(work: _Work, margins: Margins, option: _Option, feeds: tuple[Feed, ...]) -> Frame:
    """The framing put in the middle of its zone."""
    scene, zone, along = work.scene, work.zone, work.along
    mm = scene.mm * option.scale
    low, high = depth_window(scene, mm)
    depth = (high - low) * mm
    beside, stacked = along == "Y", along == "X"
    wide, tall = option.x.length_mm(mm), option.y.length_mm(mm)
    extra = depth + ELEVATION_GAP_MM
    spare_x = zone.width - margins.left - margins.right - wide - (extra if beside else 0.0)
    row = margins.reading_row(wide)
    spare_y = zone.height - margins.top - margins.bottom - row - tall - (extra if stacked else 0.0)
    shift = max(spare_x / 2, min(spare_x, _AXES_MM)) if _zero_at_left(scene) else spare_x / 2
    left = zone.left + margins.left + shift
    above = stacked and not scene.third_angle
    top = zone.top + margins.top + spare_y / 2 + (row + extra if above else 0.0)
    plan = Box(left, top, left + wide, top + tall)
    view = View(
        option.x.mapped(plan.left, mm, rising=True),
        option.y.mapped(plan.bottom, mm, rising=False),
        option.scale,
        _breaks(option, plan, mm),
    )
    elevation = _elevation_box(plan, depth, margins, beside=beside, above=above)
    shown = (option.x.low, option.x.high, option.y.low, option.y.high)
    return Frame(view, plan, shown, along, elevation, low, margins, feeds)


def _zero_at_left(scene: Scene) -> bool:
    """Whether the zero point lies on the left edge: its axes stand left of it."""
    return scene.job.stock.x[0] == 0


def _elevation_box(plan: Box, depth: float, margins: Margins, *, beside: bool, above: bool) -> Box:
    gap = ELEVATION_GAP_MM
    if beside:
        left = plan.right + margins.numbers.get(RIGHT, 0.0) + gap
        return Box(left, plan.top, left + depth, plan.bottom)
    if above:
        bottom = plan.top - margins.numbers.get(TOP, 0.0) - gap
        return Box(plan.left, bottom - depth, plan.right, bottom)
    top = plan.bottom + margins.numbers.get(BOTTOM, 0.0) + gap
    return Box(plan.left, top, plan.right, top + depth)


def _breaks(option: _Option, plan: Box, mm: float) -> tuple[tuple[str, float, float], ...]:
    across = option.x.mapped(plan.left, mm, rising=True)
    down = option.y.mapped(plan.bottom, mm, rising=False)
    strips = [("across", across(first), across(last)) for first, last in option.x.left_out]
    levels = [("down", down(last), down(first)) for first, last in option.y.left_out]
    return (*strips, *levels)
