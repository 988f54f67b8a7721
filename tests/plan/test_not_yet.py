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


@pytest.mark.parametrize(("key", "what"), [("set_over", "set over"), ("rotary", "rotary table")])
def test_ways_of_working_are_refused_until_they_are_planned(key: str, what: str) -> None:
    job = read(STEP)
    asked = replace(job.features[0], **{key: True})
    (line,) = refusal(replace(job, features=(asked,)))
    assert what in line


def test_everything_is_said_at_once() -> None:
    job = read(STEP)
    cutter = replace(job.shop.cutters[0], form="ball", corner_radius=0.25)
    shop = replace(job.shop, cutters=(cutter,), machine=replace(job.shop.machine, readout="dials"))
    lines = refusal(replace(job, shop=shop, cutters=(cutter.id,)))
    assert [word for line in lines for word in ("dials", "a ball cutter") if word in line]
    assert len(lines) == 2


def test_straight_work_is_not_refused() -> None:
    refuse_not_yet(read(STEP))
