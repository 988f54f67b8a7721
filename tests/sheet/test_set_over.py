"""What the sheets say of work set over, against arithmetic of their own and published numbers."""

import re
from dataclasses import replace
from functools import cache
from math import asin, atan2, cos, degrees, hypot, radians, sin

import pytest

from passplot.records.shapes import Point
from passplot.records.sheet import Page
from passplot.sheet.set_over_text import corner_lines
from sheet.pages import texts
from sheet.plans import plan_named, sheet_of

MINUS = "\N{MINUS SIGN}"
ANGLE = degrees(atan2(0.25, 4.0))
"""The gib's back falls 1/4 in over 4 in to the right: turned counter-clockwise it lies along X."""


@cache
def said() -> str:
    """Every line of the set-up sheets of the turned position, in order, as one text."""
    pages = [texts(page) for page in sheet_of("wedge-gib").pages]
    return " ".join(line for page in pages if any("SET OVER 3" in t for t in page) for line in page)


def found(pattern: str, text: str = "") -> list[float]:
    """Numbers at the places ``#`` of a pattern that is said once."""
    (match,) = re.findall(pattern.replace("#", rf"([{MINUS}+]? ?\d*\.\d+)"), text or said())
    parts = [match] if isinstance(match, str) else match
    return [float(part.replace(MINUS, "-").replace(" ", "")) for part in parts]


def turned(x: float, y: float) -> tuple[float, float]:
    """Where a point of the print shows in the turned position."""
    far, way = hypot(x, y), degrees(atan2(y, x)) + ANGLE
    return far * cos(radians(way)), far * sin(radians(way))


def test_the_angle_is_said_for_sine_bar_and_protractor() -> None:
    assert "Turn the work 3° 35′ COUNTER-CLOCKWISE" in said()
    (whole, minutes) = re.findall(r"Protractor: (\d+)° (\d+)′", said())[0]
    assert int(whole) + int(minutes) / 60 == pytest.approx(ANGLE, abs=0.5 / 60)
    (stack,) = found("Sine bar, 5 in: stack #")
    assert degrees(asin(stack / 5)) == pytest.approx(ANGLE, abs=0.001)
    # half a degree wrong would not pass: it is 0.044 in of stack
    assert abs(5 * sin(radians(ANGLE + 0.5)) - stack) > 0.04


def test_the_corners_and_the_wall_are_where_turning_brings_them() -> None:
    for name, x, y in (
        ("Front left", 0.0, 0.0),
        ("Front right", 4.0, 0.0),
        ("Back right", 4.0, 1.5),
        ("Back left", 0.0, 1.5),
    ):
        assert found(f"{name} corner: X #, Y #") == pytest.approx(turned(x, y), abs=5.1e-5)
    (wall,) = found("Taper: wall at Y #, along X")
    assert (wall, wall) == pytest.approx((turned(0, 1.25)[1], turned(4, 1)[1]), abs=5.1e-5)


@pytest.mark.parametrize(("first", "second"), [(0.3, 0.7), (0.55, 0.2)])
def test_two_touches_find_zero_again(first: float, second: float) -> None:
    """Faces touched ``first`` and ``second`` from the corner, readings set as the sheet says."""
    along, out = turned(1, 0), turned(0, -1)
    tip = 0.1
    one = (first * along[0] + tip * out[0], first * along[1] + tip * out[1])
    two = (-second * out[0] - tip * along[0], -second * out[1] - tip * along[1])
    x, y = two[0] - one[0], two[1] - one[1]  # the first touch was set to 0, 0
    u_x, u_y = found("U = # × X # × Y:")
    u = u_x * x + u_y * y
    for axis, shows in zip("XY", two, strict=True):
        at, by = found(f"SET {axis} to # # × U")
        assert at + by * u == pytest.approx(shows, abs=1e-4)


@pytest.mark.parametrize("zero", ["left front", "right front", "left back", "right back"])
@pytest.mark.parametrize("angle", [33.0, -21.0])
def test_two_touches_find_zero_from_any_corner(zero: str, angle: float) -> None:
    """The tip touches the two faces that meet at the corner, 0.4 and 0.6 from it."""
    (over,) = plan_named("wedge-gib").over
    side, front = zero.split()
    x0, y0 = (-4.0 if side == "right" else 0.0), (-1.5 if front == "back" else 0.0)

    def shown(x: float, y: float) -> tuple[float, float]:
        turn = radians(angle)
        return x * cos(turn) - y * sin(turn), x * sin(turn) + y * cos(turn)

    corners = ((x0, y0), (x0 + 4, y0), (x0 + 4, y0 + 1.5), (x0, y0 + 1.5))
    stock = replace(
        over.plan.job.stock,
        zero=f"{zero} top",
        outline=tuple(Point(*shown(x, y)) for x, y in corners),
    )
    plan = replace(over.plan, job=replace(over.plan.job, stock=stock))
    text = " ".join(corner_lines(plan, replace(over, angle=angle)))
    assert f"TOUCH {front.upper()} FACE" in text
    assert f"TOUCH {side.upper()} FACE" in text
    # zero is at that corner: inwards along the faces, a tip of .2 outside them
    inwards, upwards = (-1 if side == "right" else 1), (-1 if front == "back" else 1)
    one = shown(0.4 * inwards, -0.1 * upwards)
    two = shown(-0.1 * inwards, 0.6 * upwards)
    u_x, u_y = found("U = # × X # × Y:", text)
    u = u_x * (two[0] - one[0]) + u_y * (two[1] - one[1])
    for axis, reads in zip("XY", two, strict=True):
        at, by = found(f"SET {axis} to # # × U", text)
        assert at + by * u == pytest.approx(reads, abs=1e-4)


def test_what_it_saves_and_that_it_is_proven_is_said() -> None:
    (over,) = plan_named("wedge-gib").over
    assert f"Taper: {over.settings} settings along the slanted walls" in said()
    assert over.settings == 2  # roughed once, one skim
    # steps that leave .004 in: s = 2 sqrt(2 r c - c²) = .0890 in; two settings a step, both passes
    steps = hypot(4, 0.25) / (2 * (2 * 0.25 * 0.004 - 0.004**2) ** 0.5)
    assert over.stepping == pytest.approx(2 * 2 * steps, rel=0.02)
    assert f"Stepped off they would take about {over.stepping}" in said()
    assert "Every row was replayed in this position, 3° 35′ turned" in said()


def test_the_passes_stand_on_turned_readings() -> None:
    pages: tuple[Page, ...] = sheet_of("wedge-gib").pages
    finish = [page for page in pages if any("FINISH CUT" in text for text in texts(page))]
    (page,) = finish
    # the axis runs its radius, .25, off the wall
    assert "1.4980" in texts(page)
    assert turned(0, 1.25)[1] + 0.25 <= 1.4980 < turned(0, 1.25)[1] + 0.25 + 0.0005
