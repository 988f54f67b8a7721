"""Which cutters fit a feature: flutes long enough, places wide enough, radii small enough."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from passplot.errors import CannotCut
from passplot.plan.cells import build
from passplot.plan.core import core_job
from passplot.plan.fillets import end_faults
from passplot.plan.forms import Shape, form_faults, ribbed_corners
from passplot.plan.grid import make_grid
from passplot.plan.reach import Reach
from passplot.plan.seats import fitted_seats
from passplot.plan.setting import BESIDE
from passplot.records.job import Job
from passplot.records.shop import Cutter
from passplot.records.sizes import Size

if TYPE_CHECKING:
    from passplot.plan.ground import Ground


def rounded(job: Job, per_feature: tuple[tuple[Cutter, ...], ...]) -> Job:
    """The job with rounded corners where no cutter of a feature has just their radius.

    A cutter of the written radius is driven into sharp corners and leaves it by itself.
    """
    features = []
    for feature, mine in zip(job.features, per_feature, strict=True):
        smallest = min((cutter.radius for cutter in mine), default=0.0)
        larger = any(_larger(written, smallest, job) for written in feature.inside_radii)
        if feature.rounded is not None and larger:
            area, keep = feature.rounded
            features.append(replace(feature, area=area, keep=keep))
        else:
            features.append(feature)
    return replace(job, features=tuple(features))


def _larger(written: Size, radius: float, job: Job) -> bool:
    """Whether an inside corner asks for more than a cutter leaves by itself."""
    if written.toleranced:
        return written.low > radius + 1e-9
    return (2**0.5 - 1) * (written.middle - radius) > job.finish.cusp


def _smaller(written: Size, radius: float, job: Job) -> bool:
    """Whether an inside corner asks for less than a cutter leaves."""
    if written.toleranced:
        return written.high < radius - 1e-9
    return (2**0.5 - 1) * (radius - written.middle) > job.finish.cusp


def misfits_of(job: Job, cutter: Cutter) -> tuple[tuple[str, ...], ...]:
    """What keeps a cutter, alone, out of each feature of a job: flutes, places, radii."""
    mine = ((cutter,),) * len(job.features)
    pad = 2 * cutter.cutting_diameter + 4 * job.limits.stand_off
    square = fitted_seats(job, mine, make_grid(job.shop.machine.resolution, job.inch))
    job = rounded(square, mine)
    cells = build(core_job(job, square), pad)
    thin = 0.001 if job.inch else 0.02
    ground = ground_of(job, pad, cutter.radius + 2 * job.limits.stand_off)
    shape = Shape(job, cells, ground, thin)
    return tuple(
        () if feature.kind == "holes" else tuple(_faults(shape, index, (cutter,))[1])
        for index, feature in enumerate(job.features)
    )


def ground_of(job: Job, pad: float, run: float) -> Ground | None:
    """What stands of a job with walls off X and Y; None for others.

    Parameters
    ----------
    pad, run : float
        As ``Ground`` takes them.
    """
    if not any(feature.curved for feature in job.features):
        return None
    from passplot.plan.ground import Ground  # noqa: PLC0415 - for few jobs, and slow

    return Ground(job, pad, run)


def check_fits(shape: Shape, per_feature: tuple[tuple[Cutter, ...], ...]) -> tuple[Reach, ...]:
    """Reach and flute length of every feature's cutters; all that is wrong at once."""
    faults: list[str] = []
    reaches = []
    job = shape.job
    for index, mine in enumerate(per_feature):
        if job.features[index].kind == BESIDE:
            reaches.append(Reach((), (), 0.0))
            continue
        reach, found = _faults(shape, index, mine)
        reaches.append(reach)
        faults += [*form_faults(job, index, mine), *end_faults(job, index, mine), *found]
        faults += ribbed_corners(shape, index, mine)
    if faults:
        raise CannotCut(*faults)
    return tuple(reaches)


def _faults(shape: Shape, index: int, mine: tuple[Cutter, ...]) -> tuple[Reach, list[str]]:
    """What the cutters of a feature leave of it, and all that is wrong with them."""
    job, feature = shape.job, shape.job.features[index]
    deep = job.stock.raw_top - feature.floor
    faults = [
        f"{feature.name}: {deep:g} deep, but {cutter.id} has flutes of only "
        f"{cutter.flute_length:g}; a cutter with flutes of {deep:g} or more would do"
        for cutter in mine
        if deep > cutter.flute_length + 1e-9
    ]
    reach = shape.reach(index, tuple(cutter.radius for cutter in mine))
    return reach, faults + _reach_faults(job, index, reach, mine)


def _reach_faults(job: Job, index: int, reach: Reach, mine: tuple[Cutter, ...]) -> list[str]:
    feature = job.features[index]
    smallest = min(mine, key=lambda cutter: cutter.radius)
    faults = []
    if reach.blocked:
        spot = reach.blocked[0].representative_point()
        area = sum(piece.area for piece in reach.blocked)
        faults.append(
            f"{feature.name}: {smallest.id} ({smallest.cutting_diameter:g} across) cannot get into "
            f"{len(reach.blocked)} place(s), {area:.4g} square in all, the first at "
            f"X {spot.x:.4g} Y {spot.y:.4g}; a smaller cutter would do"
        )
    for written in feature.inside_radii:
        if _smaller(written, smallest.radius, job):
            faults.append(
                f"{feature.name}: an inside corner radius of {written.text} is asked for, "
                f"{smallest.id} makes {smallest.radius:g}; a cutter of "
                f"{2 * written.middle:g} diameter would do"
            )
    return faults
