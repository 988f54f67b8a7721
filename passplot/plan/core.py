"""The square core of work with slanted and curved walls: what rings along X and Y can clear.

Rings are laid in areas with walls along X and Y only. A bore or an outline gets the largest
such rectangle found inside it, a shape left standing the rectangle round it; a pocket with
rounded corners keeps its square corners, and passes are clipped to where the axis may stand.
"""

from dataclasses import replace

import shapely
from shapely.geometry.base import BaseGeometry

from passplot.curves import loop_box
from passplot.plan.loops import loop_area
from passplot.records.job import Feature, Job
from passplot.records.shapes import Loop, rectangle

_SHARE = 0.35
"""Least share of a loop that a rectangle in it has to fill to be worth its rings."""

_CELLS = 24
"""Rectangles are looked for on a grid of this many lines each way."""


def core_job(job: Job, square: Job) -> Job:
    """The job with loops along X and Y in place of all others.

    Parameters
    ----------
    square : Job
        The job with the sharp corners its loops were rounded from.
    """
    pairs = zip(job.features, square.features, strict=True)
    return replace(job, features=tuple(_core(feature, sharp) for feature, sharp in pairs))


def _core(feature: Feature, sharp: Feature) -> Feature:
    if not feature.curved:
        return feature
    area = tuple(
        loop
        for one, other in zip(feature.area, sharp.area, strict=True)
        for loop in _inside(feature, one, other)
    )
    keep = tuple(
        other if other.rectilinear else _around(one)
        for one, other in zip(feature.keep, sharp.keep, strict=True)
    )
    return replace(feature, area=area, keep=keep)


def _inside(feature: Feature, loop: Loop, sharp: Loop) -> list[Loop]:
    if sharp.rectilinear:
        return [sharp]
    if feature.kind in ("slot", "keyseat"):
        return [_around(loop)]
    found = largest_rectangle(loop_area(loop, 1e-4, grow=False))
    if found is None:
        return []
    x0, y0, x1, y1 = found
    return [rectangle(x0, x1, y0, y1)]


def _around(loop: Loop) -> Loop:
    return rectangle(*loop_box(loop))


def largest_rectangle(area: BaseGeometry) -> tuple[float, float, float, float] | None:
    """The largest rectangle along X and Y found in an area; None where it fills too little.

    Corners are looked for on a grid laid over the area, so that it is near the largest only.
    """
    x0, y0, x1, y1 = area.bounds
    if x1 <= x0 or y1 <= y0:
        return None
    xs = [x0 + (x1 - x0) * i / _CELLS for i in range(_CELLS + 1)]
    ys = [y0 + (y1 - y0) * j / _CELLS for j in range(_CELLS + 1)]
    boxes = shapely.box(
        [xs[i] for i in range(_CELLS) for _ in range(_CELLS)],
        [ys[j] for _ in range(_CELLS) for j in range(_CELLS)],
        [xs[i + 1] for i in range(_CELLS) for _ in range(_CELLS)],
        [ys[j + 1] for _ in range(_CELLS) for j in range(_CELLS)],
    )
    shapely.prepare(area)
    inside = shapely.covers(area, boxes).reshape(_CELLS, _CELLS)
    best = (0, (0, 0, 0, 0))
    heights = [0] * _CELLS
    for i in range(_CELLS):
        heights = [h + 1 if inside[i, j] else 0 for j, h in enumerate(heights)]
        for j in range(_CELLS):
            low = heights[j]
            for k in range(j, _CELLS):
                low = min(low, heights[k])
                size = low * (k - j + 1)
                if size > best[0]:
                    best = (size, (i - low + 1, j, i + 1, k + 1))
    i0, j0, i1, j1 = best[1]
    found = (xs[i0], ys[j0], xs[i1], ys[j1])
    filled = (found[2] - found[0]) * (found[3] - found[1])
    return found if best[0] and filled >= _SHARE * area.area else None
