"""Keyseats against the printed tables of the two standards."""

from math import pi, sqrt

import pytest

from passplot.keyseats import INCH, METRIC, chordal_drop, seat, shaft_range
from passplot.read.polygon import signed_area
from passplot.records.job import Feature

from .texts import job, read

# ASME B17.1-1967 (R2013), table 2, square key, parallel: shaft in sixteenths from 1/2 in on, S
# (bottom of the seat to the far side) and T (hub). Machinery's Handbook, 31st ed., p. 2552; the
# same in its Pocket Companion.
S = """.430 .493 .517 .581 .644 .708 .771 .796 .859 .923 .986 1.049 1.112 1.137 1.201 1.225 1.289
1.352 1.416 1.479 1.542 1.527 1.591 1.655 1.718 1.782 1.845 1.909 1.972 1.957 2.021 2.084 2.148"""
T = """.560 .623 .709 .773 .837 .900 .964 1.051 1.114 1.178 1.241 1.304 1.367 1.455 1.518 1.605
1.669 1.732 1.796 1.859 1.922 2.032 2.096 2.160 2.223 2.287 2.350 2.414 2.477 2.587 2.651
2.714 2.778"""
PRINTED = [
    (8 + sixteenth, float(s), float(t))
    for sixteenth, (s, t) in enumerate(zip(S.split(), T.split(), strict=True))
]

# DIN 6885-1: shaft over ... to, width, t1, t2 (excerpt in a catalogue of couplings; the first row
# JIS B 1301:1996), and what the width may be off, N9, micrometres (ISO 286-2, extract).
METRIC_ROWS = [
    (6, 8, 2, 1.2, 1.0, -29, -4),
    (8, 10, 3, 1.8, 1.4, -29, -4),
    (10, 12, 4, 2.5, 1.8, -30, 0),
    (12, 17, 5, 3.0, 2.3, -30, 0),
    (17, 22, 6, 3.5, 2.8, -30, 0),
    (22, 30, 8, 4.0, 3.3, -36, 0),
    (30, 38, 10, 5.0, 3.3, -36, 0),
    (38, 44, 12, 5.0, 3.3, -43, 0),
    (44, 50, 14, 5.5, 3.8, -43, 0),
    (50, 58, 16, 6.0, 4.3, -43, 0),
    (58, 65, 18, 7.0, 4.4, -43, 0),
    (65, 75, 20, 7.5, 4.9, -52, 0),
    (75, 85, 22, 9.0, 5.4, -52, 0),
    (85, 95, 25, 9.0, 5.4, -52, 0),
    (95, 110, 28, 10.0, 6.4, -52, 0),
    (110, 130, 32, 11.0, 7.4, -62, 0),
    (130, 150, 36, 12.0, 8.4, -62, 0),
    (150, 170, 40, 13.0, 9.4, -62, 0),
    (170, 200, 45, 15.0, 10.4, -62, 0),
    (200, 230, 50, 17.0, 11.4, -62, 0),
    (230, 260, 56, 20.0, 12.4, -74, 0),
    (260, 290, 63, 20.0, 12.4, -74, 0),
    (290, 330, 70, 22.0, 14.4, -74, 0),
    (330, 380, 80, 25.0, 15.4, -74, 0),
    (380, 440, 90, 28.0, 17.4, -87, 0),
    (440, 500, 100, 31.0, 19.4, -87, 0),
]


def test_there_are_33_rows_of_two() -> None:
    assert len(PRINTED) == 33
    assert (PRINTED[0], PRINTED[-1]) == ((8, 0.43, 0.56), (40, 2.148, 2.778))


@pytest.mark.parametrize(("sixteenths", "s", "t"), PRINTED)
def test_inch_seats_are_those_of_the_printed_table(sixteenths: int, s: float, t: float) -> None:
    found = seat(INCH, sixteenths / 16)
    assert found is not None
    assert found.over_far_side == pytest.approx(s, abs=6e-4)
    assert found.over_hub == pytest.approx(t, abs=6e-4)
    # the side wall is half the key deep, the crown stands the arc over the key above it
    assert found.from_side == found.height / 2
    assert found.from_crown == pytest.approx(sixteenths / 16 - found.over_far_side)
    assert found.from_crown - found.from_side == chordal_drop(sixteenths / 16, found.width)


@pytest.mark.parametrize(
    ("shaft", "width"),
    [(7 / 8, 3 / 16), (15 / 16, 1 / 4), (5 / 4, 1 / 4), (21 / 16, 5 / 16), (11 / 8, 5 / 16)],
)
def test_inch_keys_change_over_the_end_of_a_range(shaft: float, width: float) -> None:
    found = seat(INCH, shaft)  # ASME B17.1, table 1: over ... up to and including
    assert found is not None
    assert found.width == width


def test_rectangular_keys_are_preferred_over_six_and_a_half() -> None:
    found = [seat(INCH, shaft) for shaft in (6.5, 6.501)]
    assert [(one.width, one.height) for one in found if one] == [(1.5, 1.5), (1.75, 1.5)]


@pytest.mark.parametrize(("over", "to", "b", "t1", "t2", "low", "high"), METRIC_ROWS)
def test_metric_seats_count_from_the_crown(
    over: float, to: float, b: float, t1: float, t2: float, low: int, high: int
) -> None:
    for shaft in (over + 0.01, to):
        found = seat(METRIC, shaft)
        assert found is not None
        assert (found.width, found.from_crown) == (b, t1)
        assert found.over_far_side == shaft - t1
        assert found.over_hub == pytest.approx(shaft + t2)
        assert found.least_width == pytest.approx(b + low / 1000)
        assert found.greatest_width == pytest.approx(b + high / 1000)
        half = sqrt(shaft**2 / 4 - b**2 / 4)
        assert found.from_side == pytest.approx(t1 - (shaft / 2 - half))


@pytest.mark.parametrize(("shaft", "left"), [(6, 4.8), (20, 16.5), (30, 26), (44, 39)])
def test_what_is_left_of_a_metric_shaft(shaft: float, left: float) -> None:
    # d - t1 of a supplier's table of DIN 6885 sheet 1 (Berger Tools, standard parts)
    found = seat(METRIC, shaft)
    assert found is not None
    assert found.over_far_side == pytest.approx(left)


@pytest.mark.parametrize(("standard", "least"), [(INCH, False), (METRIC, True)])
def test_the_ends_of_the_tables(standard: str, least: bool) -> None:
    low, high = shaft_range(standard)
    assert (seat(standard, low) is not None) == least
    assert seat(standard, high) is not None
    assert seat(standard, low - 0.01) is None
    assert seat(standard, high + 0.01) is None


# --- in a job ------------------------------------------------------------------------------------


def keyed(stock: list[float], units: str = "inch", **keys: object) -> Feature:
    """A keyseat along X in a shaft, zero on its axis."""
    block = {"size": stock, "material": "1045", "zero": "left center top"}
    table = {"name": "seat", "kind": "keyseat", "along": "x", "center": 0, "shaft": stock[1]}
    values = job(units=units, stock=block, feature=[table | keys], dimension=None)
    (found,) = read(values).features
    return found


def test_an_inch_seat_in_a_job() -> None:
    # 1 in shaft: Y 0.01588, total 0.1409, S 0.859 (Machinery's Handbook, 31st ed., p. 2552).
    found = keyed([4, 1, 1], standard="ASME B17.1", start=1, end=2.5)
    key = found.keyseat
    assert key is not None
    assert found.floor == -found.depth.middle == -key.from_crown
    assert key.from_crown == pytest.approx(0.1409, abs=5e-5)
    assert (key.from_side, key.key_height) == (pytest.approx(0.125), 0.25)
    assert key.over_far_side.nominal == pytest.approx(0.859, abs=5e-4)
    assert key.over_far_side.nominal == key.over_far_side.high
    # ASME B17.1, Class 2 (from memory): the seat is +.002 -.000 on the key, aimed at the middle.
    assert (key.width.nominal, key.width.low, key.width.high) == (0.25, 0.25, 0.252)
    assert (key.along, key.center, key.start, key.end) == ("x", 0, 1, 2.5)
    assert [(limit.at, limit.low, limit.high) for limit in found.limits] == [
        (-0.1255, -0.126, -0.125),
        (0.1255, 0.125, 0.126),
    ]
    (loop,) = found.area
    straight, round_ends = (1.5 - 0.251) * 0.251, pi * 0.1255**2
    assert signed_area(list(loop.edges)) == pytest.approx(straight + round_ends)


def test_a_metric_seat_in_a_job_is_open_where_it_reaches_the_end() -> None:
    found = keyed([80, 20, 20], "mm", standard="din 6885", end=25)
    key = found.keyseat
    assert key is not None
    assert (key.from_crown, key.over_far_side.nominal) == (3.5, 16.5)
    assert key.over_far_side.low == pytest.approx(16.4)
    assert (key.width.nominal, key.width.low, key.width.high) == (6, 5.97, 6)
    assert [(limit.at, limit.low, limit.high) for limit in found.limits] == [
        (-2.9925, -3, -2.985),
        (2.9925, 2.985, 3),
    ]
    (loop,) = found.area
    half = 2.9925
    assert signed_area(list(loop.edges)) == pytest.approx((25 - half) * 2 * half + pi / 2 * half**2)
    assert (key.start, key.end) == (0, 25)


def test_narrow_metric_seats_are_aimed_at_the_middle_of_their_width() -> None:
    # N9 of 3 mm is -4 to -29 micrometres: a seat as wide as the key is too wide.
    found = keyed([40, 10, 10], "mm", standard="DIN 6885")
    (loop,) = found.area
    assert {corner.y for corner in loop.corners} == {-1.49175, 1.49175}


def test_a_written_depth_and_width_have_limits_of_their_own() -> None:
    found = keyed(
        [80, 30, 30], "mm", standard="DIN 6885", depth="4 +0.2 -0", width="8 -0.015 -0.051"
    )
    key = found.keyseat
    assert key is not None
    assert found.floor == -4.1
    assert (key.over_far_side.low, key.over_far_side.nominal, key.over_far_side.high) == (
        25.8,
        25.9,
        26,
    )
    assert {abs(corner.y) for corner in found.area[0].corners} == {3.9835}


def test_an_inch_standard_in_a_job_in_millimetres() -> None:
    found = keyed([100, 25.4, 25.4], "mm", standard="ASME B17.1")
    assert found.keyseat is not None
    assert found.keyseat.from_crown == pytest.approx(0.140877 * 25.4, abs=1e-4)
    assert found.keyseat.width.nominal == 6.35
