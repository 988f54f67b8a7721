"""Tolerances, stock left for good, faces, keep-outs over the work and second cutters."""

from dataclasses import replace

import pytest

from passplot.proof import prove
from passplot.records.job import KeepOut, WallLimit
from passplot.records.shapes import rectangle
from passplot.records.sizes import Size, exact

from .hand import (
    HALF,
    POCKET,
    STEP,
    Table,
    feature,
    job,
    names,
    plan,
    pocket_table,
    spoiled,
    step_table,
)

QUARTER = replace(HALF, id="quarter", diameter=0.25)


def moved_wall(x: float) -> str:
    """The step's table with its last skim at ``x`` instead of 0.5."""

    def spoil(rows: list[dict[str, str]]) -> None:
        for row in rows[35:]:
            row["x"] = str(x)
        rows[36]["width_of_cut"] = str(round(x - 0.485, 4))

    return spoiled(step_table(), spoil)


BOUNDED = replace(STEP, limits=(WallLimit("x", 0.75, 0.749, 0.752, "0.749 to 0.752"),))


@pytest.mark.parametrize(
    ("x", "expected"),
    [
        (0.5, set()),
        (0.502, set()),
        (0.5025, {"gouge"}),
        (0.499, set()),
        (0.4985, {"left uncut"}),
    ],
)
def test_a_wall_may_stand_anywhere_within_its_limits(x, expected):
    assert names(prove(plan(job((BOUNDED,))), moved_wall(x))) == expected


def test_a_wall_without_limits_may_keep_a_step_of_the_readout():
    assert prove(plan(job((STEP,))), moved_wall(0.4995)).good
    assert prove(plan(job((STEP,))), moved_wall(0.4995)).left_uncut == pytest.approx(0.0005)
    assert names(prove(plan(job((STEP,))), moved_wall(0.499))) == {"left uncut"}
    assert names(prove(plan(job((STEP,))), moved_wall(0.5005))) == {"gouge"}


def moved_floor(z: float) -> str:
    """The step's table with everything finished at ``z`` instead of -0.5."""

    def spoil(rows: list[dict[str, str]]) -> None:
        for row in rows[26:38]:
            row["z"] = str(z)
            if "depth_of_cut" in row:
                row["depth_of_cut"] = str(round(float(row["depth_of_cut"]) - 0.5 - z, 4))

    return spoiled(step_table(), spoil)


@pytest.mark.parametrize(
    ("z", "expected"),
    [(-0.503, set()), (-0.5035, {"gouge"}), (-0.497, set()), (-0.4965, {"left uncut"})],
)
def test_a_floor_may_stand_anywhere_within_its_limits(z, expected):
    deep = replace(STEP, depth=Size(0.5, 0.497, 0.503, "0.500 ±0.003", toleranced=True))
    assert names(prove(plan(job((deep,)), depth_limit=0.51), moved_floor(z))) == expected


def test_stock_left_for_good_is_not_left_uncut():
    rough_only = step_table()
    rough_only.rows = rough_only.rows[:25]
    rough_only.at[2] = -0.49
    rough_only.go("retract", z=0.1)
    kept = job((STEP,))
    kept = replace(kept, finish=replace(kept.finish, skims=0, floor_skims=0))
    for row in rough_only.rows[25:]:
        row.update(x="0.41", y="2.3", stage="rough")
    found = prove(plan(kept), rough_only.text)
    assert found.findings == ()
    assert found.left_uncut == pytest.approx(0.0, abs=1e-9)
    # with skims asked for, the same rows leave the stock on
    asked = prove(plan(job((STEP,))), rough_only.text)
    assert names(asked) == {"left uncut"}
    assert asked.left_uncut == pytest.approx(0.03)


FACE = feature("top", "face", 0.0, (rectangle(-1, 4, -1, 3),))


def face_table(step: float) -> Table:
    """A raw top 0.05 high swept along X in passes ``step`` wide, front to back."""
    table = Table("top")
    table.start(-0.3, round(step - 0.25, 4), 0.15).go("position", z=0.0)
    # metal behind the line of feed: on the left going right
    right = round(step - 0.25, 4)
    y = right
    while True:
        both = 3.0 + 0.25 - (0.0625 - right**2) ** 0.5 if right > 0 else 0.0
        table.cut(step, 0.05, both=round(both, 4), x=3.3)
        table.go("retract", z=0.15).go("position", x=-0.3)
        if y + 0.25 >= 2.0:
            break
        y = round(y + step, 4)
        table.go("position", y=y).go("position", z=0.0)
    return table


@pytest.mark.parametrize(
    ("step", "expected"), [(0.36, set()), (0.2, set()), (0.4, {"width of cut"})]
)
def test_a_face_may_be_cut_three_quarters_wide(step, expected):
    work = job((FACE,), raw=0.05)
    found = prove(plan(work, wall=0.0, floor=0.0), face_table(step).text)
    assert names(found) == expected
    assert found.max_depth_of_cut == pytest.approx(0.05)
    assert found.floor_both_ways_length == found.both_ways_length


def test_a_face_left_out_in_part_is_left_uncut():
    table = face_table(0.36)
    table.rows = table.rows[:13]
    found = prove(plan(job((FACE,), raw=0.05), wall=0.0, floor=0.0), table.text)
    assert names(found) == {"left uncut"}
    assert found.left_uncut == pytest.approx(0.05)


def test_the_corners_of_a_pocket_belong_to_the_smallest_cutter_meant_for_it():
    both = (HALF, QUARTER)
    alone = plan(job((POCKET,)), floor=0.0, cutters=both)
    assert prove(alone, pocket_table().text).good
    meant = plan(job((POCKET,), cutters=("half", "quarter")), floor=0.0, cutters=both)
    found = prove(meant, pocket_table().text)
    assert names(found) == {"left uncut"}
    # the half-inch cutter's corner comes to 0.25 - 0.25 / √2 = 0.0732 from both walls
    assert found.left_uncut == pytest.approx(0.0732, abs=found.cell)


def test_a_later_cutter_starts_where_the_last_stopped():
    table = pocket_table()
    table.cutter = "quarter"
    table.start(2.0, 1.25, 0.1)
    both = plan(job((POCKET,)), floor=0.0, cutters=(HALF, QUARTER))
    assert prove(both, table.text).good
    table.rows[-1]["x"] = "2.1"
    assert names(prove(both, table.text)) == {"first row"}


def test_metal_under_a_clamp_cannot_be_reached():
    """What a cutter cannot get at for a keep-out is no metal left behind."""
    table = Table("left shoulder")
    table.start(0.5, 2.3, 0.1).go("position", z=-0.5)
    table.cut(0.5, 0.5, both=0.9, y=1.4).go("retract", z=0.1)
    clamp = KeepOut("strap", rectangle(-1.0, 0.75, -1.0, 1.1), 0.5)
    narrow = replace(STEP, area=(rectangle(0.25, 0.75, -1.0, 3.0),))
    open_depth = {"width_limit": 0.5, "slot_depth_limit": 0.5}
    clamped = plan(job((narrow,), keep_outs=(clamp,)), wall=0.0, floor=0.0, **open_depth)
    found = prove(clamped, table.text)
    assert "left uncut" in names(found)  # to 1.35 it could have gone
    short = replace(clamp, loop=rectangle(-1.0, 0.75, -1.0, 1.15))
    reached = prove(replace(clamped, job=replace(clamped.job, keep_outs=(short,))), table.text)
    assert names(reached) == set()


@pytest.mark.parametrize(("opened", "expected"), [(True, set()), (False, {"flute length"})])
def test_flutes_count_from_the_metal_beside_the_cutter(opened, expected):
    """Where a wide groove has lowered the metal, half-inch flutes cut a slot 0.9 deep."""
    wide = feature("wide", "slot", -0.5, (rectangle(-1, 4, 0.5, 1.5),))
    deep = feature("deep", "slot", -0.9, (rectangle(-1, 4, 0.75, 1.25),))
    table = Table("wide")
    table.start(-0.3, 0.75, 0.1).go("position", z=-0.5).cut(0, 0.5, both=3.25, x=3.3)
    table.go("position", y=1.25).cut(0, 0.5, both=3.25, x=-0.3)
    if not opened:
        table = Table("deep").start(-0.3, 1.25, 0.1).go("position", z=-0.5)
    table.feature = "deep"
    table.go("position", y=1.0).go("position", z=-0.9)
    table.cut(0, 0.4 if opened else 0.9, both=3.25, x=3.3).go("retract", z=0.1)
    features = (wide, deep) if opened else (deep,)
    short = replace(HALF, flute_length=0.5)
    promise = plan(job(features), wall=0.0, floor=0.0, cutters=(short,), slot_depth_limit=1.0)
    assert names(prove(promise, table.text)) == expected


def test_an_untoleranced_depth_is_exact():
    assert exact(0.5).low == exact(0.5).high == 0.5
    assert names(prove(plan(job((STEP,)), depth_limit=0.51), moved_floor(-0.5005))) == {"gouge"}
