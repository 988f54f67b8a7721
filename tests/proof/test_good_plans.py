"""Plans that are right are proven, with the figures that a pencil finds."""

import pytest

from passplot.proof import prove
from passplot.records.proof import Spread

from .hand import POCKET, STEP, job, names, plan, pocket_table, step_table


@pytest.fixture(scope="module")
def step():
    return prove(plan(job((STEP,))), step_table().text)


@pytest.fixture(scope="module")
def pocket():
    # the bites into the corners are short, so the depth limit of a pass holds for them
    return prove(plan(job((POCKET,)), floor=0.0), pocket_table().text)


def test_a_good_step_is_proven(step):
    assert step.findings == ()
    assert step.good
    assert step.gouge == 0.0
    assert step.left_uncut == pytest.approx(0.0, abs=1e-9)
    assert step.climb_length == 0.0
    assert step.rows == 39


def test_stock_of_a_step_before_finishing_is_what_roughing_left(step):
    assert (step.wall_stock.low, step.wall_stock.high) == pytest.approx((0.03, 0.03))
    assert (step.floor_stock.low, step.floor_stock.high) == pytest.approx((0.01, 0.01))


def test_engagement_of_a_step(step):
    assert step.max_width_of_cut == pytest.approx(0.12, abs=1e-9)
    assert step.max_depth_of_cut == pytest.approx(0.5)
    # only the two floor passes cut both ways
    assert step.floor_both_ways_length == step.both_ways_length
    assert step.both_ways_length == pytest.approx(2 * 2.0255, abs=2 * step.cell)


def test_cutting_length_of_a_step(step):
    """From first touch to the front edge: 2 in and what the first point touched lies ahead."""
    # rough pass, 0.12 wide: its innermost metal lies 0.13 from the line, √(0.25² - 0.13²) = 0.2135
    # ahead of the axis; the outermost, beside the axis, is touched last
    rough = 6 * (2.0 + 0.2135)
    floor = 2 * (2.0 + 0.25)
    skim = 2 * (2.0 + 0.0854)  # √(0.25² - 0.235²)
    assert step.cutting_length == pytest.approx(rough + floor + skim, abs=10 * step.cell)


def test_a_good_pocket_is_proven(pocket):
    assert pocket.findings == ()
    assert pocket.climb_length == 0.0
    assert pocket.wall_stock.low == pytest.approx(0.03)
    assert pocket.wall_stock.high == pytest.approx(0.03)
    assert pocket.floor_stock == Spread(0.0, 0.0)


def test_both_ways_lengths_of_a_pocket(pocket):
    both = dict(pocket.row_both_ways)
    assert both[3] == pytest.approx(1.0, abs=0.01)  # the slot
    assert both[4] == pytest.approx(0.11, abs=0.01)  # the step out of it
    for row in (11, 12, 13, 14):
        assert both[row] == pytest.approx(0.1331, abs=0.007)
    assert both[15] == 0.0


def test_columns_are_found_by_name_and_may_be_in_any_order():
    lines = [line.split(",") for line in step_table().text.splitlines()]
    turned = "\n".join(",".join([*reversed(line), "note"]) for line in lines)
    assert prove(plan(job((STEP,))), turned).good


def test_a_cut_to_size_at_once_needs_no_finish_rows():
    table = step_table()
    table.rows = [row for row in table.rows if row["stage"] == "rough"]
    for row in table.rows:
        if row["move"] != "position" or row["axis"]:
            row["z"] = row["z"].replace("-0.49", "-0.5")
            row["depth_of_cut"] = "0.5" if row["move"] == "cut" else ""
    found = prove(plan(job((STEP,)), wall=0.0, floor=0.0), table.text)
    # the wall was roughed to 0.72 only
    assert names(found) == {"left uncut"}
    assert found.left_uncut == pytest.approx(0.03)
    assert found.wall_stock == Spread(0.0, 0.0)
