"""Round walls come out inside the limits of their diameter; slots of the cutter's width at once."""

from itertools import pairwise
from math import hypot, sqrt

import pytest

from passplot.errors import CannotCut
from passplot.flow import plan_job
from passplot.records.plan import FINISH, ROUGH, Plan, Steps

from .test_advice import read

BORE = 'kind = "bore"\ncenter = [2, 1.5]\ndiameter = "{}"\ndepth = 0.125'
BOSS = 'kind = "boss"\ncenter = [2, 1.5]\ndiameter = "{}"\ndepth = 0.125'
RADIUS = 0.25


def finish_of(plan: Plan) -> Steps:
    """The last walk round the wall."""
    steps = [each.steps for each in plan.passes if each.stage == FINISH and each.steps is not None]
    return steps[-1]


def crests(steps: Steps, outwards: int) -> list[float]:
    """How far from the centre the scallops between settings reach: circles intersected."""
    found = []
    for a, b in pairwise(steps.points):
        half = hypot(b.x - a.x, b.y - a.y) / 2
        if half == 0:
            continue
        mx, my = (a.x + b.x) / 2 - 2, (a.y + b.y) / 2 - 1.5
        found.append(hypot(mx, my) + outwards * sqrt(RADIUS**2 - half**2))
    return found


@pytest.mark.parametrize("size", ["1.250 ±0.002", "1.250 +0.006 -0.000", "1.250 ±0.020"])
def test_a_bore_stays_above_its_low_limit_at_every_scallop(size: str) -> None:
    job = read(BORE.format(size))
    limits = job.features[0].diameter
    assert limits is not None
    steps = finish_of(plan_job(job))
    assert min(crests(steps, 1)) >= limits.low / 2 - 1e-9
    most = max(hypot(point.x - 2, point.y - 1.5) for point in steps.points) + RADIUS
    assert most <= limits.high / 2


def test_a_boss_stays_below_its_high_limit_at_every_scallop() -> None:
    job = read(BOSS.format("1.250 +0.000 -0.004"))
    steps = finish_of(plan_job(job))
    assert max(crests(steps, -1)) <= 0.625 + 1e-9
    assert min(hypot(p.x - 2, p.y - 1.5) for p in steps.points) - RADIUS >= 0.623 - 1e-9


def test_a_diameter_without_limits_has_the_scallop_asked_for() -> None:
    wide, narrow = (finish_of(plan_job(read(BORE.format(s)))) for s in ("1.250", "1.250 ±0.002"))
    assert len(wide.points) < len(narrow.points)
    assert narrow.scallop <= 0.0005 < wide.scallop <= 0.004


def test_limits_that_the_readout_cannot_hold_are_refused() -> None:
    with pytest.raises(CannotCut, match=r"f: stepped off .* 1\.250 ±0\.001 is not to be held"):
        plan_job(read(BORE.format("1.250 ±0.001")))


def test_a_blind_slot_of_the_cutters_width_is_cut_to_size_at_once() -> None:
    slot = 'kind = "slot"\nalong = "x"\ncenter = 1.5\nwidth = 0.5\nstart = 1\nend = 3\ndepth = 0.2'
    plan = plan_job(read(slot))
    assert "f: no room for wall stock, cut to size at once" in plan.notes
    cuts = [each for each in plan.passes if each.stage == ROUGH]
    assert cuts
    assert plan.stocks[0].wall == 0
    assert {(each.start.y, each.end.y) for each in cuts} == {(1.5, 1.5)}
