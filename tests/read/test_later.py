"""Good files that ask for setups which a job cannot hold yet are refused by name."""

import pytest

from passplot.errors import NotYetPlanned

from .texts import JOB, SHOP, feature, job, machine, read, shop


def _refusal(values: dict[str, object]) -> tuple[str, ...]:
    with pytest.raises(NotYetPlanned) as raised:
        read(values)
    assert raised.value.exit_code == 1
    return raised.value.lines()


@pytest.mark.parametrize(
    ("setup", "what"),
    [
        ({"up": "bottom"}, "bottom"),
        ({"right": "front"}, "front"),
        ({"square_up": True}, "squaring"),
        ({"set_over": 15}, "set over"),
        ({"rotary": True}, "rotary"),
    ],
)
def test_a_setup_that_is_not_planned_yet_is_named(setup: dict[str, object], what: str) -> None:
    (line,) = _refusal(job(setup=[{"name": "only"} | setup], feature=[_turnable()], dimension=None))
    assert 'setup "only"' in line
    assert what in line


def _turnable() -> dict[str, object]:
    return feature("step", side="left", width=0.5)


def test_features_of_a_turned_setup_are_measured_in_its_own_coordinates() -> None:
    # Front up, left to the right: X is 4 long, Y is 1, Z is 3.
    setups = [
        {"name": "first"},
        {"name": "second", "up": "front", "right": "left", "zero": "right back bottom"},
    ]
    pocket = feature("pocket", setup="second", x=[-4, -3], y=[-1, -0.5], depth=2.5)
    lines = _refusal(
        job(setup=setups, feature=[_turnable() | {"name": "g"}, pocket]) | _NO_CALLOUTS
    )
    assert lines[0] == "not yet planned: 2 setups in one job"
    assert len(lines) == 2


_NO_CALLOUTS: dict[str, object] = {"dimension": []}


def test_everything_is_said_at_once() -> None:
    setups = [{"name": "a", "square_up": True}, {"name": "b"}]
    assert len(_refusal(job(setup=setups))) == 2


def test_cutters_and_machines_of_every_kind_are_read() -> None:
    assert read(job(cutter=["half", "ball"])).shop.cutter("ball").corner_radius == 0.125
    dial = {"per_turn": 0.2, "graduation": 0.001, "backlash": 0.01}
    dials = {
        "x": dial | {"clockwise": "table left"},
        "y": dial | {"clockwise": "table in"},
        "z": dial | {"clockwise": "knee up"},
    }
    found = read(JOB, shop(machine=machine(readout="dials", dial=dials)))
    assert found.shop.machine.readout == "dials"


def test_the_good_shop_is_good() -> None:
    assert read(JOB, SHOP).shop.machine.readout == "dro"
