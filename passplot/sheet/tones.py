"""Tones of the plan view: metal that goes now, and the white of what went before."""

from collections.abc import Iterator
from itertools import pairwise
from math import hypot

from passplot.records.job import Feature
from passplot.records.plan import Pass
from passplot.records.sheet import Fill
from passplot.sheet.canvas import TONES, Canvas
from passplot.sheet.framing import Frame
from passplot.sheet.ground import Outline, clipped, outline
from passplot.sheet.groups import stops_of
from passplot.sheet.paper import TONE
from passplot.sheet.rounds import loops_of
from passplot.sheet.scene import Scene

Spot = tuple[float, float]

_HAIR = 1e-6
_LAP = 0.15
"""How far the sweeps from setting to setting lap over, as a share of the radius."""


def draw_tones(canvas: Canvas, scene: Scene, frame: Frame, block: Outline) -> None:
    """Tone where metal goes now; white where it went before."""
    if scene.finishing and not any(each.purpose == "floor" for each in scene.passes):
        return
    low, high = corners_of(block)
    for feature in scene.now:
        area, keep = loops_of(feature)
        for loops, grey in ((area, TONE), (keep, 1.0)):
            for loop in loops:
                _fill(canvas, clipped(on_paper(outline(loop), frame), low, high), grey)
    for each in scene.before:
        if not each.straight:
            for quad in _swept_steps(scene, frame, each):
                _fill(canvas, clipped(quad, low, high), 1.0)
        else:
            _fill(canvas, clipped(_swept(scene, frame, each), low, high), 1.0)
    for gone in scene.gone:
        if gone.floor <= scene.lowest + _HAIR:
            _emptied(canvas, frame, gone, low, high)


def _emptied(canvas: Canvas, frame: Frame, gone: Feature, low: Spot, high: Spot) -> None:
    loops, keeps = loops_of(gone)
    rings = [clipped(on_paper(outline(loop), frame), low, high) for loop in keeps]
    for loop in loops:
        area = clipped(on_paper(outline(loop), frame), low, high)
        if area:
            canvas.put(Fill((area, *(ring for ring in rings if ring)), 1.0), TONES)


def _swept(scene: Scene, frame: Frame, each: Pass) -> Outline:
    """The rectangle a pass sweeps, ends squared off at its end points."""
    radius = scene.plan.use(each.cutter).cutter.radius
    wide = (0.0, radius) if each.axis == "X" else (radius, 0.0)
    x_low, x_high = sorted((each.start.x, each.end.x))
    y_low, y_high = sorted((each.start.y, each.end.y))
    corners = (
        (x_low - wide[0], y_low - wide[1]),
        (x_high + wide[0], y_low - wide[1]),
        (x_high + wide[0], y_high + wide[1]),
        (x_low - wide[0], y_high + wide[1]),
    )
    return on_paper(corners, frame)


def _swept_steps(scene: Scene, frame: Frame, each: Pass) -> Iterator[Outline]:
    """What a stepped wall or an arc sweeps, from stop to stop, lapping over a little."""
    spots = [frame.view.at(point.x, point.y) for point in stops_of(each)]
    half = scene.plan.use(each.cutter).cutter.radius * scene.mm * frame.view.scale
    for (ax, ay), (bx, by) in pairwise(spots):
        size = hypot(bx - ax, by - ay) or 1.0
        ux, uy = half * (bx - ax) / size, half * (by - ay) / size
        (cx, cy), (dx, dy) = (ax - _LAP * ux, ay - _LAP * uy), (bx + _LAP * ux, by + _LAP * uy)
        yield (cx - uy, cy + ux), (dx - uy, dy + ux), (dx + uy, dy - ux), (cx + uy, cy - ux)


def on_paper(corners: Outline, frame: Frame) -> Outline:
    """An outline in job units put on paper."""
    return tuple(frame.view.at(x, y) for x, y in corners)


def corners_of(block: Outline) -> tuple[Spot, Spot]:
    """Upper left and lower right corner of the box round an outline on paper."""
    xs, ys = [x for x, _ in block], [y for _, y in block]
    return (min(xs), min(ys)), (max(xs), max(ys))


def _fill(canvas: Canvas, corners: Outline, grey: float) -> None:
    if corners:
        canvas.put(Fill((corners,), grey), TONES)
