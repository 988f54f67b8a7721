"""The shape of the work, held against a geometry library that the sheet does not use."""

from itertools import product
from math import hypot

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Point, Polygon, unary_union

from passplot.records.job import Feature
from passplot.records.shapes import Arc, Line, Loop, rectangle
from passplot.records.shapes import Point as Spot
from passplot.records.sizes import exact
from passplot.sheet.ground import Ground, clipped, ground_of, hatched, outline

STOCK = ((0.0, 0.0), (40.0, 0.0), (40.0, 30.0), (0.0, 30.0))
LOW = st.integers(-3, 30).map(float)
SIZE = st.integers(2, 20).map(float)


def feature(name: str, floor: float, area: Loop, keep: tuple[Loop, ...] = ()) -> Feature:
    return Feature(name, "pocket", exact(-floor), floor, (area,), keep, (), None, (), "setup 1", 1)


def same(x: float, y: float) -> tuple[float, float]:
    return x, y


boxes = st.builds(lambda x, y, w, h: rectangle(x, x + w, y, y + h), LOW, LOW, SIZE, SIZE)


@given(areas=st.lists(boxes, min_size=1, max_size=3), island=boxes)
@settings(max_examples=60, deadline=None)
def test_the_edges_are_those_of_the_cleared_union(areas: list[Loop], island: Loop) -> None:
    one_floor = [feature(f"f{i}", -5.0, area, (island,)) for i, area in enumerate(areas)]
    ground = ground_of(STOCK, 0.0, one_floor, same)
    cleared = unary_union([Polygon(outline(area)) for area in areas])
    cleared = cleared.difference(Polygon(outline(island))).intersection(Polygon(STOCK)).buffer(0)
    stays = Polygon(STOCK).difference(cleared).buffer(0)
    walls = [piece for piece in ground.pieces() if not piece.on_stock_edge]
    shared = cleared.boundary.intersection(stays.boundary)
    length = shared.length if not shared.is_empty else 0.0
    assert sum(piece.length for piece in walls) == pytest.approx(length, abs=1e-6)


@given(area=boxes, island=boxes)
@settings(max_examples=40, deadline=None)
def test_hatching_lies_on_the_metal_that_stays(area: Loop, island: Loop) -> None:
    ground = ground_of(STOCK, 0.0, [feature("f", -5.0, area, (island,))], same)
    stays = Polygon(STOCK).difference(Polygon(outline(area)).difference(Polygon(outline(island))))
    lines = hatched(ground.rings, lambda spot: ground.height(spot) == 0.0, 3.0)
    total = 0.0
    for a, b in lines:
        line = LineString([a, b])
        assert line.length - line.intersection(stays).length < 1e-4
        total += line.length
    # parallel lines 3 apart cover a third of the area's length, give or take the boundary
    assert total == pytest.approx(stays.area / 3.0, abs=3 + stays.length)


def test_every_wall_looks_from_the_high_side_to_the_low() -> None:
    pocket = feature("pocket", -5.0, rectangle(10, 30, 10, 20))
    step = feature("step", -2.0, rectangle(-5, 12, -5, 35))
    ground = ground_of(STOCK, 0.0, [pocket, step], same)
    for piece in ground.pieces():
        middle = ((piece.start[0] + piece.end[0]) / 2, (piece.start[1] + piece.end[1]) / 2)
        up = (middle[0] + 0.01 * piece.normal[0], middle[1] + 0.01 * piece.normal[1])
        down = (middle[0] - 0.01 * piece.normal[0], middle[1] - 0.01 * piece.normal[1])
        assert ground.height(up) == piece.high
        assert ground.height(down) == piece.low


def test_the_lowest_floor_of_overlapping_features_counts() -> None:
    both = [
        feature("a", -5.0, rectangle(0, 20, 0, 20)),
        feature("b", -2.0, rectangle(10, 40, 0, 20)),
    ]
    ground = ground_of(STOCK, 0.0, both, same)
    assert [ground.height(spot) for spot in ((5, 5), (15, 5), (30, 5), (5, 25), (50, 5))] == [
        *(-5.0, -5.0, -2.0, 0.0),
        None,
    ]


def test_a_round_end_is_drawn_through_its_true_points() -> None:
    a, b, center = Spot(0, 0), Spot(0, 10), Spot(0, 5)
    loop = Loop((Arc(b, a, center, 5.0, ccw=True), Line(a, b)))
    spots = outline(loop)
    assert all(hypot(x, y - 5) == pytest.approx(5.0) for x, y in spots)
    assert min(x for x, _ in spots) == pytest.approx(-5.0, abs=0.01)


@given(area=boxes)
@settings(max_examples=30, deadline=None)
def test_clipping_is_the_intersection(area: Loop) -> None:
    inside = clipped(outline(area), (0.0, 0.0), (40.0, 30.0))
    wanted = Polygon(outline(area)).intersection(Polygon(STOCK)).area
    assert (Polygon(inside).area if len(inside) > 2 else 0.0) == pytest.approx(wanted)


def test_inside_and_outside_agree_with_the_library() -> None:
    notched = ((0.0, 0.0), (9.0, 0.0), (9.0, 4.0), (5.0, 4.0), (5.0, 9.0), (0.0, 9.0))
    ground = Ground(notched, 0.0, ())
    shape = Polygon(notched)
    for x, y in product(range(-1, 11), repeat=2):
        spot = (x + 0.5, y + 0.5)
        assert (ground.height(spot) is not None) == shape.contains(Point(spot))
