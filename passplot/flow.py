"""The stages in order: the only module that knows them all.

Each stage is imported when it is reached, so that asking for help loads no geometry library and
writing no picture loads no plotting library.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from passplot.errors import CannotCut, NotProven, NoWay
from passplot.frozen import dataclass
from passplot.records.care import Care
from passplot.write import FORMATS

if TYPE_CHECKING:
    from collections.abc import Collection

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

__all__ = ["FORMATS", "Outcome", "plan_job", "prove_job", "run"]


@dataclass(frozen=True, slots=True)
class Outcome:
    """A proven plan and the files it was written to."""

    plan: Plan
    proof: Proof
    files: tuple[Path, ...]


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
    from passplot.sheet import lay_out  # noqa: PLC0415
    from passplot.write import render, save  # noqa: PLC0415

    plan, proof = prove_job(job_path)
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
    """Plan a job with its own cutters, or with the largest of the crib that will do.

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
        return make_plan(job, rules, mine, care)
    reasons: list[str] = []
    for cutter in _candidates(job):
        try:
            return make_plan(job, rules, (cutter,), care)
        except CannotCut as error:
            reasons += [f"with {cutter.id}: {line}" for line in error.lines()]
    raise CannotCut(*(reasons or ["the crib has no end mill for this job"]))


def _candidates(job: Job) -> list[Cutter]:
    """End mills of the crib, the largest first; of two alike the cheaper first."""
    mills = [cutter for cutter in job.shop.cutters if cutter.form in ("square end", "roughing")]
    return sorted(
        mills,
        key=lambda cutter: (
            cutter.form != "square end",
            -cutter.cutting_diameter,
            cutter.price if cutter.price is not None else float("inf"),
        ),
    )
