"""Which way: the pair of arrows for cutter and table with the handwheel, and the zero point."""

from collections.abc import Iterator
from itertools import islice, pairwise

from passplot.frozen import dataclass
from passplot.records.sheet import Fill, Ring
from passplot.sheet.canvas import HATCHING, Canvas
from passplot.sheet.feeds import COLUMN, LEFT, TOP, Feed
from passplot.sheet.framing import Frame
from passplot.sheet.ink import arrow, fine_arrow, line, wheel
from passplot.sheet.lettering import letter, width_of
from passplot.sheet.margins import COLUMN_MM, PAIR_MM
from passplot.sheet.paper import DASHED_WIDE, MEDIUM, NARROW, SMALL, Box
from passplot.sheet.scene import Scene

Spot = tuple[float, float]
_RING_MM = 1.6
"""Radius of the ring round the zero point."""

_ARROW_MM = 26.0
_GAP_MM = 2.0
_WHEEL_MM = 4.4
_LINE_MM = 7.6
_MOST_LEADER_MM = 26
"""Axes farther from the zero point would be looked for; the title block says where it is."""
_STEPS = sorted(
    (dx * dx + dy * dy, dx, dy)
    for dx in range(-_MOST_LEADER_MM, _MOST_LEADER_MM + 1, 2)
    for dy in range(-_MOST_LEADER_MM, _MOST_LEADER_MM + 1, 2)
    if dx * dx + dy * dy <= _MOST_LEADER_MM**2
)
"""Ways from the zero point to where its axes may stand, shortest first: length squared, x, y."""
_MOST_SPOTS = 40
_ALL_VIEWS = 2
"""Views that axes keep off where they can: else they stand on the part, off all its lines."""


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
    stacked = zone.top + half
    for feed in frame.feeds:
        length = pair_length(with_wheel=scene.job.shop.machine.dial(feed.axis) is not None)
        if feed.side == COLUMN:
            left = frame.inner(zone).right + COLUMN_MM - length - 1
            strip = Strip((left, stacked), False)
            box = Box(left, stacked - half, left + length, stacked + half)
            stacked += PAIR_MM + 2
        elif feed.axis == "X":
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


def mark_zero(canvas: Canvas, frame: Frame) -> None:
    """The zero point, ringed; texts placed after it keep off."""
    if not _shows_zero(frame):
        return
    zero = frame.view.at(0.0, 0.0)
    canvas.put(Ring(zero, _RING_MM, NARROW))
    canvas.put(Ring(zero, 0.5, 1.0))
    corners = Box(*zero, *zero).grown(_RING_MM).corners
    canvas.wide.extend(pairwise((*corners, corners[0])))


def _shows_zero(frame: Frame) -> bool:
    left, right, front, back = frame.shown
    return left <= 0 <= right and front <= 0 <= back


def draw_zero(canvas: Canvas, scene: Scene, frame: Frame, room: Box) -> None:
    """The X and Y axes beside the zero point where there is room."""
    if not _shows_zero(frame):
        return
    zero = frame.view.at(0.0, 0.0)
    block = _stock_box(scene, frame).grown(-0.5)
    large, small = Axes(9.0, MEDIUM), Axes(6.0, SMALL)
    off_views = (frame.plan.grown(2.0), frame.elevation.grown(1.0))
    for axes, views in ((large, off_views), (small, off_views), (small, off_views[1:])):
        best = _best_spot(_spots(canvas, views, zero, room, axes), block, zero)
        if best is not None:
            if views != off_views:  # on the part itself: keep the hatching off
                canvas.put(Fill((axes.box(best).corners,), 1.0), HATCHING)
            axes.draw(canvas, best)
            canvas.rule(line(best, zero), wide=False)
            canvas.block(axes.box(best))
            return


@dataclass(frozen=True, slots=True)
class Axes:
    """The X and Y axes from their corner: ``length`` of the arrows, ``height`` of the letters."""

    length: float
    height: float

    def box(self, corner: Spot) -> Box:
        """The paper they take."""
        x, y = corner
        size = self.length + self.height + 2.0
        return Box(x - self.height - 1.0, y - size, x + size, y + self.height)

    def draw(self, canvas: Canvas, corner: Spot) -> None:
        """X to the right, Y away from the operator (ISO 841), 0 in the corner."""
        (x, y), high, long = corner, self.height, self.length
        for tip in ((x + long, y), (x, y - long)):
            for mark in fine_arrow(corner, tip):
                canvas.put(mark)
        canvas.write(letter("X", x + long + 1.0, y + high / 2, high, bold=True))
        canvas.write(letter("Y", x, y - long - 1.0, high, anchor="middle", bold=True))
        canvas.write(letter("0", x - 0.8, y + high - 1.0, high, anchor="end", bold=True))


def _best_spot(spots: Iterator[Spot], block: Box, zero: Spot) -> Spot | None:
    """The nearest spot whose leader does not cross the block, else the nearest."""
    nearest: Spot | None = None
    for spot in islice(spots, _MOST_SPOTS):
        if not block.crossed(spot, zero):
            return spot
        nearest = nearest or spot
    return nearest


def _spots(
    canvas: Canvas, views: tuple[Box, ...], zero: Spot, room: Box, axes: Axes
) -> Iterator[Spot]:
    """Where the corner of the axes may stand off ``views``, nearest the zero point first."""
    for _, dx, dy in _STEPS:
        x, y = zero[0] + dx, zero[1] + dy
        if not (room.left < x < room.right and room.top < y < room.bottom):
            continue
        if any(view.left <= x <= view.right and view.top <= y <= view.bottom for view in views):
            continue  # most spots: their axes meet a view, too
        box = axes.box((x, y))
        if not room.holds(box) or any(view.meets(box) for view in views):
            continue
        on_part = len(views) < _ALL_VIEWS
        if canvas.free(box, room, off_narrow=on_part) and canvas.clear_line((x, y), zero):
            yield x, y


def _stock_box(scene: Scene, frame: Frame) -> Box:
    """The block on paper."""
    (x_low, x_high), (y_low, y_high) = scene.job.stock.x, scene.job.stock.y
    (left, bottom), (right, top) = frame.view.at(x_low, y_low), frame.view.at(x_high, y_high)
    return Box(left, top, right, bottom)
