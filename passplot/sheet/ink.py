"""Small figures of marks: arrowheads, curved arrows, handwheels, tick boxes, symbols."""

from math import atan2, cos, hypot, radians, sin

from passplot.records.sheet import Bow, Fill, Mark, Ring, Stroke
from passplot.sheet.paper import DASHED_WIDE, NARROW, WIDE, Box

Spot = tuple[float, float]

HEAD_LENGTH, HEAD_WIDTH = 5.0, 3.2
"""Arrowhead of a pass: seen from 800 mm."""
DIMENSION_HEAD_LENGTH, DIMENSION_HEAD_WIDTH = 3.0, 1.0
"""Arrowhead of a dimension, 3 to 1 (ASME Y14.2)."""


def line(a: Spot, b: Spot, width: float = NARROW, dashes: tuple[float, ...] = ()) -> Stroke:
    """A straight line."""
    return Stroke((a, b), width, dashes=dashes)


def head(
    tip: Spot,
    away_from: Spot,
    length: float = HEAD_LENGTH,
    width: float = HEAD_WIDTH,
    number: int | None = None,
) -> Fill:
    """A filled arrowhead with its point at ``tip``, pointing away from ``away_from``."""
    dx, dy = tip[0] - away_from[0], tip[1] - away_from[1]
    size = hypot(dx, dy) or 1.0
    ux, uy = dx / size, dy / size
    base = (tip[0] - length * ux, tip[1] - length * uy)
    half = width / 2
    return Fill(
        (
            (
                tip,
                (base[0] - half * uy, base[1] + half * ux),
                (base[0] + half * uy, base[1] - half * ux),
            ),
        ),
        0.0,
        number,
    )


def arrow(
    a: Spot, b: Spot, width: float = WIDE, dashes: tuple[float, ...] = ()
) -> tuple[Mark, ...]:
    """A line from ``a`` to ``b`` with a filled head at ``b``."""
    size = hypot(b[0] - a[0], b[1] - a[1]) or 1.0
    back = 0.8 * HEAD_LENGTH / size
    neck = (b[0] - (b[0] - a[0]) * back, b[1] - (b[1] - a[1]) * back)
    return (Stroke((a, neck), width, dashes=dashes), head(b, a))


def fine_arrow(a: Spot, b: Spot) -> tuple[Mark, ...]:
    """A narrow line with the head of a dimension at ``b``."""
    return (line(a, b), head(b, a, DIMENSION_HEAD_LENGTH, DIMENSION_HEAD_WIDTH))


def turning(
    center: Spot, radius: float, *, clockwise: bool, width: float = WIDE
) -> tuple[Mark, ...]:
    """Three quarters of a circle with an arrowhead: the way something turns, seen from above."""
    length = min(4.0, radius)
    lag = 57.3 * 0.8 * length / radius
    if clockwise:
        start, end, tip_deg = 150.0, 405.0 - lag, 405.0
    else:
        start, end, tip_deg = 135.0 + lag, 390.0, 135.0
    tip = _round(center, radius, tip_deg)
    behind = _round(center, radius, tip_deg - lag if clockwise else tip_deg + lag)
    bow = Bow(center, radius, start, end, width)
    return (bow, head(tip, behind, length, 0.7 * length))


def _round(center: Spot, radius: float, degrees: float) -> Spot:
    angle = radians(degrees)
    return center[0] + radius * cos(angle), center[1] + radius * sin(angle)


def rotation(
    center: Spot, radius: float, *, clockwise: bool, dashes: tuple[float, ...]
) -> tuple[Mark, ...]:
    """A cutter seen from above at its true size, with an arrow for the way it turns."""
    inner = radius - 1.6 if radius >= 4.5 else radius + 1.6
    return (
        Ring(center, radius, NARROW, dashes=dashes),
        *turning(center, inner, clockwise=clockwise, width=NARROW),
    )


def wheel(center: Spot, radius: float, *, clockwise: bool) -> tuple[Mark, ...]:
    """A handwheel: its rim and an arrow round it for the way to crank."""
    return (
        Ring(center, radius, NARROW),
        *turning(center, radius + 1.9, clockwise=clockwise),
    )


def tick_box(left: float, middle_y: float, size: float = 5.0) -> Stroke:
    """An empty box to tick."""
    box = Box(left, middle_y - size / 2, left + size, middle_y + size / 2)
    return Stroke(box.corners, NARROW, closed=True)


def full_width_sample(left: float, middle_y: float, length: float = 14.0) -> tuple[Mark, ...]:
    """A stretch of the line of a pass that cuts both ways, for the legend."""
    return (line((left, middle_y), (left + length, middle_y), WIDE, DASHED_WIDE),)


def projection_symbol(center: Spot, *, third_angle: bool, size: float = 5.0) -> tuple[Mark, ...]:
    """The frustum of a cone in two views, placed as the projection places them (ISO 5456-2).

    Third angle shows the end view on the side it is seen from: the small end, left of the side
    view's small end. First angle shows it on the far side.
    """
    x, y = center
    half, small = size / 2, size / 4
    shift = 0.75 * size
    end_x, side_x = (x - shift, x + shift) if third_angle else (x + shift, x - shift)
    # the small end of the frustum looks left in both
    left, right = side_x - half, side_x + half
    frustum = ((left, y - small), (right, y - half), (right, y + half), (left, y + small))
    return (
        Ring((end_x, y), half, NARROW),
        Ring((end_x, y), small, NARROW),
        Stroke(frustum, NARROW, closed=True),
        Stroke(((x - 1.75 * size, y), (x + 1.75 * size, y)), 0.18, dashes=(3.0, 0.7, 0.2, 0.7)),
        Stroke(((end_x, y - half - 1), (end_x, y + half + 1)), 0.18, dashes=(3.0, 0.7, 0.2, 0.7)),
    )


def slope_of(a: Spot, b: Spot) -> float:
    """Direction from ``a`` to ``b`` in radians, clockwise on paper from the right."""
    return atan2(b[1] - a[1], b[0] - a[0])
