"""Good plans spoiled in every way the proof names: that finding must appear, and no other.

Row numbers of the step: rough cuts 3, 7, … 23 with returns in the two rows after each; floor
passes 28 and 31; wall skims 34 and 37; rows 1, 2 and 39 stand clear of the work.
"""

from collections.abc import Callable
from dataclasses import replace

import pytest

from passplot.proof import prove
from passplot.records.job import KeepOut, Limits
from passplot.records.shapes import rectangle
from passplot.records.shop import Shop

from .hand import HALF, POCKET, STEP, job, machine, names, plan, pocket_table, spoiled, step_table

Rows = list[dict[str, str]]


def edit(*numbers: int, **cells: object) -> Callable[[Rows], None]:
    """Write cells into rows, by number."""

    def spoil(rows: Rows) -> None:
        for number in numbers:
            rows[number - 1].update({key: str(value) for key, value in cells.items()})

    return spoil


def drop(first: int, last: int) -> Callable[[Rows], None]:
    """Leave rows out and number the rest anew."""

    def spoil(rows: Rows) -> None:
        del rows[first - 1 : last]
        for number, row in enumerate(rows, start=1):
            row["row"] = str(number)

    return spoil


def several(*spoils: Callable[[Rows], None]) -> Callable[[Rows], None]:
    def spoil(rows: Rows) -> None:
        for one in spoils:
            one(rows)

    return spoil


def fed_the_other_way(rows: Rows) -> None:
    for row in rows:
        row["y"] = {"2.3": "-0.3", "-0.3": "2.3"}[row["y"]]


def bent_last_rough_pass(rows: Rows) -> None:
    """The last rough pass moves off the wall by 0.005 halfway, on its own line again later."""
    rest = [dict(row) for row in rows[23:]]
    rows[22].update(y="0.5")
    off = dict(rows[21], x="0.465", y="0.5")
    on = dict(rows[22], x="0.465", y="-0.3")
    rows[23:] = [off, on, *rest]
    for number, row in enumerate(rows, start=1):
        row["row"] = str(number)


def no_header(rows: Rows) -> None:
    rows[4]["y"] = "clear"


INTO_THE_WALL = several(edit(36, 37, 38, 39, x=0.51), edit(37, width_of_cut=0.025))
STEP_FAULTS = [
    ("last skim goes into the wall", INTO_THE_WALL, {"gouge"}),
    ("last skim is left out", several(edit(39, x=0.485), drop(36, 38)), {"left uncut"}),
    ("first floor pass is left out", drop(26, 28), {"left uncut", "both ways", "one axis"}),
    ("a rough pass is left out", drop(10, 13), {"width of cut", "printed width"}),
    ("fed from front to back", fed_the_other_way, {"direction"}),
    ("two axes in one row", edit(1, x=-0.2), {"one axis"}),
    ("axis misnamed", edit(5, axis="X"), {"one axis"}),
    ("way back goes through metal", edit(4, 5, x=-0.08), {"metal outside the cut"}),
    ("way back rubs along metal", edit(4, 5, x=-0.135), {"return clearance"}),
    ("a cut is called a position", edit(3, move="position", feed=""), {"metal outside the cut"}),
    ("a retract is called a return", edit(39, move="return"), {"kind of move"}),
    ("printed width too small", edit(7, width_of_cut=0.05), {"printed width"}),
    ("printed depth too small", edit(7, depth_of_cut=0.3), {"printed depth"}),
    ("both ways not told", edit(28, both_ways=0), {"both ways"}),
    ("both ways told where there is none", edit(3, both_ways=2), {"both ways"}),
    ("feed missing in a cut", edit(3, feed=""), {"feed"}),
    ("feed in a return", edit(4, feed=8), {"feed"}),
    ("row number twice", edit(5, row=4), {"row number"}),
    ("rough row after the finish", edit(39, stage="rough"), {"order"}),
    ("starts below the cross-over", edit(1, z=0.05), {"first row"}),
    ("starts as a cut", edit(1, move="cut", feed=8), {"first row"}),
    ("unknown feature", edit(3, feature="left sholder"), {"names"}),
    ("no number where one must be", no_header, {"table"}),
    (
        "last rough pass goes into the wall stock",
        several(edit(22, 23, x=0.475), edit(23, width_of_cut=0.125)),
        {"wall stock entered", "finish stock"},
    ),
    (
        "a rough pass goes into the floor stock",
        several(edit(*range(2, 27), z=-0.495), edit(3, 7, 11, 15, 19, 23, depth_of_cut=0.495)),
        {"floor stock entered", "finish stock"},
    ),
    # a floor pass, meant to be 0.01 deep, then meets the thin wall that stands 0.49 high
    ("wall stock not even", bent_last_rough_pass, {"finish stock", "printed depth"}),
]


@pytest.mark.parametrize(
    ("spoil", "expected"),
    [fault[1:] for fault in STEP_FAULTS],
    ids=[fault[0] for fault in STEP_FAULTS],
)
def test_spoiled_step(spoil, expected):
    found = prove(plan(job((STEP,))), spoiled(step_table(), spoil))
    assert names(found) == expected
    assert not found.good


def test_gouge_says_how_far_and_in_which_row():
    found = prove(plan(job((STEP,))), spoiled(step_table(), INTO_THE_WALL))
    assert found.gouge == pytest.approx(0.01)
    assert [finding.row for finding in found.findings] == [37, 38]  # there and back
    assert "0.0100 in" in found.findings[0].text


def test_gouge_of_a_floor_is_measured_downward():
    spoil = edit(*range(27, 39), z=-0.52)
    found = prove(plan(job((STEP,))), spoiled(step_table(), spoil))
    assert found.gouge == pytest.approx(0.02)


def test_left_uncut_says_how_far():
    spoil = several(edit(39, x=0.485), drop(36, 38))
    found = prove(plan(job((STEP,))), spoiled(step_table(), spoil))
    assert found.left_uncut == pytest.approx(0.015)


def test_way_back_may_follow_a_finish_pass_but_not_a_rough_one():
    found = prove(plan(job((STEP,))), step_table().text)
    assert found.good  # rows 35 and 38 come back along their own lines
    own_line = several(edit(5, x=-0.13), drop(4, 4))
    rough = prove(plan(job((STEP,))), spoiled(step_table(), own_line))
    assert names(rough) == {"return clearance"}


LIMITS = [
    ("passes too wide", lambda: plan(job((STEP,))), lambda: step_table(5), {"width of cut"}),
    ("passes too deep", lambda: plan(job((STEP,)), depth_limit=0.4), step_table, {"depth of cut"}),
    (
        "user's width",
        lambda: plan(job((STEP,), limits=Limits(0.1, None, None, None, 0.05, 0.1))),
        step_table,
        {"width of cut"},
    ),
    (
        "user's feed",
        lambda: plan(job((STEP,), limits=Limits(None, None, None, 5.0, 0.05, 0.1))),
        step_table,
        {"feed"},
    ),
    (
        "slot too deep",
        lambda: plan(job((POCKET,)), floor=0.0, slot_depth_limit=0.2),
        pocket_table,
        {"depth of cut"},
    ),
    (
        "flutes too short",
        lambda: plan(job((STEP,)), cutters=(replace(HALF, flute_length=0.4),)),
        step_table,
        {"flute length"},
    ),
    (
        "machine too small",
        lambda: plan(
            job((STEP,), shop=Shop("shop.toml", machine(travel=(28.0, 2.5, 16.0)), (HALF,)))
        ),
        step_table,
        {"machine travel"},
    ),
    (
        "clamp in the way",
        lambda: plan(
            job((STEP,), keep_outs=(KeepOut("strap", rectangle(-0.6, -0.3, 0.5, 1.0), -0.1),))
        ),
        step_table,
        {"keep-out"},
    ),
    (
        "no center to plunge with",
        lambda: plan(job((POCKET,)), floor=0.0, cutters=(replace(HALF, center_cutting=False),)),
        pocket_table,
        {"center cutting"},
    ),
]


@pytest.mark.parametrize(
    ("promise", "table", "expected"),
    [case[1:] for case in LIMITS],
    ids=[case[0] for case in LIMITS],
)
def test_limits_that_a_good_table_breaks(promise, table, expected):
    assert names(prove(promise(), table().text)) == expected


def test_a_clamp_beside_the_way_is_no_hindrance():
    # the first pass reaches to -0.13 - 0.25 = -0.38
    strap = KeepOut("strap", rectangle(-0.6, -0.4405, 0.5, 1.0), -0.1)
    assert prove(plan(job((STEP,), keep_outs=(strap,))), step_table().text).good
    low = KeepOut("strap", rectangle(-0.6, -0.3, 0.5, 1.0), -0.5)
    assert prove(plan(job((STEP,), keep_outs=(low,))), step_table().text).good


DEEP = replace(POCKET, floor=-0.3)


def test_plunge_deeper_than_half_the_diameter():
    promise = plan(job((DEEP,)), floor=0.0, slot_depth_limit=0.3)
    assert names(prove(promise, pocket_table(0.3).text)) == {"plunge depth"}
    assert prove(promise, pocket_table(0.3, drill=0.4).text).good


def test_a_drill_larger_than_the_pocket_gouges():
    promise = plan(job((DEEP,)), floor=0.0, slot_depth_limit=0.3)
    # drilled at (1, 1), half an inch from three walls: 0.02 into them, or into their stock
    assert names(prove(promise, pocket_table(0.3, drill=1.04).text)) == {"gouge"}
    assert names(prove(promise, pocket_table(0.3, drill=0.96).text)) == {"wall stock entered"}


def test_a_plunge_called_a_position():
    spoil = edit(2, move="position", feed="")
    promise = plan(job((POCKET,)), floor=0.0)
    assert names(prove(promise, spoiled(pocket_table(), spoil))) == {"metal outside the cut"}


def test_a_missing_column_is_named():
    text = step_table().text.replace("both_ways", "both")
    found = prove(plan(job((STEP,))), text)
    assert [(finding.name, finding.row) for finding in found.findings] == [("table", 0)]
    assert "both_ways" in found.findings[0].text


def test_an_empty_table_is_no_proof():
    text = step_table().text.splitlines()[0] + "\n"
    assert names(prove(plan(job((STEP,))), text)) == {"table"}
