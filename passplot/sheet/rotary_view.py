"""The work on the rotary table seen from above: arcs, their centres, where angles count from."""

from collections.abc import Sequence
from itertools import pairwise
from math import cos, hypot, radians, sin

from passplot.records.plan import WHOLE_TURN, Pass, Plan
from passplot.records.shapes import Point
from passplot.records.sheet import Stroke
from passplot.sheet.canvas import Canvas
from passplot.sheet.direction import draw_zero, mark_zero
from passplot.sheet.framing import Frame
from passplot.sheet.groups import stops_of
from passplot.sheet.hole_view import close_up, draw_work, name_keeps, whole_work
from passplot.sheet.ink import HEAD_LENGTH, HEAD_WIDTH, fine_arrow, head, line
from passplot.sheet.labels import place
from passplot.sheet.numbers import ranged
from passplot.sheet.paper import LONG_DASH_DOT, MEDIUM, NARROW, SMALL, WIDE, Box
from passplot.sheet.scene import Scene

Spot = tuple[float, float]

_ARM_MM = 4.0
"""Half of a centre line's cross."""
_SHARES = (0.5, 0.35, 0.65, 0.2, 0.8)
_HEADS = (0.12, 0.62)
_ANGLE_DEG = 35.0
"""How far the arrow goes that shows which way angles count."""


def draw_rotary_view(canvas: Canvas, plan: Plan, passes: Sequence[Pass], zone: Box) -> float:
    """Draw the work with some of its arcs numbered; returns the scale."""
    framed = whole_work(plan.job, zone)
    stops = [stop for each in passes for stop in stops_of(each)]
    close = close_up(plan.job, _round_about(plan, passes, stops), zone)
    if close.view.scale > framed.view.scale:
        framed = close
    keeps = draw_work(canvas, plan.job, framed)
    alike: dict[tuple[object, ...], list[Pass]] = {}
    for each in passes:
        turn = each.turn
        if turn is not None:
            key = turn.center, turn.swing > 0, turn.whole, round(turn.end % WHOLE_TURN)
            alike.setdefault(key, []).append(each)
    for together in alike.values():
        _draw_arc(canvas, framed, together)
    mark_zero(canvas, framed)
    draw_zero(canvas, Scene(plan, (), (), (), (), ()), framed, zone)
    centers = dict.fromkeys(one.turn.center for one in passes if one.turn is not None)
    for center in centers:
        _draw_center(canvas, framed, center)
    _count_angles(canvas, framed, next(iter(centers)), zone)
    for together in alike.values():
        _label(canvas, framed, together, zone)
    name_keeps(canvas, keeps, framed, zone)
    return framed.view.scale


def _spots(framed: Frame, each: Pass) -> tuple[Spot, ...]:
    return tuple(framed.view.at(point.x, point.y) for point in stops_of(each))


def _draw_arc(canvas: Canvas, framed: Frame, together: Sequence[Pass]) -> None:
    """The way of the cutter's axis, the last of several passes nearly on top of each other."""
    spots = _spots(framed, together[-1])
    canvas.wide.extend(pairwise(spots))
    for each in together:
        canvas.put(Stroke(spots, WIDE, number=each.number))
    for share in _HEADS:
        index = max(1, round(share * (len(spots) - 1)))
        for each in together:
            tip, before = spots[index], spots[index - 1]
            canvas.put(head(tip, before, HEAD_LENGTH, HEAD_WIDTH, each.number))


def _round_about(plan: Plan, passes: Sequence[Pass], stops: Sequence[Point]) -> list[Point]:
    """The stops of arcs with a cutter's radius about them."""
    radius = max(plan.use(each.cutter).cutter.radius for each in passes)
    return [
        Point(stop.x + dx * radius, stop.y + dy * radius)
        for stop in stops
        for dx, dy in ((1, 1), (-1, -1))
    ]


def _draw_center(canvas: Canvas, framed: Frame, center: Point) -> None:
    """The cross of a centre."""
    x, y = framed.view.at(center.x, center.y)
    for a, b in (((x - _ARM_MM, y), (x + _ARM_MM, y)), ((x, y - _ARM_MM), (x, y + _ARM_MM))):
        canvas.rule(line(a, b, NARROW), wide=False)


def _count_angles(canvas: Canvas, framed: Frame, center: Point, zone: Box) -> None:
    """From a centre the line of angle 0, and an arrow the way angles count."""
    (x, y), far = framed.view.at(center.x, center.y), 11.0
    canvas.rule(Stroke(((x, y), (x + far + 3, y)), NARROW, dashes=LONG_DASH_DOT), wide=False)
    ring = [
        (x + far * cos(radians(angle)), y - far * sin(radians(angle)))
        for angle in (0.0, _ANGLE_DEG / 3, 2 * _ANGLE_DEG / 3, _ANGLE_DEG)
    ]
    canvas.put(Stroke(tuple(ring[:-1]), NARROW))
    for mark in fine_arrow(ring[-2], ring[-1]):
        canvas.put(mark)
    canvas.narrow.extend(pairwise(ring))
    place(canvas, zone, "0°", (), (x + far, y), SMALL, dot=False, off=(x, y), must=False)


def _label(canvas: Canvas, framed: Frame, together: Sequence[Pass], zone: Box) -> None:
    """The numbers of arcs nearly on top of each other, on a leader."""
    text = ranged([each.number for each in together])
    spots = _spots(framed, together[-1])
    middle = framed.view.at(*_center_of(together[-1]))
    for share in _SHARES:
        target = spots[round(share * (len(spots) - 1))]
        out = hypot(target[0] - middle[0], target[1] - middle[1]) > 0
        must = share == _SHARES[-1]
        if place(
            canvas, zone, text, (), target, MEDIUM,
            bold=True, dot=False, number=together[0].number,
            off=middle if out else framed.plan.middle, must=must,
        ):  # fmt: skip
            return


def _center_of(each: Pass) -> Spot:
    assert each.turn is not None
    return each.turn.center.x, each.turn.center.y
