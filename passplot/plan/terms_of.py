"""How much stock each feature can spare: less than asked where a gap leaves no room for it."""

from collections.abc import Collection, Sequence
from dataclasses import replace
from itertools import combinations, compress, pairwise

import numpy as np

from passplot.errors import CannotCut
from passplot.plan.areas import standing
from passplot.plan.cells import Cells, Mask
from passplot.plan.grid import Grid
from passplot.plan.ground import Ground, covers_gap
from passplot.plan.seats import deep_enough
from passplot.plan.terms import FeatureTerms
from passplot.plan.zones import SLACK
from passplot.records.job import Feature, Job
from passplot.records.plan import CutterUse


def job_terms(
    cells: Cells,
    job: Job,
    uses: Sequence[CutterUse],
    per_feature: Sequence[Collection[str]],
    grid: Grid,
    ground: Ground | None,
    *,
    alike: bool = False,
) -> tuple[tuple[FeatureTerms, ...], ...]:
    """Terms of every feature, for each cutter in turn.

    All cutters of a feature, and features that run into each other, leave the same wall stock:
    the least that any of them finds room for. Their walls meet, so a pass of one runs along a
    wall of the other. What is cut to size at once keeps to itself, unless all that touches is to
    be ``alike``.

    Parameters
    ----------
    per_feature : sequence of collection of str
        Ids of the cutters that work each feature.
    """
    indices = range(len(job.features))
    first = [next(use for use in uses if use.cutter.id in per_feature[i]) for i in indices]
    floors = tuple(feature.floor for feature in job.features)
    rub = _rub(job, grid)
    rooms = [
        [
            _room(cells, job, ground, floors, i, use.cutter.radius, first[i].wall, rub)
            for i in indices
        ]
        for use in uses
    ]
    narrowest = []
    for i in indices:
        mine = [use.cutter.id in per_feature[i] for use in uses]
        found = [(use.cutter.radius, row[i]) for use, row in zip(uses, rooms, strict=True)]
        kept = list(compress(found, mine))
        narrowest.append(_narrowest(cells, job, floors, i, first[i].wall, rub, kept))
    walls = _walls(cells, job, grid, [one.wall for one in first], narrowest)
    table = [
        [_feature_terms(job, use, first[i], walls[i], i, grid, row[i]) for i in indices]
        for use, row in zip(uses, rooms, strict=True)
    ]
    least: dict[int, float] = {}
    for use, row in zip(uses, table, strict=True):
        for term in row:
            if term.wall > 0 and use.cutter.id in per_feature[term.index]:
                least[term.index] = min(term.wall, least.get(term.index, term.wall))
    if alike:
        least |= {term.index: 0.0 for row in table for term in row if term.to_size}
    _share(cells, least)
    return tuple(
        tuple(
            _with_wall(term, least.get(term.index, term.wall)) if term.wall > 0 else term
            for term in row
        )
        for row in table
    )


def _with_wall(term: FeatureTerms, wall: float) -> FeatureTerms:
    """Terms with other wall stock; none is cut to size at once."""
    skims = term.wall_skims if wall > 0 else 0
    return replace(term, wall=wall, wall_skims=skims, to_size=wall == 0)


def _narrowest(
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


def _rub(job: Job, grid: Grid) -> float:
    """Room past the wall stock that is too little for passes beside a cut down the middle.

    Stock that stays on for good is as asked unless even one pass over both sides would rub.
    """
    thin = 0.003 if job.inch else 0.08
    return thin + 2 * grid.resolution if job.finish.skims else thin / 2


def _walls(
    cells: Cells, job: Job, grid: Grid, asked: list[float], narrowest: list[float]
) -> list[float]:
    """Wall stock of every feature: a little more than asked where a pass would take no more.

    In a gap hardly wider than the cutter with its stock, passes along both walls would only rub
    after the cut down the middle; finishing takes that little along. Features that touch are
    given the same where there is room for it.
    """
    rub = _rub(job, grid)
    walls = [
        max(wall, room - grid.resolution / 2) if 0 < wall <= room < wall + rub else wall
        for wall, room in zip(asked, narrowest, strict=True)
    ]
    for a, b in combinations(range(len(walls)), 2):
        if walls[a] != walls[b] and asked[a] == asked[b] and _touch(cells, a, b):
            less, more = sorted((a, b), key=lambda i: walls[i])
            room = narrowest[less]
            if room >= asked[less] + rub or room - grid.resolution / 2 >= walls[more]:
                walls[less] = walls[more]
    return walls


def _share(cells: Cells, least: dict[int, float]) -> None:
    """Hand the least stock on to every feature that touches."""
    for _ in least:
        for a, b in combinations(least, 2):
            if _touch(cells, a, b):
                least[a] = least[b] = min(least[a], least[b])


def _feature_terms(
    job: Job, use: CutterUse, first: CutterUse, wall: float, index: int, grid: Grid, room: float
) -> FeatureTerms:
    """Wall and floor stock, and skims, of a feature for one cutter.

    ``first`` is the first cutter of the feature; a later one leaves no more than that one.
    ``wall`` is the wall stock wanted, ``room`` that which there is room for.
    """
    feature = job.features[index]
    least = 0.005 if job.inch else 0.1
    floor = first.floor
    to_size = False
    if wall > 0 and room < wall - SLACK:
        # a position between the walls must still be left when it is rounded to the readout
        room -= grid.resolution / 2
        wall = room if room >= least else 0.0
        to_size = wall == 0.0
    through = feature.floor <= job.stock.bottom + SLACK
    if through:
        floor = 0.0
    floor_z = floor_position(grid, feature)
    wall_skims = _skims(wall, job.finish.skims, least)
    floor_skims = _skims(floor, job.finish.floor_skims, least)
    return FeatureTerms(
        index=index,
        name=feature.name,
        floor_z=floor_z,
        rough_z=max(grid.up(feature.floor + floor), floor_z) if floor else floor_z,
        wall=wall,
        floor=floor,
        wall_skims=wall_skims,
        floor_skims=floor_skims,
        to_size=to_size,
    )


def _room(
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
        return _least_room(cells, walls, cells.inner(cells.clears[index]), radius, wanted + more)
    if wanted == 0.0:
        return 0.0
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
        for spare in _spares(passed, mine, across, radius):
            if wanted <= spare < room:
                room = spare
    return room


def _touch(cells: Cells, a: int, b: int) -> bool:
    one, two = cells.inner(cells.clears[a]), cells.inner(cells.clears[b])
    near = one.copy()
    near[1:, :] |= one[:-1, :]
    near[:-1, :] |= one[1:, :]
    near[:, 1:] |= one[:, :-1]
    near[:, :-1] |= one[:, 1:]
    return bool((near & two).any())


def floor_position(grid: Grid, feature: Feature) -> float:
    """Height of a floor on the readout: at or above the middle of its limits, and inside them.

    Raises
    ------
    CannotCut
        If no reading brings the depth inside its limits.
    """
    depth = feature.depth
    for candidate in (grid.up(feature.floor), grid.down(feature.floor)):
        off = candidate - feature.floor
        if feature.keyseat is not None:
            if deep_enough(feature.keyseat, off):
                return candidate
            continue
        if not depth.toleranced or depth.middle - depth.high <= off <= depth.middle - depth.low:
            return candidate
        if abs(off) < SLACK:
            return candidate
    raise CannotCut(
        f"{feature.name}: no reading of the readout (steps of {grid.resolution:g}) brings the "
        f"depth {depth.text} inside its limits; a finer readout or wider limits would do"
    )


def _skims(stock: float, asked: int, least: float) -> int:
    """Skims of at least ``least`` each."""
    if stock <= 0 or asked == 0:
        return 0
    return max(1, min(asked, int(stock / least + 1e-6)))


def _least_room(cells: Cells, walls: Mask, own: Mask, radius: float, wanted: float) -> float:
    """Stock that fits on both sides of the narrowest gap the cutter itself fits into."""
    spares = [
        *_spares(walls, own, cells.xs, radius),
        *_spares(walls.T, own.T, cells.ys, radius),
    ]
    return max(0.0, min([wanted, *(spare for spare in spares if spare >= -SLACK)]))


def _spares(walls: Mask, own: Mask, borders: Sequence[float], radius: float) -> list[float]:
    """Half of what every gap between walls along ``borders`` is wider than the cutter."""
    found = []
    for j in range(walls.shape[1]):
        stops = np.flatnonzero(walls[:, j]).tolist()
        for low, high in pairwise(stops):
            if high > low + 1 and own[low + 1 : high, j].any():
                found.append((borders[high] - borders[low + 1]) / 2 - radius)
    return found


def narrowest_gap(cells: Cells, walls: Mask, own: Mask) -> float | None:
    """The narrowest gap between walls across the cells of ``own``; None where there is none."""
    spares = [*_spares(walls, own, cells.xs, 0.0), *_spares(walls.T, own.T, cells.ys, 0.0)]
    return 2 * min(spares) if spares else None
