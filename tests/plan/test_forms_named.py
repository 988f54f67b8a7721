"""Cutters named in a job that are not for the work (common practice, no source)."""

from dataclasses import replace

import pytest

from passplot.errors import CannotCut
from passplot.flow import plan_job
from passplot.read import parse_job, starter
from passplot.records.job import Job


def named(form: str, skims: int = 2) -> Job:
    text, shop = starter("step")
    job = parse_job(text, shop)
    cutter = replace(job.shop.cutters[0], form=form)
    return replace(
        job,
        shop=replace(job.shop, cutters=(cutter,)),
        cutters=(cutter.id,),
        finish=replace(job.finish, skims=skims),
    )


@pytest.mark.parametrize(
    ("form", "why"), [("face mill", "makes no wall"), ("roughing", "leaves a ribbed wall")]
)
def test_a_cutter_that_makes_no_finished_wall_is_refused(form: str, why: str) -> None:
    with pytest.raises(CannotCut) as raised:
        plan_job(named(form))
    assert any(why in line for line in raised.value.lines())


def test_a_roughing_cutter_may_leave_its_stock_on() -> None:
    plan = plan_job(named("roughing", skims=0))
    assert plan.passes
    assert all(each.purpose != "wall" for each in plan.passes)
