"""Keyseats before they are planned: how wide the cutter makes them, how deep the readout can go.

A cutter within the limits of the seat's width makes it in one pass along the centre line: the seat
is then as wide as the cutter, and its centre line stands on the readout.
"""

from collections.abc import Sequence
from dataclasses import replace

from passplot.errors import CannotCut
from passplot.plan.grid import Grid
from passplot.records.job import Feature, Job, Keyseat, WallLimit
from passplot.records.shapes import Arc, Edge, Line, Loop, Point
from passplot.records.shop import Cutter

_HAIR = 1e-9


def fitted_seats(job: Job, per_feature: Sequence[Sequence[Cutter]], grid: Grid) -> Job:
    """The job with every keyseat as wide as its cutter, where that is within its limits.

    Parameters
    ----------
    per_feature : sequence of sequence of Cutter
        The cutters that work each feature, the first to rough.

    Raises
    ------
    CannotCut
        Where no cutter is narrow enough, or one pass cannot keep both walls inside their limits.
    """
    features: list[Feature] = []
    faults: list[str] = []
    for feature, mine in zip(job.features, per_feature, strict=True):
        key = feature.keyseat
        if key is None:
            features.append(feature)
            continue
        found, fault = _fitted(feature, key, mine, grid)
        features.append(found)
        faults += fault
    if faults:
        raise CannotCut(*faults)
    return replace(job, features=tuple(features))


def deep_enough(key: Keyseat, off: float) -> bool:
    """Whether a floor ``off`` above the seat's own keeps the check dimension inside its limits."""
    across = key.shaft - key.from_crown + off
    return key.over_far_side.low - _HAIR <= across <= key.over_far_side.high + _HAIR


def _fitted(
    feature: Feature, key: Keyseat, mine: Sequence[Cutter], grid: Grid
) -> tuple[Feature, list[str]]:
    width, first = key.width, mine[0]
    least = min(cutter.cutting_diameter for cutter in mine)
    span = f"{width.low:g} to {width.high:g}" if width.high > width.low else f"{width.high:g}"
    if least > width.high + _HAIR:
        name = min(mine, key=lambda cutter: cutter.cutting_diameter).id
        return feature, [
            f"{feature.name}: the seat is {span} wide, {name} cuts {least:g}; a cutter of "
            f"{width.high:g} or less would do"
        ]
    if not width.low - _HAIR <= first.cutting_diameter <= width.high + _HAIR:
        return feature, []
    center, half = grid.near(key.center), first.cutting_diameter / 2
    walls = center - half, center + half
    limits = _limits(feature, key)
    off = center - key.center
    if any(
        not low - _HAIR <= wall <= high + _HAIR
        for wall, (low, high) in zip(walls, limits, strict=True)
    ):
        return feature, [
            f"{feature.name}: the readout (steps of {grid.resolution:g}) sets the centre line at "
            f"{center:.6g}, {abs(off):.4g} off {key.center:.6g}, which {first.id} "
            f"({first.cutting_diameter:g}) in a seat {span} wide does not allow; a zero in the "
            'middle of the shaft would do ("center"), or a narrower cutter'
        ]
    loop = _slot(feature.area[0], key, center, half)
    axis = "y" if key.along == "x" else "x"
    own = tuple(
        WallLimit(axis, wall, low, high, width.text)
        for wall, (low, high) in zip(walls, limits, strict=True)
        if high > low
    )
    return replace(feature, area=(loop,), limits=own or feature.limits), []


def _limits(feature: Feature, key: Keyseat) -> tuple[tuple[float, float], tuple[float, float]]:
    """Between what both walls may lie: their limits, else where they are drawn."""
    axis = "y" if key.along == "x" else "x"
    mine = [each for each in feature.limits if each.axis.lower() == axis and each.high > each.low]
    low = [(each.low, each.high) for each in mine if each.at < key.center]
    high = [(each.low, each.high) for each in mine if each.at > key.center]
    if low and high:
        return low[0], high[0]
    half = key.width.middle / 2
    front, back = key.center - half, key.center + half
    return (front, front), (back, back)


def _slot(drawn: Loop, key: Keyseat, center: float, half: float) -> Loop:
    """The seat's loop with its walls ``half`` off a centre line, its ends where they were."""
    along_x = key.along == "x"
    ends = [arc.center for arc in drawn.edges if isinstance(arc, Arc)]
    middle = (key.start + key.end) / 2
    places = [point.x if along_x else point.y for point in ends]
    first = key.start + (half if any(place < middle for place in places) else 0.0)
    last = key.end - (half if any(place > middle for place in places) else 0.0)

    def at(far: float, across: float) -> Point:
        # along Y the across axis runs the other way, so that the loop stays counter-clockwise
        return Point(far, center + across) if along_x else Point(center - across, far)

    def close(start: Point, end: Point, far: float, blind: bool) -> Edge:
        return Arc(start, end, at(far, 0.0), half, True) if blind else Line(start, end)

    corners = at(first, -half), at(last, -half), at(last, half), at(first, half)
    edges: tuple[Edge, ...] = (
        Line(corners[0], corners[1]),
        close(corners[1], corners[2], last, last != key.end),
        Line(corners[2], corners[3]),
        close(corners[3], corners[0], first, first != key.start),
    )
    return Loop(tuple(edge for edge in edges if edge.start != edge.end))
