"""How much stock each feature can spare: less than asked where a gap leaves no room for it."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace
from itertools import combinations, compress
from typing import TYPE_CHECKING

from passplot.errors import CannotCut
from passplot.plan.cells import Cells
from passplot.plan.forms import ribs_to_finish
from passplot.plan.grid import Grid
from passplot.plan.room import narrowest, room_beside, rub
from passplot.plan.seats import deep_enough
from passplot.plan.terms import FeatureTerms
from passplot.plan.zones import SLACK
from passplot.records.job import Feature, Job
from passplot.records.plan import CutterUse

if TYPE_CHECKING:
    from passplot.plan.ground import Ground


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
    rubs = rub(job, grid)
    asked, ribbed = _asked(cells, job, uses, per_feature, [use.wall for use in first])
    rooms = [
        [
            room_beside(cells, job, ground, floors, i, use.cutter.radius, asked[i], rubs)
            for i in indices
        ]
        for use in uses
    ]
    tightest = []
    for i in indices:
        mine = [use.cutter.id in per_feature[i] for use in uses]
        found = [(use.cutter.radius, row[i]) for use, row in zip(uses, rooms, strict=True)]
        kept = list(compress(found, mine))
        tightest.append(narrowest(cells, job, floors, i, asked[i], rubs, kept))
    walls = _walls(cells, job, grid, asked, tightest)
    # what is left for ribs to be finished off is that or nothing
    least_wall = 0.005 if job.inch else 0.1
    leasts = [asked[i] if i in ribbed else least_wall for i in indices]
    table = [
        [
            _feature_terms(job, first[i], (walls[i], row[i], leasts[i]), i, grid, least_wall)
            for i in indices
        ]
        for row in rooms
    ]
    least: dict[int, float] = {}
    for use, row in zip(uses, table, strict=True):
        for term in row:
            if term.wall > 0 and use.cutter.id in per_feature[term.index]:
                least[term.index] = min(term.wall, least.get(term.index, term.wall))
    if alike:
        least |= {term.index: 0.0 for row in table for term in row if term.to_size}
    _share(cells, least)
    return tuple(tuple(_leaving(term, least) for term in row) for row in table)


def _leaving(term: FeatureTerms, least: dict[int, float]) -> FeatureTerms:
    """Terms with the wall stock that all of a feature's cutters leave."""
    return _with_wall(term, least.get(term.index, term.wall)) if term.wall > 0 else term


def _asked(
    cells: Cells,
    job: Job,
    uses: Sequence[CutterUse],
    per_feature: Sequence[Collection[str]],
    first: Sequence[float],
) -> tuple[list[float], set[int]]:
    """Wall stock asked for on every feature, and which have ribs to finish off.

    A roughing cutter leaves more than others would, on what touches its features too.
    """
    asked = list(first)
    ribbed: dict[int, float] = {}
    for index, mine in enumerate(per_feature):
        for use in uses:
            if use.cutter.id in mine and ribs_to_finish(job, use.cutter):
                ribbed[index] = max(use.wall, ribbed.get(index, 0.0))
    todo = list(ribbed)
    while todo:
        index = todo.pop()
        for other in range(len(asked)):
            least = ribbed[index]
            if ribbed.get(other, 0.0) < least and _touch(cells, index, other):
                ribbed[other] = least
                todo.append(other)
    for index, wall in ribbed.items():
        asked[index] = max(asked[index], wall)
    return asked, set(ribbed)


def _with_wall(term: FeatureTerms, wall: float) -> FeatureTerms:
    """Terms with other wall stock; none is cut to size at once."""
    skims = term.wall_skims if wall > 0 else 0
    return replace(term, wall=wall, wall_skims=skims, to_size=wall == 0)


def _walls(
    cells: Cells, job: Job, grid: Grid, asked: list[float], tightest: list[float]
) -> list[float]:
    """Wall stock of every feature: a little more than asked where a pass would take no more.

    In a gap hardly wider than the cutter with its stock, passes along both walls would only rub
    after the cut down the middle; finishing takes that little along. Features that touch are
    given the same where there is room for it.
    """
    rubs = rub(job, grid)
    walls = [
        room if 0 < wall <= room < wall + rubs else wall
        for wall, room in zip(asked, tightest, strict=True)
    ]
    for a, b in combinations(range(len(walls)), 2):
        if walls[a] != walls[b] and asked[a] == asked[b] and _touch(cells, a, b):
            less, more = sorted((a, b), key=lambda i: walls[i])
            room = tightest[less]
            if room >= asked[less] + rubs or room >= walls[more]:
                walls[less] = walls[more]
    return walls


def _share(cells: Cells, least: dict[int, float]) -> None:
    """Hand the least stock on to every feature that touches."""
    for _ in least:
        for a, b in combinations(least, 2):
            if _touch(cells, a, b):
                least[a] = least[b] = min(least[a], least[b])


def _feature_terms(
    job: Job,
    first: CutterUse,
    spare: tuple[float, float, float],
    index: int,
    grid: Grid,
    least: float,
) -> FeatureTerms:
    """Wall and floor stock, and skims, of a feature for one cutter.

    ``first`` is the first cutter of the feature; a later one leaves no more than that one.
    ``spare`` is the wall stock wanted, that which there is room for, and the least that is left
    rather than none; ``least`` the thinnest skim.
    """
    feature = job.features[index]
    wall, room, least_wall = spare
    floor = first.floor
    to_size = False
    if wall > 0 and room < wall - SLACK:
        wall = room if room >= least_wall else 0.0
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
