"""Ball ends and corner radii: the fillet at the foot of a wall is unreached, scallops are not."""

from dataclasses import replace

import numpy as np
import pytest

from passplot.proof import prove
from passplot.proof.forms import corner_of, radius_at, rise
from passplot.proof.met import Met
from passplot.proof.rows import read_rows

from .hand import HALF, POCKET, STEP, job, names, plan, pocket_table, step_table

ROUNDED = replace(HALF, form="corner radius", corner_radius=0.06)
BALL = replace(HALF, form="ball")


def test_the_lower_end_of_a_ball_is_its_circle():
    off = np.array([0.0, 0.15, 0.2, 0.25])
    assert rise(off, 0.25, corner_of(BALL)) == pytest.approx([0.0, 0.05, 0.1, 0.25])
    assert rise(off, 0.25, corner_of(HALF)) == pytest.approx([0.0] * 4)


@pytest.mark.parametrize(
    ("cutter", "cusp", "expected"),
    [
        (HALF, 0.004, set()),
        (ROUNDED, 0.004, set()),
        # rings 0.11 apart, 0.156 at their corners, leave 0.25 - √(0.25² - 0.078²) = 0.0124 there
        (BALL, 0.013, set()),
        (BALL, 0.004, {"left uncut"}),
    ],
)
def test_the_floor_of_a_pocket(cutter, cusp, expected):
    work = job((POCKET,))
    work = replace(work, finish=replace(work.finish, cusp=cusp))
    found = prove(plan(work, floor=0.0, cutters=(cutter,)), pocket_table().text)
    assert names(found) == expected


@pytest.mark.parametrize("cutter", [HALF, ROUNDED])
def test_the_fillet_of_a_step(cutter):
    found = prove(plan(job((STEP,)), cutters=(cutter,)), step_table().text)
    assert found.findings == ()
    assert found.floor_stock.low == pytest.approx(0.01)
    assert found.floor_stock.high <= 0.01 + (0.0045 if cutter is ROUNDED else 1e-6)


def test_a_wall_lower_than_the_ball_comes_out_nowhere():
    """At the top of the work, 0.2 above its tip, the ball is √(0.25² - 0.05²) = 0.2449 wide."""
    work = job((replace(POCKET, floor=-0.2),))
    work = replace(work, finish=replace(work.finish, cusp=0.013))
    found = prove(plan(work, floor=0.0, cutters=(BALL,)), pocket_table(0.2).text)
    assert [each.name for each in found.findings] == ["left uncut"]
    assert found.left_uncut == pytest.approx(0.25 - 0.2449, abs=1e-4)


def test_the_way_back_over_what_a_ball_leaves_goes_through_metal():
    """Passes 0.12 apart leave scallops 0.0073 high, and halfway between them the way back runs."""
    found = prove(plan(job((STEP,)), cutters=(BALL,)), step_table().text)
    (first, *_) = [each for each in found.findings if each.name == "metal outside the cut"]
    # the first pass cuts free space on its left: from there on the scallop of the second is met
    assert first.text.startswith("a return row")
    flat = prove(plan(job((STEP,)), cutters=(ROUNDED,)), step_table().text)
    assert "metal outside the cut" not in names(flat)


def test_a_square_end_beside_a_rounded_one_has_no_fillet_to_leave():
    """With a square cutter meant for the pocket as well, its foot must come out sharp."""
    square = replace(HALF, id="square")
    work = job((POCKET,), cutters=("half", "square"))
    promise = plan(work, floor=0.0, cutters=(replace(ROUNDED, corner_radius=0.12), square))
    assert names(prove(promise, pocket_table().text)) == {"left uncut"}


@pytest.mark.parametrize("cutter", [HALF, ROUNDED, BALL])
def test_the_radius_at_a_height_turns_the_rise_round(cutter):
    corner = corner_of(cutter)
    heights = np.array([0.0, 0.3, 0.7, 1.0, 2.0]) * max(corner, 0.1)
    wide = radius_at(heights, 0.25, corner)
    assert rise(wide, 0.25, corner) == pytest.approx(np.minimum(heights, corner))
    assert wide[-1] == 0.25


def test_a_square_end_meets_the_fillet_a_rounded_one_left():
    """A rounded end has run along Y at X 1: what it cleared is narrower the nearer its tip."""
    met = Met(job((STEP,)).stock, (ROUNDED, HALF), 4, 0.0125)
    row = read_rows(step_table().text)[0]
    met.sweep(replace(row, start=(1.0, -1.0, -0.5), end=(1.0, 3.0, -0.5)), ROUNDED)
    beside = np.array([1.0, 1.185, 1.195, 1.24, 1.26])
    along = np.full(5, 1.0)
    # rises by .06 - √(.06² - t²) beyond the flat of .19
    assert met.by(HALF).heights(beside, along) == pytest.approx(
        [-0.5, -0.5, -0.499792, -0.473166, 0.0], abs=1e-5
    )
    assert met.by(ROUNDED).heights(beside, along) == pytest.approx([-0.5] * 4 + [0.0])
