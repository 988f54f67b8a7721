"""Areas by strips, held against counting unit squares one by one."""

from hypothesis import given, settings
from hypothesis import strategies as st

from passplot.read.cells import area_of, common, minus, size, strips, union
from passplot.records.shapes import Line, Loop, Point, rectangle

SPAN = 8


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


def _holds(loop: Loop, x: float, y: float) -> bool:
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
@given(st.lists(_loops(), min_size=1, max_size=4), st.lists(_loops(), max_size=3))
def test_areas_are_those_of_the_unit_squares(area: list[Loop], keep: list[Loop]) -> None:
    frame = rectangle(1.0, 6.0, 0.0, 7.0)
    rows = strips([frame, *area, *keep])
    inside = common(union([area_of(loop, rows) for loop in area], rows), area_of(frame, rows))
    left = minus(inside, union([area_of(loop, rows) for loop in keep], rows))
    squares = [(i + 0.5, j + 0.5) for i in range(1, 6) for j in range(7)]
    counted = sum(
        any(_holds(loop, *at) for loop in area) and not any(_holds(loop, *at) for loop in keep)
        for at in squares
    )
    assert size(left, rows) == counted


def test_slivers_do_not_count() -> None:
    rows = strips([rectangle(0, 1, 0, 1), rectangle(0, 1, 0, 1e-9)])
    assert size(area_of(rectangle(0, 1, 0, 1e-9), rows), rows, 1e-6) == 0
    assert size(area_of(rectangle(0, 1, 0, 1), rows), rows, 1e-6) > 0.99
