"""Work set over: good plans proven setting by setting, each planted fault found by name."""

from dataclasses import replace
from functools import cache

import pytest

from passplot.flow import plan_job
from passplot.proof.bites import PRINTED_DEPTH
from passplot.proof.clear import GOUGE, KEEP_OUT
from passplot.proof.leftover import LEFT_UNCUT
from passplot.proof.settings import ORDER
from passplot.read import parse_job
from passplot.records.job import KeepOut
from passplot.records.plan import Plan
from passplot.records.shapes import rectangle
from tests.bench_mill import bench_mill, cutter

from .spoiling import Rows, found, proven

SHOP = bench_mill(
    cutter("half"),
    cutter("five eighths", 0.625),
    cutter("quarter", 0.25, 0.75),
    more="resolution_mm = 0.01",
)
HEAD = """
units = "{units}"
shop = "shop.toml"
cutter = {cutter}
direction = "{direction}"
[stock]
size = {size}
material = "6061"
zero = "{zero}"
[finish]
{finish}
[[feature]]
name = "corner"
kind = "outline"
clear = "outside"
depth = {depth}
set_over = true
points = {points}
"""
STEP = """
[[feature]]
name = "rim"
kind = "step"
side = "{side}"
width = 0.3
depth = 0.1
"""
CORNER = [[-1, -1], [3, -1], [3, 3], [0.6, 3], [0.6, 2], [0, 1.2], [-1, 1.2]]
"""A corner taken off at 53 degrees, 0.6 by 0.8, of a block two inches square."""
DEEP = 0.2


def written(points: object, **changes: object) -> str:
    plain: dict[str, object] = {
        "units": "inch", "cutter": '"half"', "direction": "conventional", "size": [2, 2, 0.75],
        "zero": "left front top", "finish": "", "depth": DEEP,
    }  # fmt: skip
    return HEAD.format(**(plain | changes), points=points)


def planned(text: str) -> Plan:
    return plan_job(parse_job(text, SHOP))


@cache
def chamfer() -> Plan:
    return planned(written(CORNER))


def skims(rows: Rows) -> list[int]:
    """Places of the rows that finish the slanted wall: as deep as the floor, all of the height."""
    return [
        place
        for place, row in enumerate(rows)
        if row["move"] == "cut" and float(row["depth_of_cut"]) == DEEP
    ]


# --- good ones ---------------------------------------------------------------------------------


def test_a_corner_set_over_is_proven() -> None:
    plan = chamfer()
    proof = proven(plan)
    assert proof.good, proof.findings
    (over,) = plan.over
    assert over.angle == pytest.approx(36.8699, abs=1e-4)  # 3-4-5: the wall comes to lie along Y
    assert proof.gouge == 0.0


@pytest.mark.parametrize(
    "text",
    [
        # off the stock's edge by a hair, where turned coordinates leave slivers of no width
        written(
            [[-50, -3], [-25, -3], [-23, -31.8], [-23, -57], [15, -57], [15, -31.8], [25, -22],
             [50, -22], [50, 57], [-50, 57]],
            units="mm", size=[50, 63.5, 19], zero="center center top", depth=4, direction="climb",
        ),
        # stock stays on, and at the thin end of the corner the block is no thicker than that
        written(CORNER, finish="skims = 0") + STEP.format(side="left"),
        # the first cutter's axis stays beside the block, the second has nothing left to do
        written(CORNER, cutter='["five eighths", "quarter"]', finish="skims = 1")
        + STEP.format(side="back"),
    ],
    ids=["two corners, mm, climb", "stock stays on", "two cutters and a step"],
)  # fmt: skip
def test_more_corners_set_over_are_proven(text: str) -> None:
    plan = planned(text)
    proof = proven(plan)
    assert proof.good, proof.findings
    assert not any("no room for wall stock" in note for note in plan.notes)


def test_a_shops_own_sine_bar_is_stacked() -> None:
    (over,) = chamfer().over
    assert over.bar == 5.0
    assert over.stack == pytest.approx(3.0)  # a 3-4-5 triangle
    shop = SHOP.replace("[machine]", "[machine]\nsine_bar = 10")
    (over,) = plan_job(parse_job(written(CORNER), shop)).over
    assert over.bar == 10.0
    assert over.stack == pytest.approx(6.0)
    (wall,) = over.walls
    assert (wall.feature, wall.axis) == ("corner", "X")
    assert wall.at == pytest.approx(-0.72)  # it passes 1.2 x 0.6 to the left of zero


# --- planted faults ----------------------------------------------------------------------------


@pytest.mark.parametrize("off", [0.5, -0.5])
def test_an_angle_half_a_degree_off_is_found(off: float) -> None:
    plan = chamfer()
    (over,) = plan.over
    wrong = replace(plan, over=(replace(over, angle=over.angle + off),))
    assert {GOUGE, LEFT_UNCUT} & found(wrong)


@pytest.mark.parametrize(("off", "finding"), [(0.01, GOUGE), (-0.01, LEFT_UNCUT)])
def test_a_zero_ten_thousandths_off_is_found(off: float, finding: str) -> None:
    def moved(rows: Rows) -> None:
        for row in rows:
            row["x"] = f"{float(row['x']) + off:.4f}"

    assert finding in found(chamfer(), moved)


def test_rows_too_deep_are_found() -> None:
    def deeper(rows: Rows) -> None:
        for row in rows:
            if float(row["z"]) == -DEEP:
                row["z"] = "-0.2010"

    assert found(chamfer(), deeper) == {GOUGE, PRINTED_DEPTH}


def test_a_skim_left_out_is_found() -> None:
    def shorter(rows: Rows) -> None:
        last = skims(rows)[-1]
        near = rows[skims(rows)[-2]]["x"]
        for row in rows[last - 3 :]:
            row["x"] = near if row["x"] == rows[last]["x"] else row["x"]

    assert LEFT_UNCUT in found(chamfer(), shorter)


def test_a_keep_out_turns_with_the_work() -> None:
    plan = chamfer()
    # beside the corner as the print has it: there the cutter passes when the work is turned
    block = KeepOut("clamp", rectangle(0.1, 0.2, 1.7, 1.8), 0.5)
    stands = replace(plan, job=replace(plan.job, keep_outs=(block,)))
    assert KEEP_OUT in found(stands)
    # a clamp at the far corner is out of the way in any position
    block = KeepOut("clamp", rectangle(1.5, 1.9, 0.1, 0.5), 0.05)
    stands = replace(plan, job=replace(plan.job, keep_outs=(block,)))
    assert KEEP_OUT not in found(stands)


def test_rows_of_one_setting_among_those_of_another_are_found() -> None:
    plan = planned(written(CORNER) + STEP.format(side="right"))
    assert proven(plan).good

    def swapped(rows: Rows) -> None:
        rows[2]["setup"], rows[-3]["setup"] = rows[-3]["setup"], rows[2]["setup"]

    assert ORDER in found(plan, swapped)
