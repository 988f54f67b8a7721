"""Whether an outline crosses itself, held against looking at every pair of edges."""

from hypothesis import given, settings
from hypothesis import strategies as st

from passplot.read.polygon import crossing, signed_area
from passplot.records.shapes import Line, Point

_POINTS = st.lists(st.tuples(st.integers(0, 5), st.integers(0, 5)), min_size=3, max_size=8)


def _on(a: Point, b: Point, p: Point) -> bool:
    across = (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x)
    return (
        across == 0
        and min(a.x, b.x) <= p.x <= max(a.x, b.x)
        and min(a.y, b.y) <= p.y <= max(a.y, b.y)
    )


def _touch(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Whether two segments meet: an end of one on the other, or a true crossing by determinants."""
    if any((_on(a, b, c), _on(a, b, d), _on(c, d, a), _on(c, d, b))):
        return True
    det = (b.x - a.x) * (d.y - c.y) - (b.y - a.y) * (d.x - c.x)
    if det == 0:
        return False
    along = ((c.x - a.x) * (d.y - c.y) - (c.y - a.y) * (d.x - c.x)) / det
    other = ((c.x - a.x) * (b.y - a.y) - (c.y - a.y) * (b.x - a.x)) / det
    return 0 < along < 1 and 0 < other < 1


@settings(deadline=None)
@given(_POINTS)
def test_crossings_are_found(pairs: list[tuple[int, int]]) -> None:
    corners = [Point(float(x), float(y)) for x, y in pairs]
    count = len(corners)
    edges = list(zip(corners, [*corners[1:], corners[0]], strict=True))
    if any(start == end for start, end in edges):
        return  # repeated points are refused before
    apart = [
        (i, j) for i in range(count) for j in range(i) if (i - j) % count not in (1, count - 1)
    ]
    folded = any(
        _on(*edges[i], edges[(i + 1) % count][1]) or _on(*edges[(i + 1) % count], edges[i][0])
        for i in range(count)
    )
    expected = folded or any(_touch(*edges[i], *edges[j]) for i, j in apart)
    assert (crossing([Line(*edge) for edge in edges]) is not None) == expected


def test_area_has_the_sign_of_the_turn() -> None:
    square = [Point(0, 0), Point(2, 0), Point(2, 2), Point(0, 2)]
    for corners, area in ((square, 4), (square[::-1], -4)):
        edges = [Line(a, b) for a, b in zip(corners, [*corners[1:], corners[0]], strict=True)]
        assert signed_area(list(edges)) == area
