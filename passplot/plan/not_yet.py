"""What a job may ask for that is not planned yet: the only list of it.

A line goes when the work it names is planned.
"""

from passplot.errors import NotYetPlanned
from passplot.records.job import Feature, Job
from passplot.records.shapes import Arc


def refuse_not_yet(job: Job) -> None:
    """Refuse a job that asks for work which is not planned yet.

    Raises
    ------
    NotYetPlanned
        Everything of that kind, by name.
    """
    later = [f'feature "{f.name}": {what}' for f in job.features for what in _in_feature(f)]
    later += [
        f'keep-out "{keep_out.name}": an outline that is not along X and Y'
        for keep_out in job.keep_outs
        if not keep_out.loop.rectilinear
    ]
    later += _of_the_machine(job)
    if later:
        raise NotYetPlanned(*later)


def _in_feature(feature: Feature) -> list[str]:
    edges = [edge for loop in (*feature.area, *feature.keep) for edge in loop.edges]
    if feature.keyseat is not None:
        return ["a keyseat"]
    later = ["an arc"] if any(isinstance(edge, Arc) for edge in edges) else []
    if any(not isinstance(edge, Arc) and not edge.level for edge in edges):
        later.append("a slanted wall")
    if len(feature.inside_radii) > 1:
        later.append("inside corners of different radii")
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
