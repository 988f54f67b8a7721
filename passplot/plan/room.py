"""Room for wall stock: what the narrowest places of a feature leave beside a cutter."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from passplot.plan.areas import standing
from passplot.plan.cells import Cells, Mask
from passplot.plan.grid import Grid
from passplot.plan.zones import SLACK
from passplot.records.job import Job

if TYPE_CHECKING:
    from passplot.plan.ground import Ground


def rub(job: Job, grid: Grid) -> float:
    """Room past the wall stock that is too little for passes beside a cut down the middle.

    Stock that stays on for good is as asked unless even one pass over both sides would rub.
    """
    thin = 0.003 if job.inch else 0.08
    return thin + 2 * grid.resolution if job.finish.skims else thin / 2


def narrowest(
    cells: Cells,
    job: Job,
    floors: tuple[float, ...],
    index: int,
    wall: float,
    more: float,
    rooms: Sequence[tuple[float, float]],
) -> float:
    """The least room of any cutter in a feature that leaves the wall stock asked for.

    ``rooms`` are the radius and the room between walls that face each other, of every cutter. A
    cutter that has not room enough decides by itself what it leaves.
    """
    found = [_room_past(cells, job, floors, index, radius, wall, more) for radius, _ in rooms]
    return min([*found, *(room for _, room in rooms if room >= wall - SLACK)])


def room_for_wall(
    cells: Cells, job: Job, ground: Ground | None, index: int, radius: float, wall: float
) -> float:
    """Wall stock, ``wall`` at most, that a cutter finds room to leave on a feature."""
    floors = tuple(feature.floor for feature in job.features)
    return room_beside(cells, job, ground, floors, index, radius, wall, 0.0)


def room_beside(
    cells: Cells,
    job: Job,
    ground: Ground | None,
    floors: tuple[float, ...],
    index: int,
    radius: float,
    wanted: float,
    more: float,
) -> float:
    """Wall stock that fits everywhere the cutter itself fits; not looked for past ``more``."""
    feature = job.features[index]
    if ground is None or not feature.curved:
        walls = standing(cells, job, floors, feature.floor)
        own = cells.inner(cells.clears[index])
        step = job.shop.machine.resolution
        return min([wanted + more, *_rooms(cells, walls, own, radius, step)])
    if wanted == 0.0:
        return 0.0
    from passplot.plan.ground import covers_gap  # noqa: PLC0415 - for few jobs, and slow

    zone = ground.zone(floors, feature.floor, radius)
    near = ground.area(index)
    if zone.intersection(near).is_empty:
        near = near.buffer(radius)  # so near the edge that the axis stays beside the stock
    elif zone.intersection(near).buffer(-5 * SLACK).is_empty:
        return 0.0  # as wide as the cutter: its axis keeps to a line
    for share in (1.0, 0.5, 0.25):
        # a little more: the axis must find settings to stand on
        by = radius + share * wanted + 2 * job.shop.machine.resolution
        inner = ground.zone(floors, feature.floor, by)
        if covers_gap(zone.intersection(near), inner, share * wanted):
            return share * wanted
    return 0.0


def _room_past(
    cells: Cells,
    job: Job,
    floors: tuple[float, ...],
    index: int,
    radius: float,
    wanted: float,
    more: float,
) -> float:
    """Room beside passes along walls that do not face each other but are passed by one cutter.

    No less than ``wanted``, for there is no need to fit between such walls.
    """
    walls = standing(cells, job, floors, job.features[index].floor)
    own = cells.inner(cells.clears[index])
    room = wanted + more
    for mask, mine, across, along in (
        (walls, own, cells.xs, cells.ys),
        (walls.T, own.T, cells.ys, cells.xs),
    ):
        low, high = np.array(along[:-1]), np.array(along[1:])
        near = (low[:, None] - high[None, :] < 2 * radius) & (
            low[None, :] - high[:, None] < 2 * radius
        )
        passed = (mask.astype(int) @ near.astype(int)) > 0
        for spare in _spares(passed, mine, across, radius, job.shop.machine.resolution):
            if wanted <= spare < room:
                room = spare
    return room


def _rooms(cells: Cells, walls: Mask, own: Mask, radius: float, step: float) -> list[float]:
    """Room beside a cutter in every gap along X or Y."""
    return [
        *_spares(walls, own, cells.xs, radius, step),
        *_spares(walls.T, own.T, cells.ys, radius, step),
    ]


def _spares(
    walls: Mask, own: Mask, borders: Sequence[float], radius: float, step: float
) -> list[float]:
    """Room beside a cutter of ``radius`` in every gap between walls along ``borders``.

    It stands on a whole ``step`` of the readout, as near the middle as that comes: on one side
    there is that much less room. Gaps it does not fit into are left out.
    """
    found = []
    for low, high in _gaps(walls, own, borders):
        spare, middle = (high - low) / 2 - radius, (low + high) / 2
        if spare >= -SLACK:
            found.append(max(0.0, spare - abs(round(middle / step) * step - middle)))
    return found


def _gaps(walls: Mask, own: Mask, borders: Sequence[float]) -> list[tuple[float, float]]:
    """Every gap between walls along ``borders`` that some of ``own`` lies in."""
    found = []
    for j in range(walls.shape[1]):
        stops = np.flatnonzero(walls[:, j]).tolist()
        for low, high in pairwise(stops):
            if high > low + 1 and own[low + 1 : high, j].any():
                found.append((borders[low + 1], borders[high]))
    return found


def narrowest_gap(cells: Cells, walls: Mask, own: Mask) -> float | None:
    """The narrowest gap between walls across the cells of ``own``; None where there is none."""
    gaps = [*_gaps(walls, own, cells.xs), *_gaps(walls.T, own.T, cells.ys)]
    return min((high - low for low, high in gaps), default=None)
