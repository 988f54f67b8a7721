"""Sentences for the sheet: set over, rotary table, keyseats, bores; against published numbers."""

from dataclasses import replace
from math import radians, sin

import pytest

from passplot.errors import CannotCut
from passplot.flow import plan_job
from passplot.plan.set_over import sine_stack
from passplot.plan.turned_job import turned_point
from passplot.plan.ways import ways_of
from passplot.plan.words import angle_words, drill_words, size_words
from passplot.proof import prove
from passplot.read import parse_job
from passplot.records.job import Job
from passplot.sheet.tables import moves_table
from passplot.write.tables import csv_text

SHOP = """
units = "{units}"
[machine]
name = "mill"
spindle_range = [50, 4000]
power = "2 hp"
readout = "dro"
resolution = {step}
edge_finder = {tip}
[[cutter]]
id = "mill"
form = "square end"
material = "carbide"
diameter = {diameter}
flutes = 4
flute_length = {long}
stickout = {long}
center_cutting = true
"""


def read(feature: str, diameter: float = 0.5, size=(4, 3, 1), zero="left front top") -> Job:
    return _job(feature, "inch", diameter, size, zero)


def read_mm(feature: str, diameter: float, size, zero="left front top") -> Job:
    return _job(feature, "mm", diameter, size, zero)


def _job(feature: str, units: str, diameter: float, size, zero: str) -> Job:
    inch = units == "inch"
    shop = SHOP.format(
        units=units,
        step=0.0005 if inch else 0.01,
        tip=0.2 if inch else 10,
        diameter=diameter,
        long=1.0 if inch else 25,
    )
    head = (
        f'units = "{units}"\nshop = "shop.toml"\ncutter = "mill"\n[stock]\nsize = {list(size)}\n'
        f'material = "aluminium"\nzero = "{zero}"\n[[feature]]\nname = "f"\n'
    )
    return parse_job(head + feature, shop)


def slanted(points: str) -> str:
    return f'kind = "outline"\nclear = "inside"\ndepth = 0.1\npoints = {points}\n'


# --- sine bar ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("angle", "stack", "off"),
    [
        (27, 2.270, 0.0005),  # higherprecision.com, height of gauge blocks for a sine bar
        (18, 1.545, 0.0005),  # shopdawg.com, sine bar
        (23 + 41 / 60, 2.0084, 0.00005),  # scienceinsights.org, how to use a sine bar
        (30, 2.5, 1e-9),  # the same
    ],
)
def test_a_sine_bar_of_5_in_is_stacked_as_published(angle, stack, off):
    assert sine_stack(5.0, angle) == pytest.approx(stack, abs=off)


@pytest.mark.parametrize(
    ("points", "angle", "stands"),
    [
        # slope 3 in 4: 36 deg 52 min; the wall through (0, 0) stays at 0
        ("[[0, 0], [4, 0], [4, 3]]", -36.8699, {0.0}),
        # steeper than 45 degrees: the wall is turned to lie along Y
        ("[[0, 0], [1.5, 0], [0, 2.5]]", -30.9638, {1.5 * 2.5 / (1.5**2 + 2.5**2) ** 0.5}),
        # a diamond's four walls come true together
        ("[[2, 0.5], [3, 1.5], [2, 2.5], [1, 1.5]]", 45, {0.75 * 2**0.5 * k for k in (0, 1)}),
    ],
)
def test_work_is_turned_by_the_smallest_angle(points, angle, stands):
    job = read(slanted(points))
    (way,), _ = ways_of(job, [0])
    assert way.angle == pytest.approx(angle, abs=1e-4)
    for (_, wall), standing in zip(way.walls, way.standing(job), strict=True):
        a, b = turned_point(wall.start, way.angle), turned_point(wall.end, way.angle)
        assert min(abs(a.x - b.x), abs(a.y - b.y)) < 1e-9
        key = (lambda p: p.y) if standing.axis == "Y" else (lambda p: p.x)
        assert key(a) == pytest.approx(standing.at, abs=1e-9)
    if len(way.walls) == 1:
        assert way.standing(job)[0].at == pytest.approx(stands.pop(), abs=1e-9)


def test_a_slanted_wall_is_suggested_to_be_set_over_with_what_it_saves():
    plan = plan_job(read(slanted("[[0, 0], [4, 0], [4, 0.8], [0, 1.7]]")))
    cost, again = [note for note in plan.notes if "et over" in note]
    # atan(0.9 / 4) is 12 deg 40.8 min; 5 in times its sine
    assert "Turn the work 12° 41′ counter-clockwise" in cost
    assert f"{5 * sin(radians(12.6804)):.4f}"[:5] in cost
    settings = sum(each.steps.settings for each in plan.passes if each.steps is not None)
    # one pass to rough it, two skims: three settings of the axis across the wall
    assert f"takes {settings} settings; set over, 3: set_over = true plans it" in cost
    # distance of the wall from the corner: 1.7 cos(12.68 deg)
    assert "Wall at Y 1.6585" in again


def test_many_turned_positions_are_suggested_in_one_sentence():
    points = "[[0.6, 0.3], [1.2, 0.2], [1.7, 0.6], [1.5, 1.2], [0.5, 1.0]]"
    plan = plan_job(read(slanted(points), size=(2, 1.5, 1)))
    (note,) = [note for note in plan.notes if "et over" in note]
    settings = sum(each.steps.settings for each in plan.passes if each.steps is not None)
    assert "; set over in the vise 15, in 5 turned positions" in note
    said = int(note.split("take ")[1].split()[0])
    assert 0.9 * settings <= said <= settings  # a step round a corner is along no wall


def test_a_job_of_straight_walls_has_nothing_to_set_over():
    plan = plan_job(read('kind = "step"\nside = "left"\nwidth = 0.5\ndepth = 0.1'))
    assert not [note for note in plan.notes if "et over" in note]


# --- rotary table ------------------------------------------------------------------------------


def test_the_sheet_says_what_a_rotary_table_saves():
    plan = plan_job(
        read('kind = "bore"\ncenter = [2, 1.5]\ndiameter = 2\ndepth = 0.1\nrotary = true')
    )
    (note,) = [note for note in plan.notes if "rotary table" in note]
    stepped = plan_job(read('kind = "bore"\ncenter = [2, 1.5]\ndiameter = 2\ndepth = 0.1'))
    walls = [each for each in stepped.passes if each.steps is not None]
    assert f"{sum(each.steps.settings for each in walls)} settings" in note


@pytest.mark.parametrize(
    ("degrees", "text"), [(0, "0° 0′"), (12.6804, "12° 41′"), (59.9999, "60° 0′"), (0.5, "0° 30′")]
)
def test_angles_are_said_in_degrees_and_minutes(degrees, text):
    assert angle_words(degrees) == text


# --- keyseats, bores ---------------------------------------------------------------------------


def seat(shaft: float, standard: str, more: str = "") -> str:
    return (
        f'kind = "keyseat"\nalong = "x"\ncenter = 0\nstart = 1\nshaft = {shaft}\n'
        f'standard = "{standard}"\n{more}'
    )


def lowest(job: Job) -> float:
    plan = plan_job(job)
    assert prove(plan, csv_text(moves_table(plan))).findings == ()
    return min(move.z for move in plan.moves)


# Shaft, key, S: Machinery's Handbook, 31st ed., p. 2552, ASME B17.1-1967 (R2013)
@pytest.mark.parametrize(
    ("shaft", "key", "far"), [(0.5, 0.125, 0.430), (1.0, 0.25, 0.859), (1.5, 0.375, 1.289)]
)
def test_inch_seats_leave_the_published_size_over_the_far_side(shaft, key, far):
    job = read(seat(shaft, "ASME B17.1"), key, (4, shaft, shaft), "left center top")
    made = shaft + lowest(job)
    # printed to three places; never larger than it, and less than a step of the readout smaller
    assert far - 0.0005 - 0.0005 <= made <= far + 0.0005
    key_record = job.features[0].keyseat
    assert key_record is not None
    assert made <= key_record.over_far_side.high + 1e-9


# Shaft, key, t1: DIN 6885 sheet 1
@pytest.mark.parametrize(("shaft", "key", "deep"), [(20, 6, 3.5), (30, 8, 4.0), (44, 12, 5.0)])
def test_metric_seats_are_t1_deep_from_the_crown(shaft, key, deep):
    job = read_mm(seat(shaft, "DIN 6885"), key, (100, shaft, shaft), "left center top")
    assert lowest(job) == pytest.approx(-deep)


def test_a_cutter_within_the_limits_of_the_width_makes_the_seat_in_one_pass():
    # 8 N9 is 7.964 to 8.000 (ISO 286-2)
    plan = plan_job(read_mm(seat(25, "DIN 6885"), 7.97, (100, 25, 25), "left center top"))
    assert {move.y for move in plan.moves if move.move == "cut"} == {0.0}
    assert any("comes out 7.97 wide, the key is 8" in note for note in plan.notes)


def test_a_cutter_wider_than_the_seat_is_refused_with_both_sizes():
    with pytest.raises(CannotCut, match=r"7\.964 to 8 wide, mill cuts 8\.02"):
        plan_job(read_mm(seat(25, "DIN 6885"), 8.02, (100, 25, 25), "left center top"))


def test_a_centre_line_off_the_readout_is_refused_with_what_would_do():
    feature = seat(1.1875, "ASME B17.1").replace("center = 0", "center = 0.59375")
    with pytest.raises(CannotCut, match=r"at 0\.594, 0\.00025 off 0\.59375.*\"center\""):
        plan_job(read(feature, 0.25, (4, 1.1875, 1.1875)))


def test_a_seat_is_centred_by_half_the_shaft_and_half_the_cutter():
    # shaft 1.000, cutter .250: .625 from the side of the shaft (US Navy, Machinery Repairman)
    plan = plan_job(read(seat(1, "ASME B17.1"), 0.25, (4, 1, 1), "left center top"))
    (note,) = [note for note in plan.notes if "to centre" in note]
    assert "move .6250 towards it" in note
    assert "edge finder .6000" in note
    assert any(
        ".1250 deep at the side wall, which is .1409 from the crown" in n for n in plan.notes
    )


def test_a_bore_says_what_to_drill():
    plan = plan_job(read('kind = "bore"\ncenter = [2, 1.5]\ndiameter = 0.875\ndepth = 0.2'))
    (note,) = [note for note in plan.notes if "drill and bore" in note]
    assert "drill 27/32 in at X 2.0000 Y 1.5000, bore to .8750" in note


def test_sizes_and_drills_are_said_as_prints_write_them():
    inch, mm = read(seat(1, "ASME B17.1"), 0.25, (4, 1, 1), "left center top"), None
    mm = read_mm(seat(25, "DIN 6885"), 8, (100, 25, 25), "left center top")
    assert [size_words(value, inch) for value in (0.5, -1.25, 0)] == [".5000", "\u22121.2500", "0"]
    assert [size_words(value, mm) for value in (0.5, -1.25)] == ["0.5", "\u22121.25"]
    assert drill_words(0.51, inch) == (0.5, "1/2")
    assert drill_words(11.7, mm) == (11.5, "11.5")


# --- cutters with rounded corners --------------------------------------------------------------


def rounded(job: Job, radius: float) -> Job:
    cutter = replace(job.shop.cutters[0], form="corner radius", corner_radius=radius)
    return replace(job, shop=replace(job.shop, cutters=(cutter,)))


@pytest.mark.parametrize(
    ("feature", "strip"),
    [
        # along the one wall of a step, and round a closed pocket: its frame of that width
        ('kind = "step"\nside = "left"\nwidth = 1.1\ndepth = 0.3', 3 * 0.06),
        (
            'kind = "pocket"\nx = [0.5, 3]\ny = [0.6, 2.4]\ndepth = 0.4',
            2.5 * 1.8 - (2.5 - 0.12) * (1.8 - 0.12),
        ),
        # a face has no walls
        ('kind = "face"\ndepth = 0.05', 0.0),
    ],
)
def test_rounded_corners_leave_a_fillet_that_counts_as_unreached(feature, strip):
    job = read(feature)
    plan, square = plan_job(rounded(job, 0.06)), plan_job(job)
    assert prove(plan, csv_text(moves_table(plan))).findings == ()
    assert sum(each.area for each in plan.fillets) == pytest.approx(strip, abs=1e-6)
    assert plan.unreached_area == pytest.approx(square.unreached_area + strip, abs=1e-6)
    assert any("leave a fillet of .0600" in note for note in plan.notes) == (strip > 0)


# --- limits of holes ---------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("pattern", "room"),
    [
        ('circle = { center = [2, 1.5], diameter = "2 ±0.004", count = 4 }', 0.002),
        ('row = { start = ["0.5 ±0.003", 1], count = 3, pitch = "0.75 ±0.001" }', 0.001),
        ("row = { start = [0.5, 1], count = 3, pitch = 0.75 }", None),
    ],
)
def test_written_tolerances_of_a_pattern_say_how_far_a_hole_may_be_off(pattern, room):
    found = read(f'kind = "holes"\ndepth = 0.3\n{pattern}').features[0].pattern
    assert found is not None
    assert found.room == (None if room is None else pytest.approx(room))


def test_a_pitch_that_no_reading_keeps_is_refused():
    job = read(
        'kind = "holes"\ndepth = 0.3\n'
        'row = { start = [1, 1], count = 2, pitch = "0.50024 ±0.0001" }'
    )
    with pytest.raises(CannotCut, match=r"hole 2 .* a finer readout"):
        plan_job(job)
