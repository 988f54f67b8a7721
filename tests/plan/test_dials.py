"""Dial arithmetic against worked examples, and what a plan for dials promises."""

from dataclasses import replace

import pytest

from passplot.dials import Wheel, wheel_of
from passplot.records.shop import Dial, Machine


def wheel(lead: float, step: float = 0.001, backlash: float = 0.0, approach: int = 1) -> Wheel:
    """A wheel whose numbers rise while the cutter goes to plus, turned clockwise."""
    return Wheel("X", approach, lead, backlash, step, 1.0, 1, "cw")


def moved(one: Wheel, start: float, by: float) -> tuple[str, int, float]:
    """Crank, whole turns and reading of a movement that does not reverse."""
    sense = 1 if by > 0 else -1
    turn = one.turn(one.mark(start, sense), one.mark(start + by, sense), sense)
    return turn.crank, turn.turns, round(turn.reading, 6)


@pytest.mark.parametrize(
    ("lead", "start", "by", "turns", "reading"),
    [
        # leads from memory, common practice; the arithmetic is worked by hand
        (0.200, 0.0, 1.375, 6, 0.175),  # 6 turns of .200 and .175 more
        (0.200, 0.050, 0.730, 3, 0.180),  # 3 turns and .130: the dial ends at .180
        (0.100, 0.0, 0.1409, 1, 0.041),  # a keyseat's depth, read to the nearest line
        (5.0, 0.0, 37.3, 7, 2.30),
        (2.5, 0.0, 37.3, 14, 2.30),
    ],
)
def test_whole_turns_and_reading(
    lead: float, start: float, by: float, turns: int, reading: float
) -> None:
    step = 0.001 if lead < 1 else 0.02
    assert moved(wheel(lead, step), start, by) == ("cw", turns, pytest.approx(reading))


def test_a_screw_of_40_threads_to_the_inch_gives_25_thousandths_a_turn() -> None:
    # Navy manual 14001, reading a micrometer: 40 threads to the inch, 25 lines to a turn, so that a
    # turn is .025 and a line .001 in; .700 on the sleeve and 12 on the thimble are .712
    mark = wheel(1 / 40).mark(0.712, 1)
    assert (mark.turns, round(mark.reading, 6)) == (28, 0.012)


def test_20_threads_to_the_inch_are_1_27_mm_a_turn() -> None:
    # identity of a lead screw of 20 threads to the inch: .050 in = 1.27 mm a turn
    turn = moved(wheel(1.27, 0.01), 0.0, 12.7)
    assert turn == ("cw", 10, 0.0)


def test_a_reversal_loses_the_backlash() -> None:
    one = wheel(0.200, backlash=0.008)
    there, back = one.mark(0.500, 1), one.mark(0.300, -1)
    assert round(there.reading, 6) == 0.100
    assert round(back.reading, 6) == 0.092  # .300 less the .008 that the nut lags
    turn = one.turn(there, back, -1)
    travel = turn.turns * 0.200 + (there.reading - back.reading) % 0.200
    assert travel == pytest.approx(0.208)


def test_the_approach_direction_decides_which_way_the_play_lies() -> None:
    minus = wheel(0.200, backlash=0.008, approach=-1)
    assert round(minus.mark(0.300, -1).reading, 6) == 0.100
    assert round(minus.mark(0.300, 1).reading, 6) == 0.108


@pytest.mark.parametrize(
    ("axis", "clockwise", "numbers_rise", "sense", "crank"),
    [
        # the table goes the other way than the cutter (ISO 841)
        ("X", "table left", "clockwise", 1, "cw"),
        ("X", "table right", "clockwise", 1, "ccw"),
        ("Y", "table in", "clockwise", 1, "ccw"),
        ("Y", "table out", "counter-clockwise", 1, "cw"),
        ("Z", "knee up", "clockwise", -1, "cw"),
        ("Z", "knee down", "clockwise", -1, "ccw"),
    ],
)
def test_which_way_to_turn(
    axis: str, clockwise: str, numbers_rise: str, sense: int, crank: str
) -> None:
    dial = Dial(0.2, 0.001, 0.0, clockwise, numbers_rise=numbers_rise)
    one = wheel_of(machine(axis, dial), axis, 1)
    assert one is not None
    turn = one.turn(one.mark(1.0, sense), one.mark(1.0 + 0.05 * sense, sense), sense)
    assert turn.crank == crank
    rising = "cw" if numbers_rise == "clockwise" else "ccw"
    assert turn.reading == pytest.approx(0.05 if crank == rising else 0.15)


def test_an_inch_dial_reads_inches_in_a_metric_job() -> None:
    inch = replace(machine("X", Dial(5.08, 0.0254, 0.0, "table left")), dial_scale=25.4)
    one = wheel_of(inch, "X", 1)
    assert one is not None
    assert (one.lead, one.step) == (0.2, 0.001)
    mark = one.mark(25.4 * 0.4373, 1)
    assert (mark.turns, round(mark.reading, 6)) == (2, 0.037)


def test_half_a_line_is_read_where_the_shop_says_so() -> None:
    dial = Dial(0.2, 0.001, 0.0, "table left")
    fine = wheel_of(replace(machine("X", dial), half_graduations=True), "X", 1)
    assert fine is not None
    assert round(fine.mark(0.1234, 1).reading, 6) == 0.1235


def machine(axis: str, dial: Dial) -> Machine:
    """A machine with one dial."""
    return Machine(
        name="mill",
        spindle_speeds=(500.0,),
        stepless=False,
        power_hp=None,
        travel=None,
        clockwise=True,
        edge_finder=None,
        readout="dials",
        resolution=0.001,
        dials=((axis, dial),),
    )
