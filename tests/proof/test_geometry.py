"""Distances, insides and boundaries by formula against brute force."""

from math import cos, pi, sin

import numpy as np
import pytest

from passplot.proof.curves import curves
from passplot.proof.gauge import Gauge
from passplot.proof.limits import cleared_most
from passplot.proof.part import Part, ground
from passplot.proof.raster import disc_reach, grid_inside, points_inside
from passplot.proof.split import split
from passplot.records.job import WallLimit
from passplot.records.shapes import Arc, Edge, Line, Loop, Point, rectangle

from .hand import feature, job

HAIR = Gauge(True, 0.0005).hair


def arc(x: float, y: float, radius: float, begin_deg: float, end_deg: float, ccw: bool) -> Arc:
    def at(degrees: float) -> Point:
        angle = degrees * pi / 180
        return Point(x + radius * cos(angle), y + radius * sin(angle))

    return Arc(at(begin_deg), at(end_deg), Point(x, y), radius, ccw)


def walk(edge: Edge, count: int = 2001) -> np.ndarray:
    """Points along an edge, close together, found without any of the proof's own code."""
    share = np.linspace(0, 1, count)
    if isinstance(edge, Line):
        x = edge.start.x + share * (edge.end.x - edge.start.x)
        y = edge.start.y + share * (edge.end.y - edge.start.y)
        return np.stack([x, y], axis=1)
    begin = np.arctan2(edge.start.y - edge.center.y, edge.start.x - edge.center.x)
    finish = np.arctan2(edge.end.y - edge.center.y, edge.end.x - edge.center.x)
    turn = (finish - begin) % (2 * pi) if edge.ccw else -((begin - finish) % (2 * pi))
    angle = begin + share * (turn or 2 * pi)
    x = edge.center.x + edge.radius * np.cos(angle)
    return np.stack([x, edge.center.y + edge.radius * np.sin(angle)], axis=1)


EDGES: tuple[Edge, ...] = (
    Line(Point(-1.0, -0.5), Point(1.5, -0.5)),
    Line(Point(0.3, -1.0), Point(0.9, 1.2)),
    arc(0.0, 0.0, 1.0, 20, 200, True),
    arc(0.0, 0.0, 1.0, 20, 200, False),
    arc(0.5, 0.5, 0.4, -30, 30, True),
    arc(0.5, 0.5, 0.4, 90, 89.999999, True),
)


def test_distance_of_points_from_lines_and_arcs():
    points = np.random.default_rng(1).uniform(-2, 2, (200, 2))
    found = curves(EDGES).to_points(points)
    for number, edge in enumerate(EDGES):
        off = np.linalg.norm(points[:, None] - walk(edge)[None], axis=2).min(axis=1)
        assert found[:, number] == pytest.approx(off, abs=2e-3)


def test_distance_of_segments_from_lines_and_arcs():
    random = np.random.default_rng(2)
    a, b = random.uniform(-2, 2, (60, 2)), random.uniform(-2, 2, (60, 2))
    b[:20] = a[:20]  # a cutter that stands still
    b[20:40, 0] = a[20:40, 0]
    found = curves(EDGES).to_segments(a, b)
    share = np.linspace(0, 1, 401)[:, None]
    for row, (one, two) in enumerate(zip(a, b, strict=True)):
        way = one + share * (two - one)
        for number, edge in enumerate(EDGES):
            off = np.linalg.norm(way[:, None] - walk(edge, 601)[None], axis=2).min()
            assert found[row, number] == pytest.approx(off, abs=1e-2)


def test_a_segment_along_an_arc_tangent_touches_it():
    touching = curves([arc(0, 0, 1, 0, 180, True)]).to_segments(
        np.array([[-2.0, 1.0], [-2.0, 1.25]]), np.array([[2.0, 1.0], [2.0, 1.25]])
    )
    assert touching[:, 0] == pytest.approx([0.0, 0.25], abs=1e-12)


SLOT = Loop(
    (
        Line(Point(0, 0), Point(2, 0)),
        arc(2.0, 0.5, 0.5, -90, 90, True),
        Line(Point(2, 1), Point(0, 1)),
        arc(0.0, 0.5, 0.5, 90, 270, True),
    )
)


def in_slot(points: np.ndarray) -> np.ndarray:
    off = np.maximum(np.maximum(-points[:, 0], points[:, 0] - 2), 0)
    return np.hypot(off, points[:, 1] - 0.5) < 0.5


def test_inside_of_a_loop_with_round_ends():
    points = np.random.default_rng(3).uniform(-1, 3, (2000, 2))
    assert (points_inside(SLOT, points) == in_slot(points)).all()


def test_the_grid_sees_the_same_inside_as_the_points():
    xs, ys = np.linspace(-1, 3, 37), np.linspace(-0.7, 1.7, 23)
    points = np.stack(np.meshgrid(xs, ys, indexing="ij"), axis=2).reshape(-1, 2)
    assert (grid_inside(SLOT, xs, ys).reshape(-1) == points_inside(SLOT, points)).all()


def test_disc_reach_is_the_exact_dilation():
    random = np.random.default_rng(4)
    mask = random.random((31, 27)) < 0.02
    for radius in (0.0, 0.9, 1.0, 2.5, 7.3):
        places = np.argwhere(np.ones_like(mask))
        marks = np.argwhere(mask)
        off = np.linalg.norm(places[:, None] - marks[None], axis=2).min(axis=1)
        expected = (off <= radius + 1e-9).reshape(mask.shape)
        assert (disc_reach(mask, radius * 0.5, 0.5) == expected).all()


def test_edges_are_cut_where_they_meet():
    cross = [Line(Point(0, 0), Point(2, 0)), Line(Point(1, -1), Point(1, 1))]
    round_one = [arc(0.0, 0.0, 0.5, 0, 180, True), arc(1.0, 0.0, 0.75, 90, 270, True)]
    pieces = split([*cross, *round_one], [0, 1, 2, 3], HAIR)
    # the level line meets the upright one, the first arc's start and the second arc; the upright
    # one that line and the second arc's two ends; the arcs meet each other once above
    assert [int((pieces.owner == number).sum()) for number in range(4)] == [4, 4, 2, 3]
    lengths = np.hypot(*(pieces.curves.end - pieces.curves.start)[pieces.owner == 0].T)
    assert sorted(lengths) == pytest.approx([0.25, 0.25, 0.5, 1.0])


def picture(part: Part, xs: np.ndarray, ys: np.ndarray) -> list[str]:
    """The finished heights from above, back row first: # stands, digits are depths in tenths."""
    heights, _ = part.grid(xs, ys)
    signs = [["#" if h >= 0 else f"{round(-h * 10)}" for h in column] for column in heights]
    return ["".join(row) for row in list(zip(*signs, strict=True))[::-1]]


STEPPED = (
    feature("shoulder", "step", -0.2, (rectangle(-1.0, 0.8, -1.0, 3.0),)),
    feature(
        "tray",
        "pocket",
        -0.5,
        (rectangle(0.4, 2.4, 0.4, 1.6),),
        (rectangle(1.2, 1.6, 0.8, 1.2),),
    ),
)


def test_the_lowest_feature_decides_and_islands_stand():
    work = job(STEPPED)
    part = Part(ground(work, HAIR, at_limits=False), np.array([-0.2, -0.5]))
    xs, ys = np.arange(0.1, 3, 0.2), np.arange(0.1, 2, 0.2)
    assert picture(part, xs, ys) == [
        "2222###########",
        "2222###########",
        "225555555555###",
        "225555555555###",
        "225555##5555###",
        "225555##5555###",
        "225555555555###",
        "225555555555###",
        "2222###########",
        "2222###########",
    ]


def wall_lengths(part: Part, z: float) -> float:
    curves_ = part.ground.pieces.curves
    run = (curves_.end - curves_.start)[part.walls(z)]
    return float(np.hypot(run[:, 0], run[:, 1]).sum())


def test_walls_at_each_depth():
    """The tray is 2 x 1.2 with an island 0.4 square; the shoulder's wall is at x = 0.8."""
    part = Part(ground(job(STEPPED), HAIR, at_limits=False), np.array([-0.2, -0.5]))
    assert wall_lengths(part, 0.0) == 0.0
    # the shoulder's wall outside the tray, the tray's walls outside the shoulder, the island
    both = 2 * 0.4 + (2 * 1.6 + 1.2) + 4 * 0.4
    assert wall_lengths(part, -0.1) == pytest.approx(both)
    assert wall_lengths(part, -0.2) == pytest.approx(both)
    # below the shoulder's floor only the tray is open
    assert wall_lengths(part, -0.5) == pytest.approx(2 * (2.0 + 1.2) + 4 * 0.4)


def test_the_part_below_the_stock_is_what_stands_on_its_bottom():
    through = feature("hole", "pocket", -1.5, (rectangle(1.0, 2.0, 0.5, 1.5),))
    part = Part(ground(job((through,)), HAIR, at_limits=False), np.array([-1.5]))
    assert wall_lengths(part, -1.6) == pytest.approx(4.0)
    assert not part.inside(np.array([[1.5, 1.0]]), -1.6)[0]
    assert part.inside(np.array([[0.5, 1.0]]), -1.6)[0]


def test_walls_move_to_the_limit_that_clears_most():
    limits = (
        WallLimit("x", 1.0, 0.99, 1.02, "1.000"),
        WallLimit("y", 1.5, 1.5, 1.51, "1.500"),
        WallLimit("x", 1.4, 1.39, 1.41, "1.400"),
    )
    bounded = feature(
        "tray",
        "pocket",
        -0.5,
        (rectangle(1.0, 2.0, 0.5, 1.5),),
        (rectangle(1.4, 1.6, 0.9, 1.1),),
        limits,
    )
    area, keep = cleared_most(bounded.area, bounded.keep, bounded.limits, HAIR)
    assert area == (rectangle(0.99, 2.0, 0.5, 1.51),)
    assert keep == (rectangle(1.41, 1.6, 0.9, 1.1),)


def test_a_moved_wall_that_runs_into_an_arc_is_joined_by_a_jog():
    limits = (WallLimit("y", 1.0, 1.0, 1.01, "1.00"),)
    (area,), _ = cleared_most((SLOT,), (), limits, HAIR)
    for one, two in zip(area.edges, area.edges[1:] + area.edges[:1], strict=True):
        assert (one.end.x, one.end.y) == pytest.approx((two.start.x, two.start.y))
    assert Line(Point(2, 1.01), Point(0, 1.01)) in area.edges
