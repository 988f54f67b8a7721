"""Which cutters a whole job is done with where it names none; choice and planning agree."""

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from read.texts import cutter

from cutting.test_choice import texts
from passplot.errors import CannotCut
from passplot.flow import choose_crews, choose_cutters, plan_job
from passplot.read import parse_job
from passplot.records.choice import NO, Crew
from passplot.records.job import Job
from passplot.records.plan import FINISH, ROUGH

HALF = cutter(id="half", flute_length=1, price=45)
QUARTER = cutter(id="quarter", diameter=0.25, flute_length=0.75, price=20)
HSS = cutter(id="hss", material="high-speed steel", flutes=2, flute_length=1, price=15)
ROUGHER = cutter(id="rougher", form="roughing", material="cobalt", diameter=0.75, flute_length=1)
FACE = cutter(id="face", form="face mill", diameter=2, flutes=5, flute_length=0.3, stickout=1.75)
DEEP = cutter(id="deep", flute_length=1.4, price=70)

STEP = {"name": "ledge", "kind": "step", "side": "left", "width": 1.5, "depth": 0.9}
POCKET = {"name": "pocket", "kind": "pocket", "x": [0.25, 3.75], "y": [0.25, 2.75], "depth": 0.5}
SLOT = {"name": "slot", "kind": "slot", "along": "y", "center": 3, "width": 0.3, "depth": 0.5}


def bare(*features: dict[str, object], crib: list, material: str = "1018") -> Job:
    return parse_job(*texts(*features, crib=crib, material=material))


def crew(*features: dict[str, object], crib: list, material: str = "1018") -> Crew:
    job = bare(*features, crib=crib, material=material)
    return choose_crews(job, choose_cutters(job))[0]


def test_one_cutter_does_the_job_where_a_second_saves_little() -> None:
    small = POCKET | {"x": [0.5, 2], "y": [0.5, 1.5], "depth": 0.2, "corner_radius": 0.125}
    assert crew(small, crib=[HALF, QUARTER]).cutters == ("quarter",)


def test_a_larger_cutter_roughs_for_the_one_that_fits_the_corners() -> None:
    found = crew(POCKET | {"corner_radius": 0.125}, crib=[HALF, QUARTER])
    assert found.cutters == ("half", "quarter")
    assert "saves about" in found.why


def test_a_face_mill_joins_where_there_is_much_to_face() -> None:
    top = {"name": "top", "kind": "face", "depth": 0.15}
    slow = crew(top, SLOT, crib=[FACE, QUARTER])
    assert dict(slow.features) == {"top": ("face",), "slot": ("quarter",)}
    assert not slow.alike
    # the half-inch cutter is in the spindle anyway, and has the top off in time
    assert crew(top | {"depth": 0.05}, STEP, crib=[FACE, HALF]).cutters == ("half",)


def test_two_cutters_do_together_what_neither_does_alone() -> None:
    found = crew(SLOT, STEP | {"depth": 1.2}, crib=[HALF, QUARTER, DEEP])
    assert dict(found.features) == {"slot": ("quarter",), "ledge": ("deep",)}
    assert found.why == "no one cutter does it all"
    assert choose_crews(bare(STEP | {"depth": 1.45}, crib=[HALF]), ()) == ()


def test_a_roughing_cutter_roughs_and_another_finishes_without_being_asked() -> None:
    job = bare(STEP, crib=[HSS, ROUGHER])
    plan = plan_job(job)
    assert {each.cutter for each in plan.passes if each.stage == ROUGH} == {"rougher"}
    assert {each.cutter for each in plan.passes if each.stage == FINISH} == {"hss"}
    assert any(note.startswith("cutters chosen: rougher and hss;") for note in plan.notes)
    # common practice, no source: a roughing cutter leaves at least .030 in
    assert [stock.wall for stock in plan.stocks] == [0.03]
    thin = replace(job, finish=replace(job.finish, wall=0.015), cutters=("rougher", "hss"))
    assert [stock.wall for stock in plan_job(thin).stocks] == [0.03]
    left_on = replace(thin, finish=replace(thin.finish, skims=0))
    advice = [text for use in plan_job(left_on).cutters for text in use.advice]
    assert any("rougher: leaves a ribbed wall" in text for text in advice)


def test_features_that_share_no_cutter_are_planned_each_with_its_own() -> None:
    job = bare(SLOT, STEP | {"width": 0.4, "depth": 1.2}, crib=[QUARTER, DEEP])
    used = {(each.feature, each.cutter) for each in plan_job(job).passes}
    assert used == {("slot", "quarter"), ("ledge", "deep")}


KINDS = st.one_of(
    st.builds(
        lambda side, width: {"kind": "step", "side": side, "width": width},
        st.sampled_from(["left", "front", "right", "back"]),
        st.floats(0.1, 0.4).map(lambda size: round(size, 3)),
    ),
    st.floats(0.2, 0.7).map(
        lambda size: {"kind": "slot", "along": "y", "center": 2, "width": round(size, 3)}
    ),
    st.builds(
        lambda wide, radius: (
            {"kind": "pocket", "x": [1, 1 + round(wide, 3)], "y": [1, 1.75]}
            | ({"corner_radius": radius} if radius else {})
        ),
        st.floats(0.3, 0.6),
        st.sampled_from([0.0, 0.125, 0.15]),
    ),
    st.floats(0.3, 0.6).map(
        lambda size: {"kind": "bore", "center": [2, 1.5], "diameter": round(size, 3)}
    ),
)


@settings(
    deadline=None,
    max_examples=4,
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow],
)
@given(KINDS, st.floats(0.1, 1.2).map(lambda deep: round(deep, 2)))
def test_the_chosen_cutter_is_planned_and_what_is_ruled_out_is_refused(
    kind: dict[str, object], deep: float
) -> None:
    job = bare({"name": "it", "depth": deep} | kind, crib=[HALF, QUARTER, ROUGHER, FACE])
    (choice,) = choose_cutters(job)
    if choice.chosen is not None:
        assert plan_job(replace(job, cutters=(choice.chosen,))).passes
    for one in choice.cutters:
        if one.verdict == NO:
            with pytest.raises(CannotCut):
                plan_job(replace(job, cutters=(one.cutter,)))


def test_choice_and_plan_agree_on_what_the_motor_drives() -> None:
    job = bare(STEP | {"depth": 0.6}, crib=[HALF])
    limits = replace(job.limits, width_of_cut=0.5, depth_of_cut=0.6)
    for power, does in ((9.0, True), (0.25, False)):
        machine = replace(job.shop.machine, power_hp=power)
        weak = replace(job, limits=limits, shop=replace(job.shop, machine=machine))
        (choice,) = choose_cutters(weak)
        assert (choice.chosen == "half") == does
        if does:
            assert plan_job(weak).passes
            continue
        assert "at the motor, which has 0.25 hp" in choice.cutters[0].reasons[0]
        with pytest.raises(CannotCut, match=r"which has 0\.25 hp; .* would do"):
            plan_job(weak)
