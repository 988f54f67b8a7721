"""Which way: cutter, table and handwheel (ISO 841: the table moves the opposite way)."""

import pytest

from passplot.sheet.feeds import BOTTOM, LEFT, RIGHT, TOP, Feed, feeds_of, sign_of
from passplot.sheet.margins import tail_side
from sheet.plans import DIALS_INCH, plan_named

DIALS = dict(DIALS_INCH)


@pytest.mark.parametrize(
    ("axis", "sign", "cutter", "table"),
    [
        ("X", 1, "right", "left"),
        ("X", -1, "left", "right"),
        ("Y", 1, "away", "toward you"),
        ("Y", -1, "toward you", "away"),
    ],
)
def test_the_table_goes_the_other_way(axis: str, sign: int, cutter: str, table: str) -> None:
    feed = Feed(axis, sign, TOP)
    assert (feed.cutter, feed.table) == (cutter, table)


@pytest.mark.parametrize(
    ("axis", "sign", "crank"),
    # clockwise: table left (cutter +X), table in (cutter -Y), knee up (cutter -Z)
    [("X", 1, "cw"), ("X", -1, "ccw"), ("Y", -1, "cw"), ("Y", 1, "ccw"), ("Z", -1, "cw")],
)
def test_the_handwheel_turns_as_the_shop_file_says(axis: str, sign: int, crank: str) -> None:
    assert DIALS[axis].crank(sign, axis) == crank


def test_conventional_shoulders_are_fed_down_the_left_and_up_the_right() -> None:
    # metal on the left of the feed, clockwise spindle: toward you on a left shoulder
    passes = plan_named("tongue-block").passes
    left = [each for each in passes if each.feature == "left shoulder"]
    right = [each for each in passes if each.feature == "right shoulder"]
    assert {sign_of(each) for each in left} == {-1}
    assert {sign_of(each) for each in right} == {1}
    sides = {(feed.sign, feed.side) for feed in feeds_of(passes)}
    assert sides == {(-1, LEFT), (1, RIGHT)}


def test_round_a_pocket_one_pair_stands_for_each_axis() -> None:
    rings = [each for each in plan_named("closed pocket").passes if each.number > 1]
    assert sorted(feed.axis for feed in feeds_of(rings)) == ["X", "Y"]


def test_numbers_stand_where_the_feed_comes_in_from() -> None:
    assert tail_side("X", 1) == LEFT
    assert tail_side("Y", 1) == BOTTOM
    assert tail_side("Y", -1) == TOP
