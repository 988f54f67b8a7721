"""What there is to see along an axis of the work, and where no view may be broken."""

from collections.abc import Iterable

from passplot.records.shapes import Point
from passplot.sheet.groups import stops_of
from passplot.sheet.rounds import arc_reach, bends, reach_of
from passplot.sheet.scene import Scene


def span_of(corners: Iterable[Point], key: str) -> tuple[float, float]:
    """Lowest and highest coordinate ``key`` of points."""
    values = [getattr(corner, key) for corner in corners]
    return min(values), max(values)


def unbroken(scene: Scene, axis: str) -> tuple[tuple[float, float], ...]:
    """Spans along an axis that no break may run through: bosses, islands and arcs."""
    return tuple(
        span_of(reach_of(loop), axis.lower()) for feature in scene.now for loop in feature.keep
    ) + tuple(span_of(arc_reach(arc), axis.lower()) for arc in bends((*scene.gone, *scene.now)))


def events(scene: Scene, axis: str) -> tuple[float, ...]:
    """Coordinates along an axis at which something is to be seen."""
    key = axis.lower()
    stock = scene.job.stock
    found = list(stock.x if axis == "X" else stock.y)
    for feature in (*scene.gone, *scene.now):
        for loop in (*feature.area, *feature.keep):
            found += [getattr(corner, key) for corner in reach_of(loop)]
    for each in scene.passes:
        found += [getattr(stop, key) for stop in stops_of(each)]
    for hole in scene.holes:
        at = getattr(hole.at, key)
        found += [at - hole.diameter, at + hole.diameter]
    for corner in scene.corners:
        at = getattr(corner.at, key)
        found += [at - corner.radius, at + corner.radius]
    return tuple(found)
