"""Patterns of holes: order, corners of the way, keep-outs, limits; worked bolt circles."""

from dataclasses import replace
from itertools import permutations
from math import cos, radians, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from passplot.errors import CannotCut
from passplot.plan import make_plan
from passplot.plan.tour import EXACT, cranked, shortest_order
from passplot.proof import prove
from passplot.records.job import Feature, HolePattern, Job, KeepOut
from passplot.records.plan import HOLES, POSITION, Plan
from passplot.records.shapes import Point, rectangle
from passplot.sheet.tables import moves_table
from passplot.write.tables import csv_text

from .blocks import HALF_INCH, Rules, feature, job

places = st.tuples(st.integers(-40, 40), st.integers(-40, 40))


@given(start=places, stops=st.lists(places, min_size=1, max_size=5))
@settings(deadline=None, max_examples=60)
def test_few_holes_come_in_the_shortest_order_of_all(start, stops):
    found = shortest_order(start, stops)
    orders = permutations(range(len(stops)))
    # of equally short orders the one nearest the print's
    assert found == min(orders, key=lambda one: (cranked(start, [stops[i] for i in one]), one))


@given(start=places, stops=st.lists(places, min_size=EXACT + 1, max_size=40))
@settings(deadline=None, max_examples=30)
def test_many_holes_never_take_more_than_the_order_of_the_print(start, stops):
    found = shortest_order(start, stops)
    assert sorted(found) == list(range(len(stops)))
    assert cranked(start, [stops[i] for i in found]) <= cranked(start, stops)


def test_a_row_keeps_the_order_of_the_print_and_a_grid_goes_to_and_fro():
    row = [(10 * place, 0) for place in range(12)]
    assert shortest_order((-5, -5), row) == tuple(range(12))
    grid = [(10 * x, 10 * y) for y in range(5) for x in range(6)]
    # from outside the corner: in to the first hole, then 29 steps of one pitch
    assert cranked((-5, -5), [grid[i] for i in shortest_order((-5, -5), grid)]) == 10 + 29 * 10


# --- whole plans -----------------------------------------------------------------------------


def pattern(points, **extra) -> Feature:
    spots = tuple(Point(*point) for point in points)
    return replace(feature("holes", "holes", 0.5, []), pattern=HolePattern(spots, **extra))


def planned(work: Job) -> Plan:
    work = replace(work, stock=replace(work.stock, top=0.0, raw_top=0.0))
    return make_plan(work, Rules(), (HALF_INCH,))


def proven(plan: Plan) -> Plan:
    proof = prove(plan, csv_text(moves_table(plan)))
    assert proof.findings == ()
    return plan


def circle(count: int, radius: float, start: float, center=(0.0, 0.0)):
    turns = [radians(start + 360 / count * hole) for hole in range(count)]
    return [(center[0] + radius * cos(t), center[1] + radius * sin(t)) for t in turns]


def test_six_holes_on_5_50_come_out_as_worked():
    # algebra.com, question 113033 (problem and polar form; the decimals are arithmetic)
    worked = {
        (0, 5.5), (4.7631, 2.75), (4.7631, -2.75), (0, -5.5), (-4.7631, -2.75), (-4.7631, 2.75),
    }  # fmt: skip
    work = job(pattern(circle(6, 5.5, 90)), size=(14.0, 14.0, 1.0))
    stock = replace(work.stock, x=(-7, 7), y=(-7, 7))
    machine = replace(work.shop.machine, travel=None)
    shop = replace(work.shop, machine=machine)
    plan = proven(planned(replace(work, stock=stock, shop=shop)))
    (use,) = plan.patterns
    assert sorted(hole.printed for hole in use.holes) == [1, 2, 3, 4, 5, 6]
    for hole in use.holes:
        near = min(worked, key=lambda spot: abs(spot[0] - hole.at.x) + abs(spot[1] - hole.at.y))
        # half a step of the readout, and half a digit of the worked number
        assert abs(near[0] - hole.at.x) <= 0.00025 + 0.00005 + 1e-9
        assert abs(near[1] - hole.at.y) <= 0.00025 + 0.00005 + 1e-9
        row = plan.moves[hole.row - 1]
        assert (row.x, row.y, row.stage) == (hole.at.x, hole.at.y, HOLES)


@given(count=st.integers(1, 14), start=st.floats(-180, 180), radius=st.floats(0.1, 2.5))
@settings(deadline=None, max_examples=15)
def test_every_hole_is_the_end_of_just_one_row(count, start, radius):
    plan = proven(planned(job(pattern(circle(count, radius, start, (3, 3))), size=(6.0, 6.0, 1.0))))
    ends = [(move.x, move.y) for move in plan.moves]
    for hole in plan.patterns[0].holes:
        assert ends.count((hole.at.x, hole.at.y)) == 1
    assert all(move.move == POSITION for move in plan.moves)
    assert plan.patterns[0].cranked <= plan.patterns[0].as_printed + 1e-9


def test_a_way_turns_round_no_other_hole():
    # a square and its middle: from the last corner to the middle of a cross, both corners are holes
    spots = [(x, y) for x in (1, 2, 3) for y in (1, 2, 3)]
    plan = proven(planned(job(pattern(spots), size=(4.0, 4.0, 1.0))))
    ends = [(move.x, move.y) for move in plan.moves]
    assert all(ends.count(spot) == 1 for spot in spots)


def test_holes_come_after_the_cuts_of_their_cutter_and_before_the_next():
    step = feature("step", "step", 0.2, [rectangle(0, 1, 0, 4)])
    holes = replace(pattern([(2, 2), (3, 3)]), cutters=("half",))
    plan = proven(planned(job(step, holes, size=(4.0, 4.0, 1.0))))
    assert [move.stage for move in plan.moves[-3:]] == [HOLES] * 3
    assert plan.moves[-1].cutter == "half"
    assert [move.row for move in plan.moves] == list(range(1, len(plan.moves) + 1))


def clamp(x, y, top: float) -> KeepOut:
    return KeepOut("clamp", rectangle(*x, *y), top)


def test_a_clamp_on_the_way_is_crossed_above_its_top():
    bar = clamp((1.8, 2.2), (-9, 9), 0.8)
    plan = proven(planned(job(pattern([(1, 1), (3, 1)]), size=(4.0, 2.0, 1.0), keep_outs=(bar,))))
    over = [move for move in plan.moves if move.axis == "X" and move.x == 3]
    assert [move.z for move in over] == [0.9]
    assert plan.moves[-1].z == plan.cross_over_z


def test_a_hole_under_a_clamp_is_refused():
    bar = clamp((2.8, 3.2), (0.5, 1.5), 0.8)
    with pytest.raises(CannotCut, match=r"keep-out clamp stands in the way of hole 2"):
        planned(job(pattern([(1, 1), (3, 1)]), size=(4.0, 2.0, 1.0), keep_outs=(bar,)))


def test_a_hole_that_the_readout_cannot_set_within_its_limits_is_refused():
    with pytest.raises(CannotCut, match=r"may be 0\.0001 off.*a finer readout"):
        planned(job(pattern([(1.00024, 1)], room=0.0001), size=(4.0, 2.0, 1.0)))


def test_holes_that_come_to_one_reading_are_refused():
    with pytest.raises(CannotCut, match="same reading as hole 1"):
        planned(job(pattern([(1.0, 1), (1.0002, 1)]), size=(4.0, 2.0, 1.0)))
