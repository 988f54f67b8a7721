"""Whole plans: how many passes, which way, how deep, from where."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from passplot.errors import CannotCut
from passplot.plan import make_plan
from passplot.records.job import Finish, Job, KeepOut
from passplot.records.plan import CUT, FINISH, PLUNGE, ROUGH, Plan
from passplot.records.shapes import rectangle

from .blocks import HALF_INCH, Rules, feature, job

NO_FINISH = Finish(0.0, 0.0, 0, 0, 0.004)


def planned(what: Job, drilled: bool = True) -> Plan:
    return make_plan(what, Rules(drilled), what.shop.cutters)


def left_step(width: float, depth: float = 0.25) -> Plan:
    return planned(job(feature("ledge", "step", depth, [rectangle(0, width, 0, 2)])))


@pytest.mark.parametrize(
    ("width", "passes"),
    [
        (0.155, 1),  # (0.155 - 0.030) / 0.125 = 1
        (0.156, 2),
        (0.280, 2),
        (0.281, 3),
        (0.750, 6),  # 0.720 / 0.125 = 5.76
        (1.030, 8),
    ],
)
def test_a_shoulder_takes_the_ceiling_of_width_over_width_of_cut(width: float, passes: int) -> None:
    plan = left_step(width)
    assert sum(line.stage == ROUGH for line in plan.passes) == passes


def test_widths_of_a_shoulder_are_near_equal_and_on_round_settings() -> None:
    plan = left_step(0.75)
    rough = [line for line in plan.passes if line.stage == ROUGH]
    widths = [line.width_of_cut for line in rough]
    assert min(widths) >= 0.75 * max(widths)
    assert max(widths) <= 0.125
    for line in rough[:-1]:
        assert line.start.x / 0.005 == pytest.approx(round(line.start.x / 0.005))


def test_conventional_keeps_the_wall_of_a_left_ledge_on_the_left() -> None:
    # the wall lies to the right (+X): with it on the left the cutter comes towards the operator
    for line in left_step(0.75).passes:
        assert line.axis == "Y"
        assert line.end.y < line.start.y


def test_climb_turns_every_pass_round() -> None:
    ledge = feature("ledge", "step", 0.25, [rectangle(0, 0.75, 0, 2)])
    there, back = planned(job(ledge)), planned(job(ledge, climb=True))
    assert len(there.passes) == len(back.passes)
    for one, other in zip(there.passes, back.passes, strict=True):
        assert (one.end.y < one.start.y) != (other.end.y < other.start.y)
        assert one.start.x == other.start.x


def test_an_open_step_is_never_plunged_into() -> None:
    assert all(move.move != PLUNGE for move in left_step(0.75).moves)


def test_everything_is_roughed_before_anything_is_finished() -> None:
    plan = planned(
        job(
            feature("left", "step", 0.25, [rectangle(0, 0.5, 0, 2)]),
            feature("tray", "pocket", 0.25, [rectangle(1, 2.5, 0.4, 1.6)]),
        )
    )
    stages = [move.stage for move in plan.moves if move.move == CUT]
    assert stages == sorted(stages, key=[ROUGH, FINISH].index)


def test_a_pocket_in_steel_is_entered_through_one_drilled_hole_above_the_floor() -> None:
    plan = planned(job(feature("tray", "pocket", 0.4, [rectangle(0.5, 2.5, 0.4, 1.6)])))
    (hole,) = plan.holes
    assert hole.diameter < HALF_INCH.diameter
    assert hole.point_z > -0.4


def test_a_pocket_in_aluminium_is_plunged_into_half_a_diameter_at_a_time() -> None:
    plan = planned(job(feature("tray", "pocket", 0.9, [rectangle(0.5, 2.5, 0.4, 1.6)])), False)
    plunges = [move for move in plan.moves if move.move == PLUNGE]
    assert plunges
    assert not plan.holes
    assert max(move.depth_of_cut for move in plunges) <= 0.25


def test_a_slot_of_the_cutters_own_width_is_cut_to_size_at_once() -> None:
    plan = planned(job(feature("groove", "slot", 0.3, [rectangle(0, 3, 0.75, 1.25)])))
    assert {line.start.y for line in plan.passes} == {1.0}
    assert plan.stocks[0].to_size
    assert any("cut to size at once" in note for note in plan.notes)


def test_a_slot_a_readout_cannot_centre_is_refused() -> None:
    groove = feature("groove", "slot", 0.3, [rectangle(0, 3, 0.7502, 1.2502)])
    with pytest.raises(CannotCut, match="readout cannot show"):
        planned(job(groove))


def test_a_slot_with_a_little_room_spares_it_for_the_walls() -> None:
    plan = planned(job(feature("groove", "slot", 0.3, [rectangle(0, 3, 0.74, 1.26)])))
    assert 0.005 <= plan.stocks[0].wall < 0.030
    assert sum(line.purpose == "wall" for line in plan.passes) >= 2


@pytest.mark.parametrize(
    ("loops", "depth", "says"),
    [
        ([rectangle(1, 1.4, 0.5, 1.5)], 0.25, "cannot get into"),
        ([rectangle(0, 0.75, 0, 2)], 1.3, "flutes of only"),
    ],
)
def test_what_the_cutter_cannot_do_is_refused_by_name(loops: list, depth: float, says: str) -> None:
    block = job(feature("odd", "pocket", depth, loops), size=(3, 2, 1.5))
    with pytest.raises(CannotCut, match=f"odd: .*{says}"):
        planned(block)


def test_metal_under_a_clamp_is_refused() -> None:
    clamp = KeepOut("clamp", rectangle(0.2, 0.5, 0.5, 1.0), 0.5)
    block = job(feature("ledge", "step", 0.25, [rectangle(0, 0.75, 0, 2)]), keep_outs=(clamp,))
    with pytest.raises(CannotCut, match="clamp"):
        planned(block)


def test_moves_over_a_tall_clamp_are_raised() -> None:
    clamp = KeepOut("clamp", rectangle(1.4, 1.6, -1.0, 3.0), 0.75)
    block = job(
        feature("left", "step", 0.25, [rectangle(0, 0.5, 0, 2)]),
        feature("right", "step", 0.25, [rectangle(2.5, 3, 0, 2)]),
        keep_outs=(clamp,),
    )
    assert max(move.z for move in planned(block).moves) >= 0.85


def test_no_finish_leaves_one_stage() -> None:
    block = job(feature("ledge", "step", 0.25, [rectangle(0, 0.75, 0, 2)]), finish=NO_FINISH)
    assert {move.stage for move in planned(block).moves} == {ROUGH}


def test_skims_left_out_leave_the_stock_on_and_say_so() -> None:
    keep = Finish(0.02, 0.01, 0, 0, 0.004)
    block = job(feature("ledge", "step", 0.25, [rectangle(0, 0.75, 0, 2)]), finish=keep)
    plan = planned(block)
    assert plan.stocks[0].wall_left == 0.02
    assert max(line.start.x for line in plan.passes) == pytest.approx(0.75 - 0.25 - 0.02)
    assert sum("stays on" in note for note in plan.notes) == 2


def test_rough_length_is_not_far_from_its_lower_bound() -> None:
    plan = left_step(0.75)
    rough = sum(line.length for line in plan.passes if line.stage == ROUGH)
    assert plan.lower_bound == pytest.approx(0.75 * 2 / 0.125)
    # the run-on and run-off of every pass come on top: 2 x (radius + stand-off)
    assert plan.lower_bound <= rough <= plan.lower_bound * (2.0 + 0.6) / 2.0 + 0.6


@settings(max_examples=25, deadline=None)
@given(
    width=st.integers(60, 400).map(lambda n: n * 0.0025),
    limit=st.integers(8, 60).map(lambda n: n * 0.0025),
)
def test_pass_count_of_any_ledge(width: float, limit: float) -> None:
    ledge = feature("ledge", "step", 0.2, [rectangle(0, width, 0, 2)])
    plan = planned(job(ledge, width=limit))
    quotient = (width - 0.030) / limit
    expected = max(1, -int(-(quotient - 1e-6) // 1))
    assert sum(line.stage == ROUGH for line in plan.passes) == expected
