"""How much stock each feature can spare: less than asked where a gap leaves no room for it."""

from passplot.plan.areas import standing
from passplot.plan.cells import Cells, Mask
from passplot.plan.terms import FeatureTerms
from passplot.plan.zones import SLACK
from passplot.records.job import Job
from passplot.records.plan import CutterUse


def feature_terms(
    cells: Cells, job: Job, use: CutterUse, index: int, first: FeatureTerms | None
) -> FeatureTerms:
    """Wall and floor stock, and skims, of a feature for one cutter.

    ``first`` is what the first cutter of the feature left on; a later one leaves as much.
    """
    feature = job.features[index]
    least = 0.005 if job.inch else 0.1
    wall, floor = (use.wall, use.floor) if first is None else (first.wall, first.floor)
    walls = standing(cells, job, tuple(f.floor for f in job.features), feature.floor)
    room = _least_room(cells, walls, cells.inner(cells.clears[index]), use.cutter.radius, wall)
    to_size = False
    if wall > 0 and room < wall - SLACK:
        wall = room if room >= least else 0.0
        to_size = wall == 0.0
    through = feature.floor <= job.stock.bottom + SLACK
    if through:
        floor = 0.0
    wall_skims = _skims(wall, job.finish.skims, least)
    floor_skims = _skims(floor, job.finish.floor_skims, least)
    return FeatureTerms(
        index=index,
        name=feature.name,
        floor_z=feature.floor,
        rough_z=feature.floor + floor,
        wall=wall,
        floor=floor,
        wall_skims=wall_skims,
        floor_skims=floor_skims,
        to_size=to_size,
    )


def _skims(stock: float, asked: int, least: float) -> int:
    """Skims of at least ``least`` each."""
    if stock <= 0 or asked == 0:
        return 0
    return max(1, min(asked, int(stock / least + 1e-6)))


def _least_room(cells: Cells, walls: Mask, own: Mask, radius: float, wanted: float) -> float:
    """Stock that fits on both sides of the narrowest gap the cutter itself fits into."""
    room = wanted
    for mask, mine, borders in ((walls, own, cells.xs), (walls.T, own.T, cells.ys)):
        for j in range(mask.shape[1]):
            stops = [i for i in range(mask.shape[0]) if mask[i, j]]
            for low, high in zip(stops, stops[1:], strict=False):
                if high == low + 1 or not mine[low + 1 : high, j].any():
                    continue
                gap = borders[high] - borders[low + 1]
                spare = gap / 2 - radius
                if -SLACK <= spare < room:
                    room = max(0.0, spare)
    return room
