"""Time of a plan: what is fed, what is cranked, what is set."""

import pytest
from read.texts import cutter, job, machine, read, shop

from passplot.cutting.timing import pass_times
from passplot.flow import plan_job
from passplot.records.plan import CUT, PLUNGE, Plan


def plan(**mill: object) -> Plan:
    dial = {"per_turn": 0.2, "graduation": 0.001, "backlash": 0.008}
    dials = {
        "x": dial | {"clockwise": "table left"},
        "y": dial | {"clockwise": "table in"},
        "z": dial | {"per_turn": 0.1, "clockwise": "knee up"},
    }
    values = shop(machine=machine(dial=dials, **mill))
    values["cutter"] = [cutter(stickout=1.5)]
    step = {"name": "ledge", "kind": "step", "side": "left", "width": 1, "depth": 0.25}
    return plan_job(read(job(feature=[step], dimension=None), values))


def test_cutting_time_is_length_over_feed_run_out_and_all() -> None:
    found = plan()
    for each, time in zip(found.passes, found.times, strict=True):
        row = found.moves[each.row - 1]
        assert (row.move, time.number) == (CUT, each.number)
        assert row.feed is not None
        assert time.cutting == pytest.approx(60 * each.length / row.feed)
        # 3 in of ledge, and more than the cutter's own breadth of approach and run-out
        assert each.length > 3.5


def test_handling_time_is_turns_and_settings() -> None:
    found = plan()
    turns = settings = 0.0
    for before, row in zip(found.moves, found.moves[1:], strict=False):
        if row.move not in (CUT, PLUNGE) and row.axis:
            way = abs(row.x - before.x) + abs(row.y - before.y)
            turns += way / 0.2 + abs(row.z - before.z) / 0.1
            settings += 1
    total = sum(time.handling for time in found.times)
    assert total == pytest.approx(turns + 6 * settings)  # a turn a second, 6 s a setting


def test_handling_follows_the_shop_file() -> None:
    usual = plan()
    brisk = plan(handling={"turns_per_minute": 120, "seconds_per_setting": 3})
    assert [each.handling for each in brisk.times] == pytest.approx(
        [each.handling / 2 for each in usual.times]
    )
    assert [each.cutting for each in brisk.times] == [each.cutting for each in usual.times]
    assert pass_times(usual) == usual.times
