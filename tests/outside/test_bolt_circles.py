"""Patterns of holes against worked coordinates of bolt circles, through the moves table."""

from itertools import pairwise
from math import cos, dist, hypot, pi, sin
from pathlib import Path

import pytest

from .bench import Outcome, sheet
from .curves import Spot
from .round_jobs import RoundSpec, feature
from .spec import CutterSpec

STEP = 0.0005
MILL = (CutterSpec("half", 0.5, None, 1.25),)


def holes(pattern: str, stock: tuple[float, float] = (14.0, 14.0)) -> RoundSpec:
    table = feature("pattern", "holes", 0.5, pattern)
    return RoundSpec((*stock, 1.0), (table,), MILL, zero="center center top")


def centers(outcome: Outcome) -> list[Spot]:
    """Where the axis stands in the rows of the holes, in order, each place once."""
    found: list[Spot] = []
    at_hole = False
    for line in outcome.table():
        spot = (float(line["x"]), float(line["y"]))
        at_hole = line["stage"] == "holes" and line["feature"] == "pattern"
        moved_to = line["move"] == "plunge" or (line["move"] == "position" and line["axis"] != "Z")
        if at_hole and moved_to and spot not in found:
            found.append(spot)
    return found


def places(tmp_path: Path, pattern: str) -> list[Spot]:
    outcome = sheet(holes(pattern).write(tmp_path))
    assert outcome.code == 0, outcome.text
    return centers(outcome)


WORKED: dict[str, tuple[str, list[Spot]]] = {
    # Six holes on R 5.50, the first on +Y: a worked problem (algebra.com, question 113033; the
    # problem and its polar form are published, the decimals are our arithmetic).
    "six on 5.50": (
        "circle = { center = [0, 0], diameter = 11, count = 6, start_angle = 90 }",
        [(0, 5.5), (4.7631, 2.75), (4.7631, -2.75), (0, -5.5), (-4.7631, -2.75), (-4.7631, 2.75)],
    ),
    # Three holes on a circle of 4 in, the first at the top, from the centre: the case of an
    # article on the jig-boring tables of Machinery's Handbook, 23rd ed., p. 950 (the problem is
    # published, the numbers are our arithmetic).
    "three on 4": (
        "circle = { center = [0, 0], diameter = 4, count = 3, start_angle = 90 }",
        [(0, 2), (1.7321, -1), (-1.7321, -1)],
    ),
    # Five holes on radius 1, the first at the top: factors sin and cos of 72 degrees.
    "five on 2": (
        "circle = { center = [0, 0], diameter = 2, count = 5, start_angle = 90 }",
        [(0, 1), (0.9511, 0.3090), (0.5878, -0.8090), (-0.5878, -0.8090), (-0.9511, 0.3090)],
    ),
}


@pytest.mark.parametrize("name", sorted(WORKED))
def test_worked_bolt_circles(tmp_path: Path, name: str) -> None:
    pattern, wanted = WORKED[name]
    found = set(places(tmp_path, pattern))
    for x, y in wanted:
        near = [s for s in found if abs(s[0] - x) <= STEP and abs(s[1] - y) <= STEP]
        assert near, (x, y, sorted(found))
    assert len(found & {s for s in found if hypot(*s) > 0.1}) >= len(wanted)


@pytest.mark.parametrize("count", [2, 4, 7, 8, 12])
@pytest.mark.parametrize("start", [0, 17.5, -30])
def test_any_bolt_circle_by_the_published_formula(tmp_path: Path, count: int, start: float) -> None:
    # X = R cos((P - 1) 360 / N + start), Y = R sin(...): H. Hall's formulas for N holes
    # (homews.co.uk, page 401), the start angle added
    found = places(
        tmp_path,
        f"circle = {{ center = [1, -0.5], diameter = 6, count = {count}, start_angle = {start} }}",
    )
    wanted = [
        (1 + 3 * cos(2 * pi * k / count + start * pi / 180),
         -0.5 + 3 * sin(2 * pi * k / count + start * pi / 180))
        for k in range(count)
    ]  # fmt: skip
    for spot in wanted:
        assert min(dist(spot, other) for other in found) <= STEP * 0.7072 + 1e-9
    # neighbouring holes lie the chord 2 R sin(180 / N) apart
    assert dist(wanted[0], wanted[1]) == pytest.approx(6 * sin(pi / count))


def test_holes_come_in_the_shortest_order_of_the_hand_wheels(tmp_path: Path) -> None:
    found = places(
        tmp_path, "circle = { center = [0, 0], diameter = 6, count = 8, start_angle = 22.5 }"
    )
    assert len(found) >= 8

    def travel(spots: list[Spot]) -> float:
        return sum(abs(a[0] - b[0]) + abs(a[1] - b[1]) for a, b in pairwise(spots))

    circle = [s for s in found if abs(hypot(*s) - 3) < 0.001]
    assert len(circle) == 8
    # once round from the best place is the shortest way: seven of the eight sides of the octagon
    around = sorted(circle, key=lambda s: (s[1] >= 0, -s[0] if s[1] >= 0 else s[0]))
    ways = [around[k:] + around[:k] for k in range(8)]
    assert travel(circle) <= min(travel(way) for way in ways) + 0.002
