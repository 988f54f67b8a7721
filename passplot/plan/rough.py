"""Roughing: every feature in turn, level by level, leaving stock on wall and floor."""

from dataclasses import replace

import numpy as np
from shapely.geometry.base import BaseGeometry

from passplot.frozen import dataclass
from passplot.plan.areas import Area, make_area, own_area, standing
from passplot.plan.cells import Cells
from passplot.plan.rest import clear_rest
from passplot.plan.rings import whole
from passplot.plan.stage import FACE_WIDTH, ONE_WAY, Cutting, clear_area, feature_area, open_area
from passplot.plan.terms import FeatureTerms, Rules
from passplot.plan.walker import Task, Walker
from passplot.records import plan as names
from passplot.records.job import Job


@dataclass(frozen=True, slots=True)
class Levels:
    """Heights of a feature's levels, from the top down, and the width of cut at each."""

    heights: tuple[float, ...]
    width: float


def plan_levels(walker: Walker, rules: Rules, top: float, bottom: float) -> Levels:
    """Equal levels from ``top`` to ``bottom``, at round settings where that adds none."""
    bench = walker.bench
    depth = top - bottom
    deepest = rules.level(bench.job, bench.use.cutter)
    count = max(1, whole(depth / deepest))
    share = depth / count
    heights: list[float] = []
    for level in range(1, count):
        exact = top - share * level
        rounded = bench.grid.round_setting(exact)
        last = heights[-1] if heights else top
        fits = last - rounded <= deepest + 1e-9 and rounded - bottom <= (count - level) * deepest
        heights.append(rounded if fits else bench.grid.up(exact))
    return Levels((*heights, bottom), rules.width(bench.job, bench.use.cutter, share))


def _face_width(
    walker: Walker, rules: Rules, terms: FeatureTerms, levels: Levels, top: float
) -> float:
    """A face is shallow: its passes may be wide, unless the job or the motor says otherwise."""
    bench = walker.bench
    if bench.job.features[terms.index].kind != "face":
        return levels.width
    deep = top - levels.heights[0]
    widest = FACE_WIDTH * 2 * bench.radius
    return rules.face_width(bench.job, bench.use.cutter, deep, widest)


def rough_feature(
    walker: Walker, rules: Rules, all_terms: tuple[FeatureTerms, ...], terms: FeatureTerms
) -> Levels:
    """Rough one feature; returns the levels and the width of cut it was planned with."""
    bench = walker.bench
    floors = rough_floors(all_terms)
    walker.floors = floors
    target = feature_area(walker, terms.index)
    top = walker.metal.highest(target)
    if top is None or top <= terms.rough_z + bench.thin:
        return Levels((terms.rough_z,), 0.0)
    levels = plan_levels(walker, rules, top, terms.rough_z)
    width = _face_width(walker, rules, terms, levels, top)
    count = len(levels.heights)
    for number, z in enumerate(levels.heights, 1):
        walker.task = Task(terms.name, names.ROUGH, number, count)
        area = level_area(walker, all_terms, terms, floors, z)
        clear_area(walker, area, target, z, _one_way(walker, area, _cutting(walker, terms, width)))
    return Levels(levels.heights, width)


def _one_way(walker: Walker, area: Area, how: Cutting) -> Cutting:
    """Rings of a closed pocket stay within the radius: wider, all of each would cut both ways."""
    if not area.closed:
        return how
    return replace(how, limit=min(how.limit, ONE_WAY * 2 * walker.bench.radius))


def level_area(
    walker: Walker,
    all_terms: tuple[FeatureTerms, ...],
    terms: FeatureTerms,
    floors: tuple[float, ...],
    z: float,
) -> Area:
    """The area of a feature at height ``z``, with the way open over features cut before it."""
    bench = walker.bench
    cells, job = bench.cells, bench.job
    done = np.zeros_like(cells.clears[0])
    for other in all_terms[: all_terms.index(terms)]:
        if other.rough_z <= z + bench.thin:
            done |= cells.clears[other.index]
    open_mask = own_area(cells, job, floors, terms.index, z, done)
    way_open = ~standing(cells, job, floors, z)
    return make_area(cells, open_mask, way_open, cells.clears[terms.index], walker.metal, z)


def rough_rest(
    walker: Walker, all_terms: tuple[FeatureTerms, ...], terms: FeatureTerms, levels: Levels
) -> list[BaseGeometry]:
    """What is left of a feature once all are roughed: strips between features, tight corners."""
    bench = walker.bench
    cells, job = bench.cells, bench.job
    walker.floors = rough_floors(all_terms)
    stuck: list[BaseGeometry] = []
    for number, z in enumerate(levels.heights, 1):
        walker.task = Task(terms.name, names.ROUGH, number, len(levels.heights))
        open_mask = ~standing(cells, job, rough_floors(all_terms), z)
        area = make_area(cells, open_mask, open_mask, cells.clears[terms.index], walker.metal, z)
        how = _cutting(walker, terms, levels.width)
        target = open_area(walker, all_terms, terms, z)
        stuck = clear_rest(walker, area, target, z, how)
    return stuck


def rough_floors(all_terms: tuple[FeatureTerms, ...]) -> tuple[float, ...]:
    """Rough floor of every feature, in the order of the job."""
    return tuple(term.rough_z for term in sorted(all_terms, key=lambda term: term.index))


def _cutting(walker: Walker, terms: FeatureTerms, width: float) -> Cutting:
    bench = walker.bench
    return Cutting(
        name="width",
        slot_name="slot",
        limit=width or bench.use.width_limit,
        base=bench.radius + terms.wall,
        to_size=terms.wall == 0.0,
        limits=bench.job.features[terms.index].limits,
    )


def area_to_clear(cells: Cells, job: Job, terms: FeatureTerms) -> float:
    """Plan-view area a feature clears inside the stock, job units squared."""
    mask = cells.inner(cells.clears[terms.index])
    rects = cells.rectangles(mask)
    return float(sum((x1 - x0) * (y1 - y0) for x0, x1, y0, y1 in rects))
