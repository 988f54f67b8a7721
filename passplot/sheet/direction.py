"""Which way: the pair of arrows for cutter and table with the handwheel, and the zero point."""

from dataclasses import dataclass

from passplot.records.sheet import Ring
from passplot.sheet.canvas import Canvas
from passplot.sheet.feeds import LEFT, TOP, Feed
from passplot.sheet.framing import Frame
from passplot.sheet.ink import arrow, fine_arrow, line, wheel
from passplot.sheet.lettering import letter, width_of
from passplot.sheet.margins import PAIR_MM
from passplot.sheet.paper import DASHED_WIDE, MEDIUM, NARROW, Box
from passplot.sheet.scene import Scene

Spot = tuple[float, float]

_ARROW_MM = 26.0
_GAP_MM = 2.0
_WHEEL_MM = 4.4
_LINE_MM = 7.6
_AXES_MM = 9.0


@dataclass(frozen=True, slots=True)
class Strip:
    """A narrow strip of paper on which figures are placed along and across.

    It runs to the right from ``origin``, or upwards where ``upright``, as text turned with it
    reads from the bottom up.
    """

    origin: Spot
    upright: bool

    def at(self, along: float, across: float) -> Spot:
        """Paper point of a point of the strip; ``across`` is down, seen along the text."""
        x, y = self.origin
        return (x + across, y - along) if self.upright else (x + along, y + across)


def draw_pairs(canvas: Canvas, scene: Scene, frame: Frame, zone: Box) -> None:
    """One pair of arrows for each main direction of feed, outside all dimensions."""
    half = PAIR_MM / 2
    for feed in frame.feeds:
        length = pair_length(with_wheel=scene.job.shop.machine.dial(feed.axis) is not None)
        if feed.axis == "X":
            left = _held(frame.plan.middle[0] - length / 2, length, zone.left, zone.right)
            y = zone.top + half if feed.side == TOP else zone.bottom - half
            strip, box = Strip((left, y), False), Box(left, y - half, left + length, y + half)
        else:
            top = _held(frame.plan.middle[1] - length / 2, length, zone.top, zone.bottom)
            x = zone.left + half if feed.side == LEFT else zone.right - half
            strip = Strip((x, top + length), True)
            box = Box(x - half, top, x + half, top + length)
        draw_pair(canvas, scene, feed, strip)
        canvas.block(box)


def _held(start: float, length: float, low: float, high: float) -> float:
    return min(max(start, low + 1), high - length - 1)


def pair_length(*, with_wheel: bool) -> float:
    """Length of a pair of arrows along its strip."""
    words = width_of("CUTTER", MEDIUM, True)
    wheel_room = 2 * (_WHEEL_MM + 3.0) + _GAP_MM if with_wheel else 0.0
    return words + _GAP_MM + _ARROW_MM + wheel_room


def draw_pair(canvas: Canvas, scene: Scene, feed: Feed, strip: Strip) -> None:
    """CUTTER with a solid arrow over TABLE with a dashed one, opposite, and the handwheel."""
    words = width_of("CUTTER", MEDIUM, True)
    near, far = words + _GAP_MM, words + _GAP_MM + _ARROW_MM
    for word, across, forward, dashes in (
        ("CUTTER", -_LINE_MM / 2, feed.sign > 0, ()),
        ("TABLE", _LINE_MM / 2, feed.sign < 0, DASHED_WIDE),
    ):
        x, y = strip.at(0.0, across + MEDIUM / 2)
        canvas.write(letter(word, x, y, MEDIUM, bold=True, turned=strip.upright))
        ends = (near, far) if forward else (far, near)
        for mark in arrow(strip.at(ends[0], across), strip.at(ends[1], across), dashes=dashes):
            canvas.put(mark)
    dial = scene.job.shop.machine.dial(feed.axis)
    if dial is not None:
        center = strip.at(far + _GAP_MM + _WHEEL_MM + 3.0, 0.0)
        draw_wheel(canvas, feed.axis, center, clockwise=dial.crank(feed.sign, feed.axis) == "cw")


def draw_wheel(canvas: Canvas, axis: str, center: Spot, *, clockwise: bool) -> None:
    """A handwheel with the letter of its axis and an arrow for the way to crank."""
    for mark in wheel(center, _WHEEL_MM, clockwise=clockwise):
        canvas.put(mark)
    x, y = center
    canvas.write(letter(axis, x, y + MEDIUM / 2, MEDIUM, anchor="middle", bold=True))


def draw_zero(canvas: Canvas, scene: Scene, frame: Frame, room: Box) -> None:
    """The zero point, ringed, with the X and Y axes beside it where there is room."""
    left, right, front, back = frame.shown
    if not (left <= 0 <= right and front <= 0 <= back):
        return
    zero = frame.view.at(0.0, 0.0)
    canvas.put(Ring(zero, 1.6, NARROW))
    canvas.put(Ring(zero, 0.5, 1.0))
    for corner in _corner_spots(zero, frame):
        box = _axes_box(corner)
        if canvas.free(box, room, off_narrow=False) and canvas.clear_line(corner, zero):
            _axes(canvas, corner)
            if corner != zero:
                canvas.rule(line(corner, zero), wide=False)
            canvas.block(box)
            return


def _corner_spots(zero: Spot, frame: Frame) -> list[Spot]:
    """Where the corner of the axes may stand off the views, nearest the zero point first."""
    x, y = zero
    steps = sorted(
        ((dx, dy) for dx in range(-60, 61, 3) for dy in range(-60, 61, 3)),
        key=lambda step: (step[0] ** 2 + step[1] ** 2, step),
    )
    spots = ((x + dx, y + dy) for dx, dy in steps)
    views = (frame.plan, frame.elevation.grown(1.0))
    return [spot for spot in spots if not any(view.meets(_axes_box(spot)) for view in views)]


def _axes_box(corner: Spot) -> Box:
    x, y = corner
    size = _AXES_MM + MEDIUM + 2.0
    return Box(x - MEDIUM - 1.0, y - size, x + size, y + MEDIUM)


def _axes(canvas: Canvas, corner: Spot) -> None:
    """X to the right, Y away from the operator (ISO 841), 0 in the corner."""
    x, y = corner
    for tip in ((x + _AXES_MM, y), (x, y - _AXES_MM)):
        for mark in fine_arrow(corner, tip):
            canvas.put(mark)
    canvas.write(letter("X", x + _AXES_MM + 1.0, y + MEDIUM / 2, MEDIUM, bold=True))
    canvas.write(letter("Y", x, y - _AXES_MM - 1.0, MEDIUM, anchor="middle", bold=True))
    canvas.write(letter("0", x - 0.8, y + MEDIUM - 1.0, MEDIUM, anchor="end", bold=True))
