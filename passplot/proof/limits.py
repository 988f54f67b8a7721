"""Loops moved to the limits of their walls: the most that a print lets a feature clear."""

from passplot.records.job import Feature, WallLimit
from passplot.records.shapes import Edge, Line, Loop, Point


def cleared_most(
    area: tuple[Loop, ...], keep: tuple[Loop, ...], walls: tuple[WallLimit, ...], hair: float
) -> tuple[tuple[Loop, ...], tuple[Loop, ...]]:
    """The ``area`` and ``keep`` loops with every wall at the limit that clears most.

    An area grows and what is kept shrinks. Walls without limits stay where they are.
    """
    limits = tuple(limit for limit in walls if limit.high > limit.low)
    if not limits:
        return area, keep
    return (
        tuple(_moved(loop, limits, 1.0, hair) for loop in area),
        tuple(_moved(loop, limits, -1.0, hair) for loop in keep),
    )


def floor_least(feature: Feature) -> float:
    """Z of the lowest floor the depth's limits allow; a face has none but its own."""
    if feature.kind == "face":
        return feature.floor
    if feature.keyseat is not None:
        key = feature.keyseat
        return feature.floor - (key.shaft - key.from_crown - key.over_far_side.low)
    return feature.floor - (feature.depth.high - feature.depth.middle)


def floor_spread(feature: Feature) -> float:
    """How far above its middle a floor may stay within the depth's limits.

    A keyseat's are those of its check dimension over the far side of the shaft.
    """
    if feature.keyseat is not None:
        key = feature.keyseat
        return key.over_far_side.high - (key.shaft - key.from_crown)
    return 0.0 if feature.kind == "face" else feature.depth.middle - feature.depth.low


def limit_on(edge: Line, limits: tuple[WallLimit, ...], hair: float) -> WallLimit | None:
    """The limit of the wall on this edge's line, if it has one."""
    for limit in limits:
        on_x = limit.axis.lower() == "x"
        one, two = (edge.start.x, edge.end.x) if on_x else (edge.start.y, edge.end.y)
        if abs(one - limit.at) < hair and abs(two - limit.at) < hair:
            return limit
    return None


def _moved(loop: Loop, limits: tuple[WallLimit, ...], outward: float, hair: float) -> Loop:
    shifted = [_shift(edge, limits, outward, hair) for edge in loop.edges]
    joints = [_joint(a, b) for a, b in zip(shifted, shifted[1:] + shifted[:1], strict=True)]
    edges: list[Edge] = []
    for number, edge in enumerate(shifted):
        begin, finish = joints[number - 1], joints[number]
        if isinstance(edge, Line):
            edges.append(Line(begin or edge.start, finish or edge.end))
        else:
            edges.append(edge)
        following = shifted[(number + 1) % len(shifted)]
        if finish is None and edge.end != following.start:
            edges.append(Line(edge.end, following.start))
    return Loop(tuple(edges))


def _shift(edge: Edge, limits: tuple[WallLimit, ...], outward: float, hair: float) -> Edge:
    """The edge at its limit; loops run counter-clockwise, so outside is on the right."""
    if not isinstance(edge, Line):
        return edge
    limit = limit_on(edge, limits, hair)
    if limit is None:
        return edge
    if limit.axis.lower() == "x":
        rising = (edge.end.y - edge.start.y) * outward > 0
        x = limit.high if rising else limit.low
        return Line(Point(x, edge.start.y), Point(x, edge.end.y))
    rising = (edge.start.x - edge.end.x) * outward > 0
    y = limit.high if rising else limit.low
    return Line(Point(edge.start.x, y), Point(edge.end.x, y))


def _joint(one: Edge, two: Edge) -> Point | None:
    """Corner of two level edges at right angles; None where they must be joined by a jog."""
    if not (isinstance(one, Line) and isinstance(two, Line)):
        return None
    if one.start.x == one.end.x and two.start.y == two.end.y:
        return Point(one.start.x, two.start.y)
    if one.start.y == one.end.y and two.start.x == two.end.x:
        return Point(two.start.x, one.start.y)
    return None
