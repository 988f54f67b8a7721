"""Passes put together in rows and runs: none lost, none twice, the same settings in a row."""

from dataclasses import replace

import pytest

from passplot.flow import plan_job
from passplot.read import parse_job, starter
from passplot.records.plan import FINISH, ROUGH, Plan
from passplot.sheet import lay_out
from passplot.sheet.groups import Run, line_of, runs_of
from sheet.pages import texts
from sheet.plans import plan_named, proof_of

NAMES = ("steel-pocket", "bushing-seat", "slotted-link", "fan-shaft", "two shoulders")


def bored() -> Plan:
    """A bore roughed side by side, its floor finished along the same lines but the last two."""
    text, shop = starter("bore")
    plan = plan_job(parse_job(text, shop))
    deepest = min(each.z for each in plan.passes if each.stage == ROUGH)
    lines = [
        each
        for each in plan.passes
        if each.stage == ROUGH and each.steps is None and each.z == deepest
    ]
    rough = [replace(each, number=number) for number, each in enumerate(lines, 1)]
    floor = [
        replace(
            each, number=len(rough) + each.number, stage=FINISH, purpose="floor", z=deepest - 0.01
        )
        for each in rough[:-2]
    ]
    return replace(plan, passes=(*rough, *floor))


@pytest.fixture(scope="module")
def bore() -> Plan:
    return bored()


@pytest.mark.parametrize("name", NAMES)
def test_every_pass_stands_in_one_row(name: str) -> None:
    plan = plan_named(name)
    numbers = [each.number for run in runs_of(plan) for each in run.passes]
    assert sorted(numbers) == [each.number for each in plan.passes]


def test_the_floor_of_a_bore_is_listed_with_the_lines_of_its_roughing(bore: Plan) -> None:
    runs = runs_of(bore)
    (rough,) = [run for run in runs if run.to_floor]
    floor = [each for each in bore.passes if each.stage == FINISH and each.purpose == "floor"]
    again = [row for row in rough.rows if len(row.passes) > 1]
    assert len(again) > len(floor) / 2 > 0
    assert {each.number for each in floor} <= {each.number for each in rough.passes}
    for row in again:
        assert len({line_of(each) for each in row.passes}) == 1
    assert [len(rough.at_level(index)) for index in (0, 1)] == [len(rough.rows), len(again)]
    assert sorted(each.number for run in runs for each in run.passes) == [
        each.number for each in bore.passes
    ]


def test_the_sheet_says_that_all_is_roughed_before_the_floor(bore: Plan) -> None:
    rough = next(run for run in runs_of(bore) if run.to_floor)
    first = min(each.number for each in rough.passes if each.stage == FINISH)
    words = " ".join(text for page in lay_out(bore, proof_of(bore)).pages for text in texts(page))
    last = last_rough_of_first_sheet(rough, words)
    assert f"After {last} comes {last + 1}, not {first}." in words
    assert "ROUGH, THEN FLOOR" in words


def last_rough_of_first_sheet(run: Run, words: str) -> int:
    """The last roughing number of the first sheet, as its heading gives it: ``1–7 AT Z``."""
    start = run.passes[0].number
    span = words.partition(f"{start}–")[2].partition(" ")[0]
    return int(span)
