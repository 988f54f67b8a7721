"""Scallops against a published table, against circles intersected by hand, and inverted."""

from math import ceil, cos, hypot, inf, pi, sin, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from passplot.scallop import (
    arc_angle,
    arc_scallop,
    floor_scallop,
    floor_width,
    path_radius,
    scallop_at_arc,
    scallop_at_line,
    straight_scallop,
    straight_spacing,
)

# Line offset of ball-nosed cutters for a given cusp: Dormer Pramet milling catalogue 2021-22,
# printed p. 114, table 3b. Millimetres; cusps in micrometres; the table prints two decimals.
CUSPS_UM = (2, 4, 8, 16, 32, 63, 125, 250)
LINE_OFFSETS = {
    2: (0.13, 0.18, 0.25, 0.36, 0.50, 0.70, 0.97, 1.32),
    3: (0.15, 0.22, 0.31, 0.44, 0.62, 0.86, 1.20, 1.66),
    4: (0.18, 0.25, 0.36, 0.50, 0.71, 1.00, 1.39, 1.94),
    5: (0.20, 0.28, 0.40, 0.56, 0.80, 1.12, 1.56, 2.18),
    6: (0.22, 0.31, 0.44, 0.62, 0.87, 1.22, 1.71, 2.40),
    8: (0.25, 0.36, 0.51, 0.71, 1.01, 1.41, 1.98, 2.78),
    10: (0.28, 0.40, 0.57, 0.80, 1.13, 1.58, 2.22, 3.12),
    12: (0.31, 0.44, 0.62, 0.88, 1.24, 1.73, 2.44, 3.43),
    14: (0.33, 0.47, 0.67, 0.95, 1.34, 1.87, 2.63, 3.71),
    16: (0.36, 0.51, 0.72, 1.01, 1.43, 2.00, 2.82, 3.97),
    18: (0.38, 0.54, 0.76, 1.07, 1.52, 2.13, 2.99, 4.21),
    20: (0.40, 0.57, 0.80, 1.13, 1.60, 2.24, 3.15, 4.44),
    22: (0.42, 0.59, 0.84, 1.19, 1.68, 2.35, 3.31, 4.66),
    25: (0.45, 0.63, 0.89, 1.26, 1.79, 2.51, 3.53, 4.97),
    28: (0.47, 0.67, 0.95, 1.34, 1.89, 2.65, 3.73, 5.27),
}
TABLE = [
    (diameter, cusp / 1000, offset)
    for diameter, offsets in LINE_OFFSETS.items()
    for cusp, offset in zip(CUSPS_UM, offsets, strict=True)
]
FIXED = settings(max_examples=200, derandomize=True, deadline=None, database=None)
RADII = st.floats(0.05, 2.0)
WALLS = st.floats(0.02, 40.0)
SHARES = st.floats(1e-4, 0.2)


def test_the_published_table_is_whole() -> None:
    assert len(TABLE) == 120


@pytest.mark.parametrize(("diameter", "cusp", "offset"), TABLE)
def test_the_published_line_offsets(diameter: int, cusp: float, offset: float) -> None:
    # printed to 0.01, some cut off rather than rounded
    assert straight_spacing(diameter / 2, cusp) == pytest.approx(offset, abs=0.006)
    assert floor_width(diameter, diameter / 2, cusp) == pytest.approx(offset, abs=0.006)
    # 0.005 of rounding, seen through the slope dh/ds = s / (4 (r - h))
    slack = 0.006 * offset / (4 * (diameter / 2 - cusp))
    assert straight_scallop(diameter / 2, offset) == pytest.approx(cusp, abs=1.2 * slack)


@pytest.mark.parametrize(
    ("radius", "spacing", "scallop"),
    [
        # worked by hand from r - sqrt(r^2 - s^2/4)
        (3.0, 0.5, 0.010435),
        (5.0, 1.0, 0.025063),
        (5.0, 2.0, 0.101021),
        (0.8, 0.2, 0.006275),
        (0.25, 0.05, 0.001253),
        (0.5, 0.1, 0.002506),
        (0.25, 0.5, 0.25),  # the two cuts only just meet
        (0.25, 0.501, inf),
    ],
)
def test_scallops_worked_by_hand(radius: float, spacing: float, scallop: float) -> None:
    assert straight_scallop(radius, spacing) == pytest.approx(scallop, abs=6e-7)


def crossing_height(radius: float, wall: float, angle: float, convex: bool) -> float:
    """The scallop by walking up the bisector until outside both circles (bisection)."""
    path = wall + radius if convex else wall - radius
    x, y = path * cos(angle / 2), path * sin(angle / 2)

    def cut(height: float) -> bool:
        d = wall + height if convex else wall - height
        return hypot(d - x, y) < radius

    low, high = 0.0, radius
    while not cut(high) and high > 1e-12:
        high /= 2
    if high <= 1e-12:
        return 0.0
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (low, middle) if cut(middle) else (middle, high)
    return high


@pytest.mark.parametrize("convex", [True, False])
@FIXED
@given(radius=RADII, wall=WALLS, share=SHARES)
def test_the_angle_leaves_the_scallop_asked_for(
    convex: bool, radius: float, wall: float, share: float
) -> None:
    cusp = share * radius
    if not convex:
        wall += radius
    angle = arc_angle(radius, wall, cusp, convex=convex)
    back = arc_scallop(radius, wall, angle, convex=convex)
    assert back <= cusp * (1 + 1e-6)
    path = path_radius(radius, wall, convex=convex)
    free = 2 * pi if path < radius and not convex else 2 * sqrt(2) * radius / path / 2
    if angle < 0.9 * free:
        assert back == pytest.approx(cusp, rel=1e-6)
    if angle < 1 and share > 0.001:
        assert crossing_height(radius, wall, angle, convex) == pytest.approx(cusp, rel=1e-4)


@pytest.mark.parametrize("convex", [True, False])
@FIXED
@given(radius=RADII, wall=WALLS, share=SHARES, turn=st.floats(-3, 3))
def test_any_two_positions_agree_with_the_arc_and_the_line(
    convex: bool, radius: float, wall: float, share: float, turn: float
) -> None:
    wall = wall if convex else wall + 1.1 * radius
    angle = arc_angle(radius, wall, share * radius, convex=convex)
    path, center = path_radius(radius, wall, convex=convex), (3.0, -2.0)
    if angle > 3:
        return
    spots = [
        (center[0] + path * cos(turn + k * angle), center[1] + path * sin(turn + k * angle))
        for k in (0, 1)
    ]
    found = scallop_at_arc(*spots, radius, center, wall, convex=convex)
    assert found == pytest.approx(share * radius, rel=1e-3, abs=1e-9) or found < share * radius
    along, normal = (cos(turn), sin(turn)), (-sin(turn), cos(turn))
    apart = straight_spacing(radius, share * radius)
    first = (center[0] + radius * normal[0], center[1] + radius * normal[1])
    second = (first[0] + apart * along[0], first[1] + apart * along[1])
    end = (center[0] + along[0], center[1] + along[1])
    for ends in ((center, end), (end, center)):
        assert scallop_at_line(first, second, radius, *ends) == pytest.approx(
            share * radius, rel=1e-6, abs=1e-12
        )


def test_positions_off_the_path_leave_that_much_more() -> None:
    # both a thousandth too far from the wall: the scallop is a thousandth higher
    first, second = (0.0, 0.251), (0.05, 0.251)
    plain = straight_scallop(0.25, 0.05)
    assert scallop_at_line(first, second, 0.25, (0, 0), (1, 0)) == pytest.approx(plain + 0.001)
    assert scallop_at_line(first, first, 0.25, (0, 0), (1, 0)) == pytest.approx(0.001)
    assert scallop_at_line(first, (0.6, 0.251), 0.25, (0, 0), (1, 0)) == inf


@FIXED
@given(radius=RADII, wall=st.floats(2.0, 40.0), share=SHARES)
def test_a_round_wall_lies_on_its_side_of_a_straight_one(
    radius: float, wall: float, share: float
) -> None:
    """The same chord of the path leaves less on a convex wall and more in a concave one."""
    wall *= radius
    chord = straight_spacing(radius, share * radius)
    heights = []
    for convex in (True, False):
        path = path_radius(radius, wall + radius * (not convex), convex=convex)
        if chord >= 2 * path or 2 * sqrt(2) * radius / path > 3:
            return
        spots = [
            (-chord / 2, sqrt(path**2 - chord**2 / 4)),
            (chord / 2, sqrt(path**2 - chord**2 / 4)),
        ]
        heights.append(
            scallop_at_arc(*spots, radius, (0, 0), wall + radius * (not convex), convex=convex)
        )
    assert heights[0] < share * radius < heights[1]


@pytest.mark.parametrize("convex", [True, False])
@pytest.mark.parametrize("wall", [0.3, 0.5, 1.0, 2.0, 5.0, 20.0])
@pytest.mark.parametrize("radius", [0.125, 0.25, 0.375])
@pytest.mark.parametrize("cusp", [0.001, 0.002, 0.004])
def test_the_small_scallop_form_and_the_number_of_points(
    convex: bool, wall: float, radius: float, cusp: float
) -> None:
    """How close sqrt(8 h r / (p R)) is, and what that makes of the points round a circle.

    The exact angle is smaller by the share h / (4 r) +- h / (2 R), of n points n times that:
    about 0.56 sqrt(h p R / r^3) of a point. Stepping by the exact angle thus takes at most
    ceil(2 pi / small) + 4 points on every wall where that is under 3, which is to 20 radii at
    h = 0.03 r; a larger one needs these few points more, or leaves more than the scallop.
    """
    if not convex and wall <= radius:
        return
    path = path_radius(radius, wall, convex=convex)
    small = sqrt(8 * cusp * radius / (path * wall))
    exact = arc_angle(radius, wall, cusp, convex=convex)
    if small < 0.5:
        shorter = cusp / (4 * radius) + (1 if convex else -1) * cusp / (2 * wall) - small**2 / 96
        assert 1 - exact / small == pytest.approx(shorter, abs=2e-4)
    more = 0.56 * sqrt(cusp * path * wall / radius**3)
    assert ceil(2 * pi / exact) <= ceil(2 * pi / small) + (4 if more < 3 else ceil(more) + 1)
    if wall <= 20 * radius:
        assert more < 3


def test_a_bore_hardly_larger_than_the_cutter_needs_one_position() -> None:
    # axis 0.001 off the middle: opposite, 0.002 is left
    assert arc_angle(0.25, 0.251, 0.004, convex=False) == pytest.approx(2 * pi)
    assert arc_scallop(0.25, 0.251, 2 * pi, convex=False) == pytest.approx(0.002)
    assert arc_angle(0.25, 0.25, 0.004, convex=False) == pytest.approx(2 * pi)
    assert arc_scallop(0.25, 0.25, 2 * pi, convex=False) == 0
    with pytest.raises(ValueError, match="does not fit"):
        arc_angle(0.25, 0.24, 0.004, convex=False)
    with pytest.raises(ValueError, match="cannot be"):
        straight_spacing(0.25, -0.001)


def test_round_a_sharp_pin_the_cuts_only_just_meet() -> None:
    # wall of radius 0.01, cutter 0.25: the angle is held to 2 asin(r / p)
    angle = arc_angle(0.25, 0.01, 0.25, convex=True)
    assert arc_scallop(0.25, 0.01, angle, convex=True) < 0.25
    assert arc_scallop(0.25, 0.01, angle * 1.01, convex=True) == inf


def test_floors() -> None:
    # square end: nothing is left up to the diameter; bull: the flat of 0.5 - 2 * 0.06 = 0.38
    assert floor_scallop(0.5, 0.0, 0.5) == 0
    assert floor_scallop(0.5, 0.0, 0.5001) == inf
    assert floor_scallop(0.5, 0.06, 0.38) == 0
    assert floor_scallop(0.5, 0.06, 0.43) == pytest.approx(straight_scallop(0.06, 0.05))
    assert floor_scallop(0.5, 0.25, 0.05) == pytest.approx(0.001253, abs=1e-6)
    assert floor_width(0.5, 0.0, 0.004) == 0.5
    assert floor_scallop(0.5, 0.06, floor_width(0.5, 0.06, 0.002)) == pytest.approx(0.002)
