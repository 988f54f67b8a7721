"""What the features of a job ask of a cutter: how deep, how narrow, which cutters get in."""

from passplot.errors import CannotCut
from passplot.plan.areas import standing
from passplot.plan.cells import build
from passplot.plan.core import core_job
from passplot.plan.fits import ground_of, misfits_of
from passplot.plan.room import narrowest_gap
from passplot.plan.zones import rect_union
from passplot.records.choice import Needs
from passplot.records.job import Job
from passplot.records.shop import Cutter


def needs_of(job: Job, cutters: tuple[Cutter, ...]) -> tuple[Needs, ...]:
    """The needs of every feature but patterns of holes, with which of ``cutters`` do not fit."""
    found = []
    pad = 4 * job.limits.stand_off
    cells = build(core_job(job, job), pad)
    ground = ground_of(job, pad, 2 * job.limits.stand_off)
    floors = tuple(feature.floor for feature in job.features)
    table = {cutter.id: _misfits(job, cutter) for cutter in cutters}
    for index, feature in enumerate(job.features):
        if feature.kind == "holes":
            continue
        gap = None
        if ground is not None and feature.curved:
            area = float(ground.area(index).area)
        else:
            mask = cells.inner(cells.clears[index])
            area = float(rect_union(cells.rectangles(mask)).area)
            gap = narrowest_gap(cells, standing(cells, job, floors, feature.floor), mask)
        radii = feature.inside_radii
        found.append(
            Needs(
                feature=feature.name,
                kind=feature.kind,
                depth=job.stock.raw_top - feature.floor,
                area=area,
                narrowest=gap,
                inside_radius=radii[0].middle if radii else None,
                misfits=tuple((name, why[index]) for name, why in table.items() if why[index]),
            )
        )
    return tuple(found)


def _misfits(job: Job, cutter: Cutter) -> tuple[tuple[str, ...], ...]:
    try:
        return misfits_of(job, cutter)
    except CannotCut as error:  # what no cutter of that size can be planned for at all
        return (error.lines(),) * len(job.features)
