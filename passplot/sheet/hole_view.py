"""The work seen from above with its holes: centre lines, numbers, and the circle they lie on."""

from collections.abc import Iterable, Sequence
from itertools import combinations

from passplot.records.job import Feature, Job, KeepOut
from passplot.records.plan import Hole, Plan
from passplot.records.shapes import Point
from passplot.records.sheet import Ring, Stroke
from passplot.sheet.canvas import Canvas
from passplot.sheet.direction import draw_zero, mark_zero
from passplot.sheet.framing import Frame
from passplot.sheet.ground import clipped, ground_of, outline
from passplot.sheet.ink import line
from passplot.sheet.labels import CLEARANCE_MM, centred, place
from passplot.sheet.margins import Margins
from passplot.sheet.paper import (
    LONG_DASH_DOT,
    LONG_DASH_DOUBLE_DOT,
    NARROW,
    SCALES,
    SMALL,
    WIDE,
    Box,
)
from passplot.sheet.plan_view import zigzag
from passplot.sheet.scene import MM_PER_INCH, Scene
from passplot.sheet.view import Reach, View

Spot = tuple[float, float]

_ROUND_MM = 14.0
"""Paper round the work for its zero and for numbers."""
_ARM_MM = 2.4
"""Half of a hole's centre line: it is drawn whole where it is short (ISO 128)."""
_OFF_MM = 4.2
_APART_MM = 10.0
"""Paper between neighbouring holes that leaves room for their numbers."""
_BESIDE_MM = 6.0
_HAIR = 1e-9
_MOST_LOOKED_AT = 200
"""Of more holes the first are taken for their spacing."""


def draw_hole_view(
    canvas: Canvas, plan: Plan, feature: Feature, holes: Sequence[Hole], zone: Box
) -> float:
    """Draw the work with a pattern, some of its holes numbered; returns the scale.

    The whole work where its holes stand well apart so, else the surroundings of the pattern.
    """
    job = plan.job
    unit = MM_PER_INCH if job.inch else 1.0
    framed = whole_work(job, zone)
    if spacing(feature) * unit * framed.view.scale < _APART_MM:
        holes_at = () if feature.pattern is None else feature.pattern.points
        framed = max((framed, close_up(job, holes_at, zone)), key=lambda each: each.view.scale)
    view = framed.view
    keeps = draw_work(canvas, job, framed)
    draw_pattern(canvas, feature, view, unit)
    mark_zero(canvas, framed)
    draw_zero(canvas, Scene(plan, (), (), (), (), ()), framed, zone)
    _numbers(canvas, zone, view, holes)
    name_keeps(canvas, keeps, framed, zone)
    return view.scale


def whole_work(job: Job, zone: Box) -> Frame:
    """The whole work in the middle of a zone."""
    return _framed(job, zone, (*job.stock.x, *job.stock.y))


def draw_work(canvas: Canvas, job: Job, framed: Frame) -> list[tuple[KeepOut, tuple[Spot, ...]]]:
    """Edges of the work, of what is cut in it, and keep-outs; these with where they are seen."""
    _outlines(canvas, job, framed)
    view, seen = framed.view, framed.plan.grown(0.01)
    keeps = [
        (keep, clipped(tuple(view.at(x, y) for x, y in outline(keep.loop)), *_ends(seen)))
        for keep in job.keep_outs
    ]
    for _, spots in keeps:
        if spots:
            canvas.put(Stroke(spots, NARROW, dashes=LONG_DASH_DOUBLE_DOT, closed=True))
    return keeps


def name_keeps(
    canvas: Canvas, keeps: Sequence[tuple[KeepOut, tuple[Spot, ...]]], framed: Frame, zone: Box
) -> None:
    """The names of keep-outs, once all lines are drawn that they must keep off."""
    for keep, spots in keeps:
        if spots:
            middle = (sum(x for x, _ in spots) / len(spots), sum(y for _, y in spots) / len(spots))
            place(canvas, zone, keep.name.upper(), (), middle, SMALL, off=framed.plan.middle)


def _outlines(canvas: Canvas, job: Job, framed: Frame) -> None:
    """Edges of the work and of what is cut in it; broken off where the view ends inside it."""
    left, right, front, back = framed.shown
    corners = (left, front), (right, front), (right, back), (left, back)
    cut = [one for one in job.features if one.pattern is None]
    ends = {
        "x": [round(framed.view.across(x), 4) for x in job.stock.x],
        "y": [round(framed.view.down(y), 4) for y in job.stock.y],
    }
    for piece in ground_of(corners, job.stock.raw_top, cut, framed.view.at).pieces():
        (ax, ay), (bx, by) = piece.start, piece.end
        upright = abs(ax - bx) < abs(ay - by)
        at = round(ax if upright else ay, 4)
        if piece.on_stock_edge and at not in ends["x" if upright else "y"]:
            canvas.rule(zigzag(piece.start, piece.end), wide=False)
        else:
            canvas.rule(line(piece.start, piece.end, WIDE))


def spacing(feature: Feature) -> float:
    """Least distance along X or Y between neighbours of a pattern; endless for a single hole."""
    points = () if feature.pattern is None else feature.pattern.points
    gaps = (
        max(abs(a.x - b.x), abs(a.y - b.y)) for a, b in combinations(points[:_MOST_LOOKED_AT], 2)
    )
    return min(gaps, default=float("inf"))


def draw_pattern(canvas: Canvas, feature: Feature, view: View, mm: float) -> None:
    """The centre lines of a pattern's holes and the circle they lie on."""
    pattern = feature.pattern
    if pattern is None:
        return
    if pattern.center is not None and pattern.diameter is not None and not view.breaks:
        center = view.at(pattern.center.x, pattern.center.y)
        radius = pattern.diameter / 2 * mm * view.scale
        canvas.put(Ring(center, radius, NARROW, dashes=LONG_DASH_DOT))
        _cross(canvas, center, _ARM_MM)
    arm = min(_ARM_MM, 0.35 * spacing(feature) * mm * view.scale)
    for point in pattern.points:
        _cross(canvas, view.at(point.x, point.y), arm)


def pattern_spots(feature: Feature) -> list[Spot]:
    """Where the name of a pattern may point to: its holes."""
    return [] if feature.pattern is None else [(at.x, at.y) for at in feature.pattern.points]


def _cross(canvas: Canvas, spot: Spot, arm: float) -> None:
    x, y = spot
    for a, b in (((x - arm, y), (x + arm, y)), ((x, y - arm), (x, y + arm))):
        canvas.rule(line(a, b, NARROW), wide=False)


def _numbers(canvas: Canvas, zone: Box, view: View, holes: Sequence[Hole]) -> None:
    """Numbers beside their holes; where these are crowded only where the way turns."""
    turns = _turning(holes)
    for hole in holes:
        spot, text = view.at(hole.at.x, hole.at.y), str(hole.number)
        ways = (centred(text, each, SMALL, bold=True) for each in _round(spot))
        free = (way for way in ways if canvas.free(Box(*way.box).grown(CLEARANCE_MM), zone))
        found = next(free, None)
        if found is not None:
            canvas.write(found, gap=CLEARANCE_MM)
        elif hole.number in turns:
            place(canvas, zone, text, (), spot, SMALL, bold=True, dot=False)


def _turning(holes: Sequence[Hole]) -> set[int]:
    """Numbers of the first hole, the last, and those at which the way to the next turns."""
    found = {holes[0].number, holes[-1].number}
    for a, b, c in zip(holes, holes[1:], holes[2:], strict=False):
        across = (b.at.x - a.at.x) * (c.at.y - b.at.y) - (b.at.y - a.at.y) * (c.at.x - b.at.x)
        back = (b.at.x - a.at.x) * (c.at.x - b.at.x) + (b.at.y - a.at.y) * (c.at.y - b.at.y)
        if abs(across) > _HAIR or back < 0:
            found.add(b.number)
    return found


def _round(spot: Spot) -> Iterable[Spot]:
    x, y = spot
    for dx, dy in ((1, -1), (-1, -1), (1, 1), (-1, 1)):
        yield x + dx * _OFF_MM, y + dy * 0.9 * _OFF_MM


def _ends(box: Box) -> tuple[Spot, Spot]:
    return (box.left, box.top), (box.right, box.bottom)


def close_up(job: Job, points: Sequence[Point], zone: Box) -> Frame:
    """The surroundings of some points, at the largest scale at which they fit."""
    unit = MM_PER_INCH if job.inch else 1.0
    xs, ys = ([getattr(at, key) for at in points] for key in "xy")
    found = []
    for scale in SCALES:
        margin = _BESIDE_MM / (unit * scale)
        shown = tuple(
            bound
            for values, (low, high) in ((xs, job.stock.x), (ys, job.stock.y))
            for bound in (max(low, min(values) - margin), min(high, max(values) + margin))
        )
        found.append(_framed(job, zone, (shown[0], shown[1], shown[2], shown[3]), scale))
    fitting = (each for each in found if zone.grown(-_ROUND_MM).holds(each.plan))
    return next(fitting, found[-1])


def _framed(
    job: Job, zone: Box, shown: tuple[float, float, float, float], only: float | None = None
) -> Frame:
    """Part of the work in the middle of a zone, at a scale or the largest of ISO 5455 that fits."""
    unit = MM_PER_INCH if job.inch else 1.0
    x, y = Reach(shown[0], shown[1]), Reach(shown[2], shown[3])
    room = zone.grown(-_ROUND_MM)
    fitting = (
        scale
        for scale in SCALES
        if x.length_mm(unit * scale) <= room.width and y.length_mm(unit * scale) <= room.height
    )
    scale = only or next(fitting, SCALES[-1])
    mm = unit * scale
    wide, tall = x.length_mm(mm), y.length_mm(mm)
    left = room.left + (room.width - wide) / 2
    top = room.top + (room.height - tall) / 2
    plan = Box(left, top, left + wide, top + tall)
    view = View(
        x.mapped(plan.left, mm, rising=True), y.mapped(plan.bottom, mm, rising=False), scale
    )
    nothing = Margins({}, 0.0, 0.0, 0.0, 0.0, False)
    elevation = Box(plan.left, plan.bottom, plan.left, plan.bottom)  # there is none
    return Frame(view, plan, shown, "X", elevation, job.stock.bottom, nothing, ())
