"""Limits of a rough pass: how they follow the machine, the cutter and the material."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from read.texts import cutter, job, machine, read, shop

from passplot.cutting.limits import bounds_of
from passplot.cutting.pace import pace, setting_of
from passplot.cutting.rules import CutRules
from passplot.errors import CannotCut
from passplot.flow import plan_job
from passplot.records.job import Job
from passplot.records.plan import FINISH, ROUGH

LEDGE = {"name": "ledge", "kind": "step", "side": "left", "width": 1}


def ledge(
    deep: float = 0.65, material: str = "1018", power: str = "2 hp", **mill: object
) -> tuple[Job, CutRules]:
    values = shop(machine=machine(power=power, spindle_speeds=None, spindle_range=[60, 4000]))
    values["cutter"] = [cutter(**{"stickout": 1.5, **mill})]
    text = job(
        stock={"size": [4, 3, 1], "material": material},
        feature=[LEDGE | {"depth": deep}],
        dimension=None,
    )
    return read(text, values), CutRules()


def width(deep: float = 0.65, **changes: object) -> float:
    found, rules = ledge(**changes)
    return rules.width(found, found.shop.cutters[0], deep)


def unrounded(deep: float, *, stickout: float, material: str, power: float) -> float:
    found, _ = ledge()
    setting = replace(setting_of(read(job(stock={"size": [4, 3, 1], "material": material}))))
    setting = replace(setting, machine=replace(found.shop.machine, power_hp=power))
    mill = replace(found.shop.cutters[0], stickout=stickout)
    return bounds_of(setting, mill, pace(setting, mill).spindle_speed_rpm).widest(deep)


def test_a_half_inch_carbide_end_mill_runs_at_about_2200_dry() -> None:
    # common practice, no source: cold-rolled low-carbon steel
    found, rules = ledge(material="cold rolled")
    use = rules.use(found, found.shop.cutters[0])
    assert use.speed_rpm == pytest.approx(2200, rel=0.02)
    assert use.fluid.startswith("dry")


@pytest.mark.parametrize("stickout", [1.25, 1.5, 2.0])
def test_a_deep_shoulder_is_roughed_a_tenth_of_an_inch_and_more_at_a_time(stickout: float) -> None:
    # common practice, no source: 0.100-0.150 in wide at 0.650 in deep
    assert 0.100 <= width(0.65, stickout=stickout) <= 0.150


def test_fifty_thousandths_a_face_is_left_where_the_job_says_so() -> None:
    # common practice, no source: and roughing bends the cutter far less than that
    found, rules = ledge()
    found = replace(found, finish=replace(found.finish, wall=0.05))
    use = rules.use(found, found.shop.cutters[0])
    assert use.wall == 0.05
    assert use.deflection is not None
    assert use.deflection < 0.1 * use.wall


def test_a_shoulder_seven_tenths_deep_is_planned_so() -> None:
    # common practice, no source: .050 left on every face, so roughed .650 deep, .100-.150 wide a
    # pass, with a half-inch four-flute carbide end mill in cold-rolled steel, dry
    found, _ = ledge(0.7, "cold rolled")
    plan = plan_job(replace(found, finish=replace(found.finish, wall=0.05, floor=0.05)))
    rough = [each for each in plan.passes if each.stage == ROUGH]
    assert {round(each.depth_of_cut, 6) for each in rough} == {0.65}
    assert all(0.100 <= each.width_of_cut <= 0.150 for each in rough)
    assert [(stock.wall, stock.floor) for stock in plan.stocks] == [(0.05, 0.05)]
    assert plan.cutters[0].speed_rpm == pytest.approx(2200, rel=0.02)


@settings(deadline=None, max_examples=40)
@given(
    st.floats(0.2, 1.2),
    st.floats(1.3, 3.0),
    st.sampled_from(["12L14", "1018", "6061", "brass"]),
    st.floats(0.3, 3.0),
)
def test_less_is_allowed_where_more_is_asked(
    deep: float, stickout: float, material: str, power: float
) -> None:
    def allowed(**changes: object) -> float:
        facts = {"stickout": stickout, "material": material, "power": power} | changes
        depth = float(str(facts.pop("deep", deep)))
        return unrounded(depth, **facts)  # type: ignore[arg-type]

    usual = allowed() + 1e-9
    assert usual > 1e-6
    assert allowed(stickout=2 * stickout) <= usual
    assert allowed(deep=2 * deep) <= usual
    assert allowed(power=power / 2) <= usual
    assert allowed(material="4140 prehard", power=9.0) <= allowed(power=9.0)


def test_limits_change_where_they_bind() -> None:
    assert width(0.65, stickout=0.9) > width(0.65, stickout=1.8)
    assert width(0.4) > width(0.8)
    assert width(power="2 hp") > width(power="0.75 hp") > width(power="0.4 hp")
    assert width(material="1018") > width(material="4140 prehard")
    assert width(material="6061") > width(material="1018")


def test_a_level_is_as_deep_as_the_flutes_where_the_cutter_is_stiff() -> None:
    found, rules = ledge()
    mill = found.shop.cutters[0]
    assert rules.level(found, mill) == mill.flute_length
    # far out of the holder it bends, so levels come before skims
    whippy = replace(mill, material="high-speed steel", stickout=3.0)
    assert rules.level(found, whippy) < 0.8 * mill.flute_length


def test_limits_of_the_job_rule() -> None:
    found, rules = ledge()
    limits = replace(found.limits, width_of_cut=0.2, depth_of_cut=0.3)
    found = replace(found, limits=limits)
    use = rules.use(found, found.shop.cutters[0])
    assert (use.width_limit, use.depth_limit, use.slot_depth_limit) == (0.2, 0.3, 0.25)


def test_a_cut_that_the_machine_cannot_drive_is_refused_with_what_would_do() -> None:
    found, rules = ledge(power="0.25 hp")
    limits = replace(found.limits, width_of_cut=0.5, depth_of_cut=0.6)
    with pytest.raises(CannotCut) as caught:
        rules.use(replace(found, limits=limits), found.shop.cutters[0])
    (reason,) = caught.value.reasons
    assert "0.500 wide and 0.600 deep" in reason
    assert "which has 0.25 hp" in reason
    assert "would do" in reason
    wide = float(reason.split("; ")[1].split()[0])
    rules.use(replace(found, limits=replace(limits, width_of_cut=wide)), found.shop.cutters[0])


def test_the_deepest_feature_is_named_where_its_cut_is_too_heavy() -> None:
    found, rules = ledge(power="0.25 hp")
    limits = replace(found.limits, width_of_cut=0.5, depth_of_cut=0.6)
    shallow = replace(found.features[0], name="shallow", floor=-0.1)
    both = replace(found, limits=limits, features=(shallow, *found.features))
    with pytest.raises(CannotCut, match="half: ledge: a pass"):
        rules.use(both, found.shop.cutters[0])


def test_a_machine_without_stated_power_is_not_asked() -> None:
    found, rules = ledge()
    found = replace(
        found, shop=replace(found.shop, machine=replace(found.shop.machine, power_hp=None))
    )
    assert rules.width(found, found.shop.cutters[0], 0.65) >= width(0.65)


def test_slots_and_skims_are_fed_their_own_way() -> None:
    # Newson Tool catalogue pp. 33-34 (seen): a fifth less in a slot; no thin-chip feed on skims
    found, rules = ledge(material="1018", power="9 hp")
    found = replace(
        found, shop=replace(found.shop, machine=replace(found.shop.machine, hand_feed=900))
    )
    use = rules.use(found, found.shop.cutters[0])
    assert use.slot_feed == pytest.approx(0.8 * use.finish_feed)
    assert use.feed > use.finish_feed
    assert use.feed_of(FINISH, "wall") == use.finish_feed
    assert use.feed_of(ROUGH, "slot") == use.slot_feed
    assert use.feed_of(ROUGH, "width") == use.feed


def test_inch_and_metric_limits_are_one_limit() -> None:
    metric = {"size": [101.6, 76.2, 25.4], "material": "1018"}
    mm = read(
        job(
            units="mm",
            stock=metric,
            dimension=None,
            feature=[LEDGE | {"width": 25.4, "depth": 16.51}],
        )
    )
    inch = read(job(feature=[LEDGE | {"depth": 0.65}], dimension=None))
    uses = [CutRules().use(each, each.shop.cutter("half")) for each in (inch, mm)]
    assert uses[1].width_limit == pytest.approx(25.4 * uses[0].width_limit, abs=0.13)
    assert uses[1].motor_hp == pytest.approx(uses[0].motor_hp, rel=0.05)
