"""Round walls: the formulas for arcs hold from the gouge check to what is left."""

from dataclasses import replace

import pytest

from passplot.proof import prove
from passplot.records.shapes import Arc, Line, Loop, Point, rectangle
from passplot.records.sizes import exact

from .hand import HALF, Table, feature, job, names, plan

# A slot half an inch wide, open to the left, its blind end a half circle about (2, 1).
BLIND = feature(
    "groove",
    "slot",
    -0.25,
    (
        Loop(
            (
                Line(Point(-1, 0.75), Point(2, 0.75)),
                Arc(Point(2, 0.75), Point(2, 1.25), Point(2, 1), 0.25, True),
                Line(Point(2, 1.25), Point(-1, 1.25)),
                Line(Point(-1, 1.25), Point(-1, 0.75)),
            )
        ),
    ),
)


def slot_to(x: float) -> str:
    table = Table("groove")
    table.start(-0.3, 1.0, 0.1).go("position", z=-0.25)
    return table.cut(0, 0.25, both=x + 0.25, x=x).go("retract", z=0.1).text


@pytest.mark.parametrize(
    ("x", "expected", "gouge", "left"),
    [
        (2.0, set(), 0.0, 0.0),
        (2.01, {"gouge"}, 0.01, 0.0),
        (1.9995, set(), 0.0, 0.0005),
        (1.99, {"left uncut"}, 0.0, 0.01),
    ],
)
def test_the_blind_end_of_a_slot(x, expected, gouge, left):
    found = prove(plan(job((BLIND,)), wall=0.0, floor=0.0), slot_to(x))
    assert names(found) == expected
    assert found.gouge == pytest.approx(gouge, abs=1e-9)
    assert found.left_uncut == pytest.approx(left, abs=1e-5)


def test_an_inside_corner_with_a_written_radius_may_differ_by_the_scallop():
    written = replace(BLIND, corner_radius=exact(0.25))
    promise = plan(job((written,)), wall=0.0, floor=0.0)
    assert prove(promise, slot_to(2.0035)).good
    assert names(prove(promise, slot_to(2.0045))) == {"gouge"}


def test_stock_on_a_round_wall_lies_along_its_normals():
    """A slot a little wider than the cutter, roughed by a pass down the middle."""
    wide = replace(HALF, diameter=0.44)
    table = Table("groove")
    table.start(-0.3, 1.0, 0.1).go("position", z=-0.25).cut(0, 0.25, both=2.22, x=2.0)
    table.go("retract", z=0.1)
    table.stage = "finish"
    table.go("retract", z=0.2)
    found = prove(plan(job((BLIND,)), wall=0.03, floor=0.0, cutters=(wide,)), table.text)
    assert (found.wall_stock.low, found.wall_stock.high) == pytest.approx((0.03, 0.03))
    assert names(found) == {"left uncut"}
    entered = prove(plan(job((BLIND,)), wall=0.035, floor=0.0, cutters=(wide,)), table.text)
    assert "wall stock entered" in names(entered)


# A round stop half an inch across in the middle of the block; everything else is cleared.
STOP = Loop(
    (
        Arc(Point(1.75, 1), Point(1.25, 1), Point(1.5, 1), 0.25, True),
        Arc(Point(1.25, 1), Point(1.75, 1), Point(1.5, 1), 0.25, True),
    )
)


@pytest.mark.parametrize(("y", "gouge"), [(1.5, 0.0), (1.49, 0.01), (1.3, 0.2)])
def test_a_cutter_beside_a_round_island(y, gouge):
    around = feature("stop", "boss", -0.25, (rectangle(-1, 4, -1, 3),), (STOP,))
    table = Table("stop")
    table.start(-0.3, y, 0.1).go("position", z=-0.25).cut(0, 0.25, both=3.25, x=3.3)
    found = prove(plan(job((around,)), wall=0.0, floor=0.0), table.text)
    assert found.gouge == pytest.approx(gouge, abs=1e-9)
    assert ("gouge" in names(found)) == (gouge > 0)
