"""The stages in order: the only module that knows them all.

Each stage is imported when it is reached, so that asking for help loads no geometry library and
writing no picture loads no plotting library.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from passplot.errors import CannotCut, Fault, InputFaults, NotProven, NoWay
from passplot.frozen import dataclass
from passplot.records.care import Care
from passplot.write import DRAWN, FORMATS, render, render_pages, save

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator

    from passplot.cutting.quick import Answer
    from passplot.records.choice import Crew, FeatureChoice
    from passplot.records.job import Job
    from passplot.records.plan import Plan
    from passplot.records.proof import Proof
    from passplot.records.shop import Cutter

WAYS = (
    Care(),
    Care(width_share=0.92, fine=True),
    Care(width_share=0.92, fine=True, alike=True),
    Care(fine=True, alike=True, backwards=True),
    Care(width_share=0.8, fine=True, alike=True, backwards=True),
)
"""How to plan, one way after the other until a plan is proven.

Where many cuts meet, a plan may touch what it should not by a hair; with other widths, or taken
in another order, its cuts meet elsewhere. A plan is only as good as its proof, however made.
"""

__all__ = [
    "CHOICE_FORMATS",
    "FORMATS",
    "Chosen",
    "Outcome",
    "choose_cutters",
    "choose_for",
    "plan_job",
    "prove_job",
    "run",
    "write_choice",
]

CHOICE_FORMATS = tuple(name for name in FORMATS if name in DRAWN)
"""What a sheet of cutters is written as."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """A proven plan and the files it was written to."""

    plan: Plan
    proof: Proof
    files: tuple[Path, ...]


@dataclass(frozen=True, slots=True)
class Chosen:
    """A job with the crib judged for its features, and the cutters for the whole of it.

    ``crew`` is None where a feature has no cutter, or all name their own.
    """

    job: Job
    choices: tuple[FeatureChoice, ...]
    crew: Crew | None


def run(
    job_path: Path,
    out: Path,
    *,
    paper: str = "a4",
    portrait: bool = False,
    formats: Collection[str] = FORMATS,
    date: str = "",
) -> Outcome:
    """Read, plan, prove, lay out and write a job: all of its files or none.

    Parameters
    ----------
    job_path : Path
        The job file.
    out : Path
        Folder for the files, made if it is not there.
    paper : str
        ``"a4"`` or ``"letter"``.
    formats : collection of str
        Which of ``FORMATS`` to write.
    date : str
        Date for the title block; left blank where empty.

    Raises
    ------
    InputFaults, CannotCut, NotProven
        As the errors module tells; nothing is written then.
    """
    plan, proof = prove_job(job_path)
    if DRAWN.isdisjoint(formats):
        from passplot.sheet.alone import tables_alone  # noqa: PLC0415

        sheet = tables_alone(plan)
    else:
        from passplot.sheet import lay_out  # noqa: PLC0415

        sheet = lay_out(plan, proof, paper, portrait=portrait, date=date)
    content = render(plan, proof, sheet, job_path.stem, set(formats))
    return Outcome(plan, proof, save(content, out))


def prove_job(job_path: Path) -> tuple[Plan, Proof]:
    """Read, plan and prove a job, with more care where a plan is not proven.

    Raises
    ------
    NotProven
        If the replay finds anything in any of them: such a plan is not handed on.
    NoWay
        If the first found no way to some metal and none of the others is proven.
    """
    from passplot.proof import prove  # noqa: PLC0415
    from passplot.read import read_job  # noqa: PLC0415
    from passplot.sheet.tables import moves_table  # noqa: PLC0415
    from passplot.write.tables import csv_text  # noqa: PLC0415

    job = read_job(job_path)
    failed: NoWay | NotProven | None = None
    for care in WAYS:
        try:
            plan = plan_job(job, care)
        except NoWay as error:
            failed = failed or error
            continue
        proof = prove(plan, csv_text(moves_table(plan)))
        if proof.good:
            return plan, proof
        failed = failed or NotProven(tuple(str(finding) for finding in proof.findings))
    assert failed is not None, "every way of planning is proven, refused or not proven"
    raise failed


def plan_job(job: Job, care: Care = WAYS[0]) -> Plan:
    """Plan a job with its own cutters, or with the first of the crib that will do it.

    Parameters
    ----------
    care : Care
        How careful to be.
    """
    from passplot.cutting.rules import CutRules  # noqa: PLC0415
    from passplot.plan import make_plan  # noqa: PLC0415
    from passplot.plan.not_yet import refuse_not_yet  # noqa: PLC0415

    refuse_not_yet(job)
    rules = CutRules()
    if job.cutters or all(feature.cutters for feature in job.features):
        mine = tuple(job.shop.cutter(name) for name in job.cutters)
        return _timed(make_plan(job, rules, mine, care))
    reasons: list[str] = []
    for named, cutters, why in _manned(job):
        try:
            return _noted(_timed(make_plan(named, rules, cutters, care)), why)
        except CannotCut as error:
            names = ", ".join(cutter.id for cutter in cutters)
            reasons += [f"with {names}: {line}" for line in error.lines()]
    raise CannotCut(*(reasons or ["the crib has no end mill for this job"]))


def _noted(plan: Plan, why: str) -> Plan:
    """The plan with why it takes more cutters than one."""
    if not why:
        return plan
    names = " and ".join(use.cutter.id for use in plan.cutters)
    return replace(plan, notes=(*plan.notes, f"cutters chosen: {names}; {why}"))


def _timed(plan: Plan) -> Plan:
    """The plan with how long each of its passes takes."""
    from passplot.cutting.timing import pass_times  # noqa: PLC0415

    return replace(plan, times=pass_times(plan))


def choose_cutters(job: Job) -> tuple[FeatureChoice, ...]:
    """Every feature of a job but patterns of holes, with every milling cutter judged for it."""
    from passplot.cutting.choice import choose  # noqa: PLC0415
    from passplot.plan.needs import needs_of  # noqa: PLC0415

    mills = tuple(cutter for cutter in job.shop.cutters if cutter.form != "drill")
    return tuple(choose(job, needs) for needs in needs_of(job, mills))


def _manned(job: Job) -> Iterator[tuple[Job, tuple[Cutter, ...], str]]:
    """A job with the cutters to plan it with and why they are many, those to try first in front.

    End mills that are ruled out come last, the largest first: their plans say what is wrong.
    """
    known = {cutter.id: cutter for cutter in job.shop.cutters}
    tried = []
    for crew in choose_crews(job, choose_cutters(job)):
        cutters = tuple(known[name] for name in crew.cutters)
        tried.append(cutters)
        yield (job if crew.alike else _named(job, crew)), cutters, crew.why
    rest = [cutter for cutter in job.shop.cutters if cutter.form in ("square end", "roughing")]
    rest.sort(key=lambda cutter: (cutter.form != "square end", -cutter.cutting_diameter))
    for cutter in rest:
        if (cutter,) not in tried:
            yield job, (cutter,), ""


def _named(job: Job, crew: Crew) -> Job:
    """A job whose features name the cutters of a crew, where they named none."""
    mine = dict(crew.features)
    features = tuple(
        replace(each, cutters=mine[each.name]) if each.name in mine else each
        for each in job.features
    )
    return replace(job, features=features)


def choose_crews(job: Job, choices: tuple[FeatureChoice, ...]) -> tuple[Crew, ...]:
    """The cutters for the features that name none, those to try first at the front."""
    from passplot.cutting.crew import crews  # noqa: PLC0415

    open_ones = {feature.name for feature in job.features if not feature.cutters}
    return crews(tuple(each for each in choices if each.needs.feature in open_ones))


def choose_for(job_path: Path) -> Chosen:
    """Read a job and judge the crib for each of its features.

    Raises
    ------
    InputFaults
        Everything wrong with the files.
    """
    from passplot.read import read_job  # noqa: PLC0415

    job = read_job(job_path)
    choices = choose_cutters(job)
    return Chosen(job, choices, next(iter(choose_crews(job, choices)), None))


def write_choice(
    chosen: Chosen,
    out: Path,
    stem: str,
    *,
    paper: str = "a4",
    portrait: bool = False,
    formats: Collection[str] = CHOICE_FORMATS,
    date: str = "",
) -> tuple[Path, ...]:
    """Lay out and write the sheets of cutters: all of their files or none.

    ``formats`` are some of ``CHOICE_FORMATS``.
    """
    from passplot.sheet.choice_page import lay_out_choice  # noqa: PLC0415

    sheet = lay_out_choice(
        chosen.job, chosen.choices, chosen.crew, paper, portrait=portrait, date=date
    )
    return save(render_pages(sheet, stem, set(formats)), out)


def quick_speeds(
    material: str,
    shop_path: Path | None,
    cutter: str,
    size: tuple[float, int, str] | None,
    units: str | None,
) -> tuple[Answer, bool]:
    """Speed and feed without a job, and whether lengths are inches.

    Parameters
    ----------
    material : str
        Of the work, by any of its names.
    shop_path : Path or None
        The shop file; without one any speed will do.
    cutter : str
        Id of a cutter of the shop file; where empty, ``size`` is its diameter, flutes, material.
    units : str or None
        ``"inch"`` or ``"mm"``; the shop file's own where None, else inch.

    Raises
    ------
    InputFaults
        Everything wrong with the shop file, an unknown material or cutter.
    """
    from passplot.cutting.quick import any_machine, plain_cutter, quick_answer  # noqa: PLC0415
    from passplot.materials import find_material, material_names  # noqa: PLC0415
    from passplot.read import read_shop_file, shop_units  # noqa: PLC0415
    from passplot.read.source import did_you_mean  # noqa: PLC0415

    shop = None if shop_path is None else read_shop_file(shop_path, units or "")
    inch = (units or (shop_units(shop_path) if shop_path is not None else "inch")) == "inch"
    own = () if shop is None else shop.materials
    row = find_material(material, own)
    if row is None:
        right = did_you_mean(material, material_names(own))
        raise InputFaults((Fault("--material", 1, material, "is not in the table", right),))
    if shop is not None and cutter:
        known = {each.id: each for each in shop.cutters}
        if cutter not in known:
            right = did_you_mean(cutter, tuple(known))
            raise InputFaults((Fault(shop.file, 1, cutter, "no cutter of the crib", right),))
        mill = known[cutter]
    else:
        assert size is not None, "the command asks for a cutter or its size"
        mill = plain_cutter(*size)
    machine = any_machine() if shop is None else shop.machine
    return quick_answer(row, machine, mill, inch=inch), inch
