"""Arcs on a rotary table: settings, angles and directions against arithmetic."""

from itertools import pairwise
from math import atan2, cos, degrees, hypot, radians, sin

import pytest

from passplot.records.plan import Plan, Turn
from tests.rotary_jobs import ALL, BORE, END, HUB, SCOOP, SLOT, TRAY, planned


def turns(plan: Plan) -> list[Turn]:
    return [each.turn for each in plan.passes if each.turn is not None]


def test_a_bore_is_turned_once_round_a_cut_at_the_cutters_radius_from_its_wall():
    rough, first, last = turns(planned(BORE))
    for turn, stock in ((rough, 0.02), (first, 0.01), (last, 0.0)):
        assert (turn.center.x, turn.center.y) == (1, 1)
        assert (turn.setting.x, turn.setting.y) == pytest.approx((1 + 0.7 - 0.25 - stock, 1))
        # inside a hole the metal is on the left of a cutter that goes clockwise
        assert turn.swing == -360


def test_a_hub_is_turned_round_counter_clockwise_outside_it():
    last = turns(planned(HUB))[-1]
    assert last.radius == pytest.approx(0.6 + 0.25)
    assert last.swing == 360


def test_a_bulging_end_is_turned_from_where_one_straight_wall_ends_to_the_next():
    for turn in turns(planned(END)):
        assert (turn.start % 360, turn.end % 360) == pytest.approx((270, 90))
        assert turn.swing == pytest.approx(180)


def test_a_hollow_is_come_to_in_air_and_left_at_its_end():
    # the half circle is open at the back: clockwise from 0 to 180 degrees through the front
    for turn in turns(planned(SCOOP)):
        assert 0 <= turn.start % 360 < 60
        assert turn.end % 360 == pytest.approx(180)
        assert -240 < turn.swing <= -180


def test_every_corner_of_a_tray_is_centered_once_to_rough_and_once_to_finish():
    centers = [(turn.center.x, turn.center.y) for turn in turns(planned(TRAY))]
    runs = [a for a, b in pairwise([*centers, None]) if a != b]
    assert len(runs) == 8
    assert set(runs) == {(0.8, 0.8), (0.8, 1.2), (1.2, 0.8), (1.2, 1.2)}


@pytest.mark.parametrize("name", ALL)
def test_angles_are_whole_minutes_within_the_wall(name):
    for turn in turns(planned(ALL[name])):
        for angle in (turn.start, turn.end):
            assert angle * 60 == pytest.approx(round(angle * 60), abs=1e-6)


@pytest.mark.parametrize("name", ALL)
def test_x_and_y_are_moved_only_with_the_table_at_zero(name):
    angle, spot, z = 0.0, (0.0, 0.0), 0.0
    for move in planned(ALL[name]).moves:
        if move.axis == "C":
            assert move.angle is not None
            assert move.z == z
            angle = move.angle
        elif move.axis in ("X", "Y"):
            assert angle % 360 == 0
        elif move.axis == "Z":
            assert (move.x, move.y) == spot
        spot, z = (move.x, move.y), move.z
    assert angle % 360 == 0


@pytest.mark.parametrize("name", ALL)
def test_a_row_of_the_table_ends_where_its_angle_says(name):
    for each in planned(ALL[name]).passes:
        if each.turn is not None:
            turn = each.turn
            x = turn.center.x + turn.radius * cos(radians(turn.end))
            y = turn.center.y + turn.radius * sin(radians(turn.end))
            assert (each.end.x, each.end.y) == pytest.approx((x, y), abs=0.00025 + 1e-9)


@pytest.mark.parametrize("reverse", [False, True])
@pytest.mark.parametrize("climb", [False, True])
@pytest.mark.parametrize("name", ["bore", "hub", "end", "slot"])
def test_the_teeth_meet_the_work_as_asked_for_all_along_an_arc(name, climb, reverse):
    """The vector test: at the metal, tooth velocity against the work's is conventional.

    Tooth velocity is omega x r, omega down for a spindle clockwise from above; the work moves
    against the cutter's way.
    """
    plan = planned(ALL[name], climb=climb, reverse=reverse)
    bulges = name in ("hub", "end")
    for turn in turns(plan):
        for share in (0.05, 0.5, 0.95):
            angle = radians(turn.start + share * turn.swing)
            sign = 1 if turn.swing > 0 else -1
            work = (sign * sin(angle), -sign * cos(angle))
            # from the cutter's axis to the metal: to the centre round a bulge, else away from it
            out = -1 if bulges else 1
            rx, ry = out * cos(angle), out * sin(angle)
            omega = 1 if reverse else -1
            tooth = (-omega * ry, omega * rx)
            dot = tooth[0] * work[0] + tooth[1] * work[1]
            assert (dot > 0) == climb
            assert abs(dot) == pytest.approx(1)


def test_the_radius_of_a_center_off_the_readout_counts_from_what_it_shows():
    off = BORE.replace("[1, 1]", "[1.0002, 0.9999]")
    for turn, stock in zip(turns(planned(off)), (0.02, 0.01, 0.0), strict=True):
        shown = round(turn.center.x / 0.0005) * 0.0005
        assert (turn.reading.x, turn.reading.y) == pytest.approx((1, 1))
        assert turn.setting.y == turn.reading.y
        room = 0.7 - 0.25 - stock
        assert turn.setting.x - shown <= room + 1e-9
        assert room - 0.001 <= turn.radius <= room + 1e-9


def test_a_millimetre_bore_is_set_to_the_readouts_step():
    plan = planned('kind = "bore"\ncenter = [25, 25]\ndiameter = 35', units="mm")
    last = turns(plan)[-1]
    assert last.setting.x == pytest.approx(25 + 17.5 - 6.35, abs=0.01)
    assert last.setting.x <= 25 + 17.5 - 6.35


def test_a_corner_of_the_cutters_own_radius_has_nothing_to_turn():
    plan = planned(TRAY.replace("corner_radius = 0.5", "corner_radius = 0.25"))
    assert turns(plan) == []


def test_an_arc_is_cut_from_where_its_cutter_stands_to_its_end():
    for each in planned(SLOT).passes:
        if each.turn is not None:
            off = (each.start.x - each.turn.center.x, each.start.y - each.turn.center.y)
            assert hypot(*off) == pytest.approx(each.turn.radius, abs=0.0005)
            angle = degrees(atan2(off[1], off[0]))
            assert (angle - each.turn.start) % 360 == pytest.approx(0, abs=0.2) or (
                angle - each.turn.start
            ) % 360 == pytest.approx(360, abs=0.2)
