"""Lines and arcs: where they meet and what they enclose, against sampling and arithmetic."""

from itertools import pairwise
from math import cos, hypot, pi, sin

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from passplot.curves import box, holds, length, meetings, off, point_at, share_of
from passplot.read.metal import anything_left
from passplot.read.polygon import crossing, signed_area
from passplot.records.shapes import Arc, Edge, Line, Loop, Point, rectangle

SPAN = 8


def arc(x: float, y: float, radius: float, first: float, last: float, ccw: bool) -> Arc:
    """The arc about (x, y) from one angle to another, degrees."""
    ends = [
        Point(x + radius * cos(a * pi / 180), y + radius * sin(a * pi / 180)) for a in (first, last)
    ]
    return Arc(ends[0], ends[1], Point(x, y), radius, ccw)


_WHOLE = st.integers(0, 6)
_LINES = st.tuples(_WHOLE, _WHOLE, _WHOLE, _WHOLE).filter(lambda v: v[:2] != v[2:])
_EDGES: st.SearchStrategy[Edge] = st.one_of(
    _LINES.map(lambda v: Line(Point(v[0], v[1]), Point(v[2], v[3]))),
    st.builds(
        arc,
        _WHOLE,
        _WHOLE,
        st.integers(1, 4),
        st.integers(0, 359),
        st.integers(0, 359),
        st.booleans(),
    ),
)


@settings(deadline=None)
@given(_EDGES, _EDGES)
def test_edges_meet_where_their_samples_come_together(one: Edge, other: Edge) -> None:
    found = meetings(one, other)
    for at in found:
        assert off(one, at) < 1e-8
        assert off(other, at) < 1e-8
    steps = 100
    near = min(off(other, point_at(one, i / steps)) for i in range(steps + 1))
    if not found:
        assert near > 0
    if near > length(one) / steps:
        assert not found


@settings(deadline=None)
@given(_EDGES, _EDGES)
def test_samples_on_both_sides_of_an_edge_mean_that_it_is_met(one: Edge, other: Edge) -> None:
    assume(isinstance(other, Arc))
    assert isinstance(other, Arc)
    whole = arc(other.center.x, other.center.y, other.radius, 0, 360, True)
    circle = Arc(whole.start, whole.start, whole.center, whole.radius, True)
    out = [
        hypot(at.x - circle.center.x, at.y - circle.center.y) - circle.radius
        for at in (point_at(one, i / 100) for i in range(101))
    ]
    if min(out) < -1e-6 and max(out) > 1e-6:
        assert meetings(one, circle)


@settings(deadline=None)
@given(_EDGES, st.floats(0, 1))
def test_places_along_an_edge(edge: Edge, share: float) -> None:
    at = point_at(edge, share)
    x0, x1, y0, y1 = box(edge)
    assert x0 - 1e-9 <= at.x <= x1 + 1e-9
    assert y0 - 1e-9 <= at.y <= y1 + 1e-9
    assert off(edge, at) < 1e-9
    if 1e-6 < share < 1 - 1e-6:
        assert share_of(edge, at) == pytest.approx(share, abs=1e-9)


def d_shape() -> Loop:
    """A half disc of radius 2 on the right of x = 1, a half disc of radius 1 cut out of it."""
    return Loop(
        (
            arc(1, 3, 2, -90, 90, True),
            Line(Point(1, 5), Point(1, 4)),
            arc(1, 3, 1, 90, -90, False),
            Line(Point(1, 2), Point(1, 1)),
        )
    )


@given(st.floats(-1, 4), st.floats(0, 6))
def test_inside_of_a_loop_with_arcs(x: float, y: float) -> None:
    away = hypot(x - 1, y - 3)
    assume(min(abs(away - 1), abs(away - 2), abs(x - 1)) > 1e-6)
    assert holds(d_shape(), Point(x, y)) == (x > 1 and 1 < away < 2)


def test_area_of_a_loop_with_arcs() -> None:
    assert signed_area(list(d_shape().edges)) == pytest.approx(pi * (4 - 1) / 2)
    assert crossing(list(d_shape().edges)) is None


def test_circle_of_one_arc() -> None:
    start = Point(3.0, 1.0)
    whole = Arc(start, start, Point(1, 1), 2, True)
    assert signed_area([whole]) == pytest.approx(4 * pi)
    assert length(whole) == pytest.approx(4 * pi)
    assert holds(Loop((whole,)), Point(2.4, 2.4))
    assert not holds(Loop((whole,)), Point(2.5, 2.5))


def test_points_on_one_arc_are_no_crossing() -> None:
    thirds = [arc(0, 0, 1, a, a + 120, True) for a in (0, 120, 240)]
    closed: list[Edge] = [
        Arc(edge.start, thirds[(i + 1) % 3].start, edge.center, 1, True)
        for i, edge in enumerate(thirds)
    ]
    assert crossing(closed) is None
    assert signed_area(closed) == pytest.approx(pi)


def test_smooth_joints_of_arcs_are_no_crossing() -> None:
    # A wave of half circles, each running smoothly into the next, closed by straight edges.
    wave: list[Edge] = [
        Arc(Point(i, 0), Point(i + 1, 0), Point(i + 0.5, 0), 0.5, bool(i % 2)) for i in range(6)
    ]
    corners = [Point(6, 0), Point(7, 3), Point(-1, 3), Point(0, 0)]
    closing = [Line(a, b) for a, b in pairwise(corners)]
    assert crossing([*wave, *closing]) is None
    low = [Point(6, 0), Point(7, 0.4), Point(-1, 0.4), Point(0, 0)]
    through = [Line(a, b) for a, b in pairwise(low)]
    assert crossing([*wave, *through]) is not None


@st.composite
def _loops(draw: st.DrawFn) -> Loop:
    """A rectangle, an L, a U or a staircase on whole coordinates."""
    xs = sorted(draw(st.lists(st.integers(0, SPAN), min_size=4, max_size=4, unique=True)))
    ys = sorted(draw(st.lists(st.integers(0, SPAN), min_size=4, max_size=4, unique=True)))
    a, b, c, d = xs
    e, f, g, h = ys
    corners = draw(
        st.sampled_from(
            [
                [(a, e), (d, e), (d, h), (a, h)],
                [(a, e), (d, e), (d, f), (b, f), (b, h), (a, h)],
                [(a, e), (d, e), (d, h), (c, h), (c, f), (b, f), (b, g), (a, g)],
                [(a, e), (d, e), (d, f), (c, f), (c, g), (b, g), (b, h), (a, h)],
            ]
        )
    )
    points = [Point(float(x), float(y)) for x, y in corners]
    return Loop(tuple(map(Line, points, [*points[1:], points[0]])))


def _in(loop: Loop, x: float, y: float) -> bool:
    """Whether a point lies in a loop: how often a ray to the right leaves it."""
    return (
        sum(
            edge.start.x > x and min(edge.start.y, edge.end.y) < y < max(edge.start.y, edge.end.y)
            for edge in loop.edges
            if edge.start.x == edge.end.x
        )
        % 2
        == 1
    )


@settings(deadline=None)
@given(
    st.lists(_loops(), min_size=1, max_size=3),
    st.lists(_loops(), max_size=2),
    st.lists(_loops(), max_size=2),
)
def test_something_is_left_where_a_unit_square_is(
    area: list[Loop], keep: list[Loop], before: list[Loop]
) -> None:
    stock = rectangle(1.0, 6.0, 0.0, 7.0)
    squares = [(i + 0.5, j + 0.5) for i in range(1, 6) for j in range(7)]
    counted = any(
        any(_in(loop, *at) for loop in area) and not any(_in(loop, *at) for loop in keep + before)
        for at in squares
    )
    found = anything_left((tuple(area), (stock,)), [(tuple(keep), ()), (tuple(before), ())])
    assert found == counted


def test_slivers_do_not_count() -> None:
    assert not anything_left(((rectangle(0, 1, 0, 1e-9),),), ())
    assert anything_left(((rectangle(0, 1, 0, 1e-5),),), ())


def test_what_a_round_pocket_leaves_of_a_square_one() -> None:
    start = Point(2.0, 1.0)
    disc = Loop((Arc(start, start, Point(1, 1), 1, True),))
    square, inner = rectangle(0, 2, 0, 2), rectangle(0.3, 1.7, 0.3, 1.7)
    assert anything_left(((square,),), [((disc,), ())])
    assert anything_left(((disc,),), [((inner,), ())])
    assert not anything_left(((disc,),), [((square,), ())])
    assert anything_left(((disc,),), [((square,), (inner,))])  # cleared all but what is kept
