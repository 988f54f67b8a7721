"""What a job may ask for that is not planned yet: the only list of it.

A line goes when the work it names is planned.
"""

from passplot.errors import NotYetPlanned
from passplot.records.job import Feature, Job


def refuse_not_yet(job: Job) -> None:
    """Refuse a job that asks for work which is not planned yet.

    Raises
    ------
    NotYetPlanned
        Everything of that kind, by name.
    """
    later = [f'feature "{f.name}": {what}' for f in job.features for what in _in_feature(f)]
    later += _of_the_machine(job)
    if later:
        raise NotYetPlanned(*later)


def _in_feature(feature: Feature) -> list[str]:
    later: list[str] = []
    if feature.set_over:
        later.append("work set over in the vise")
    if feature.rotary:
        later.append("an arc swung on the rotary table")
    return later


def _of_the_machine(job: Job) -> list[str]:
    later = []
    if job.shop.machine.readout == "dials":
        later.append("work by the dials alone, without a readout")
    named = [*job.cutters, *(name for f in job.features if not f.pattern for name in f.cutters)]
    for name in dict.fromkeys(named):
        cutter = job.shop.cutter(name)
        if cutter.corner_radius > 0:
            form = "ball" if cutter.form == "ball" else "corner radius"
            later.append(f'cutter "{name}": a {form} cutter')
    return later
