"""Which side the metal lies on: the vector rule, corners, slots and the laws of mirrors.

The direction table (derived from the definitions of up and down milling, DORMER p. 208, Carvill
p. 182): round an outside profile counter-clockwise and inside a pocket clockwise is conventional
with a right-hand cutter turning clockwise seen from above.
"""

from dataclasses import replace

import numpy as np
import pytest

from passplot.proof import prove
from passplot.proof.case import case_of
from passplot.proof.field import Field
from passplot.proof.replay import replay
from passplot.proof.rows import read_rows
from passplot.records.shapes import rectangle
from passplot.records.shop import Shop

from .hand import HALF, STEP, Table, feature, job, machine, names, plan, pocket_table, step_table

OUTSIDE = feature(
    "stop", "boss", -0.25, (rectangle(-1, 4, -1, 3),), (rectangle(0.1, 2.9, 0.1, 1.9),)
)
CORNERS = {"ccw": "front right back left", "cw": "left back right front"}


def round_the_outside(turn: str) -> Table:
    """Once round a boss whose walls stand 0.1 inside the block."""
    table = Table("stop")
    table.start(-0.5, -0.5, 0.1).go("position", z=-0.25)
    if turn == "ccw":
        table.go("position", y=-0.15)
        table.cut(0.1, 0.25, x=3.15).cut(0.1, 0.25, y=2.15)
        table.cut(0.1, 0.25, x=-0.15).cut(0.1, 0.25, y=-0.5)
    else:
        table.go("position", x=-0.15)
        table.cut(0.1, 0.25, y=2.15).cut(0.1, 0.25, x=3.15)
        table.cut(0.1, 0.25, y=-0.15).cut(0.1, 0.25, x=-0.5)
    return table.go("retract", z=0.1)


def vector_rule(turn: str) -> bool:
    """Conventional if the tooth moves against the work where it cuts.

    omega is -z for clockwise from above; the work lies on the left of a counter-clockwise path.
    """
    travel = np.array([0.0, 1.0, 0.0])
    to_work = np.array([-1.0, 0.0, 0.0]) if turn == "ccw" else np.array([1.0, 0.0, 0.0])
    tooth = np.cross([0.0, 0.0, -1.0], to_work)
    return bool(tooth @ -travel < 0)


@pytest.mark.parametrize("turn", ["ccw", "cw"])
def test_round_an_outside_profile(turn):
    found = prove(plan(job((OUTSIDE,)), wall=0.0, floor=0.0), round_the_outside(turn).text)
    conventional = vector_rule(turn)
    assert conventional == (turn == "ccw")
    assert names(found) == (set() if conventional else {"direction"})
    assert found.conventional_share == pytest.approx(1.0 if conventional else 0.0, abs=1e-6)
    assert found.both_ways_length == 0.0


@pytest.mark.parametrize(
    ("short", "found"), [(0.018, {"direction"}), (0.008, {"direction"}), (0.003, set())]
)
def test_a_climb_shorter_than_the_cells_of_the_map_is_found(short, found):
    # the cutter touches the corner (3, 0), 0.15 beside its line, with its axis 0.2 short of it
    table = Table("stop")
    table.start(-0.5, -0.5, 0.1).go("position", x=3.3).go("position", y=-0.15)
    table.go("position", z=-0.25).cut(0.1, 0.25, x=round(3.2 - short, 4))
    table.go("retract", z=0.1).go("position", x=-0.5).go("position", z=-0.25)
    table.cut(0.1, 0.25, x=3.15).cut(0.1, 0.25, y=2.15)
    table.cut(0.1, 0.25, x=-0.15).cut(0.1, 0.25, y=-0.5).go("retract", z=0.1)
    proof = prove(plan(job((OUTSIDE,)), wall=0.0, floor=0.0), table.text)
    assert names(proof) == found
    assert proof.climb_length == pytest.approx(short, abs=proof.cell / 4)


def test_climb_asked_for_or_a_left_hand_spindle_wants_the_other_side():
    table = round_the_outside("cw").text
    climb = job((OUTSIDE,), climb=True)
    assert prove(plan(climb, wall=0.0, floor=0.0), table).good
    left_hand = job((OUTSIDE,), shop=Shop("shop.toml", machine(clockwise=False), (HALF,)))
    assert prove(plan(left_hand, wall=0.0, floor=0.0), table).good
    both = replace(left_hand, climb=True)
    assert names(prove(plan(both, wall=0.0, floor=0.0), table)) == {"direction"}


def test_inside_a_pocket_counter_clockwise_is_climb():
    # mirrored in the line x = 1.5 the clockwise rings run counter-clockwise
    table = pocket_table()
    for row in table.rows:
        row["x"] = str(round(3.0 - float(row["x"]), 4))
    tray = feature("tray", "pocket", -0.25, (rectangle(0.5, 2.5, 0.5, 1.5),))
    promise = plan(job((tray,)), floor=0.0)
    found = prove(promise, table.text)
    assert names(found) == {"direction"}
    mirrored = prove(replace(promise, job=replace(promise.job, climb=True)), table.text)
    assert mirrored.good
    assert mirrored.conventional_share == pytest.approx(
        prove(promise, pocket_table().text).conventional_share, abs=0.01
    )


def test_a_slot_cuts_both_ways_and_has_no_direction():
    slot = feature("groove", "slot", -0.25, (rectangle(-1, 4, 0.75, 1.25),))
    table = Table("groove")
    table.start(-0.3, 1.0, 0.1).go("position", z=-0.25)
    # from first touch at x = 0, a radius ahead, until the flank leaves at x = 3
    table.cut(0.5, 0.25, both=3.25, x=3.3).go("retract", z=0.1)
    found = prove(plan(job((slot,)), wall=0.0, floor=0.0), table.text)
    assert found.findings == ()
    assert found.both_ways_length == pytest.approx(3.25, abs=0.005)
    assert found.conventional_share == 0.0
    assert found.max_width_of_cut == 0.0


def test_metal_close_to_the_line_of_feed_has_no_side():
    """A pass half the cutter wide and a hair: within 0.01 D of the line nothing counts."""
    for past, both in ((0.004, 0.0), (0.02, 2.0)):
        ledge = feature("ledge", "step", -0.25, (rectangle(-1.0, 0.25 + past, -1.0, 3.0),))
        table = Table("ledge")
        table.start(past, 2.3, 0.1).go("position", z=-0.25)
        table.cut(0.25 + past, 0.25, both=both, y=-0.3).go("retract", z=0.1)
        found = prove(plan(job((ledge,)), wall=0.0, floor=0.0, width_limit=0.3), table.text)
        assert found.findings == ()
        assert found.both_ways_length == pytest.approx(both, abs=0.03)


NOOK = feature("nook", "pocket", -0.25, (rectangle(-1, 2, -1, 0.54),))


def into_the_corner() -> Table:
    """Passes along X that stop at a wall across their way, from the open front edge inward.

    Five of 0.1 and two of 0.02. Their round ends leave cusps of 0.25 - √(0.25² - 0.05²) = 0.0051 on
    that wall, which a pass along it takes off.
    """
    table = Table("nook")
    table.start(-0.3, -0.15, 0.1).go("position", z=-0.25)
    y = -0.25
    for number, width in enumerate([0.1] * 5 + [0.02] * 2, start=1):
        y = round(y + width, 4)
        if number > 1:
            table.go("position", y=y)
        table.cut(width, 0.25, x=1.75)
        if number < 7:
            table.go("return", x=1.7).go("return", y=round(y - 0.06, 4)).go("return", x=-0.3)
    return table.cut(0.006, 0.25, y=-0.3).go("retract", z=0.1)


def test_the_run_into_a_corner_is_no_wide_pass():
    """Where a pass stops at a wall its width grows by itself up to the full front."""
    found = prove(plan(job((NOOK,)), wall=0.0, floor=0.0), into_the_corner().text)
    assert found.findings == ()
    assert found.max_width_of_cut == pytest.approx(0.1, abs=1e-6)
    assert found.climb_length == 0.0
    # the bites themselves are a cell or two long
    assert found.both_ways_length < 14 * found.cell


def test_cusps_on_a_wall_across_the_passes_are_found():
    table = into_the_corner()
    del table.rows[-2]
    table.rows[-1].update(row=str(len(table.rows)), y="0.29")
    found = prove(plan(job((NOOK,)), wall=0.0, floor=0.0), table.text)
    assert names(found) == {"left uncut"}
    assert found.left_uncut == pytest.approx(0.0051, abs=2e-4)


@pytest.mark.parametrize(("passes_done", "expected"), [(1, set()), (3, {"metal outside the cut"})])
def test_moving_off_sideways_touches_the_cusps(passes_done, expected):
    """After the first pass there is no cusp yet; later ones stand between it and the one before."""
    table = into_the_corner()
    back = [row for row in table.rows if row["x"] == "1.7" and row["axis"] == "X"][passes_done - 1]
    sideways = table.rows[int(back["row"])]
    sideways["x"] = "1.75"
    table.rows.remove(back)
    for number, row in enumerate(table.rows, start=1):
        row["row"] = str(number)
    assert names(prove(plan(job((NOOK,)), wall=0.0, floor=0.0), table.text)) == expected


def heights(field: Field) -> list[str]:
    """The map from above, back row first; digits are tenths of depth."""
    signs = np.where(field.height >= 0, 0, np.round(-field.height * 10)).astype(int)
    return ["".join("#" if n == 0 else str(n) for n in row) for row in signs.T[::-1]]


def test_the_map_after_a_slot_and_a_plunge():
    """A half-inch cutter on a block 2 x 1, seen on cells of an eighth: middles 1/16 from edges.

    Rows 1/16 and 3/16 from the line: the cutter covers √(0.25² - 0.0625²) = 0.242 and 0.165 past
    the slot's end at x = 1, and as much to either side of the plunge at x = 1.5.
    """
    area = feature("any", "pocket", -0.4, (rectangle(-1, 3, -1, 2),))
    work = job((area,), size=(2.0, 1.0, 1.0))
    table = Table("any")
    table.start(-0.3, 0.5, 0.1).go("position", z=-0.2).cut(x=1.0)
    table.go("retract", z=0.1).go("position", x=1.5).plunge(-0.4)
    field = Field(work.stock, 0.125 * 40)
    replay(case_of(plan(work)), read_rows(table.text), field)
    assert heights(field) == [
        "################",
        "################",
        "222222222##44###",
        "22222222224444##",
        "22222222224444##",
        "222222222##44###",
        "################",
        "################",
    ]


def test_a_scaled_plan_has_scaled_measures():
    """The same rows in millimetres: lengths 25.4-fold, the same share, nothing found."""
    inch = prove(plan(job((STEP,))), step_table().text)
    table = step_table()
    for row in table.rows:
        for key in ("x", "y", "z", "both_ways", "width_of_cut", "depth_of_cut", "feed"):
            if row.get(key):
                row[key] = str(round(float(row[key]) * 25.4, 5))
    metric_cutter = replace(HALF, diameter=12.7, flute_length=31.75)
    step = feature("left shoulder", "step", -12.7, (rectangle(-25.4, 19.05, -25.4, 76.2),))
    shop = Shop("shop.toml", machine(resolution=0.0127), (metric_cutter,))
    work = job((step,), size=(76.2, 50.8, 38.1), units="mm", shop=shop)
    promise = replace(
        plan(
            work,
            wall=0.762,
            floor=0.254,
            cutters=(metric_cutter,),
            width_limit=3.175,
            depth_limit=12.7,
            slot_depth_limit=6.35,
        ),
        cross_over_z=2.54,
        stand_off=1.27,
    )
    metric = prove(promise, table.text)
    assert metric.findings == ()
    assert metric.cutting_length == pytest.approx(25.4 * inch.cutting_length, rel=1e-3)
    assert metric.both_ways_length == pytest.approx(25.4 * inch.both_ways_length, rel=1e-3)
    assert metric.conventional_share == pytest.approx(inch.conventional_share, rel=1e-3)
    assert metric.cell == pytest.approx(25.4 * inch.cell)
