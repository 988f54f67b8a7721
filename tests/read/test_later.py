"""Good files that ask for work which is not planned yet are refused by name, never ignored."""

import pytest

from passplot.errors import NotYetPlanned

from .texts import JOB, SHOP, cutter, feature, job, machine, one, read, shop

_SQUARE = [[1, 1], [2, 1], [2, 2], [1, 2]]


def _refusal(
    values: dict[str, object], shop_values: dict[str, object] | None = None
) -> tuple[str, ...]:
    with pytest.raises(NotYetPlanned) as raised:
        read(values, shop_values)
    assert raised.value.exit_code == 1
    return raised.value.lines()


@pytest.mark.parametrize(
    ("kind", "keys", "what"),
    [
        ("bore", {"center": [1, 1], "diameter": 1}, "bore"),
        ("holes", {"circle": {"center": [1, 1], "diameter": 1, "count": 4}}, "holes"),
        ("holes", {"row": {"start": [1, 1], "step": [0.5, 0], "count": 3}, "depth": None}, "holes"),
        ("holes", {"grid": {}}, "holes"),
        (
            "keyseat",
            {"along": "x", "center": 1, "shaft": 1, "standard": "din 6885", "depth": None},
            "keyseat",
        ),
        ("slot", {"along": "x", "center": 1, "width": 0.5, "start": 1}, "blind"),
        ("slot", {"along": "x", "center": 1, "width": 0.5, "end": 3}, "blind"),
        ("boss", {"center": [2, 1.5], "diameter": 1}, "round"),
        ("boss", {"x": [1, 2], "y": [1, 2], "corner_radius": 0.1}, "outside corner"),
        ("boss", {"points": [[1, 1], [2, 1], [1, 2]]}, "slanted"),
        (
            "pocket",
            {"x": [1, 3], "y": [1, 3], "islands": [{"points": [[2, 2], [3, 2], [2, 3]]}]},
            "slanted",
        ),
        ("outline", {"clear": "inside", "points": [[0, 0], [1, 0], [0.9, 1]]}, "slanted"),
        (
            "outline",
            {
                "clear": "inside",
                "points": [
                    *_SQUARE[:2],
                    {"x": 2, "y": 2, "center": [2, 1.5], "turn": "ccw"},
                    [1, 2],
                ],
            },
            "arc",
        ),
        (
            "outline",
            {"clear": "outside", "points": [*_SQUARE[:3], {"x": 1, "y": 2, "radius": 0.1}]},
            "outside corner",
        ),
        (
            "outline",
            {
                "clear": "inside",
                "points": [
                    *_SQUARE[:2],
                    {"x": 2, "y": 2, "radius": 0.1},
                    {"x": 1, "y": 2, "radius": 0.2},
                ],
            },
            "different radii",
        ),
        ("step", {"side": "left", "width": 1, "set_over": 10}, "set over"),
        ("step", {"side": "left", "width": 1, "rotary": True}, "rotary"),
    ],
)
def test_a_feature_that_is_not_planned_yet_is_named(
    kind: str, keys: dict[str, object], what: str
) -> None:
    (line,) = _refusal(one(kind, **keys))
    assert line.startswith('not yet planned: feature "f": ')
    assert what in line


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


def test_later_cutters_are_refused_only_where_they_are_used() -> None:
    assert read(JOB).shop.cutter("ball").corner_radius == 0.125
    (line,) = _refusal(job(cutter=["half", "ball"]))
    assert 'cutter "ball"' in line
    nosed = cutter(id="nosed", form="corner radius", corner_radius=0.06)
    (line,) = _refusal(job(cutter="nosed"), shop(cutter=[nosed]))
    assert "corner radius" in line


def test_a_machine_without_a_readout_is_refused() -> None:
    dial = {"per_turn": 0.2, "graduation": 0.001, "backlash": 0.01}
    dials = {
        "x": dial | {"clockwise": "table left"},
        "y": dial | {"clockwise": "table in"},
        "z": dial | {"clockwise": "knee up"},
    }
    (line,) = _refusal(JOB, shop(machine=machine(readout="dials", dial=dials)))
    assert "dials" in line


def test_round_keep_outs_are_refused() -> None:
    screw = {"name": "screw", "center": [3.75, 0.25], "diameter": 0.25, "top": 0.5}
    (line,) = _refusal(job(keep_out=[screw]))
    assert 'keep-out "screw"' in line


def test_everything_is_said_at_once() -> None:
    values = job(cutter="ball", setup=[{"name": "a", "square_up": True}])
    assert len(_refusal(values)) == 2


def test_the_good_shop_is_good() -> None:
    assert read(JOB, SHOP).shop.machine.readout == "dro"
