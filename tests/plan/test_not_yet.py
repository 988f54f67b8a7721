"""Work that is read but not planned yet is refused by name, never ignored."""

from dataclasses import replace

import pytest

from passplot.errors import NotYetPlanned
from passplot.flow import plan_job
from passplot.plan.not_yet import refuse_not_yet
from passplot.read import parse_job, starter
from passplot.records.job import Job, KeepOut
from passplot.records.shapes import Line, Loop, Point

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


REFUSED = {
    "an arc": 'kind = "bore"\ndepth = 0.1\ncenter = [2, 0]\ndiameter = 0.7',
    "a slanted wall": 'kind = "outline"\nclear = "inside"\ndepth = 0.1\n'
    "points = [[0, -0.5], [1, -0.5], [1.5, 0.5], [0, 0.5]]",
    "inside corners of different radii": 'kind = "outline"\nclear = "inside"\ndepth = 0.1\n'
    "points = [[1, -0.3], [2, -0.3], { x = 2, y = 0.3, radius = 0.2 }, "
    "{ x = 1, y = 0.3, radius = 0.25 }]",
    "a keyseat": 'kind = "keyseat"\nalong = "x"\ncenter = 0\nshaft = 1\nstandard = "ASME B17.1"',
}


@pytest.mark.parametrize("what", REFUSED)
def test_a_feature_that_is_not_planned_yet_is_named(what: str) -> None:
    line = f'not yet planned: feature "f": {what}'
    assert line in refusal(read(REFUSED[what]))


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
    a, b, c = Point(3, -0.4), Point(3.5, -0.4), Point(3.5, 0)
    clamp = KeepOut("clamp", Loop((Line(a, b), Line(b, c), Line(c, a))), 0.5)
    lines = refusal(replace(job, shop=shop, cutters=(cutter.id,), keep_outs=(clamp,)))
    assert [word for line in lines for word in ("clamp", "dials", "a ball cutter") if word in line]
    assert len(lines) == 3


def test_straight_work_is_not_refused() -> None:
    refuse_not_yet(read(STEP))
