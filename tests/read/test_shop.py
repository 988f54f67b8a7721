"""The shop file: every length comes out in the job's unit."""

import pytest

from passplot.records.shop import Machine

from .texts import JOB, cutter, faults, job, machine, read, shop

_METRIC = job(units="mm", stock={"size": [100, 80, 25], "material": "1018"}, dimension=None) | {
    "feature": [{"name": "f", "kind": "step", "side": "left", "width": 10, "depth": 5}]
}


def _machine(metric: bool, **changes: object) -> Machine:
    values = shop(machine=machine(**changes), units="inch")
    return read(_METRIC if metric else JOB, values).shop.machine


def test_lengths_are_converted_to_the_jobs_unit() -> None:
    inch, metric = read(JOB).shop, read(_METRIC).shop
    assert inch.cutter("half").diameter == 0.5
    assert metric.cutter("half").diameter == 12.7
    assert metric.cutter("half").flute_length == 31.75
    assert metric.machine.travel == (609.6, 304.8, 355.6)
    assert metric.machine.edge_finder == 5.08
    dial = metric.machine.dial("X")
    assert dial is not None
    assert (dial.per_turn, dial.graduation, dial.backlash) == (5.08, 0.0254, 0.254)
    assert metric.machine.dial("Y") is None


def test_a_length_of_the_shop_may_be_written_in_any_unit() -> None:
    values = shop(cutter=[cutter(diameter="12 mm", actual="11.9 mm", flute_length='1 1/4"')])
    half = read(JOB, values).shop.cutter("half")
    assert half.diameter == pytest.approx(12 / 25.4, abs=1e-15)
    assert half.cutting_diameter == pytest.approx(11.9 / 25.4, abs=1e-15)
    assert half.flute_length == 1.25


@pytest.mark.parametrize(
    ("metric", "steps", "expected"),
    [
        (False, {}, 0.001),
        (False, {"resolution": None}, 0.0005),
        (False, {"resolution": None, "resolution_inch": 0.0002}, 0.0002),
        (False, {"resolution": "0.005 mm"}, 0.005 / 25.4),
        (True, {}, 0.01),  # not 0.0254: the readout is switched over
        (True, {"resolution_mm": 0.005}, 0.005),
        (True, {"resolution": None, "resolution_inch": 0.0002}, 0.01),
    ],
)
def test_the_step_of_the_readout_in_the_jobs_unit(
    metric: bool, steps: dict[str, object], expected: float
) -> None:
    assert _machine(metric, **steps).resolution == pytest.approx(expected, abs=1e-15)


@pytest.mark.parametrize(
    ("written", "power_hp"),
    [("2 hp", 2), ("1 1/2 HP", 1.5), ("3/4hp", 0.75), ("1.5 kW", 2.0115), (".75 kw", 1.00577)],
)
def test_power_is_in_horsepower_or_kilowatts(written: str, power_hp: float) -> None:
    assert _machine(False, power=written).power_hp == pytest.approx(power_hp, abs=1e-4)


def test_speeds_are_steps_or_a_range() -> None:
    steps = _machine(False, spindle_speeds=[500, 80, 200])
    assert (steps.spindle_speeds, steps.stepless) == ((80, 200, 500), False)
    stepless = _machine(False, spindle_speeds=None, spindle_range=[60, 4000])
    assert (stepless.spindle_speeds, stepless.stepless) == ((60, 4000), True)


def test_a_power_feed_is_converted_and_its_range_told_from_steps() -> None:
    ranged = _machine(True, power_feed=[1, 20])
    assert (ranged.power_feed, ranged.power_feed_range) == ((25.4, 508), True)
    steps = _machine(False, power_feed=[2, 1, 4])
    assert (steps.power_feed, steps.power_feed_range) == ((1, 2, 4), False)


def test_what_the_machine_leaves_out() -> None:
    bare = read(JOB, shop(machine={"spindle_range": [60, 3000]})).shop.machine
    assert (bare.name, bare.readout, bare.clockwise, bare.power_hp) == ("", "dro", True, None)
    assert (bare.hand_feed, bare.turns_per_minute, bare.seconds_per_setting) == (60, 60, 6)
    assert (bare.travel, bare.edge_finder, bare.dials, bare.power_feed) == (None, None, (), ())


def test_a_left_hand_cutter_suits_a_counter_clockwise_spindle() -> None:
    turned = machine(spindle="counter-clockwise")
    values = shop(machine=turned, cutter=[cutter(hand="left")])
    found = read(JOB, values)
    assert not found.shop.machine.clockwise
    assert not found.metal_on_left
    (fault,) = faults(JOB, shop(machine=turned, cutter=[cutter()]))
    assert (fault.file, fault.key) == ("shop.toml", "cutter.hand")


def test_what_a_cutter_leaves_out_and_short_names() -> None:
    values = shop(cutter=[cutter(form=None, material="HSS", center_cutting=None)])
    half = read(JOB, values).shop.cutter("half")
    assert (half.form, half.material, half.hand) == ("square end", "high-speed steel", "right")
    assert (half.center_cutting, half.actual, half.stickout, half.price) == (False,) + (None,) * 3


def test_faults_of_job_and_shop_are_reported_together() -> None:
    found = faults(job(quantity=0), shop(units="feet", cutter=[cutter(diameter=-1)]))
    assert [(fault.file, fault.key) for fault in found] == [
        ("job.toml", "quantity"),
        ("shop.toml", "units"),
        ("shop.toml", "cutter.diameter"),
    ]
