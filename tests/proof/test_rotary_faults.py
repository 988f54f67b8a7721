"""Plans for a rotary table: good ones proven, each planted fault found by name."""

from dataclasses import replace
from functools import cache
from math import cos, radians, sin

import pytest

from passplot.proof.bites import DEPTH, DIRECTION, METAL, PRINTED_DEPTH, PRINTED_WIDTH
from passplot.proof.clear import GOUGE, KEEP_OUT, WALL_ENTERED
from passplot.proof.handling import ONE_AXIS
from passplot.proof.leftover import LEFT_UNCUT
from passplot.proof.passes import SKIM
from passplot.proof.turning import ROTARY
from passplot.records.job import KeepOut
from passplot.records.plan import Plan
from passplot.records.shapes import rectangle
from tests.rotary_jobs import ALL, BORE, END, HUB, SCOOP, planned

from .spoiling import Rows, Spoil, found, proven


@cache
def plan_of(feature: str, climb: bool = False) -> Plan:
    return planned(feature, climb=climb)


def turned(rows: Rows) -> list[int]:
    """Places of the rows that cut an arc."""
    return [k for k, row in enumerate(rows) if row["axis"] == "C" and row["move"] == "cut"]


@pytest.mark.parametrize("climb", [False, True])
@pytest.mark.parametrize("name", ALL)
def test_a_plan_with_arcs_is_proven(name, climb):
    proof = proven(plan_of(ALL[name], climb))
    assert proof.findings == ()
    assert proof.gouge == 0
    assert proof.wall_stock.high - proof.wall_stock.low < 0.001


@pytest.mark.parametrize("feature", [BORE, HUB])
def test_a_table_turned_the_wrong_way_climbs(feature):
    def spoil(rows: Rows) -> None:
        for row in rows:
            if row["c"]:
                row["c"] = f"{-float(row['c']):.4f}"

    assert DIRECTION in found(plan_of(feature), spoil)


def _radius_by(step: float) -> Spoil:
    """The last setting moved by ``step``, the arc cut there."""

    def spoil(rows: Rows) -> None:
        last = turned(rows)[-1]
        for row in rows[last - 1 :]:
            row["x"] = f"{float(row['x']) + step:.4f}"

    return spoil


def test_a_radius_too_large_goes_into_the_wall_of_a_bore():
    plan = plan_of(BORE)
    proof = proven(plan, _radius_by(0.01))
    assert GOUGE in {finding.name for finding in proof.findings}
    assert proof.gouge == pytest.approx(0.01, abs=1e-6)


def test_a_radius_too_small_leaves_a_bore_uncut():
    checks = found(plan_of(BORE), _radius_by(-0.005))
    assert LEFT_UNCUT in checks
    assert SKIM in checks


def test_a_hub_is_gouged_by_a_small_radius_and_left_by_a_large_one():
    assert GOUGE in found(plan_of(HUB), _radius_by(-0.004))
    assert LEFT_UNCUT in found(plan_of(HUB), _radius_by(0.006))
    # what a scallop may leave, a turned wall may not
    assert SKIM in found(plan_of(HUB), _radius_by(0.002))


def test_a_rough_turn_into_the_stock_to_be_left_is_found():
    def spoil(rows: Rows) -> None:
        first = turned(rows)[0]
        for row in rows[first - 1 : first + 1]:
            row["x"] = f"{float(row['x']) + 0.006:.4f}"

    assert WALL_ENTERED in found(plan_of(BORE), spoil)


def test_ten_degrees_short_is_left_uncut():
    plan = plan_of(BORE)

    def spoil(rows: Rows) -> None:
        last = rows[turned(rows)[-1]]
        short = float(last["c"]) + 10
        radius = float(last["x"]) - 1
        x, y = 1 + radius * cos(radians(short)), 1 + radius * sin(radians(short))
        for row in rows[turned(rows)[-1] :]:
            row["x"], row["y"] = f"{x:.4f}", f"{y:.4f}"
        last["c"] = f"{short:.4f}"

    proof = proven(plan, spoil)
    assert {finding.name for finding in proof.findings} == {LEFT_UNCUT}
    assert 0.004 < proof.left_uncut < 0.02


def test_ten_degrees_short_of_a_half_circle_is_left_uncut():
    def spoil(rows: Rows) -> None:
        for place in turned(rows):
            row, after = rows[place], rows[place + 1]
            short = float(row["c"]) - 10
            turn = next(
                each.turn for each in plan_of(END).passes if str(each.number) == row["pass"]
            )
            assert turn is not None
            x = turn.center.x + turn.radius * cos(radians(short))
            y = turn.center.y + turn.radius * sin(radians(short))
            row["c"] = f"{short:.4f}"
            for one in (row, after):
                one["x"], one["y"] = f"{x:.4f}", f"{y:.4f}"

    assert LEFT_UNCUT in found(plan_of(END), spoil)


def test_an_angle_that_does_not_lead_where_the_row_says_is_found():
    def spoil(rows: Rows) -> None:
        row = rows[turned(rows)[-1]]
        row["c"] = f"{float(row['c']) + 1:.4f}"

    assert ROTARY in found(plan_of(END), spoil)


def test_a_radius_set_with_the_table_off_zero_is_found():
    def spoil(rows: Rows) -> None:
        back = next(
            k for k, row in enumerate(rows) if row["axis"] == "C" and float(row["c"]) % 360 == 0
        )
        rows[back]["axis"] = "X"
        rows[back]["c"] = ""

    assert ROTARY in found(plan_of(END), spoil)


def test_a_row_of_the_table_without_an_angle_is_found():
    def spoil(rows: Rows) -> None:
        rows[turned(rows)[0]]["c"] = ""

    assert ROTARY in found(plan_of(BORE), spoil)


def test_a_turn_that_moves_the_knee_as_well_is_found():
    def spoil(rows: Rows) -> None:
        row = rows[turned(rows)[-1]]
        row["z"] = f"{float(row['z']) + 0.01:.4f}"

    assert ONE_AXIS in found(plan_of(BORE), spoil)


def test_a_table_turned_to_its_start_through_metal_is_found():
    def spoil(rows: Rows) -> None:
        place = next(
            k for k, row in enumerate(rows) if row["axis"] == "C" and row["move"] == "position"
        )
        below = rows[place + 2]["z"]
        for row in rows[place - 1 : place + 1]:
            row["z"] = below

    assert METAL in found(plan_of(SCOOP), spoil)


@pytest.mark.parametrize(
    ("column", "check"), [("width_of_cut", PRINTED_WIDTH), ("depth_of_cut", PRINTED_DEPTH)]
)
def test_a_turn_wider_or_deeper_than_printed_is_found(column, check):
    def spoil(rows: Rows) -> None:
        rows[turned(rows)[0]][column] = "0.0010"

    assert check in found(plan_of(HUB), spoil)


def test_a_turn_through_a_clamp_is_found():
    plan = plan_of(HUB)
    clamp = KeepOut("strap", rectangle(1.7, 1.9, 1.7, 1.9), 0.4)
    job = replace(plan.job, keep_outs=(clamp,))
    checks = {finding.name for finding in proven(replace(plan, job=job)).findings}
    assert KEEP_OUT in checks


def test_a_deep_turn_past_the_limit_is_found():
    plan = plan_of(HUB)
    limits = replace(plan.job.limits, depth_of_cut=0.05)
    found_now = proven(replace(plan, job=replace(plan.job, limits=limits))).findings
    arcs = {each.row for each in plan.passes if each.turn is not None and each.stage == "rough"}
    assert arcs <= {finding.row for finding in found_now if finding.name == DEPTH}
