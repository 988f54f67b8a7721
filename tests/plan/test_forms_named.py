"""Cutters named in a job that are not for the work (common practice, no source)."""

from dataclasses import replace

import pytest

from passplot.errors import CannotCut
from passplot.flow import plan_job
from passplot.proof import prove
from passplot.read import parse_job, starter
from passplot.records.job import Job
from passplot.records.plan import FINISH, ROUGH
from passplot.sheet.tables import moves_table
from passplot.write.tables import csv_text


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


def roughed_and_finished(larger: float) -> Job:
    """The pocket of the starter, roughed by a roughing cutter that much larger than the other."""
    text, shop = starter("pocket")
    job = parse_job(text, shop)
    last = replace(job.shop.cutters[0], id="last")
    first = replace(last, id="first", form="roughing", diameter=larger * last.diameter)
    return replace(job, shop=replace(job.shop, cutters=(first, last)), cutters=("first", "last"))


def test_what_a_roughing_cutter_roughs_is_finished_by_the_next() -> None:
    plan = plan_job(roughed_and_finished(1.25))
    assert {each.cutter for each in plan.passes if each.stage == FINISH} == {"last"}
    assert {each.cutter for each in plan.passes if each.stage == ROUGH} == {"first", "last"}
    roughed = sum(each.length for each in plan.passes if each.stage == ROUGH)
    last = sum(each.length for each in plan.passes if each.stage == ROUGH and each.cutter == "last")
    assert last < 0.3 * roughed  # the corners that the larger one could not get into
    assert prove(plan, csv_text(moves_table(plan))).good


def test_a_finishing_cutter_must_get_into_the_corners_that_were_roughed() -> None:
    with pytest.raises(CannotCut) as raised:
        plan_job(roughed_and_finished(0.75))
    assert any("too large to finish" in line for line in raised.value.lines())
