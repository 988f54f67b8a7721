"""A job as it lies with the work set over: every outline turned about X0 Y0.

Walls that are brought along X or Y are made to run along them exactly, at the side that keeps off
the finished part. The stock becomes the rectangle round its turned outline; what lies in that
rectangle beside the stock is a feature of its own that is cut away already.
"""

from dataclasses import replace
from itertools import pairwise
from math import ceil, cos, floor, radians, sin

from passplot.plan.setting import BESIDE
from passplot.records.job import Feature, Job, KeepOut
from passplot.records.shapes import Arc, Edge, Line, Loop, Point
from passplot.records.sizes import exact

FINE, FINEST = 1e-5, 1e-9
"""Turned walls are planned on whole numbers of the first (job units), as radii and stock mostly
are; printed they are to the second."""
_NOISE = 1e-4
"""What reckoning may be out by, in these."""


def turned_point(spot: Point, angle: float) -> Point:
    """A point turned about X0 Y0, degrees counter-clockwise."""
    c, s = cos(radians(angle)), sin(radians(angle))
    return Point(spot.x * c - spot.y * s, spot.x * s + spot.y * c)


def turned_job(job: Job, setup: str, angle: float, step: float = FINE) -> Job:
    """The job in the system of a setting with the work turned by ``angle`` degrees.

    ``step`` is that of ``squared``.
    """
    near = job.shop.machine.resolution
    features = tuple(
        _turned(each, angle, near, step) for each in job.features if each.pattern is None
    )
    corners = stock_corners(job, angle)
    xs, ys = [p.x for p in corners], [p.y for p in corners]
    box = (min(xs), max(xs), min(ys), max(ys))
    stock = replace(job.stock, x=box[:2], y=box[2:], outline=tuple(corners))
    keep_outs = tuple(
        KeepOut(each.name, turned_loop(each.loop, angle), each.top) for each in job.keep_outs
    )
    return replace(
        job,
        stock=stock,
        features=(*features, _beside(job, corners, box)),
        keep_outs=keep_outs,
        setup=replace(job.setup, name=setup),
        callouts=(),
    )


def stock_corners(job: Job, angle: float) -> list[Point]:
    """Corners of the turned stock, counter-clockwise from the front left one."""
    (x0, x1), (y0, y1) = job.stock.x, job.stock.y
    at = (Point(x0, y0), Point(x1, y0), Point(x1, y1), Point(x0, y1))
    return [turned_point(each, angle) for each in at]


def _turned(feature: Feature, angle: float, near: float, step: float) -> Feature:
    def area(loops: tuple[Loop, ...]) -> tuple[Loop, ...]:
        return tuple(squared(turned_loop(loop, angle), near, 1, step) for loop in loops)

    def keep(loops: tuple[Loop, ...]) -> tuple[Loop, ...]:
        return tuple(squared(turned_loop(loop, angle), near, -1, step) for loop in loops)

    rounded = feature.rounded
    return replace(
        feature,
        area=area(feature.area),
        keep=keep(feature.keep),
        rounded=None if rounded is None else (area(rounded[0]), keep(rounded[1])),
        limits=(),
    )


def turned_loop(loop: Loop, angle: float) -> Loop:
    """A loop turned about X0 Y0."""
    return Loop(tuple(_edge(edge, angle) for edge in loop.edges))


def _edge(edge: Edge, angle: float) -> Edge:
    start, end = turned_point(edge.start, angle), turned_point(edge.end, angle)
    if isinstance(edge, Line):
        return Line(start, end)
    return Arc(start, end, turned_point(edge.center, angle), edge.radius, edge.ccw)


def squared(loop: Loop, near: float, cleared: int, step: float) -> Loop:
    """A loop whose nearly level edges are level.

    Parameters
    ----------
    near : float
        How far from level an edge may be over its length (job units).
    cleared : int
        1 where the inside of the loop is cleared, -1 where it stays: an edge is laid at the end
        of it that is farther from what stays.
    step : float
        Walls are laid on whole numbers of this: positions a radius off them are then on the
        readout or well off it.
    """
    count = len(loop.edges)
    spots = [[edge.start.x, edge.start.y] for edge in loop.edges]
    for _ in range(2):
        for index, edge in enumerate(loop.edges):
            if not isinstance(edge, Line):
                continue
            a, b = spots[index], spots[(index + 1) % count]
            for key, other in ((0, 1), (1, 0)):
                run = b[other] - a[other]
                if abs(b[key] - a[key]) <= min(near, abs(run) / 4):
                    # the inside is on the left: above an edge along +X, left of one along +Y
                    up = (run > 0) == (key == 1)
                    a[key] = b[key] = (
                        ceil(max(a[key], b[key]) / step - _NOISE) * step
                        if up == (cleared > 0)
                        else floor(min(a[key], b[key]) / step + _NOISE) * step
                    )
    ends = [Point(x, y) for x, y in spots]
    edges: list[Edge] = []
    for index, edge in enumerate(loop.edges):
        start, end = ends[index], ends[(index + 1) % count]
        edges.append(replace(edge, start=start, end=end))
    return Loop(tuple(edges))


def _beside(job: Job, corners: list[Point], box: tuple[float, float, float, float]) -> Feature:
    """The corners of the bounds beside the turned stock, cut away below it."""
    x0, x1, y0, y1 = box
    around = (Point(x0, y0), Point(x1, y0), Point(x1, y1), Point(x0, y1))
    loops = []
    for a, b in pairwise([*corners, corners[0]]):
        between = [p for p in around if (p.x in (a.x, b.x)) and (p.y in (a.y, b.y))]
        outside = [p for p in between if _right_of(p, a, b)]
        loops += [Loop((Line(a, p), Line(p, b), Line(b, a))) for p in outside[:1]]
    below = job.stock.bottom - (job.stock.raw_top - job.stock.bottom)
    return Feature(
        BESIDE, BESIDE, exact(job.stock.top - below), below, tuple(loops), (), (), None, (),
        job.setup.name, 0, through=True,
    )  # fmt: skip


def _right_of(spot: Point, a: Point, b: Point) -> bool:
    return (b.x - a.x) * (spot.y - a.y) - (b.y - a.y) * (spot.x - a.x) < 0
