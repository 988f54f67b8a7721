"""What a cutter with rounded corners leaves at the foot of a wall: a fillet of their radius."""

from __future__ import annotations

from typing import TYPE_CHECKING

import shapely

from passplot.plan.bench import stock_area
from passplot.plan.ends import corner_of
from passplot.plan.loops import area_of
from passplot.plan.words import size_words
from passplot.records.fillet import Fillet

if TYPE_CHECKING:
    from collections.abc import Sequence

    from shapely.geometry.base import BaseGeometry

    from passplot.plan.planner import Done
    from passplot.records.job import Feature, Job
    from passplot.records.shop import Cutter

_HAIR = 1e-6
_QUARTER, _CHORDS = 96, 1.0001
"""Chords to a quarter circle, and how far out they lie of its radius."""


def fillets_of(job: Job, done: Sequence[Done]) -> tuple[Fillet, ...]:
    """The fillets at the floors of features that only cutters with rounded corners work.

    A floor has its fillet along every wall that stands on it; where it runs out of the stock, or
    into a lower one, there is none. One that goes through the stock leaves it at the lower edge of
    its walls, for the tip goes no lower.
    """
    found: list[Fillet] = []
    for feature in job.features:
        mills = _worked_by(feature, done)
        mills = [mill for mill in mills if mill.form != "roughing"] or mills
        smallest = min(mills, key=lambda mill: (mill.radius, corner_of(mill)), default=None)
        if smallest is None or not corner_of(smallest):
            continue
        sharper = [mill for mill in mills if corner_of(mill) < corner_of(smallest)]
        if not sharper:
            area = foot_of_walls(job, feature, corner_of(smallest))
        else:
            within = min(mill.radius for mill in sharper)
            area = _kept_in_corners(job, feature, corner_of(smallest), within)
        if area > _HAIR:
            found.append(Fillet(feature.name, corner_of(smallest), area, bool(sharper)))
    return tuple(found)


def _kept_in_corners(job: Job, feature: Feature, corner: float, radius: float) -> float:
    """Plan-view area of a fillet that a larger cutter does not take: at inside corners."""
    stock = stock_area(job)
    beyond = stock.buffer(3 * radius, join_style="mitre").difference(stock)
    opened = _opened(job, feature)
    free = opened.union(beyond).buffer(_HAIR, join_style="mitre")
    swept = free.buffer(-radius, quad_segs=_QUARTER).buffer(radius * _CHORDS, quad_segs=_QUARTER)
    foot = walls_on_floor(job, feature).buffer(corner).intersection(opened)
    return float(foot.difference(swept).area)


def scallop_notes(job: Job, done: Sequence[Done]) -> tuple[str, ...]:
    """What there is to say of floors that only balls work."""
    balls = [
        feature
        for feature in job.features
        if {cutter.form for cutter in _worked_by(feature, done)} == {"ball"}
    ]
    return tuple(
        f"{feature.name}: the ball leaves scallops of up to {size_words(job.finish.cusp, job)} on "
        "the floor, and takes those of the pass before on the other side of its line"
        for feature in balls
    )


def _worked_by(feature: Feature, done: Sequence[Done]) -> list[Cutter]:
    return [
        one.use.cutter
        for one in done
        if one.moves and any(term.name == feature.name for term in one.terms)
    ]


def fillet_notes(job: Job, fillets: Sequence[Fillet]) -> tuple[str, ...]:
    """What there is to say of them."""
    through = {each.name for each in job.features if each.floor <= job.stock.bottom + _HAIR}
    where = "between floor and walls", "at the lower edge of the walls"
    return tuple(
        f"{each.feature}: the cutter's corners leave a fillet of {size_words(each.radius, job)} "
        f"{where[each.feature in through]}{', in inside corners' if each.corners else ''}"
        for each in fillets
    )


def foot_of_walls(job: Job, feature: Feature, radius: float) -> float:
    """Plan-view area within ``radius`` of the walls that stand on a feature's floor."""
    sagitta = job.shop.machine.resolution / 5
    own = area_of(feature, sagitta, grow=False).intersection(stock_area(job))
    return float(own.intersection(walls_on_floor(job, feature).buffer(radius)).area)


def walls_on_floor(job: Job, feature: Feature) -> BaseGeometry:
    """The walls that stand on a feature's floor, in plan view."""
    edge = stock_area(job).boundary.buffer(_HAIR)
    return _opened(job, feature).boundary.difference(edge)


def _opened(job: Job, feature: Feature) -> BaseGeometry:
    """What is open down to a feature's floor."""
    lower = [each for each in job.features if each.floor <= feature.floor + _HAIR]
    sagitta = job.shop.machine.resolution / 5
    areas = [area_of(each, sagitta, grow=False) for each in lower]
    return shapely.union_all(areas).intersection(stock_area(job))


def end_faults(job: Job, index: int, mine: tuple[Cutter, ...]) -> list[str]:
    """Cutters whose rounded end leaves a wall no true part, for it is less deep than that."""
    feature = job.features[index]
    finishing = [cutter for cutter in mine if cutter.form != "roughing"] or mine
    best = min(finishing, key=corner_of)
    corner, deep = corner_of(best), job.stock.top - feature.floor
    if corner <= deep + 1e-9 or feature.kind == "face" or not foot_of_walls(job, feature, corner):
        return []
    what = "ball" if best.form == "ball" else "corner"
    return [
        f"{feature.name}: {deep:g} deep, but the {what} of {best.id} is rounded over {corner:g}: "
        f"no part of a wall would come true; a square end would do, or a corner radius of "
        f"{deep:g} or less"
    ]
