"""Fillets that rounded ends leave at the feet of walls, taken by a square end listed after them."""

from math import pi

import pytest

from passplot.records.plan import FINISH, Pass, Plan

from .listed import BY_DIALS, FACE, POCKET, STEP, planned, proof_of, slot


def of(plan: Plan, cutter: str) -> list[Pass]:
    return [each for each in plan.passes if each.cutter == cutter]


def test_a_square_end_takes_the_foot_of_a_wall_in_one_pass() -> None:
    plan = planned(["rounded", "large"], STEP)
    proof = proof_of(plan)
    assert proof.good
    assert proof.left_uncut == pytest.approx(0.0, abs=1e-9)
    assert plan.fillets == ()
    assert plan.unreached_area == 0.0
    (foot,) = of(plan, "large")
    assert (foot.stage, foot.purpose, foot.start.x, foot.z) == (FINISH, "wall", 0.5, -0.375)
    # what the corner of .060 left is as wide as that at the floor, and as high at the wall
    assert (foot.width_of_cut, foot.depth_of_cut) == (0.06, 0.06)


def test_without_a_square_end_the_fillet_stays() -> None:
    plan = planned(["rounded"], STEP)
    assert proof_of(plan).good
    assert [(each.feature, each.radius) for each in plan.fillets] == [("step", 0.06)]
    assert plan.unreached_area == pytest.approx(2.0 * 0.06)


def test_a_roughing_cutter_before_it_takes_no_fillet() -> None:
    plan = planned(["face", "ribbed", "rounded"], FACE, STEP)
    assert proof_of(plan).good
    assert [(each.feature, each.corners) for each in plan.fillets] == [("step", False)]
    assert all(each.stage == FINISH for each in of(plan, "rounded"))


def test_a_smaller_square_end_takes_feet_and_corners() -> None:
    plan = planned(["rounded", "small"], POCKET)
    assert proof_of(plan).good
    assert plan.fillets == ()
    assert plan.unreached_area == pytest.approx(2 * (1 - pi / 4) * 0.125**2, rel=0.01)


def test_a_larger_square_end_leaves_the_fillet_in_inside_corners() -> None:
    plan = planned(["finer", "large"], POCKET)
    assert proof_of(plan).good
    (fillet,) = plan.fillets
    assert fillet.corners
    # of the corner that .250 does not get into, what lies within .030 of its walls
    assert 0.0 < fillet.area < 2 * (1 - pi / 4) * 0.25**2
    assert any(note.endswith("in inside corners") for note in plan.notes)


def test_a_slot_cut_to_size_loses_its_fillets_too() -> None:
    plan = planned(["rounded", "large"], slot(0.5))
    assert proof_of(plan).good
    assert of(plan, "large")
    assert plan.fillets == ()


def test_feet_are_taken_by_dials_too() -> None:
    closed = POCKET.replace("-0.1, 1.5", "0.5, 1.7")
    plan = planned(["rounded", "large"], closed, shop=BY_DIALS)
    assert proof_of(plan).good
    assert {each.depth_of_cut for each in of(plan, "large")} == {0.06}
