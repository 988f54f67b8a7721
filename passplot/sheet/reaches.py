"""What there is to see along an axis of the work, and where no view may be broken."""

from collections.abc import Iterable

from passplot.frozen import dataclass
from passplot.records.shapes import Point
from passplot.sheet.groups import stops_of
from passplot.sheet.margins import feature_edges
from passplot.sheet.rounds import arc_reach, bends, reach_of
from passplot.sheet.scene import Scene
from passplot.sheet.view import Reach

WHOLE, AROUND, DETAIL = range(3)
"""What a view shows: the block, what is round the features, what is round the passes."""
_ROUND_FEATURE_MM = 4.5

Span = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Extent:
    """What there is along one axis of a scene, gathered once for all framings of it.

    ``block`` is the stock, ``edges`` the features', ``stops`` where passes begin, turn and end,
    ``circle`` the cutter drawn on the first pass; ``seen`` are coordinates at which something is
    to be seen, ``whole`` the spans that no break may run through.
    """

    block: Span
    edges: Span
    stops: tuple[float, ...]
    circle: tuple[float, ...]
    radius: float
    seen: tuple[float, ...]
    whole: tuple[Span, ...]

    def reach(self, crop: int, mm_per_unit: float) -> Reach:
        """What a view shows that is cropped so: at least where the passes and the cutter are."""
        low, high = self.block
        if crop == DETAIL:
            low = max(low, min(self.stops) - self.radius)
            high = min(high, max(self.stops) + self.radius)
        elif crop == AROUND:
            margin = _ROUND_FEATURE_MM / mm_per_unit
            low, high = max(low, self.edges[0] - margin), min(high, self.edges[1] + margin)
        marks = (low, high, *self.stops, *self.circle)
        return Reach(min(marks), max(marks))


def extent_of(scene: Scene, axis: str) -> Extent:
    """What there is along an axis of a scene."""
    stops = [getattr(at, axis.lower()) for each in scene.passes for at in stops_of(each)]
    edges = feature_edges(scene, axis)
    # of turned work more is shown, so that it is seen how it lies beside the wall
    more = 1.4 if scene.job.stock.outline else 1.0
    return Extent(
        scene.job.stock.x if axis == "X" else scene.job.stock.y,
        (min(edges), max(edges)),
        (min(stops), max(stops)) if stops else (),
        _circle_ends(scene, axis),
        more * scene.use.cutter.radius if stops else 0.0,
        events(scene, axis),
        unbroken(scene, axis),
    )


def _circle_ends(scene: Scene, axis: str) -> tuple[float, ...]:
    """How far the cutter reaches that is drawn on the first pass, across its feed."""
    if not scene.passes or (scene.passes[0].axis == axis and scene.passes[0].straight):
        return ()
    first, radius = scene.passes[0], scene.use.cutter.radius
    at = getattr(first.start, axis.lower())
    return at - radius, at + radius


def span_of(corners: Iterable[Point], key: str) -> Span:
    """Lowest and highest coordinate ``key`` of points."""
    values = [getattr(corner, key) for corner in corners]
    return min(values), max(values)


def unbroken(scene: Scene, axis: str) -> tuple[Span, ...]:
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
