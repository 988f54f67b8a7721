"""The work set over: the job turned about its zero, what earlier settings did turned with it.

Reckoned from the job and the angle alone; the turned outlines that a plan was made with are not
looked at.
"""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from passplot.proof.gauge import Floats, Mask
from passplot.proof.part import Ground
from passplot.proof.rows import Row
from passplot.proof.slants import AIR
from passplot.records.job import Feature, Job, KeepOut
from passplot.records.shapes import Arc, Edge, Line, Loop, Point
from passplot.records.sizes import exact

_EXACT = 1e-9  # ends of an edge that is level but for reckoning


def turned_job(job: Job, setup: str, angle: float) -> Job:
    """The job with everything turned by ``angle`` degrees about X0 Y0, counter-clockwise.

    Its stock is the rectangle round the turned block; the last feature is the air in its corners.
    """
    at = stock_corners(job, angle)
    low, high = at.min(axis=0), at.max(axis=0)
    stock = replace(job.stock, x=(float(low[0]), float(high[0])), y=(float(low[1]), float(high[1])))
    below = job.stock.bottom - (job.stock.raw_top - job.stock.bottom)
    deep, loops = exact(job.stock.top - below), _air(at, low, high)
    air = Feature(AIR, AIR, deep, below, loops, (), (), None, (), setup, 0)
    features = tuple(_feature(each, angle) for each in job.features if each.pattern is None)
    keep_outs = tuple(KeepOut(k.name, _loop(k.loop, angle), k.top) for k in job.keep_outs)
    return replace(
        job,
        stock=stock,
        features=(*features, air),
        keep_outs=keep_outs,
        setup=replace(job.setup, name=setup),
        callouts=(),
    )


def stock_corners(job: Job, angle: float) -> Floats:
    """Corners of the turned block, counter-clockwise: shape (4, 2)."""
    (x0, x1), (y0, y1) = job.stock.x, job.stock.y
    corners: Floats = np.array([(x0, y0), (x1, y0), (x1, y1), (x0, y1)]) @ _matrix(angle).T
    return corners


def _matrix(angle: float) -> Floats:
    turn = np.deg2rad(angle)
    return np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]])


def _spun(spot: tuple[float, float], angle: float) -> tuple[float, float]:
    x, y = _matrix(angle) @ np.array(spot)
    return float(x), float(y)


def _point(at: Point, angle: float) -> Point:
    return Point(*_spun((at.x, at.y), angle))


def _feature(feature: Feature, angle: float) -> Feature:
    def spun(loops: tuple[Loop, ...]) -> tuple[Loop, ...]:
        return tuple(_loop(loop, angle) for loop in loops)

    rounded = feature.rounded
    return replace(
        feature,
        area=spun(feature.area),
        keep=spun(feature.keep),
        rounded=None if rounded is None else (spun(rounded[0]), spun(rounded[1])),
        limits=(),
    )


def _loop(loop: Loop, angle: float) -> Loop:
    return Loop(tuple(_edge(edge, angle) for edge in loop.edges))


def _edge(edge: Edge, angle: float) -> Edge:
    start, end = _point(edge.start, angle), _point(edge.end, angle)
    if isinstance(edge, Arc):
        return Arc(start, end, _point(edge.center, angle), edge.radius, edge.ccw)
    if abs(start.x - end.x) < _EXACT:
        return Line(start, Point(start.x, end.y))
    if abs(start.y - end.y) < _EXACT:
        return Line(start, Point(end.x, start.y))
    return Line(start, end)


def _air(at: Floats, low: Floats, high: Floats) -> tuple[Loop, ...]:
    """The triangles between the turned block and the rectangle round it."""
    loops = []
    for one, two in zip(at, np.roll(at, -1, axis=0), strict=True):
        run = two - one
        for x in (low[0], high[0]):
            for y in (low[1], high[1]):
                on_x, on_y = np.isin(x, (one[0], two[0])), np.isin(y, (one[1], two[1]))
                right = run[0] * (y - one[1]) - run[1] * (x - one[0]) < 0
                if on_x and on_y and right:
                    a, b, c = (Point(float(u), float(v)) for u, v in (one, (x, y), two))
                    loops.append(Loop((Line(a, b), Line(b, c), Line(c, a))))
    return tuple(loops)


def turned_rows(rows: Sequence[Row], angle: float) -> tuple[Row, ...]:
    """Rows of another setting as they lie in one turned by ``angle`` degrees from it."""
    spun = []
    for row in rows:
        start, end = (_spun(spot[:2], angle) for spot in (row.start, row.end))
        turn = row.turn
        if turn is not None:
            first = turn.first + float(np.deg2rad(angle))
            turn = replace(turn, center=_spun(turn.center, angle), first=first)
        spun.append(replace(row, start=(*start, row.start[2]), end=(*end, row.end[2]), turn=turn))
    return tuple(spun)


def walls_here(plan: Ground, job: Job, over: frozenset[str], near: float, *, turned: bool) -> Mask:
    """Which pieces of wall a setting finishes.

    Of features in ``over`` the straight ones that lie along X or Y, and where the work is not set
    over their arcs too; all of others where it is not.
    """
    pieces = plan.pieces
    run = np.abs(pieces.curves.end - pieces.curves.start)
    bent = pieces.curves.turn != 0
    level = ~bent & (run.min(axis=1) <= np.minimum(near, run.max(axis=1) / 4))
    inside = pieces.owner >= 0
    mine = np.array([feature.name in over for feature in job.features])[pieces.owner] & inside
    here: Mask = mine & level if turned else (mine & (level | bent)) | ~mine
    return here
