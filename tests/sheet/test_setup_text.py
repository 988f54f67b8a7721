"""The set-up sheet's numbers, worked by hand."""

from dataclasses import replace

import pytest

from passplot.records.job import Setup, Stock
from passplot.records.plan import Plan
from passplot.records.sizes import exact
from passplot.sheet.areas import TableRoom
from passplot.sheet.cautions import standing
from passplot.sheet.packing import pack
from passplot.sheet.scene import scenes_of
from passplot.sheet.setup_text import grip_of, hold_lines, zero_lines
from passplot.sheet.way_back import way_back_sentence
from sheet.plans import closed_pocket, plan_named, two_shoulders


def with_zero(
    zero: str, x: tuple[float, float], y: tuple[float, float], z: tuple[float, float]
) -> Plan:
    plan = two_shoulders()
    sizes = (exact(x[1] - x[0]), exact(y[1] - y[0]), exact(z[1] - z[0]))
    stock = Stock(sizes, "1018 steel", zero, x, y, z[0], z[1], z[1])
    return replace(plan, job=replace(plan.job, stock=stock))


@pytest.mark.parametrize(
    ("zero", "x", "y", "z", "lines"),
    [
        # the edge finder's tip is .200 (from memory): its axis stands half of that outside the edge
        # that it touches, common practice, no source
        ("left front top", (0, 3), (0, 2), (-1, 0), ("LEFT EDGE: SET X −.1000", "SET Y −.1000")),
        ("right back top", (-3, 0), (-2, 0), (-1, 0), ("RIGHT EDGE: SET X .1000", "SET Y .1000")),
        ("left front bottom", (0, 3), (0, 2), (0, 1), ("TOUCH TOP: SET Z 1.0000",)),
        ("center front top", (-1.5, 1.5), (0, 2), (-1, 0), ("SET X 0", "HALVE X", "SET Y −.1000")),
    ],
)
def test_each_touch_says_what_the_readout_must_show(
    zero: str,
    x: tuple[float, float],
    y: tuple[float, float],
    z: tuple[float, float],
    lines: tuple[str, ...],
) -> None:
    text = "\n".join(zero_lines(with_zero(zero, x, y, z)))
    for line in lines:
        assert line in text


def test_the_grip_follows_from_jaws_parallels_and_block() -> None:
    # jaws 1.75 high, parallels 1.25: gripped .50 deep; a block 1.25 high stands .75 out;
    # shoulders .50 deep end .25 above the jaws
    grip = grip_of(two_shoulders().job)
    assert grip is not None
    assert (grip.depth, grip.stands_out, grip.above_jaws) == pytest.approx((0.5, 0.75, 0.25))


def test_taller_parallels_are_taken_where_the_cutter_needs_them() -> None:
    job = replace(two_shoulders().job, setup=Setup("vise", "vise", 1.75, 4.0, (0.75, 1.0, 1.25)))
    grip = grip_of(job)
    assert grip is not None
    assert grip.parallel == 1.25  # 1.0 would leave exactly nothing above the jaws


def test_a_cutter_that_would_meet_the_jaws_is_said_loudly() -> None:
    plan = two_shoulders()
    job = replace(plan.job, setup=Setup("vise", "vise", 1.75, 4.0, (0.5,)))
    assert any("MEET THE JAWS" in line for line in hold_lines(job))
    assert "JAWS" in standing(replace(plan, job=job))[0]


def test_a_closed_pocket_never_meets_the_jaws() -> None:
    plan = closed_pocket()
    job = replace(plan.job, setup=Setup("vise", "vise", 1.75, 4.0, (0.9,)))
    assert not any("MEET THE JAWS" in line for line in hold_lines(job))


def test_the_way_back_is_said_in_the_order_it_is_cranked() -> None:
    plan = plan_named("tongue-block")
    whole = scenes_of(plan, pack(plan, TableRoom(138.0, 105.0, 128.0)))[0]
    left = replace(whole, runs=whole.runs[:1], passes=whole.runs[0].passes)
    sentence = way_back_sentence(left)
    assert sentence.index("X off the wall") < sentence.index("Y back to 2.3000")


def test_a_place_to_go_back_to_is_named_only_where_it_is_one_for_all() -> None:
    plan = plan_named("tongue-block")
    both = scenes_of(plan, pack(plan, TableRoom(138.0, 105.0, 128.0)))[0]
    assert len(both.runs) == 2  # one shoulder is fed the other way than the other
    assert "Y back to where it came FROM" in way_back_sentence(both)
