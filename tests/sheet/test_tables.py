"""The tables: columns as other programs read them, numbers formatted once."""

import pytest

from passplot.sheet.groups import runs_of
from passplot.sheet.tables import MOVE_COLUMNS, moves_table, pass_table
from sheet.plans import plan_named


def test_the_columns_stand_in_the_agreed_order() -> None:
    agreed = (
        "row setup feature cutter stage move x y z axis both_ways width_of_cut depth_of_cut feed "
        "crank turns dial pass drill_diameter c"
    )
    assert " ".join(MOVE_COLUMNS) == agreed


@pytest.mark.parametrize("name", ["two shoulders", "closed pocket", "corner-boss"])
def test_cells_are_the_moves_to_the_readouts_step(name: str) -> None:
    plan = plan_named(name)
    table = moves_table(plan)
    resolution = plan.job.shop.machine.resolution
    decimals = {len(row[6].partition(".")[2]) for row in table.rows}
    assert len(decimals) == 1
    for move, cells in zip(plan.moves, table.rows, strict=True):
        row = dict(zip(table.columns, cells, strict=True))
        assert int(row["row"]) == move.row
        for axis in "xyz":
            assert float(row[axis]) == pytest.approx(getattr(move, axis), abs=resolution / 2)
        assert (row["feed"] == "") == (move.feed is None)
        assert row["pass"] == ("" if move.number is None else str(move.number))
        assert (row["turns"], row["dial"], row["c"]) == ("", "", "")


def test_the_pass_table_agrees_with_the_moves_table() -> None:
    plan = plan_named("corner-boss")
    moves = [dict(zip(MOVE_COLUMNS, row, strict=True)) for row in moves_table(plan).rows]
    cuts = {row["pass"]: row for row in moves if row["move"] == "cut"}
    table = pass_table(plan)
    for cells in table.rows:
        row = dict(zip(table.columns, cells, strict=True))
        cut = cuts[row["pass"]]
        assert row["feed"] == cut["axis"]
        assert row["to"] == cut[row["feed"].lower()]
        assert row["at"] == cut[row["set"].lower()]
        assert (row["z"], row["width_of_cut"]) == (cut["z"], cut["width_of_cut"])


@pytest.mark.parametrize("name", ["two shoulders", "closed pocket", "corner-boss", "open-tray"])
def test_runs_hold_every_pass_once(name: str) -> None:
    plan = plan_named(name)
    numbers = [each.number for run in runs_of(plan) for each in run.passes]
    assert sorted(numbers) == [each.number for each in plan.passes]


def test_depth_levels_that_differ_only_in_z_share_their_rows() -> None:
    run = runs_of(plan_named("closed pocket"))[0]
    assert len(run.levels) == 2
    for row in run.rows:
        upper, lower = row.passes
        assert (upper.start, upper.end) == (lower.start, lower.end)
        assert (upper.z, lower.z) == run.levels
