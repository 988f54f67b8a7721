"""The shaft of a keyseat, cut across: its circle, the seat, and what is measured on it."""

from math import atan2, cos, degrees, pi, sin, sqrt

from passplot.curves import loop_box
from passplot.frozen import dataclass
from passplot.records.job import Feature, Keyseat
from passplot.records.plan import Plan
from passplot.records.sheet import Bow, Stroke
from passplot.sheet.canvas import HATCHING, Canvas
from passplot.sheet.ground import hatched, inside
from passplot.sheet.ink import fine_arrow, line
from passplot.sheet.lettering import letter
from passplot.sheet.numbers import plain, printed
from passplot.sheet.paper import LONG_DASH_DOT, NARROW, SCALES, SMALL, WIDE, Box, scale_text
from passplot.sheet.plan_view import HATCH_PITCH_MM, HATCH_WIDTH_MM
from passplot.sheet.scene import MM_PER_INCH

Spot = tuple[float, float]

_WIDE_MM = 96.0
"""Paper the section takes with the dimensions beside it."""
_CIRCLE_MM = 32.0
"""Greatest diameter the shaft is drawn with."""
_ABOVE_MM, _BESIDE_MM, _OVER_MM = 5.0, 6.0, 3.0
"""Dimension lines stand off the circle, centre lines reach over it."""
_CHORDS = 96
_PLACES = {True: 4, False: 3}
"""Decimals of limits in inches and millimetres: those of the standards."""


@dataclass(frozen=True, slots=True)
class _Section:
    """A shaft with its seat on paper: centre and radius, half the seat, its floor, the scale."""

    center: Spot
    radius: float
    half: float
    floor: float
    scale: float

    @property
    def shoulder(self) -> float:
        """How high above the centre the walls of the seat meet the shaft."""
        return sqrt(self.radius**2 - self.half**2)

    @property
    def top(self) -> float:
        """Upper end of what is drawn: the width's dimension."""
        return self.center[1] - self.radius - _ABOVE_MM - SMALL / 2

    @property
    def seat(self) -> tuple[Spot, Spot, Spot, Spot]:
        """The seat from the left edge down, along its floor and up again."""
        (x, y), half, top = self.center, self.half, self.center[1] - self.shoulder
        floor = y - self.radius + self.floor
        return (x - half, top), (x - half, floor), (x + half, floor), (x + half, top)

    @property
    def outline(self) -> tuple[Spot, ...]:
        """The metal as a polygon, the round part in chords."""
        first = atan2(-self.shoulder, self.half)
        turn = 2 * pi - 2 * (first + pi / 2)
        x, y = self.center
        angles = (first + turn * step / _CHORDS for step in range(_CHORDS + 1))
        chords = ((x + self.radius * cos(a), y + self.radius * sin(a)) for a in angles)
        return (*chords, *self.seat)


def seated(plan: Plan) -> tuple[Feature, Keyseat] | None:
    """The first keyseat of a plan."""
    pairs = ((feature, feature.keyseat) for feature in plan.job.features)
    return next(((feature, key) for feature, key in pairs if key is not None), None)


def draw_shaft(canvas: Canvas, plan: Plan, zone: Box, *, beside: bool) -> Box:
    """Draw the section of the first keyseat below the drawing of the work, or right of it.

    Returns what is left of the zone for that drawing: all of it where there is no keyseat.
    """
    found = seated(plan)
    if found is None:
        return zone
    feature, key = found
    left = zone.right - _WIDE_MM if beside else zone.left
    room = Box(left, zone.top, zone.right, zone.bottom)
    inch = plan.job.inch
    section = _section(feature, key, room, MM_PER_INCH if inch else 1.0, plan.job.stock.top)
    _draw_metal(canvas, section)
    width = key.width
    _draw_width(canvas, section, _limits(width.low, width.high, inch))
    over = key.over_far_side
    _draw_over(canvas, section, _limits(over.low, over.high, inch))
    title = f"{feature.name.upper()}, SECTION {scale_text(section.scale)}"
    canvas.write(letter(title, room.left, room.bottom - 1.5, SMALL, bold=True))
    if beside:
        return Box(zone.left, zone.top, left - _BESIDE_MM, zone.bottom)
    return Box(zone.left, zone.top, zone.right, section.top - _OVER_MM)


def _section(feature: Feature, key: Keyseat, room: Box, mm: float, top: float) -> _Section:
    left, right, front, back = loop_box(feature.area[0])
    wide = back - front if key.along == "x" else right - left
    fitting = (scale for scale in SCALES if key.shaft * mm * scale <= _CIRCLE_MM)
    scale = next(fitting, SCALES[-1])
    radius = key.shaft / 2 * mm * scale
    center = room.left + _OVER_MM + radius, room.bottom - 2 * SMALL - _OVER_MM - radius
    mm *= scale
    return _Section(center, radius, wide / 2 * mm, (top - feature.floor) * mm, scale)


def _draw_metal(canvas: Canvas, section: _Section) -> None:
    """The shaft as it comes out: hatched, its edges wide, with its centre lines."""
    ring, (x, y), radius = section.outline, section.center, section.radius
    for a, b in hatched([ring], lambda spot: inside(spot, ring), HATCH_PITCH_MM):
        canvas.put(line(a, b, HATCH_WIDTH_MM), HATCHING)
    right = degrees(atan2(-section.shoulder, section.half))
    canvas.put(Bow(section.center, radius, right, 180.0 - right, WIDE))
    canvas.put(Stroke(section.seat, WIDE))
    reach = radius + _OVER_MM
    for a, b in (((x - reach, y), (x + reach, y)), ((x, y - reach), (x, y + reach))):
        canvas.put(line(a, b, NARROW, LONG_DASH_DOT))


def _draw_width(canvas: Canvas, section: _Section, text: str) -> None:
    """Width of the seat, above it."""
    (left, top), *_, (right, _) = section.seat
    at = section.center[1] - section.radius - _ABOVE_MM
    for x, way in ((left, -1), (right, 1)):
        canvas.put(line((x, top - 1.0), (x, at - 1.5)))
        for mark in fine_arrow((x + way * 6.0, at), (x, at)):
            canvas.put(mark)
    canvas.write(letter(text, right + 7.5, at + SMALL / 2, SMALL))


def _draw_over(canvas: Canvas, section: _Section, text: str) -> None:
    """From the floor of the seat over the far side of the shaft, beside it."""
    (x, y), radius = section.center, section.radius
    _, _, (right, floor), _ = section.seat
    at, bottom = x + radius + _BESIDE_MM, y + radius
    canvas.put(line((right + 1.0, floor), (at + 1.5, floor)))
    canvas.put(line((x + 1.0, bottom), (at + 1.5, bottom)))
    middle = (floor + bottom) / 2
    for end in (floor, bottom):
        for mark in fine_arrow((at, middle), (at, end)):
            canvas.put(mark)
    canvas.write(letter(text, at + 2.5, middle + SMALL / 2, SMALL))


def _limits(low: float, high: float, inch: bool) -> str:
    """Two limits as the paper has them, one where they are the same."""
    texts = [printed(plain(value, _PLACES[inch]), inch) for value in (low, high)]
    return " TO ".join(dict.fromkeys(texts))
