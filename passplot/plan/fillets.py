"""What a cutter with rounded corners leaves at the foot of a wall: a fillet of their radius."""

from __future__ import annotations

from typing import TYPE_CHECKING

import shapely

from passplot.plan.bench import stock_area
from passplot.plan.offsets import area_of
from passplot.plan.words import size_words
from passplot.records.fillet import Fillet

if TYPE_CHECKING:
    from collections.abc import Sequence

    from passplot.plan.planner import Done
    from passplot.records.job import Feature, Job

_HAIR = 1e-6


def fillets_of(job: Job, done: Sequence[Done]) -> tuple[Fillet, ...]:
    """The fillets at the floors of features that only cutters with rounded corners work.

    A floor has its fillet along every wall that stands on it; where it runs out of the stock, or
    into a lower one, there is none. One that goes through the stock leaves none either.
    """
    found: list[Fillet] = []
    for feature in job.features:
        corners = [
            one.use.cutter.corner_radius
            for one in done
            if one.moves and any(term.name == feature.name for term in one.terms)
        ]
        radius = min(corners, default=0.0)
        if radius > 0 and feature.floor > job.stock.bottom + _HAIR:
            area = _strip(job, feature, radius)
            if area > _HAIR:
                found.append(Fillet(feature.name, radius, area))
    return tuple(found)


def fillet_notes(job: Job, fillets: Sequence[Fillet]) -> tuple[str, ...]:
    """What there is to say of them."""
    return tuple(
        f"{each.feature}: the cutter's corners leave a fillet of {size_words(each.radius, job)} "
        "between floor and walls"
        for each in fillets
    )


def _strip(job: Job, feature: Feature, radius: float) -> float:
    """Plan-view area of the fillet: within its radius of the walls that stand on the floor."""
    stock = stock_area(job)
    lower = [each for each in job.features if each.floor <= feature.floor + _HAIR]
    sagitta = job.shop.machine.resolution / 5
    areas = [area_of(each, sagitta, grow=False) for each in lower]
    opened = shapely.union_all(areas).intersection(stock)
    walls = opened.boundary.difference(stock.boundary.buffer(_HAIR))
    own = area_of(feature, sagitta, grow=False).intersection(stock)
    return float(own.intersection(walls.buffer(radius)).area)
