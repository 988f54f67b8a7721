"""Work that is read but not planned yet is refused by name, never ignored."""

from dataclasses import replace

import pytest

from passplot.errors import NotYetPlanned
from passplot.flow import plan_job
from passplot.plan.not_yet import refuse_not_yet
from passplot.read import parse_job, starter
from passplot.records.job import Job

SHOP = starter("step")[1]
HEAD = """
units = "inch"
shop = "shop.toml"
cutter = "1/2 carbide"
[stock]
size = [4, 1, 1]
material = "1018"
zero = "left center top"
[[feature]]
name = "f"
"""


def refusal(job: Job) -> tuple[str, ...]:
    with pytest.raises(NotYetPlanned) as raised:
        plan_job(job)
    assert raised.value.exit_code == 1
    return raised.value.lines()


def read(feature: str) -> Job:
    return parse_job(HEAD + feature, SHOP)


STEP = 'kind = "step"\ndepth = 0.1\nside = "left"\nwidth = 0.5'
SLANTED = (
    'kind = "outline"\nclear = "inside"\ndepth = 0.1\n'
    "points = [[0, -0.5], [1, -0.5], [1.5, 0.5], [0, 0.5]]"
)


@pytest.mark.parametrize(("key", "what"), [("set_over", "to set over"), ("rotary", "to swing")])
def test_ways_of_working_that_a_feature_has_no_wall_for_are_said(key: str, what: str) -> None:
    job = read(STEP)
    asked = replace(job.features[0], **{key: True})
    assert any(what in note for note in plan_job(replace(job, features=(asked,))).notes)


def test_turned_positions_by_dials_alone_are_refused() -> None:
    job = read(SLANTED)
    machine = replace(job.shop.machine, readout="dials")
    features = tuple(replace(feature, set_over=True) for feature in job.features)
    (line,) = refusal(replace(job, features=features, shop=replace(job.shop, machine=machine)))
    assert "f: set over on a machine without a readout" in line


def test_everything_is_said_at_once() -> None:
    job = read(SLANTED)
    machine = replace(job.shop.machine, readout="dials")
    features = tuple(replace(each, set_over=True, rotary=True) for each in job.features)
    asked = replace(job, features=features, shop=replace(job.shop, machine=machine))
    lines = refusal(asked)
    assert len(lines) == 2
    assert all("on a machine without a readout" in line for line in lines)


def test_straight_work_is_not_refused() -> None:
    refuse_not_yet(read(STEP))
