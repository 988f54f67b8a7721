"""Cutters with a rounded end: what they clear, what they leave, what they are refused for."""

from dataclasses import replace
from itertools import pairwise
from math import pi, sqrt

import pytest

from passplot.errors import CannotCut
from passplot.flow import plan_job
from passplot.proof import prove
from passplot.records.plan import FINISH, Plan
from passplot.sheet.tables import moves_table
from passplot.write.tables import csv_text
from tests.rounded_ends import BORE, PIN, POCKET, STEP, planned, read_rounded


def findings(plan: Plan, made: Plan) -> set[str]:
    """What the proof finds in the rows of one plan held against the promises of another."""
    return {each.name for each in prove(plan, csv_text(moves_table(made))).findings}


@pytest.fixture(scope="module")
def bore() -> Plan:
    return planned(BORE, 0.06)


@pytest.fixture(scope="module")
def step() -> Plan:
    return planned(STEP, 0.06)


def test_rounded_corners_along_a_bore_are_proven(bore: Plan) -> None:
    assert findings(bore, bore) == set()


def test_the_fillet_of_a_bore_is_a_ring(bore: Plan) -> None:
    (fillet,) = bore.fillets
    assert fillet.radius == 0.06
    assert fillet.area == pytest.approx(pi * (0.45**2 - 0.39**2), rel=2e-3)


def test_floor_passes_too_far_apart_for_the_corner_are_found(step: Plan) -> None:
    """What holds for corners of 0.06 leaves scallops between passes of a ball 0.18 apart."""
    (use,) = step.cutters
    rounder = replace(use, cutter=replace(use.cutter, corner_radius=0.25))
    assert "left uncut" in findings(replace(step, cutters=(rounder,)), step)


def test_floor_passes_lie_within_half_the_flat(step: Plan) -> None:
    assert findings(step, step) == set()
    floor = [one for one in step.passes if one.stage == FINISH and one.purpose == "floor"]
    across = sorted(one.start.x for one in floor)
    assert len(across) > 1
    # the flat is 0.5 - 0.12 across: within half of it a pass meets new metal on one side only
    assert max(b - a for a, b in pairwise(across)) <= 0.19


@pytest.fixture(scope="module")
def ball() -> Plan:
    return planned(STEP, None)


def test_a_ball_is_proven_and_its_fillet_is_its_radius(ball: Plan) -> None:
    assert findings(ball, ball) == set()
    (fillet,) = ball.fillets
    assert (fillet.radius, fillet.area) == (0.25, pytest.approx(0.25 * 1.3))
    assert any("scallops of up to .0080" in note for note in ball.notes)


def test_floor_passes_of_a_ball_lie_as_close_as_the_scallop_asks_for(ball: Plan) -> None:
    """2 √(h (D - h)) apart between straight passes: Dormer handbook p. 114, table 3b (seen)."""
    floor = [one for one in ball.passes if one.stage == FINISH and one.purpose == "floor"]
    across = sorted({one.start.x for one in floor})
    assert len(across) > 3
    assert max(b - a for a, b in pairwise(across)) <= 2 * sqrt(0.008 * 0.492)


def test_floor_passes_of_a_ball_too_far_apart_are_found(ball: Plan) -> None:
    finer = replace(ball, job=replace(ball.job, finish=replace(ball.job.finish, cusp=0.002)))
    assert "left uncut" in findings(finer, ball)


@pytest.mark.parametrize(("corner", "depth"), [(0.12, 0.1), (None, 0.2)])
@pytest.mark.parametrize("feature", [STEP, PIN, BORE, POCKET])
def test_an_end_rounder_than_the_feature_is_deep_makes_no_wall(
    feature: str, corner: float | None, depth: float
) -> None:
    shallow = feature.replace("depth = 0.3", f"depth = {depth}")
    with pytest.raises(CannotCut, match="no part of a wall would come true"):
        plan_job(read_rounded(shallow, corner))


def test_depths_are_printed_with_the_scallops_of_the_floor_above() -> None:
    """Roughed first, a face keeps its stock and scallops as high, which the step below meets."""
    plan = planned('kind = "face"\ndepth = 0.05\n[[feature]]\nname = "g"\n' + STEP, 0.12)
    assert findings(plan, plan) == set()
    depths = [one.depth_of_cut for one in plan.passes if one.feature == "g"]
    # from 0.01 above the faced top to 0.01 above the floor is 0.3 by the diameter
    assert 0.3 < max(depths) <= 0.31
