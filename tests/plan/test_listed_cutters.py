"""Jobs that list several cutters: each does what its form is for (common practice, no source)."""

import pytest

from passplot.errors import CannotCut
from passplot.records.plan import FINISH, ROUGH, Plan

from .listed import FACE, POCKET, STEP, planned, proof_of, slot


def did(plan: Plan) -> set[tuple[str, str, str]]:
    return {(each.cutter, each.feature, each.stage) for each in plan.passes}


def test_a_roughing_cutter_leaves_its_ribs_for_the_next_to_finish() -> None:
    plan = planned(["ribbed", "large"], STEP, finish="wall = 0.010\nfloor = 0")
    proof = proof_of(plan)
    assert proof.good
    assert did(plan) == {("ribbed", "step", ROUGH), ("large", "step", FINISH)}
    # asked for less than ribs are finished off with, and for none: told, and not done
    assert proof.wall_stock.low == pytest.approx(0.030)
    assert proof.floor_stock.low == pytest.approx(0.010)
    assert sum("more than" in note for note in plan.notes) == 2


def test_a_face_mill_faces_and_the_others_do_the_rest() -> None:
    plan = planned(["face", "ribbed", "large"], FACE, STEP)
    assert proof_of(plan).good
    assert did(plan) == {
        ("face", "top", ROUGH),
        ("face", "top", FINISH),
        ("ribbed", "step", ROUGH),
        ("large", "step", FINISH),
    }


def test_a_smaller_cutter_takes_the_corners_a_roughing_cutter_leaves() -> None:
    plan = planned(["ribbed", "small"], POCKET)
    proof = proof_of(plan)
    assert proof.good
    assert proof.wall_stock.low == pytest.approx(0.030)
    mine = {(cutter, stage) for cutter, _, stage in did(plan)}
    assert mine == {("ribbed", ROUGH), ("small", ROUGH), ("small", FINISH)}
    # (1 - pi / 4) r^2 stays in either corner
    assert plan.unreached_area == pytest.approx(2 * (1 - 3.14159 / 4) * 0.125**2, rel=0.01)


def test_a_slot_without_room_for_ribs_is_left_to_the_next() -> None:
    plan = planned(["ribbed", "large"], slot(0.640), STEP)
    assert proof_of(plan).good
    assert ("ribbed", "slot", ROUGH) not in did(plan)
    assert ("ribbed", "step", ROUGH) in did(plan)
    assert any("slot: too narrow for ribbed" in note for note in plan.notes)


@pytest.mark.parametrize("cutters", [["ribbed"], ["large", "ribbed"]])
def test_ribs_that_none_finishes_are_refused(cutters: list[str]) -> None:
    with pytest.raises(CannotCut, match="ribbed wall"):
        planned(cutters, STEP)


def test_a_larger_cutter_roughs_and_a_smaller_one_takes_its_corners() -> None:
    plan = planned(["large", "small"], POCKET)
    assert proof_of(plan).good
    large = sum(each.length for each in plan.passes if each.cutter == "large")
    small = [each for each in plan.passes if each.cutter == "small"]
    assert small
    assert all(each.start.x > 1.0 for each in small)
    assert sum(each.length for each in small) < large / 3
