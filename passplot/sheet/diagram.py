"""The drawing of a pass sheet: plan view, elevation, passes, readings and directions."""

from itertools import pairwise
from math import hypot

from passplot.records.job import Feature, KeepOut
from passplot.records.sheet import Stroke
from passplot.sheet.canvas import Canvas
from passplot.sheet.direction import draw_pairs, draw_zero, mark_zero
from passplot.sheet.elevation import draw_elevation, draw_levels
from passplot.sheet.feeds import BOTTOM, RIGHT
from passplot.sheet.framing import Frame, frame_of
from passplot.sheet.ground import Cleared, Piece, clipped, ground_of, outline, sides
from passplot.sheet.groups import stops_of
from passplot.sheet.hole_view import draw_pattern, pattern_spots
from passplot.sheet.ink import head, rotation
from passplot.sheet.labels import place
from passplot.sheet.margins import MOST_WALLS
from passplot.sheet.numbers import printed
from passplot.sheet.ordinates import readings_below, readings_beside
from passplot.sheet.paper import LONG_DASH_DOUBLE_DOT, NARROW, SMALL, Box
from passplot.sheet.pass_lines import draw_passes
from passplot.sheet.plan_view import corner_outline, draw_plan, shown_stock
from passplot.sheet.round_marks import bores
from passplot.sheet.scene import Scene
from passplot.sheet.step_lines import draw_paths, label_paths, paths_of
from passplot.sheet.way_back import way_back_path

Spot = tuple[float, float]


def draw_diagram(canvas: Canvas, scene: Scene, zone: Box, frame: Frame) -> None:
    """Draw all of a scene, framed in a zone of the sheet."""
    draw_pairs(canvas, scene, frame, zone)
    draw_plan(canvas, scene, frame)
    mark_zero(canvas, frame)
    section = draw_elevation(canvas, scene, frame)
    draw_readings(canvas, scene, frame, frame.inner(zone))
    paths = paths_of(scene, frame)
    draw_paths(canvas, paths)
    draw_passes(canvas, scene, frame, frame.inner(zone))
    label_paths(canvas, paths, frame, frame.inner(zone))
    _turning_cutter(canvas, scene, frame)
    draw_zero(canvas, scene, frame, zone)
    draw_levels(canvas, scene, frame, section, zone)
    _way_back(canvas, scene, frame, zone)
    _notes(canvas, scene, frame, zone)


def draw_work(canvas: Canvas, scene: Scene, zone: Box) -> Frame:
    """Draw the whole work with its zero, its walls and the names of its features; no passes."""
    frame = frame_of(scene, zone)
    draw_plan(canvas, scene, frame)
    mark_zero(canvas, frame)
    section = draw_elevation(canvas, scene, frame)
    draw_readings(canvas, scene, frame, frame.inner(zone))
    draw_levels(canvas, scene, frame, section, zone)
    draw_zero(canvas, scene, frame, zone)
    for feature in scene.now:
        draw_pattern(canvas, feature, frame.view, scene.mm)
    for feature in scene.now:
        spots = [frame.view.at(x, y) for x, y in name_spots(scene, feature)]
        _name(canvas, feature.name.upper(), spots, frame, zone)
    _notes(canvas, scene, frame, zone)
    return frame


def _name(canvas: Canvas, name: str, spots: list[Spot], frame: Frame, zone: Box) -> None:
    """A feature's name inside it, else on a leader to any of the spots."""
    inside = spots
    middle = frame.plan.middle
    for target in spots[::3]:
        if place(canvas, zone, name, inside, target, SMALL, off=middle, turns=True, must=False):
            return
        inside = []
    place(canvas, zone, name, (), spots[0], SMALL, off=middle)


def name_spots(scene: Scene, feature: Feature) -> list[Spot]:
    """Points well inside what a feature clears: where its name may stand or point to.

    Points that no other feature clears come first.
    """
    if feature.pattern is not None:
        return pattern_spots(feature)
    stock = scene.job.stock
    items = {item.name: item for item in ground_of((), 0.0, scene.now, _same).cleared}
    own = items.pop(feature.name)
    spots: list[tuple[bool, float, Spot]] = []
    steps = 24
    for column in range(1, steps):
        for row in range(1, steps):
            x = stock.x[0] + (stock.x[1] - stock.x[0]) * column / steps
            y = stock.y[0] + (stock.y[1] - stock.y[0]) * row / steps
            if own.covers((x, y)):
                shared = any(item.covers((x, y)) for item in items.values())
                spots.append((shared, -_depth_inside(own, (x, y)), (x, y)))
    spots.sort()
    return [spot for _, _, spot in spots[:24]] or [(stock.x[0], stock.y[0])]


def _depth_inside(item: Cleared, spot: Spot) -> float:
    """Distance from a point to the nearest corner or edge middle of an outline, roughly."""
    rings = (*item.areas, *item.keeps)
    return min(_off_side(spot, a, b) for ring in rings for a, b in sides(ring))


def _off_side(spot: Spot, a: Spot, b: Spot) -> float:
    dx, dy = b[0] - a[0], b[1] - a[1]
    square = dx * dx + dy * dy or 1.0
    share = min(max(((spot[0] - a[0]) * dx + (spot[1] - a[1]) * dy) / square, 0.0), 1.0)
    return hypot(spot[0] - a[0] - share * dx, spot[1] - a[1] - share * dy)


def draw_readings(canvas: Canvas, scene: Scene, frame: Frame, room: Box) -> None:
    """Distances of the walls from the datum."""
    walls = {"X": wall_readings(scene, frame, "X"), "Y": wall_readings(scene, frame, "Y")}
    view, numbers = frame.elevation, frame.margins.numbers
    plan = Box(
        frame.plan.left,
        frame.plan.top,
        frame.plan.right + numbers.get(RIGHT, 0.0),
        frame.plan.bottom + numbers.get(BOTTOM, 0.0),
    )
    x_places = [(frame.view.across(v), text) for v, text in walls["X"]]
    y_places = [(frame.view.down(v), text) for v, text in walls["Y"]]
    stacked = frame.along == "X"
    above = stacked and not scene.third_angle
    readings_below(canvas, x_places, view if stacked else plan, room, above=above)
    readings_beside(canvas, y_places, plan if stacked else view, room)


def wall_readings(scene: Scene, frame: Frame, axis: str) -> list[tuple[float, str]]:
    """Coordinates of the walls across an axis with their printed readings, the datum first."""
    ground = ground_of(
        shown_stock(scene, frame), scene.job.stock.raw_top, (*scene.gone, *scene.now), _same
    )
    names = {feature.name for feature in scene.now}
    key = 0 if axis == "X" else 1
    found = {
        round(piece.start[key], 6)
        for piece in ground.pieces()
        if piece.owner in names and not piece.on_stock_edge and _across(piece, key)
    }
    found |= {round(arc.center.x if key == 0 else arc.center.y, 6) for arc in bores(scene.now)}
    low, high = frame.shown[2 * key : 2 * key + 2]
    if scene.passes:
        found = nearest(scene, found, axis)
    else:
        found |= {round(edge, 6) for edge in (scene.job.stock.x, scene.job.stock.y)[key]}
    if found and low <= 0 <= high:
        found.add(0.0)
    style, inch = scene.style, scene.job.inch
    return [(value, printed(style.at(value), inch) if value else "0") for value in sorted(found)]


def nearest(scene: Scene, walls: set[float], axis: str) -> set[float]:
    """The walls that the passes of a sheet come nearest to: no more are needed there."""
    key = axis.lower()
    places = [getattr(stop, key) for each in scene.passes for stop in stops_of(each)]
    ordered = sorted(walls, key=lambda wall: (min(abs(wall - at) for at in places), wall))
    return set(ordered[:MOST_WALLS])


def _across(piece: Piece, key: int) -> bool:
    return piece.circle is None and abs(piece.start[key] - piece.end[key]) < 1e-9


def _same(x: float, y: float) -> Spot:
    return x, y


def _turning_cutter(canvas: Canvas, scene: Scene, frame: Frame) -> None:
    """The cutter at its true size on the first pass, with the way it turns."""
    first = scene.passes[0]
    radius = scene.use.cutter.radius * scene.mm * frame.view.scale
    shares = (0.7, 0.8, 0.6, 0.5, 0.3) if first.start_clear else (0.0, 0.2, 0.5)

    def at(share: float) -> Spot:
        if not first.straight:
            stops = stops_of(first)
            stop = stops[int(share * (len(stops) - 1))]
            return frame.view.at(stop.x, stop.y)
        x = first.start.x + (first.end.x - first.start.x) * share
        y = first.start.y + (first.end.y - first.start.y) * share
        return frame.view.at(x, y)

    spot = max((at(share) for share in shares), key=lambda each: _off_breaks(frame, each, radius))
    clockwise = scene.job.shop.machine.clockwise
    for mark in rotation(spot, radius, clockwise=clockwise, dashes=LONG_DASH_DOUBLE_DOT):
        canvas.put(mark)


def _off_breaks(frame: Frame, spot: Spot, radius: float) -> float:
    """Paper between a circle and the nearest break of the view, at most nothing where clear."""
    gaps = [0.0]
    for way, low, high in frame.view.breaks:
        at = spot[0] if way == "across" else spot[1]
        gaps.append(max(low - at, at - high) - radius)
    return min(gaps)


def _way_back(canvas: Canvas, scene: Scene, frame: Frame, zone: Box) -> None:
    """The way back after the first pass, narrow, drawn once."""
    path = way_back_path(scene)
    if not path:
        return
    spots = tuple(frame.view.at(x, y) for x, y in path)
    canvas.put(Stroke(spots, NARROW))
    (ax, ay), (bx, by) = max(
        pairwise(spots),
        key=lambda pair: abs(pair[1][0] - pair[0][0]) + abs(pair[1][1] - pair[0][1]),
    )
    canvas.put(head((ax + (bx - ax) * 0.3, ay + (by - ay) * 0.3), (ax, ay), 3.0, 1.6))
    target = (ax + (bx - ax) * 0.75, ay + (by - ay) * 0.75)
    place(canvas, zone, "WAY BACK", (), target, SMALL, dot=False, off=frame.plan.middle)


def _notes(canvas: Canvas, scene: Scene, frame: Frame, zone: Box) -> None:
    """What the marks on the plan mean: stock left, corners uncut, holes to drill, clamps."""
    style, inch = scene.style, scene.job.inch
    _stock_left(canvas, scene, frame, zone)
    for keep in scene.job.keep_outs:
        middle = _middle_shown(frame, keep)
        if middle is not None:
            name, off = keep.name.upper(), frame.plan.middle
            text = f"KEEP OUT: {name}"
            if not place(canvas, zone, text, (), middle, SMALL, off=off, must=False):
                place(canvas, zone, name, (), middle, SMALL, off=off)
    for corner in scene.corners[::-1]:
        spots = corner_outline(scene, frame, corner)
        if spots:
            target = (
                sum(x for x, _ in spots) / len(spots),
                sum(y for _, y in spots) / len(spots),
            )
            count = len(scene.corners)
            text = f"{f'{count}X ' if count > 1 else ''}R {printed(style.at(corner.radius), inch)}"
            place(canvas, zone, text, (), target, SMALL, off=frame.plan.middle)
            break
    for hole in scene.holes:
        target = frame.view.at(hole.at.x, hole.at.y)
        text = f"DRILL Ø {printed(style.drill(hole.diameter), inch)}"
        place(canvas, zone, text, (), target, SMALL, off=frame.plan.middle)


def _middle_shown(frame: Frame, keep: KeepOut) -> Spot | None:
    """The middle of what a view shows of a clamp; None where it shows nothing of it."""
    plan = frame.plan
    corners = tuple(frame.view.at(x, y) for x, y in outline(keep.loop))
    seen = clipped(corners, (plan.left, plan.top), (plan.right, plan.bottom))
    if not seen:
        return None
    xs, ys = [x for x, _ in seen], [y for _, y in seen]
    spot = (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2
    return spot if _off_breaks(frame, spot, 0.0) >= 0 else None


def _stock_left(canvas: Canvas, scene: Scene, frame: Frame, zone: Box) -> None:
    """The stock left on a wall, dimensioned once, with a leader to its band."""
    if not scene.passes or scene.finishing:
        return
    walls = {scene.wall_stock(feature.name): feature.name for feature in reversed(scene.now)}
    wall = max(walls)
    if wall <= 0:
        return
    ground = ground_of(
        shown_stock(scene, frame), scene.job.stock.raw_top, (*scene.gone, *scene.now), _same
    )
    pieces = [p for p in ground.pieces() if p.owner == walls[wall] and not p.on_stock_edge]
    if not pieces:
        return
    longest = max(
        pieces, key=lambda p: (hypot(p.end[0] - p.start[0], p.end[1] - p.start[1]), p.start)
    )
    nx, ny = longest.normal
    (ax, ay), (bx, by) = longest.start, longest.end
    spot = (ax + 0.3 * (bx - ax) - nx * wall / 2, ay + 0.3 * (by - ay) - ny * wall / 2)
    text = f"LEAVE {printed(scene.style.at(wall), scene.job.inch)}"
    place(canvas, zone, text, (), frame.view.at(*spot), SMALL, dot=False, off=frame.plan.middle)
