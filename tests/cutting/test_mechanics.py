"""Chips, power, bending and time held against published tables and worked examples.

Beside each number stands where it was read; "from memory" that it was not.
"""

from math import pi, sqrt

import pytest

from passplot.cutting.bending import rod_deflection, second_moment, tip_deflection
from passplot.cutting.chips import (
    engagement_deg,
    feed_share,
    mean_chip,
    thickest_chip,
    thinning_factor,
    wall_share,
)
from passplot.cutting.duration import cutting_minutes, face_approach, side_approach
from passplot.cutting.power import (
    J_PER_MM3,
    motor_power,
    power_at_cutter_hp,
    power_at_cutter_kw,
    removal_rate,
    tangential_force_lbf,
    torque_lbf_in,
)
from passplot.cutting.speeds import (
    feed_per_min,
    spindle_speed_inch_rpm,
    spindle_speed_metric_rpm,
)
from passplot.cutting.tables import constants
from passplot.materials import find_material


# Dormer technical handbook p. 114, table 2: feed multiplier by width over diameter (seen).
@pytest.mark.parametrize(
    ("share", "factor"),
    [
        (0.05, 2.29),
        (0.10, 1.67),
        (0.15, 1.40),
        (0.20, 1.25),
        (0.25, 1.15),
        (0.30, 1.09),
        (0.40, 1.02),
        (0.50, 1.00),
        (0.80, 1.00),
    ],
)
def test_the_published_feed_for_thin_chips(share: float, factor: float) -> None:
    assert thinning_factor(share * 0.5, 0.5) == pytest.approx(factor, abs=0.006)
    # so fed, the thickest chip is that of half the width
    assert thickest_chip(0.002 * thinning_factor(share, 1), share, 1) == pytest.approx(0.002)


# Palbit A-252: engagement angle (seen).
@pytest.mark.parametrize(("share", "degrees"), [(0.05, 26), (0.10, 37), (1.00, 180)])
def test_published_angles_of_engagement(share: float, degrees: float) -> None:
    assert engagement_deg(share * 10, 10) == pytest.approx(degrees, abs=0.5)


def test_the_mean_chip() -> None:
    # Ingersoll p. 453 (seen): 450 ft/min, .375 in, .004 a tooth, .10 wide: .002 in by fz √(ae/D),
    # which is 5 % above the exact mean there; .125 deep, 73.3 in/min: .91 in³/min printed.
    assert mean_chip(0.004, 0.10, 0.375) == pytest.approx(0.002, rel=0.06)
    assert removal_rate(0.10, 0.125, 73.3) == pytest.approx(0.9167, abs=0.001)
    # Palbit's exact formula worked out by hand: 10 mm, .10 a tooth, 1 and 5 mm wide.
    assert mean_chip(0.10, 1, 10) == pytest.approx(0.0311, abs=5e-5)
    assert mean_chip(0.10, 5, 10) == pytest.approx(0.0637, abs=5e-5)
    assert mean_chip(0.10, 0, 10) == 0
    # the short form fz √(ae/D) of Stellram A288 (seen) gives .0316 and .0707: 2 and 11 % above
    assert 0.10 * sqrt(1 / 10) / mean_chip(0.10, 1, 10) == pytest.approx(1.02, abs=0.005)
    assert 0.10 * sqrt(5 / 10) / mean_chip(0.10, 5, 10) == pytest.approx(1.11, abs=0.005)


# Machinery's Handbook, 31st ed., p. 1147, table 1b (seen): unit power of sharp tools by hardness,
# hundredths of hp for in³/min and of kW for cm³/s, in ranges of 20 HB from the first number on.
UNIT_POWER = {
    "plain carbon": (
        80,
        "63 66 69 74 78 82 85 89 92 95 100 103 106 114",
        "172 180 188 202 213 224 232 243 251 259 273 281 289 311",
    ),
    "free-machining 1108-1132": (100, "41 42 44 48 50", "112 115 120 131 136"),
    "free-machining 1137-1151": (180, "51 55 57 62", "139 150 156 169"),
    "alloy 4140, 4340, 8640": (
        140,
        "62 65 69 72 76 80 84 87 91 96 100",
        "169 177 188 197 207 218 229 238 248 262 273",
    ),
    "alloy 4130, 4320, 8620": (
        140,
        "56 59 62 65 70 74 77 80 83 89",
        "153 161 169 177 191 202 210 218 227 243",
    ),
    "alloy 1330-1340, E52100": (160, "79 83 87", "216 227 238"),
}


@pytest.mark.parametrize("steel", UNIT_POWER)
def test_unit_power_in_both_units(steel: str) -> None:
    _, inch, metric = UNIT_POWER[steel]
    for hp, kw in zip(inch.split(), metric.split(), strict=True):
        assert int(hp) / 100 * J_PER_MM3 == pytest.approx(int(kw) / 100, abs=0.006)
    # 1 hp for 1 in³/min is 2.730 W s/mm³ (seen)
    assert pytest.approx(2.730, abs=5e-4) == J_PER_MM3


@pytest.mark.parametrize(
    ("material", "steel", "hardness"),
    [
        ("low-carbon steel", "plain carbon", 150),
        ("free-machining steel", "free-machining 1108-1132", 190),
        ("medium-carbon steel", "plain carbon", 210),
        ("alloy steel", "alloy 4140, 4340, 8640", 230),
        ("alloy steel, heat treated", "alloy 4140, 4340, 8640", 310),
    ],
)
def test_unit_power_of_the_materials_is_the_handbooks(
    material: str, steel: str, hardness: float
) -> None:
    found = find_material(material)
    assert found is not None
    least, inch, _ = UNIT_POWER[steel]
    assert found.unit_power_hp == int(inch.split()[int(hardness - least) // 20]) / 100


# Kyocera R42, specific cutting force in kgf/mm² (seen); J. Carvill p. 192, milling factor in J/mm³
# (seen): both in hp for in³/min worked out by hand.
@pytest.mark.parametrize(
    ("j_per_mm3", "hp"),
    [
        *((190 * 9.80665e-3, 0.68), (245 * 9.80665e-3, 0.88), (93 * 9.80665e-3, 0.33)),
        *((0.9, 0.33), (1.6, 0.59), (1.9, 0.70), (2.7, 0.99), (7.0, 2.56)),
    ],
)
def test_published_specific_forces_as_unit_power(j_per_mm3: float, hp: float) -> None:
    assert j_per_mm3 / J_PER_MM3 == pytest.approx(hp, abs=0.006)


def test_worked_examples_of_power() -> None:
    # Face milling problem attributed to Kalpakjian (statement seen, answer 8.44 kW from memory):
    # 150 mm, 75 % engaged, 8 teeth, 300 rev/min, .125 a tooth, 3 deep, 5 W s/mm³.
    rate = removal_rate(0.75 * 150, 3, feed_per_min(0.125, 8, 300))
    assert rate == pytest.approx(101_250)
    assert power_at_cutter_kw(5, rate) == pytest.approx(8.44, abs=0.005)
    # Machinery's Handbook: Kp .82 at 180-200 HB (seen), W 1.1 and E .8 (from memory).
    at_cutter = power_at_cutter_hp(0.82, 1.0, 1.0, 1.1)
    assert at_cutter == pytest.approx(0.902)
    assert motor_power(at_cutter, 0.8) == pytest.approx(1.13, abs=0.005)
    # K and H sales engineering: mild steel 1 in³/min a horsepower (seen); .5 x .125 x 6.
    assert power_at_cutter_hp(1.0, removal_rate(0.5, 0.125, 6), 1, 1) == pytest.approx(0.375)
    # Kyocera R42 (formula seen): 190 kgf/mm², 10 cm³/min, efficiency .75.
    at_cutter = power_at_cutter_kw(190 * 9.80665e-3, 10_000)
    assert motor_power(at_cutter, 0.75) == pytest.approx(0.414, abs=0.0005)


def test_the_published_rate_of_a_turning_check() -> None:
    # Machinery's Handbook example, from memory: 350 ft/min, .016 a turn, .100 deep: 6.72 in³/min.
    assert removal_rate(0.016, 0.100, 12 * 350) == pytest.approx(6.72)


def test_force_and_torque_follow_from_power() -> None:
    # 1 hp at 1 in and 63 025 / N lbf in of torque: the shop's constant (from memory).
    assert torque_lbf_in(1.0, 1000) == pytest.approx(63.025, abs=0.001)
    assert tangential_force_lbf(1.0, 1.0, 1000) * 0.5 == pytest.approx(torque_lbf_in(1.0, 1000))


def test_feed_factors_from_memory() -> None:
    factor = constants().feed_factor
    assert [factor.value(tooth) for tooth in (0.0002, 0.001, 0.0015, 0.012, 0.1)] == pytest.approx(
        [1.60, 1.60, 1.50, 1.00, 0.90]
    )


def test_published_rules_of_bending() -> None:
    # Mitsubishi Materials, end milling course (seen): overhang doubled .2 -> 1.6 mm, diameter
    # doubled 25 -> about 1.5 µm (exactly 1.56).
    assert rod_deflection(1, 2, 1, 1) / rod_deflection(1, 1, 1, 1) == pytest.approx(1.6 / 0.2)
    assert 25 * rod_deflection(1, 1, 2, 1) / rod_deflection(1, 1, 1, 1) == pytest.approx(
        1.5, abs=0.07
    )
    # Kops and Vo (abstract seen): equivalent diameter .80 D.
    assert constants().equivalent_share == 0.8
    assert second_moment(0.8) / second_moment(1) == pytest.approx(0.4096)
    assert rod_deflection(1, 1, 0.8, 1) / rod_deflection(1, 1, 1, 1) == pytest.approx(
        2.441, abs=5e-4
    )


# Worked out by hand, 50 lbf: moduli 30e6 (steel, seen) and 90e6 lbf/in² (carbide, from memory).
@pytest.mark.parametrize(
    ("diameter", "length", "share", "modulus", "deflection"),
    [
        (0.5, 1.5, 1.0, 30e6, 0.000611),
        (0.5, 1.5, 0.8, 30e6, 0.001492),
        (0.5, 1.5, 0.8, 90e6, 0.000497),
        (0.5, 3.0, 0.8, 30e6, 0.011937),
        (0.25, 1.5, 0.8, 30e6, 0.023873),
    ],
)
def test_bending_of_cutters(
    diameter: float, length: float, share: float, modulus: float, deflection: float
) -> None:
    rod = share * diameter
    assert rod_deflection(50, length, rod, modulus) == pytest.approx(deflection, abs=6e-7)
    # flutes all the way, loaded at the tip: the stepped form is the plain cantilever
    stepped = tip_deflection(50, length, length, 0.0, (diameter, rod), modulus)
    assert stepped == pytest.approx(rod_deflection(50, length, rod, modulus))


def test_a_cutter_with_a_plain_shank_is_stiffer_than_one_fluted_all_the_way() -> None:
    fluted = tip_deflection(50, 1.5, 1.5, 0.0, (0.5, 0.4), 30e6)
    half = tip_deflection(50, 1.5, 1.5, 0.75, (0.5, 0.4), 30e6)
    shank = tip_deflection(50, 1.5, 1.5, 1.5, (0.5, 0.4), 30e6)
    assert shank < half < fluted
    assert shank == pytest.approx(rod_deflection(50, 1.5, 0.5, 30e6))
    # loaded half way down, the tip moves by F a² (3 L - a) / (6 E I)
    middle = tip_deflection(50, 0.75, 1.5, 1.5, (0.5, 0.4), 30e6)
    expected = 50 * 0.75**2 * (4.5 - 0.75) / (6 * 30e6 * second_moment(0.5))
    assert middle == pytest.approx(expected)


def test_which_way_a_cut_pulls() -> None:
    # a light conventional cut pushes off the wall, a heavy one pulls in; a climb cut pushes off
    assert wall_share(0.02, 1, 0.3, climb=False) < 0 < wall_share(0.4, 1, 0.3, climb=False)
    assert all(wall_share(width, 1, 0.3, climb=True) < 0 for width in (0.02, 0.2, 0.5, 1.0))
    assert wall_share(0.0, 1, 0.3, climb=False) == 0
    # conventional holds the table back; climb pulls it along until the cut is wide
    assert feed_share(0.2, 1, 0.3, climb=False) > 0 > feed_share(0.2, 1, 0.3, climb=True)
    # into the full the tangential force lies across the feed by π/4 of it: sin² over sin
    assert wall_share(1, 1, 0.0, climb=False) == pytest.approx(pi / 4)


def test_published_times() -> None:
    # sarthaks.com, slot with a side and face cutter (seen): 100 mm, 20 teeth, .1 a tooth, 35 m/min;
    # 300 long, 5 + 5 approach and overtravel and the radius; 5 passes of 5: 8.078 min.
    speed = spindle_speed_metric_rpm(35, 100)
    assert speed == pytest.approx(111.41, abs=0.01)
    once = cutting_minutes(300 + 5 + 5 + 50, feed_per_min(0.1, 20, speed))
    assert once == pytest.approx(1.6157, abs=2e-4)
    assert 5 * once == pytest.approx(8.078, abs=1e-3)
    # Mitsubishi Materials, formulas (seen): .25 a tooth, 16 teeth, 200 rev/min, 300 long and 200
    # across: 37.5 s.
    assert cutting_minutes(300 + 200, feed_per_min(0.25, 16, 200)) == pytest.approx(0.625)


# Slab and peripheral milling problems attributed to Groover (statements seen, answers worked out by
# hand); approach √(d (D - d)): length, diameter, depth, speed, teeth, feed a tooth.
@pytest.mark.parametrize(
    ("job", "metric", "expected"),
    [
        ((12, 3.5, 0.300, 125, 10, 0.008), False, (136.4, 10.91, 0.980, 1.19)),
        ((650, 60, 9, 55, 5, 0.30), True, (291.8, 437.7, 21.42, 1.534)),
        ((400, 70, 6.5, 60, 5, 0.25), True, (272.8, 341.0, 20.32, 1.232)),
    ],
)
def test_peripheral_cuts_with_their_approach(
    job: tuple[float, ...], metric: bool, expected: tuple[float, ...]
) -> None:
    length, diameter, deep, cutting_speed, teeth, tooth = job
    speed_of = spindle_speed_metric_rpm if metric else spindle_speed_inch_rpm
    speed = speed_of(cutting_speed, diameter)
    feed = feed_per_min(tooth, int(teeth), speed)
    approach = side_approach(deep, diameter)
    minutes = cutting_minutes(length + approach, feed)
    assert (speed, feed, approach, minutes) == pytest.approx(expected, rel=1e-3)


def test_removal_rates_of_those_problems() -> None:
    assert removal_rate(2.5, 0.300, 10.91) == pytest.approx(8.19, abs=0.01)
    assert removal_rate(50, 9, 437.7) == pytest.approx(196_954, rel=1e-3)
    assert removal_rate(50, 6.5, 341.0) == pytest.approx(110_840, rel=1e-3)


def test_a_face_cut_with_its_approach() -> None:
    # Attributed to Groover (statement seen, answer worked out): 12 long, 2 wide, 3 in cutter, 5
    # teeth, 250 ft/min, .006 a tooth, .150 deep, centred: A = (D - √(D² - w²)) / 2.
    speed = spindle_speed_inch_rpm(250, 3)
    feed = feed_per_min(0.006, 5, speed)
    approach = face_approach(2, 3)
    assert (speed, feed, approach) == pytest.approx((318.3, 9.549, 0.382), rel=1e-3)
    assert cutting_minutes(12 + approach, feed) == pytest.approx(1.297, abs=1e-3)
    # with .5 lead-in and R + .5 overtravel
    assert cutting_minutes(12 + approach + 0.5 + 2.0, feed) == pytest.approx(1.558, abs=2e-3)


def test_two_examination_problems() -> None:
    # GATE PI 2015 (statement seen): 75 mm cutter, 5 deep, 200 long: 218.71 mm of travel.
    assert 200 + side_approach(5, 75) == pytest.approx(218.71, abs=0.005)
    # Attributed to Kalpakjian (statement seen): 275 x 75, 75 mm, 10 teeth, .10, 40 m/min, 5 deep.
    feed = feed_per_min(0.10, 10, spindle_speed_metric_rpm(40, 75))
    assert feed == pytest.approx(169.8, abs=0.05)
    assert removal_rate(75, 5, feed) == pytest.approx(63_662, rel=1e-4)
    assert cutting_minutes(275 + side_approach(5, 75), feed) == pytest.approx(1.73, abs=0.01)
