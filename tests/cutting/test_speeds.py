"""Speed and feed held against published tables and worked examples.

Every number beside a source was read there; exact values that the source rounds are given too.
"""

from dataclasses import replace
from math import pi

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from read.texts import JOB, SHOP, cutter, job, machine, read, shop

from passplot.cutting.pace import cut_data
from passplot.cutting.speeds import (
    cutting_speed_ft_per_min,
    cutting_speed_m_per_min,
    feed_per_min,
    feed_per_tooth_of,
    hand_feed_per_min,
    spindle_speed_inch_rpm,
    spindle_speed_metric_rpm,
    spindle_step_rpm,
    table_feed_per_tooth_in,
)
from passplot.materials import find_material
from passplot.records.job import Job
from passplot.records.shop import Dial, Machine


# MMT Observatory, shop page "Cutting Speeds": aluminium at 300 ft/min, mild steel at 120 ft/min.
@pytest.mark.parametrize(
    ("speed_ft_per_min", "diameter_in", "rpm"),
    [
        (300, 1 / 16, 18335),
        (300, 1 / 8, 9167),
        (300, 1 / 4, 4584),
        (300, 3 / 8, 3056),
        (300, 1 / 2, 2292),
        (120, 1 / 16, 7334),
        (120, 1 / 8, 3667),
        (120, 1 / 4, 1833),
        (120, 3 / 8, 1222),
        (120, 1 / 2, 917),
    ],
)
def test_rpm_tables(speed_ft_per_min: float, diameter_in: float, rpm: int) -> None:
    assert spindle_speed_inch_rpm(speed_ft_per_min, diameter_in) == pytest.approx(rpm, abs=1)


# Fox Valley Technical College, Machine Shop 1, second table: cast iron at 50 ft/min (seen), rounded
# there to two figures.
@pytest.mark.parametrize(
    ("diameter_in", "rpm"),
    [
        (1 / 8, 1500),
        (1 / 4, 760),
        (1 / 2, 380),
        (3 / 4, 250),
        (1, 190),
        (2, 95),
        (3, 64),
        (4, 48),
        (5, 38),
        (6, 32),
    ],
)
def test_a_rounded_rpm_table(diameter_in: float, rpm: int) -> None:
    assert spindle_speed_inch_rpm(50, diameter_in) == pytest.approx(rpm, rel=0.02)


# binghamsite.com, milling procedures: 300 ft/min, 3/8 in, 2 teeth, 0.001 in a tooth.
# Metal lathe and milling machine course, activity 002 (constant 3.82): 250, 3/8, 2, 0.004.
# Ingersoll, p. 453: 450 ft/min, 0.375 in, 4 teeth, 0.004 in a tooth.
@pytest.mark.parametrize(
    ("speed_ft_per_min", "flutes", "feed_per_tooth_in", "rpm", "feed_in_per_min"),
    [(300, 2, 0.001, 3056, 6.1), (250, 2, 0.004, 2547, 20.4), (450, 4, 0.004, 4584, 73.3)],
)
def test_worked_examples_of_a_three_eighths_end_mill(
    speed_ft_per_min: float,
    flutes: int,
    feed_per_tooth_in: float,
    rpm: float,
    feed_in_per_min: float,
) -> None:
    speed = spindle_speed_inch_rpm(speed_ft_per_min, 0.375)
    assert speed == pytest.approx(rpm, rel=5e-4)
    assert feed_per_min(feed_per_tooth_in, flutes, speed) == pytest.approx(
        feed_in_per_min, rel=5e-3
    )


# jaredzone.info, milling machine problem: 1.5 in cutter at 50 and at 200 ft/min.
@pytest.mark.parametrize(("speed_ft_per_min", "rpm"), [(50, 127), (200, 509)])
def test_a_worked_example_in_two_materials(speed_ft_per_min: float, rpm: float) -> None:
    assert spindle_speed_inch_rpm(speed_ft_per_min, 1.5) == pytest.approx(rpm, abs=0.5)


# Set questions of a machining course, mymasterpapers.com (statements seen, answers worked out by
# hand): a 1/2 in high-speed steel end mill, 3 teeth, 350 ft/min, .0015 a tooth in 6061; a 3 in
# carbide shell mill, 8 teeth, 200 ft/min, .003 a tooth in H13.
@pytest.mark.parametrize(
    ("cutter", "rpm", "feed_in_per_min"),
    [((350, 0.5, 3, 0.0015), 2674, 12.03), ((200, 3, 8, 0.003), 254.7, 6.11)],
)
def test_set_questions_of_a_course(
    cutter: tuple[float, float, int, float], rpm: float, feed_in_per_min: float
) -> None:
    speed_ft_per_min, diameter_in, teeth, tooth_in = cutter
    speed = spindle_speed_inch_rpm(speed_ft_per_min, diameter_in)
    assert speed == pytest.approx(rpm, rel=5e-4)
    assert feed_per_min(tooth_in, teeth, speed) == pytest.approx(feed_in_per_min, rel=1e-3)


def test_worked_examples_of_the_shop_form() -> None:
    # The first of those questions by the shop's 4 V / D (seen): 2800 rev/min. US Army TC 9-524
    # ch. 8 (from memory): 35 ft/min, 2 in: 70 rev/min where it is 66.8.
    for speed_ft_per_min, diameter_in, shop_form in ((350, 0.5, 2800), (35, 2, 70)):
        assert 4 * speed_ft_per_min / diameter_in == shop_form
        exact = spindle_speed_inch_rpm(speed_ft_per_min, diameter_in)
        assert shop_form == pytest.approx(exact * pi / 3)
    assert spindle_speed_inch_rpm(35, 2) == pytest.approx(66.8, abs=0.05)


def test_a_worked_example_eased_for_hand_feed() -> None:
    # Univ. of Florida, Design and Manufacturing Lab, example 2A: 250 ft/min, 1 in, 4 teeth, .008 a
    # tooth, then 60 % of both: 570 rev/min and 18 in/min (seen; 955 and 30.6 worked out by hand).
    speed = spindle_speed_inch_rpm(250, 1)
    feed = feed_per_min(0.008, 4, speed)
    assert (speed, feed) == pytest.approx((955, 30.6), rel=2e-3)
    assert (0.6 * speed, 0.6 * feed) == pytest.approx((570, 18), rel=0.02)


# J. Carvill, Mechanical Engineer's Data Handbook, p. 187 (seen): high-speed steel, m/min; the same
# in ft/min worked out by hand.
@pytest.mark.parametrize(
    ("m_per_min", "ft_per_min"),
    [(10, 33), (20, 66), (28, 92), (35, 115), (45, 148), (60, 197), (100, 328)],
)
def test_published_speeds_in_feet(m_per_min: float, ft_per_min: float) -> None:
    speed = spindle_speed_metric_rpm(m_per_min, 25.4)
    assert cutting_speed_ft_per_min(speed, 1) == pytest.approx(ft_per_min, abs=0.5)


# Phantom, speed and feed of end mills (with 3.14 for π): 25 m/min, 12 mm.
@pytest.mark.parametrize(
    ("feed_per_tooth_mm", "flutes", "feed_mm_per_min"),
    [(0.065, 2, 86), (0.065, 3, 129), (0.06, 4, 159)],
)
def test_worked_examples_of_a_twelve_millimetre_end_mill(
    feed_per_tooth_mm: float, flutes: int, feed_mm_per_min: float
) -> None:
    speed = spindle_speed_metric_rpm(25, 12)
    assert speed == pytest.approx(663, abs=0.5)
    assert feed_per_min(feed_per_tooth_mm, flutes, speed) == pytest.approx(feed_mm_per_min, abs=0.6)


def test_a_worked_example_of_a_face_mill() -> None:
    # Widia technical pages, p. 78: 200 m/min, 125 mm; 509.3 exact, printed as 510; 0.2 mm, 8 teeth.
    assert spindle_speed_metric_rpm(200, 125) == pytest.approx(509.3, abs=0.05)
    assert feed_per_min(0.2, 8, 510) == pytest.approx(816)


def test_worked_examples_the_other_way_round() -> None:
    # Mitsubishi Materials, formulas for milling: 350 rev/min of 125 mm; 500 mm/min of 10 teeth.
    assert cutting_speed_m_per_min(350, 125) == pytest.approx(137.4, abs=0.1)
    assert feed_per_tooth_of(500, 10, 500) == pytest.approx(0.1)
    assert feed_per_min(0.1, 10, 500) == pytest.approx(500)
    # Niagara Cutter, New Concepts in Milling, 1973: 32 teeth at 0.004 in, 88 rev/min: 11.2 printed.
    assert feed_per_min(0.004, 32, 88) == pytest.approx(11.264)


@settings(deadline=None)
@given(st.floats(1, 5000), st.floats(0.01, 20))
def test_speeds_in_both_units_are_one_speed(speed_ft_per_min: float, diameter_in: float) -> None:
    speed = spindle_speed_inch_rpm(speed_ft_per_min, diameter_in)
    metric = spindle_speed_metric_rpm(speed_ft_per_min * 0.3048, diameter_in * 25.4)
    assert metric == pytest.approx(speed)
    assert cutting_speed_ft_per_min(speed, diameter_in) == pytest.approx(speed_ft_per_min)
    # The shop's 4 V / D is 4.72 % above the exact value, whatever the diameter.
    assert 4 * speed_ft_per_min / diameter_in / speed == pytest.approx(pi / 3)


def _mill(**changes: object) -> Machine:
    return read(JOB, shop(machine=machine(**changes))).shop.machine


def test_the_lower_of_two_steps_is_set() -> None:
    # expertsmind.com, feed and speed steps: 275 and 320 there, 310 worked out: 275 for tool life.
    assert spindle_step_rpm(310, _mill(spindle_speeds=[200, 275, 320, 500])) == 275


def test_the_lowest_step_is_set_where_all_are_above() -> None:
    mill = _mill(spindle_speeds=[80, 200])
    assert [spindle_step_rpm(rpm, mill) for rpm in (10, 80, 199, 200, 9000)] == [
        80,
        80,
        80,
        200,
        200,
    ]
    stepless = _mill(spindle_speeds=None, spindle_range=[60, 3000])
    assert [spindle_step_rpm(rpm, stepless) for rpm in (10, 310, 9000)] == [60, 310, 3000]


def test_feed_per_tooth_between_the_published_diameters() -> None:
    low_carbon = (0.001, 0.004)  # Newson Tool catalogue, table A: 1/4 in, and 1 in and up
    assert table_feed_per_tooth_in(low_carbon, 0.25) == 0.001
    assert table_feed_per_tooth_in(low_carbon, 0.5) == pytest.approx(0.002)
    assert table_feed_per_tooth_in(low_carbon, 1) == 0.004
    assert table_feed_per_tooth_in(low_carbon, 4) == 0.004
    assert table_feed_per_tooth_in(low_carbon, 0.125) == 0.0005


def _with_dials(mill: Machine, x: float, y: float) -> Machine:
    dials = (("X", Dial(x, 0.001, 0, "table left")), ("Y", Dial(y, 0.001, 0, "table in")))
    return replace(mill, dials=dials)


def test_a_hand_feeds_as_fast_as_the_slower_screw_allows() -> None:
    mill = _with_dials(_mill(hand_feed=50), 0.2, 0.125)
    assert hand_feed_per_min(mill, inch=True) == 6.25
    # common leads of knee mills, from memory: 0.200 in or 5 mm a turn
    assert hand_feed_per_min(replace(mill, dials=()), inch=True) == 10
    assert hand_feed_per_min(replace(mill, dials=()), inch=False) == 250


def _job(**changes: object) -> Job:
    return read(job(**changes))


def test_a_half_inch_carbide_end_mill_in_low_carbon_steel() -> None:
    # 290 ft/min: 12 x 290 / (π x 0.5) = 2215 rev/min, the step below it is 1250;
    # 0.002 in x 4 x 1250 = 10 in/min, under the 12 that 60 turns of 0.200 in allow.
    found = _job()
    data = cut_data(found, found.shop.cutter("half"))
    assert data.spindle_speed_rpm == 1250
    assert data.cutting_speed == pytest.approx(163.6, abs=0.1)  # π x 0.5 x 1250 / 12
    assert data.feed_per_tooth == pytest.approx(0.002)
    assert data.feed == pytest.approx(10)
    assert len(data.sources) == 2


def test_the_feed_is_held_to_what_a_hand_can_crank() -> None:
    found = read(job(stock={"size": [4, 3, 1], "material": "6061"}))
    data = cut_data(found, found.shop.cutter("half"))
    assert data.feed == 12  # 0.004 x 4 x 1250 = 20 by the table
    assert data.feed_per_tooth == pytest.approx(0.0024)
    assert "60 turns a minute by hand" in data.sources[-1]


@pytest.mark.parametrize(
    ("power_feed", "feed"), [([1, 5, 8, 20], 8), ([15, 20], 15), ([2, 40], 10), ([20, 30, 40], 20)]
)
def test_a_power_feed_has_its_own_feeds(power_feed: list[float], feed: float) -> None:
    found = read(JOB, shop(machine=machine(power_feed=power_feed)))
    assert cut_data(found, found.shop.cutter("half")).feed == pytest.approx(feed)


def test_the_limits_of_the_job_rule() -> None:
    found = _job(limits={"spindle_speed": 600, "feed": 14})
    data = cut_data(found, found.shop.cutter("half"))
    assert (data.spindle_speed_rpm, data.feed) == (500, 14)  # the step below 600; no cap
    assert all("[limits] of the job" in source for source in data.sources)


def test_a_reground_cutter_counts_as_it_measures() -> None:
    values = shop(machine=machine(spindle_speeds=None, spindle_range=[1, 9000]))
    values["cutter"] = [cutter(actual=0.48)]
    found = read(JOB, values)
    data = cut_data(found, found.shop.cutter("half"))
    assert data.spindle_speed_rpm == pytest.approx(12 * 290 / (pi * 0.48))


def test_inch_and_metric_twins_agree() -> None:
    metric = {
        "stock": {"size": [101.6, 76.2, 25.4], "material": "1018"},
        "feature": [{"name": "f", "kind": "step", "side": "left", "width": 25.4, "depth": 6.35}],
    }
    inch_job, mm_job = _job(), read(job(units="mm", dimension=None, **metric), SHOP)
    inch = cut_data(inch_job, inch_job.shop.cutter("half"))
    mm = cut_data(mm_job, mm_job.shop.cutter("half"))
    assert mm.spindle_speed_rpm == inch.spindle_speed_rpm
    assert mm.feed == pytest.approx(inch.feed * 25.4)
    assert mm.feed_per_tooth == pytest.approx(inch.feed_per_tooth * 25.4)
    assert mm.cutting_speed == pytest.approx(inch.cutting_speed * 0.3048)


def test_high_speed_steel_runs_at_its_own_speed() -> None:
    values = shop(machine=machine(spindle_speeds=None, spindle_range=[1, 9000]))
    values["cutter"] = [cutter(id="hss", material="high-speed steel"), cutter(id="cobalt")]
    values["cutter"][1]["material"] = "cobalt"
    found = read(job(cutter="hss"), values)
    steel = find_material("1018")
    assert steel is not None
    for name in ("hss", "cobalt"):
        speed = cut_data(found, found.shop.cutter(name)).cutting_speed
        assert speed == pytest.approx(steel.hss_ft_per_min)
