"""Which part of the work a diagram shows, how large, and where on the paper.

The largest ISO 5455 scale that fits is taken: of the whole block first, then of the block
interrupted where nothing happens, then of the surroundings of the features, until neighbouring
passes stand far enough apart to be told from each other.
"""

from dataclasses import dataclass
from itertools import pairwise

from passplot.sheet.feeds import BOTTOM, LEFT, RIGHT, TOP, Feed, feeds_of
from passplot.sheet.margins import PAIR_MM, Margins, feature_edges, margins_of, reading_row
from passplot.sheet.paper import SCALES, Box
from passplot.sheet.scene import Scene
from passplot.sheet.view import Reach, View, shortened

BELOW_FLOOR_MM = 7.0
"""How much of the part an elevation shows below the deepest floor."""
ELEVATION_GAP_MM = 5.0
_FAIR_SPACING_MM = 2.9
_KEEP_MM = 7.0
_LEAST_VIEW_MM = 5.0
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
            zone.right - PAIR_MM * (RIGHT in sides),
            zone.bottom - PAIR_MM * (BOTTOM in sides),
        )


@dataclass(frozen=True, slots=True)
class _Option:
    """One way of framing, with the scale it comes out at."""

    x: Reach
    y: Reach
    scale: float


def frame_of(scene: Scene, zone: Box) -> Frame:
    """The best framing of a scene in a zone of the sheet."""
    feeds = feeds_of(scene.passes)
    along = section_axis(scene)
    gap = _tightest(scene) * scene.mm
    margins = margins_of(scene, feeds, all_ends=False)
    options = _options(scene, zone, margins, along)
    if not any(option.scale * gap >= _FAIR_SPACING_MM for option in options):
        # no room for numbers in the lines: put them off the ends, if there are any
        margins = margins_of(scene, feeds, all_ends=True)
        options = _options(scene, zone, margins, along) or options
    largest = max(options, key=lambda option: option.scale)
    best = next((option for option in options if _clear_enough(option, gap, largest)), largest)
    return _placed(scene, zone, margins, along, best, feeds)


def _clear_enough(option: _Option, gap_mm: float, largest: _Option) -> bool:
    """Whether passes ``gap_mm`` apart are told from each other, and nothing is drawn too small."""
    readable = option.scale >= 1 or option.scale == largest.scale
    return readable and option.scale * gap_mm >= _FAIR_SPACING_MM


def section_axis(scene: Scene) -> str:
    """The axis an elevation runs along: across the main direction of feed."""
    along_x = sum(each.length for each in scene.passes if each.axis == "X")
    along_y = sum(each.length for each in scene.passes if each.axis == "Y")
    closed = not any(each.start_clear for each in scene.passes)
    return "Y" if along_x > along_y and not closed else "X"


def depth_window(scene: Scene, mm_per_unit: float) -> tuple[float, float]:
    """Lowest and highest Z an elevation shows."""
    stock = scene.job.stock
    low = max(stock.bottom, scene.lowest - BELOW_FLOOR_MM / mm_per_unit)
    return low, stock.raw_top


def _options(scene: Scene, zone: Box, margins: Margins, along: str) -> list[_Option]:
    """Every framing that fits, in order of preference, each as large as it goes."""
    found: list[_Option] = []
    either = (False, True) if scene.passes else (False,)  # the set-up sheet shows it whole
    for crop in either:
        for interrupted in either:
            for scale in SCALES:
                option = _fit(scene, zone, margins, along, scale, crop, interrupted)
                if option is not None:
                    found.append(option)
                    break
    return found


def _fit(
    scene: Scene,
    zone: Box,
    margins: Margins,
    along: str,
    scale: float,
    crop: bool,
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
        events = _events(scene, axis) if interrupted else ()
        fitted = shortened(reach, events, room, mm, _KEEP_MM) if room > _LEAST_VIEW_MM else None
        if fitted is None or (fitted.left_out is not None and not interrupted):
            return None
        reaches.append(fitted)
        if axis == "X":
            room_y -= reading_row(scene, fitted.length_mm(mm))
    return _Option(reaches[0], reaches[1], scale)


def _reach(scene: Scene, axis: str, crop: bool, mm_per_unit: float) -> Reach:
    """What one axis shows: the whole block or the surroundings of the features, and the passes."""
    stock = scene.job.stock
    low, high = stock.x if axis == "X" else stock.y
    marks = [
        getattr(point, axis.lower()) for each in scene.passes for point in (each.start, each.end)
    ]
    if crop:
        edges = feature_edges(scene, axis)
        margin = _ROUND_FEATURE_MM / mm_per_unit
        near = max(low, min(edges) - margin)
        far = min(high, max(edges) + margin)
        low, high = near, far
    marks += _circle_ends(scene, axis)
    return Reach(min((low, *marks)), max((high, *marks)))


def _circle_ends(scene: Scene, axis: str) -> list[float]:
    """How far the cutter reaches that is drawn on the first pass, across its feed."""
    if not scene.passes or scene.passes[0].axis == axis:
        return []
    first, radius = scene.passes[0], scene.use.cutter.radius
    at = getattr(first.start, axis.lower())
    return [at - radius, at + radius]


def _events(scene: Scene, axis: str) -> tuple[float, ...]:
    """Coordinates along an axis at which something is to be seen."""
    key = axis.lower()
    stock = scene.job.stock
    found = list(stock.x if axis == "X" else stock.y)
    for feature in (*scene.gone, *scene.now):
        for loop in (*feature.area, *feature.keep):
            found += [getattr(corner, key) for corner in loop.corners]
    for each in scene.passes:
        found += [getattr(each.start, key), getattr(each.end, key)]
    for hole in scene.holes:
        at = getattr(hole.at, key)
        found += [at - hole.diameter, at + hole.diameter]
    for corner in scene.corners:
        at = getattr(corner.at, key)
        found += [at - corner.radius, at + corner.radius]
    return tuple(found)


def _tightest(scene: Scene) -> float:
    """Least distance between the lines of neighbouring passes, skims aside, job units."""
    least = min(
        (max(edges) - min(edges)) / 4 for edges in (feature_edges(scene, axis) for axis in "XY")
    )
    rows = [row.first for row in scene.rows if row.first.purpose not in ("wall", "spring")]
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
    left = zone.left + margins.left + spare_x / 2
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
    found: list[tuple[str, float, float]] = []
    if option.x.left_out is not None:
        across = option.x.mapped(plan.left, mm, rising=True)
        near, far = (across(value) for value in option.x.left_out)
        found.append(("across", near, far))
    if option.y.left_out is not None:
        down = option.y.mapped(plan.bottom, mm, rising=False)
        high, low = (down(value) for value in option.y.left_out)
        found.append(("down", low, high))
    return tuple(found)
