"""Finish cuts: the floor of a feature first, then its walls in equal skims."""

import numpy as np
from shapely import union_all
from shapely.geometry.base import BaseGeometry

from passplot.plan.areas import make_area, own_area, standing
from passplot.plan.bench import Bench
from passplot.plan.ends import corner_of, floor_limit
from passplot.plan.rest import clear_rest
from passplot.plan.stage import (
    FACE_WIDTH,
    ONE_WAY,
    Cutting,
    clear_area,
    feature_area,
    open_area,
    trace_walls,
)
from passplot.plan.terms import FeatureTerms
from passplot.plan.walker import Task, Walker
from passplot.records import plan as names

POCKET_FLOOR_WIDTH = 0.25
"""Width of a floor pass in a closed pocket, in diameters."""


def final_floors(all_terms: tuple[FeatureTerms, ...]) -> tuple[float, ...]:
    """Floor of every feature as finishing leaves it, in the order of the job."""
    return tuple(floor_left(term) for term in sorted(all_terms, key=lambda term: term.index))


def floor_left(terms: FeatureTerms) -> float:
    """Floor of a feature when all is done."""
    return terms.floor_z if terms.floor_skims or not terms.floor else terms.rough_z


def finish_floors(
    walker: Walker, all_terms: tuple[FeatureTerms, ...], terms: tuple[FeatureTerms, ...]
) -> list[tuple[FeatureTerms, BaseGeometry]]:
    """Floors of all features, then strips between them; returns metal that is out of reach."""
    walker.floors = final_floors(all_terms)
    stuck: list[tuple[FeatureTerms, BaseGeometry]] = []
    for rest in (False, True):
        for term in terms:
            for skim in range(1, term.floor_skims + 1):
                share = term.floor * (1 - skim / term.floor_skims)
                z = walker.bench.grid.up(term.floor_z + share)
                walker.task = Task(term.name, names.FINISH, skim, term.floor_skims)
                stuck += [(term, piece) for piece in _floor(walker, all_terms, term, z, rest)]
    return stuck


def finish_walls(
    walker: Walker, all_terms: tuple[FeatureTerms, ...], terms: tuple[FeatureTerms, ...]
) -> list[tuple[FeatureTerms, BaseGeometry]]:
    """Walls in equal skims, features that run into each other at one depth together."""
    walker.floors = final_floors(all_terms)
    stuck: list[tuple[FeatureTerms, BaseGeometry]] = []
    for group in _groups(walker, terms):
        for skim in range(1, group[0].wall_skims + 1):
            _walls(walker, all_terms, group, skim)
    for term in terms:
        if term.wall and term.wall_skims:
            stuck += [(term, piece) for piece in _tight_places(walker, all_terms, term)]
    return stuck


def _groups(walker: Walker, terms: tuple[FeatureTerms, ...]) -> list[list[FeatureTerms]]:
    """Features with wall stock, those that touch at one depth and one stock together."""
    groups: list[list[FeatureTerms]] = []
    for term in terms:
        if not (term.wall and term.wall_skims):
            continue
        mine = feature_area(walker, term.index)
        alike = [
            group
            for group in groups
            if abs(floor_left(group[0]) - floor_left(term)) < walker.bench.thin
            and (group[0].wall, group[0].wall_skims) == (term.wall, term.wall_skims)
            and any(mine.intersects(feature_area(walker, other.index)) for other in group)
        ]
        joined = [member for group in alike for member in group] + [term]
        groups = [group for group in groups if group not in alike] + [joined]
    return groups


def _floor(
    walker: Walker,
    all_terms: tuple[FeatureTerms, ...],
    terms: FeatureTerms,
    z: float,
    rest: bool,
) -> list[BaseGeometry]:
    """A feature's floor on its own, or (``rest``) what that left of it."""
    bench = walker.bench
    cells, job = bench.cells, bench.job
    everything = ~standing(cells, job, final_floors(all_terms), z)
    own = own_area(cells, job, final_floors(all_terms), terms.index, z, everything)
    area = make_area(cells, own, everything, cells.clears[terms.index], walker.metal, z)
    how = Cutting(
        name="floor",
        slot_name="floor",
        limit=floor_width(walker, terms, area.closed),
        base=bench.radius + terms.wall,
        to_size=terms.wall == 0.0,
        limits=job.features[terms.index].limits,
    )
    target = feature_area(walker, terms.index)
    if rest:
        whole = make_area(cells, everything, everything, cells.clears[terms.index], walker.metal, z)
        return clear_rest(walker, whole, open_area(walker, all_terms, terms, z), z, how)
    clear_area(walker, area, target, z, how)
    return []


def floor_width(walker: Walker, terms: FeatureTerms, closed: bool) -> float:
    """Width of a floor pass: wide over a face, narrow in a closed pocket.

    In a pocket every ring bites into four corners by its own width; wide rings would cut both
    ways over most of their length.
    """
    bench = walker.bench
    limits, diameter = bench.job.limits, 2 * bench.radius
    if bench.job.features[terms.index].kind == "face":
        width = FACE_WIDTH * diameter
    elif closed:
        width = POCKET_FLOOR_WIDTH * diameter
    else:
        width = ONE_WAY * diameter
    return _covering(bench, min(width, limits.width_of_cut or width))


def _covering(bench: Bench, width: float) -> float:
    """Width of a floor pass that a rounded end asks for: by its flat, if that is worth its name.

    Passes within half the flat cut one way only. Where they would be more than twice as many as
    the scallop asks for, that rules.
    """
    corner = corner_of(bench.use.cutter)
    if corner == 0:
        return width
    width = min(width, floor_limit(bench.use.cutter, bench.job.finish.cusp))
    by_flat = ONE_WAY * 2 * (bench.radius - corner)
    return min(width, by_flat) if by_flat > width / 2 else width


def _wall_cutting(walker: Walker, group: list[FeatureTerms], skim: int) -> Cutting:
    bench = walker.bench
    terms = group[0]
    left = terms.wall * (1 - skim / terms.wall_skims)
    return Cutting(
        name="wall",
        slot_name="wall",
        limit=max(2.5 * terms.wall, bench.use.width_limit),
        base=bench.radius + left,
        to_size=skim == terms.wall_skims,
        limits=tuple(limit for term in group for limit in bench.job.features[term.index].limits),
    )


def wall_heights(walker: Walker, z: float, top: float) -> list[float]:
    """Heights at which a wall is skimmed: at once, unless the job limits the depth of cut."""
    deepest = walker.bench.job.limits.depth_of_cut
    if deepest is None or top - z <= deepest + walker.bench.thin:
        return [z]
    count = -int(-(top - z) // deepest)
    return [walker.bench.grid.up(top - (top - z) * level / count) for level in range(1, count)] + [
        z
    ]


def _walls(
    walker: Walker, all_terms: tuple[FeatureTerms, ...], group: list[FeatureTerms], skim: int
) -> None:
    bench = walker.bench
    cells, job = bench.cells, bench.job
    z = floor_left(group[0])
    areas = {term.name: feature_area(walker, term.index) for term in group}
    target = union_all(list(areas.values()))
    top = walker.metal.highest(target)
    if top is None or top <= z + bench.thin:
        return
    heights = wall_heights(walker, z, top)
    how = _wall_cutting(walker, group, skim)
    for number, height in enumerate(heights, 1):
        walker.task = Task(group[0].name, names.FINISH, number, len(heights))
        walker.owners = tuple(areas.items())
        own = ~standing(cells, job, final_floors(all_terms), height)
        area = make_area(cells, own, own, np.zeros_like(own), walker.metal, height)
        trace_walls(walker, area, target, height, how)
        walker.owners = ()


def _tight_places(
    walker: Walker, all_terms: tuple[FeatureTerms, ...], terms: FeatureTerms
) -> list[BaseGeometry]:
    bench = walker.bench
    cells, job = bench.cells, bench.job
    z = floor_left(terms)
    walker.task = Task(terms.name, names.FINISH)
    own = ~standing(cells, job, final_floors(all_terms), z)
    area = make_area(cells, own, own, cells.clears[terms.index], walker.metal, z)
    target = feature_area(walker, terms.index)
    how = _wall_cutting(walker, [terms], terms.wall_skims)
    return clear_rest(walker, area, target, z, how)
