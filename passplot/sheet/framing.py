"""Which part of the work a diagram shows, how large, and where on the paper.

Of all ISO 5455 scales that fit the clearest framing is taken: passes far enough apart to carry
their numbers, then as large as may be, the whole block before its surroundings, these before a
detail round the passes, and no more breaks than needed, none of them through a boss or an island.
"""

from itertools import pairwise
from math import log2

from passplot.frozen import dataclass
from passplot.sheet.feeds import BOTTOM, COLUMN, LEFT, RIGHT, TOP, Feed, beside, feeds_of
from passplot.sheet.groups import stops_of
from passplot.sheet.margins import (
    COLUMN_MM,
    PAIR_MM,
    Margins,
    feature_edges,
    margins_of,
    reading_row,
)
from passplot.sheet.paper import SCALES, Box
from passplot.sheet.reaches import events, span_of, unbroken
from passplot.sheet.scene import Scene
from passplot.sheet.view import Reach, View, shortened

WHOLE, AROUND, DETAIL = range(3)
"""What a view shows: the block, what is round the features, what is round the passes."""
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
_ROUND_FEATURE_MM = 4.5


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


def frame_fits(scene: Scene, zone: Box, scale: float) -> bool:
    """Whether the whole work finds room in a zone at a scale."""
    along = section_axis(scene)
    margins = margins_of(scene, (), all_ends=False)
    return _fit(scene, zone, margins, along, scale, WHOLE, interrupted=False) is not None


def frame_of(scene: Scene, zone: Box, *, pairs: bool = True) -> Frame:
    """The best framing of a scene in a zone of the sheet, with room for pairs of arrows or not."""
    feeds = feeds_of(scene.passes) if pairs else ()
    if zone.width > _LOW_ZONE * zone.height:
        feeds = beside(feeds)
    along = section_axis(scene)
    found = _best(scene, zone, feeds, along)
    if scene.passes and (found is None or found[2].scale < 1.0):
        across = "X" if along == "Y" else "Y"
        other = _best(scene, zone, feeds, across)
        if other is not None and (found is None or other[0] + _OTHER_AXIS < found[0]):
            along, found = across, other
    assert found is not None, "fault of passplot: a drawing zone too small for any scale"
    _, margins, option = found
    return _placed(scene, zone, margins, along, option, feeds)


def _best(
    scene: Scene, zone: Box, feeds: tuple[Feed, ...], along: str
) -> tuple[float, Margins, _Option] | None:
    """The framing of least cost with its elevation along an axis, with that cost."""
    gap_mm = _tightest(scene) * scene.mm
    fair = _FAIR_SPACING_MM if _numbers_off(scene) else _NUMBER_SPACING_MM
    found: list[tuple[float, int, Margins, _Option]] = []
    for all_ends in (False, True) if scene.passes else (False,):
        margins = margins_of(scene, feeds, all_ends=all_ends)
        for option in _options(scene, zone, margins, along):
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


def _options(scene: Scene, zone: Box, margins: Margins, along: str) -> list[_Option]:
    """Every framing that fits: whole or surroundings, interrupted or not, at any scale."""
    found: list[_Option] = []
    either = (False, True) if scene.passes else (False,)
    crops = (WHOLE, AROUND, DETAIL) if scene.passes else (WHOLE,)  # set-up sheets show it whole
    for crop in crops:
        for scale in SCALES:
            if not _cutter_fits(scene, zone, scale):
                continue
            for interrupted in either:
                option = _fit(scene, zone, margins, along, scale, crop, interrupted)
                if option is not None:
                    found.append(option)
                    break
    return found


def _cutter_fits(scene: Scene, zone: Box, scale: float) -> bool:
    """Whether the cutter drawn at its true size stays well inside the zone."""
    if not scene.passes:
        return True
    across = 2 * scene.use.cutter.radius * scene.mm * scale
    return across <= _MOST_CUTTER * min(zone.width, zone.height)


def _fit(
    scene: Scene,
    zone: Box,
    margins: Margins,
    along: str,
    scale: float,
    crop: int,
    interrupted: bool,
) -> _Option | None:
    mm = scene.mm * scale
    low, high = depth_window(scene, mm)
    depth = (high - low) * mm + ELEVATION_GAP_MM
    room_x = zone.width - margins.left - margins.right - (depth if along == "Y" else 0.0)
    room_y = zone.height - margins.top - margins.bottom - (depth if along == "X" else 0.0)
    reaches: list[Reach] = []
    for axis in "XY":
        room = room_x if axis == "X" else room_y
        reach = _reach(scene, axis, crop, mm)
        marks = events(scene, axis) if interrupted else ()
        whole = unbroken(scene, axis) if interrupted else ()
        fitted = (
            shortened(reach, marks, room, mm, _KEEP_MM, whole) if room > _LEAST_VIEW_MM else None
        )
        if fitted is None or (fitted.left_out and not interrupted):
            return None
        reaches.append(fitted)
        if axis == "X":
            room_y -= reading_row(scene, fitted.length_mm(mm))
    return _Option(reaches[0], reaches[1], scale, crop)


def _reach(scene: Scene, axis: str, crop: int, mm_per_unit: float) -> Reach:
    """What one axis shows: the block, the surroundings of the features, or only of the passes."""
    stock = scene.job.stock
    low, high = stock.x if axis == "X" else stock.y
    marks = [getattr(point, axis.lower()) for each in scene.passes for point in stops_of(each)]
    if crop == DETAIL:
        radius = scene.use.cutter.radius
        low, high = max(low, min(marks) - radius), min(high, max(marks) + radius)
    elif crop == AROUND:
        edges = feature_edges(scene, axis)
        margin = _ROUND_FEATURE_MM / mm_per_unit
        near = max(low, min(edges) - margin)
        far = min(high, max(edges) + margin)
        low, high = near, far
    marks += _circle_ends(scene, axis)
    return Reach(min((low, *marks)), max((high, *marks)))


def _circle_ends(scene: Scene, axis: str) -> list[float]:
    """How far the cutter reaches that is drawn on the first pass, across its feed."""
    if not scene.passes or (scene.passes[0].axis == axis and scene.passes[0].straight):
        return []
    first, radius = scene.passes[0], scene.use.cutter.radius
    at = getattr(first.start, axis.lower())
    return [at - radius, at + radius]


def _tightest(scene: Scene) -> float:
    """Least distance between the lines of neighbouring passes, skims aside, job units."""
    least = min(
        (max(edges) - min(edges)) / 4 for edges in (feature_edges(scene, axis) for axis in "XY")
    )
    straight = [row.first for row in scene.rows if row.first.straight]
    rows = [each for each in straight if each.purpose not in ("wall", "spring")]
    for axis in "XY":
        key = "y" if axis == "X" else "x"
        lines = sorted({round(getattr(e.start, key), 6) for e in rows if e.axis == axis})
        least = min((least, *(b - a for a, b in pairwise(lines))))
    return least


def _placed(
    scene: Scene,
    zone: Box,
    margins: Margins,
    along: str,
    option: _Option,
    feeds: tuple[Feed, ...],
) -> Frame:
    """The framing put in the middle of its zone."""
    mm = scene.mm * option.scale
    low, high = depth_window(scene, mm)
    depth = (high - low) * mm
    beside, stacked = along == "Y", along == "X"
    wide, tall = option.x.length_mm(mm), option.y.length_mm(mm)
    extra = depth + ELEVATION_GAP_MM
    spare_x = zone.width - margins.left - margins.right - wide - (extra if beside else 0.0)
    row = reading_row(scene, wide)
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
