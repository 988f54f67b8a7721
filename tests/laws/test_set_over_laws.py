"""Laws of work set over: a job mirrored, turned or scaled has a plan that is so too."""

from functools import cache
from math import atan, cos, degrees, radians, sin
from random import Random

import pytest

from passplot.flow import plan_job
from passplot.proof import prove
from passplot.read import parse_job
from passplot.records.plan import CUT, Plan
from passplot.sheet.tables import moves_table
from passplot.write.tables import csv_text
from tests.bench_mill import bench_mill, cutter

Spot = tuple[float, float]

SHOP = bench_mill(cutter("half"), more="resolution_mm = 0.0127")
CORNER: list[Spot] = [(-1, -1), (3, -1), (3, 3), (0.6, 3), (0.6, 2), (0, 1.2), (-1, 1.2)]
"""A corner taken off at the back left of a block two inches square, 0.6 by 0.8."""


def planned(points: list[Spot], zero: str, direction: str, unit: float = 1.0) -> Plan:
    """The plan of a block two inches square, its outline counted from ``zero``."""
    spots = [[round(x * unit, 6), round(y * unit, 6)] for x, y in points]
    job = f"""
units = "{"inch" if unit == 1 else "mm"}"
shop = "shop.toml"
cutter = "half"
direction = "{direction}"
[stock]
size = [{2 * unit}, {2 * unit}, {0.75 * unit}]
material = "6061"
zero = "{zero} top"
[finish]
wall = {0.03 * unit}
floor = 0
skims = 1
[limits]
stand_off = {0.05 * unit}
cross_over = {0.1 * unit}
width_of_cut = {0.15 * unit}
depth_of_cut = {0.2 * unit}
[[feature]]
name = "corner"
kind = "outline"
clear = "outside"
depth = {0.2 * unit}
set_over = true
points = {spots}
"""
    return plan_job(parse_job(job, SHOP))


@cache
def plain() -> Plan:
    return planned(CORNER, "left front", "conventional")


def cuts(plan: Plan) -> list[Spot]:
    return [(move.x, move.y) for move in plan.moves if move.move == CUT]


def test_mirrored_work_is_turned_the_other_way_and_climbs() -> None:
    other = planned([(-x, y) for x, y in reversed(CORNER)], "right front", "climb")
    assert other.over[0].angle == pytest.approx(-plain().over[0].angle)
    assert cuts(other) == [(-x, y) for x, y in cuts(plain())]


def test_work_turned_by_a_right_angle_is_set_over_by_the_same() -> None:
    other = planned([(-y, x) for x, y in CORNER], "right front", "conventional")
    assert other.over[0].angle == pytest.approx(plain().over[0].angle)
    assert cuts(other) == [(-y, x) for x, y in cuts(plain())]


def test_inch_and_metric_twins_are_turned_alike() -> None:
    other = planned(CORNER, "left front", "conventional", 25.4)
    assert other.over[0].angle == pytest.approx(plain().over[0].angle)
    (one,), (two,) = plain().over[0].walls, other.over[0].walls
    assert two.axis == one.axis
    assert two.at == pytest.approx(25.4 * one.at)


@pytest.mark.parametrize("seed", range(6))
def test_any_corner_taken_off_is_proven(seed: int) -> None:
    """Corners of any slope at any corner of the block, from any zero, either way of cutting."""
    draw = Random(seed)
    angle = draw.uniform(5, 85)
    long = draw.uniform(0.5, 0.9)
    a, b = round(long * cos(radians(angle)), 3), round(long * sin(radians(angle)), 3)
    points: list[Spot] = [(-1, -1), (3, -1), (3, 3), (a, 3), (a, 2), (0, 2 - b), (-1, 2 - b)]
    left, front = draw.random() < 0.5, draw.random() < 0.5
    if draw.random() < 0.5:
        points = [(2 - x, y) for x, y in reversed(points)]
        slope = -atan(b / a)
    else:
        slope = atan(b / a)
    spots = [(x - (0 if left else 2), y - (0 if front else 2)) for x, y in points]
    zero = f"{'left' if left else 'right'} {'front' if front else 'back'}"
    plan = planned(spots, zero, draw.choice(["conventional", "climb"]))
    proof = prove(plan, csv_text(moves_table(plan)))
    assert proof.good, proof.findings
    off_level = (degrees(slope) + plan.over[0].angle + 45) % 90 - 45
    assert off_level == pytest.approx(0, abs=1e-6)
