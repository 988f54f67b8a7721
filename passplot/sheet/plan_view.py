"""The plan view of the work: metal that stays, goes and is left for finishing, and its edges."""

from collections.abc import Callable, Sequence
from itertools import pairwise
from math import hypot

from passplot.records.job import KeepOut
from passplot.records.plan import UncutCorner
from passplot.records.shapes import Point
from passplot.records.sheet import Fill, Ring, Stroke
from passplot.sheet.canvas import GAPS, HATCHING, TONES, Canvas
from passplot.sheet.framing import Frame
from passplot.sheet.ground import (
    Ground,
    Outline,
    Piece,
    clipped,
    ground_of,
    hatched,
    inside,
    outline,
)
from passplot.sheet.ink import line
from passplot.sheet.paper import (
    BAND,
    LONG_DASH_DOT,
    LONG_DASH_DOUBLE_DOT,
    NARROW,
    WIDE,
)
from passplot.sheet.round_marks import bores, ring_of, round_bands, rule_rounds
from passplot.sheet.scene import Scene
from passplot.sheet.tones import corners_of, draw_tones, on_paper

Spot = tuple[float, float]

HATCH_PITCH_MM = 3.0
HATCH_WIDTH_MM = 0.25
CENTER_WIDTH_MM = 0.25
_LEAST_BAND_MM = 0.7
_HAIR = 1e-6


def shown_stock(scene: Scene, frame: Frame) -> Outline:
    """The part of the block that the view shows."""
    (x_low, x_high), (y_low, y_high) = scene.job.stock.x, scene.job.stock.y
    left, right, front, back = frame.shown
    x_low, x_high = max(x_low, left), min(x_high, right)
    y_low, y_high = max(y_low, front), min(y_high, back)
    if scene.job.stock.outline:
        return cropped(scene.job.stock.outline, (x_low, x_high, y_low, y_high))
    return ((x_low, y_low), (x_high, y_low), (x_high, y_high), (x_low, y_high))


def cropped(outline: Sequence[Point], box: tuple[float, float, float, float]) -> Outline:
    """What of a convex outline lies within a rectangle, side of it by side of it."""
    spots: list[Spot] = [(at.x, at.y) for at in outline]
    for side, limit in enumerate(box):
        key, sign = side // 2, 1 - 2 * (side % 2)
        kept: list[Spot] = []
        for a, b in pairwise([*spots, *spots[:1]]):
            before, after = (sign * (spot[key] - limit) for spot in (a, b))
            if before >= 0:
                kept.append(a)
            if before * after < 0:
                share = before / (before - after)
                kept.append((a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])))
        spots = kept
    return tuple(spots)


def draw_plan(canvas: Canvas, scene: Scene, frame: Frame) -> None:
    """Draw the work seen from above as it is during the passes of the scene."""
    stock = shown_stock(scene, frame)
    at = frame.view.at
    ground = ground_of(stock, scene.job.stock.raw_top, (*scene.gone, *scene.now), at)
    block = ground.stock
    draw_tones(canvas, scene, frame, block)
    level = scene.lowest + _HAIR
    now = {feature.name for feature in scene.now}
    clearing = [item for item in ground.cleared if item.name in now]

    def stays(spot: Spot) -> bool:
        if any(item.covers(spot) for item in clearing):
            return False
        height = ground.height(spot)
        return height is not None and height > level

    _hatch(canvas, ground, stays)
    pieces = ground.pieces()
    _bands(canvas, scene, frame, pieces)
    _edges(canvas, scene, frame, pieces)
    _center_lines(canvas, scene, frame)
    for corner in scene.corners:
        _solid_corner(canvas, scene, frame, corner)
    for hole in scene.holes:
        _hole(canvas, scene, frame, at(hole.at.x, hole.at.y), hole.diameter)
    for keep in scene.job.keep_outs:
        corners = clipped(on_paper(outline(keep.loop), frame), *corners_of(frame.plan.corners))
        if corners:
            _outline_keep_out(canvas, frame, keep, corners)
            _hatch_keep_out(canvas, corners)
    _breaks(canvas, frame)


def _outline_keep_out(canvas: Canvas, frame: Frame, keep: KeepOut, corners: Outline) -> None:
    """The edge of what must not be touched: a true circle where a whole one is seen."""
    ring = ring_of(keep.loop, frame.view.at)
    if ring is not None and len(corners) == len(outline(keep.loop)):
        canvas.put(Ring(ring.center, ring.radius, NARROW, dashes=LONG_DASH_DOUBLE_DOT))
    else:
        canvas.put(Stroke(corners, NARROW, dashes=LONG_DASH_DOUBLE_DOT, closed=True))


def _hatch_keep_out(canvas: Canvas, corners: Outline) -> None:
    """The other way's hatching, as adjacent parts have it, over what must not be touched."""
    mirrored = tuple((-x, y) for x, y in corners)
    for (ax, ay), (bx, by) in hatched(
        [mirrored], lambda spot: inside(spot, mirrored), HATCH_PITCH_MM
    ):
        canvas.put(line((-ax, ay), (-bx, by), HATCH_WIDTH_MM), HATCHING)


def _hatch(canvas: Canvas, ground: Ground, stays: Callable[[Spot], bool]) -> None:
    for a, b in hatched(ground.rings, stays, HATCH_PITCH_MM):
        canvas.put(line(a, b, HATCH_WIDTH_MM), HATCHING)


def _bands(canvas: Canvas, scene: Scene, frame: Frame, pieces: tuple[Piece, ...]) -> None:
    """The stock left on the walls, as a dark band along them."""
    now = {feature.name for feature in scene.now}
    round_it: dict[float, list[Piece]] = {}
    for piece in pieces:
        wall = scene.wall_stock(piece.owner) if piece.owner else 0.0
        if wall <= 0 or piece.on_stock_edge or piece.owner not in now:
            continue
        width = max(_LEAST_BAND_MM, wall * scene.mm * frame.view.scale)
        if piece.circle is not None:
            round_it.setdefault(width, []).append(piece)
            continue
        (ax, ay), (bx, by), (nx, ny) = piece.start, piece.end, piece.normal
        quad = (
            (ax, ay),
            (bx, by),
            (bx - nx * width, by - ny * width),
            (ax - nx * width, ay - ny * width),
        )
        canvas.put(Fill((quad,), BAND), HATCHING)
    for width, alike in round_it.items():
        for band in round_bands(alike, width, BAND):
            canvas.put(band, HATCHING)


def _edges(canvas: Canvas, scene: Scene, frame: Frame, pieces: tuple[Piece, ...]) -> None:
    """Finished edges wide; what a cut through takes away as initial outline; cuts of the view."""
    bottom = scene.job.stock.bottom
    (x_low, x_high), (y_low, y_high) = scene.job.stock.x, scene.job.stock.y
    true_x = {round(frame.view.across(value), 4) for value in (x_low, x_high)}
    true_y = {round(frame.view.down(value), 4) for value in (y_low, y_high)}
    rule_rounds(canvas, [p for p in pieces if not _gone(p, bottom)], WIDE)
    rule_rounds(canvas, [p for p in pieces if _gone(p, bottom)], NARROW, LONG_DASH_DOUBLE_DOT)
    for piece in pieces:
        if piece.circle is not None:
            continue
        a, b = piece.start, piece.end
        if piece.on_stock_edge:
            upright = abs(a[0] - b[0]) < abs(a[1] - b[1])
            at = round(a[0], 4) if upright else round(a[1], 4)
            if at not in (true_x if upright else true_y):
                canvas.rule(zigzag(a, b), wide=False)
                continue
        if _gone(piece, bottom):
            canvas.rule(line(a, b, NARROW, LONG_DASH_DOUBLE_DOT), wide=False)
        else:
            canvas.rule(line(a, b, WIDE))


def _center_lines(canvas: Canvas, scene: Scene, frame: Frame) -> None:
    """Centre lines of bores, round bosses and islands, just past their edges."""
    for arc in bores(scene.now):
        x, y = frame.view.at(arc.center.x, arc.center.y)
        reach = arc.radius * scene.mm * frame.view.scale + 2.0
        low, high = frame.plan.grown(2.0).corners[::2]
        if low[0] < x < high[0] and low[1] < y < high[1]:
            left, right = max(x - reach, low[0]), min(x + reach, high[0])
            top, bottom = max(y - reach, low[1]), min(y + reach, high[1])
            canvas.put(line((left, y), (right, y), CENTER_WIDTH_MM, LONG_DASH_DOT))
            canvas.put(line((x, top), (x, bottom), CENTER_WIDTH_MM, LONG_DASH_DOT))


def _gone(piece: Piece, bottom: float) -> bool:
    """Whether what is next to an edge is cut right through."""
    return piece.high is not None and piece.high <= bottom + _HAIR


def zigzag(a: Spot, b: Spot, most: float = 3.0) -> Stroke:
    """A narrow line with a zigzag in its middle: where a view is broken off (ISO 128)."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    length = hypot(dx, dy)
    ux, uy = dx / length, dy / length
    size = min(most, length / 6)
    middle = length / 2
    steps = (
        (0.0, 0.0),
        (middle - size, 0.0),
        (middle - size / 3, size),
        (middle + size / 3, -size),
    )
    spots = [(a[0] + t * ux - s * uy, a[1] + t * uy + s * ux) for t, s in steps]
    tail = (a[0] + (middle + size) * ux, a[1] + (middle + size) * uy)
    return Stroke((*spots, tail, b), NARROW)


def _solid_corner(canvas: Canvas, scene: Scene, frame: Frame, corner: UncutCorner) -> None:
    """Fill a corner that keeps the cutter's radius."""
    spots = corner_outline(scene, frame, corner)
    if spots:
        canvas.put(Fill((spots,), 0.0))


def corner_outline(scene: Scene, frame: Frame, corner: UncutCorner) -> Outline:
    """The metal a cutter leaves in a square corner, on paper.

    Empty where it is not square, or not in the view.
    """
    left, right, front, back = frame.shown
    if not (left <= corner.at.x <= right and front <= corner.at.y <= back):
        return ()
    feature = next(f for f in scene.now if f.name == corner.feature)
    ground = ground_of(((0.0, 0.0),) * 3, 0.0, (feature,), lambda x, y: (x, y))
    probe = corner.radius / 50
    signs = [
        (sx, sy)
        for sx in (-1, 1)
        for sy in (-1, 1)
        if ground.cleared[0].covers((corner.at.x + sx * probe, corner.at.y + sy * probe))
    ]
    if len(signs) != 1:
        return ()
    sx, sy = signs[0]
    radius = corner.radius
    curve = _quarter(radius)
    spots = [(corner.at.x, corner.at.y)]
    spots += [(corner.at.x + sx * (radius - u), corner.at.y + sy * (radius - v)) for u, v in curve]
    return tuple(frame.view.at(x, y) for x, y in spots)


def _quarter(radius: float) -> list[Spot]:
    """Points of a quarter circle from (0, radius) to (radius, 0)."""
    steps = 8
    points: list[Spot] = []
    for step in range(steps + 1):
        share = step / steps
        # rational form of the quarter circle: exact points, no angle needed
        scale = radius / (1 + share * share)
        points.append((2 * share * scale, (1 - share * share) * scale))
    return points


def _hole(canvas: Canvas, scene: Scene, frame: Frame, spot: Spot, diameter: float) -> None:
    """A hole to drill, with its centre lines."""
    radius = diameter * scene.mm * frame.view.scale / 2
    x, y = spot
    canvas.put(Fill((_octagon(spot, radius),), 1.0), TONES)
    canvas.put(Ring(spot, radius, NARROW))
    for a, b in (
        ((x - radius - 2, y), (x + radius + 2, y)),
        ((x, y - radius - 2), (x, y + radius + 2)),
    ):
        canvas.put(line(a, b, CENTER_WIDTH_MM, LONG_DASH_DOT))


def _octagon(center: Spot, radius: float) -> Outline:
    x, y = center
    near = radius * 0.4142
    return (
        (x - near, y - radius), (x + near, y - radius), (x + radius, y - near),
        (x + radius, y + near), (x + near, y + radius), (x - near, y + radius),
        (x - radius, y + near), (x - radius, y - near),
    )  # fmt: skip


def _breaks(canvas: Canvas, frame: Frame) -> None:
    """White strips with break lines where the view is interrupted."""
    plan = frame.plan.grown(1.5)
    for way, low, high in frame.view.breaks:
        if way == "across":
            ends = (((low, plan.top), (low, plan.bottom)), ((high, plan.top), (high, plan.bottom)))
            strip = ((low, plan.top), (high, plan.top), (high, plan.bottom), (low, plan.bottom))
        else:
            ends = (((plan.left, low), (plan.right, low)), ((plan.left, high), (plan.right, high)))
            strip = ((plan.left, low), (plan.right, low), (plan.right, high), (plan.left, high))
        canvas.put(Fill((strip,), 1.0), GAPS)
        for a, b in ends:
            stroke = zigzag(a, b, 1.5)
            canvas.put(stroke, GAPS)
            canvas.narrow.extend(pairwise(stroke.points))
