"""Patterns of holes: coordinates against worked examples, in the order of the print."""

from math import hypot, pi, sin

import pytest

from passplot.records.job import HolePattern

from .texts import job, read

Spots = list[tuple[float, float]]


def pattern(**keys: object) -> HolePattern:
    """The pattern of a feature on a block of 14 by 14 with its zero in the middle."""
    stock = {"size": [14, 14, 1], "material": "1018", "zero": "center center top"}
    table = {"name": "f", "kind": "holes"} | keys
    (found,) = read(job(stock=stock, feature=[table], dimension=None)).features
    assert found.pattern is not None
    assert found.area == found.keep == ()
    return found.pattern


def spots(found: HolePattern) -> Spots:
    return [(point.x, point.y) for point in found.points]


@pytest.mark.parametrize(
    ("circle", "wanted"),
    [
        # Six holes on R 5.50, the first on +Y, clockwise: a worked problem (algebra.com, question
        # 113033; problem and polar form published, decimals our arithmetic).
        (
            {"diameter": 11, "count": 6, "start_angle": 90, "angle": -60},
            [(0, 5.5), (4.7631, 2.75), (4.7631, -2.75), (0, -5.5), (-4.7631, -2.75),
             (-4.7631, 2.75)],
        ),
        # Three holes on 4 in, the first at the top, from the centre: an article on the jig-boring
        # tables of Machinery's Handbook, 23rd ed., p. 950 (problem published, numbers ours).
        (
            {"diameter": 4, "count": 3, "start_angle": 90, "angle": -120},
            [(0, 2), (1.7321, -1), (-1.7321, -1)],
        ),
        # Five holes on R 1, the first at the top: sines and cosines of 72 degrees.
        (
            {"diameter": 2, "count": 5, "start_angle": 90, "angle": -72},
            [(0, 1), (0.9511, 0.3090), (0.5878, -0.8090), (-0.5878, -0.8090), (-0.9511, 0.3090)],
        ),
    ],
)  # fmt: skip
def test_worked_bolt_circles(circle: dict[str, object], wanted: Spots) -> None:
    found = pattern(circle={"center": [0, 0]} | circle)
    assert spots(found) == [pytest.approx(spot, abs=5e-5) for spot in wanted]
    assert found.center is not None
    assert (found.center.x, found.center.y, found.start_angle) == (0, 0, 90)
    assert found.diameter == circle["diameter"]


@pytest.mark.parametrize(("count", "radius", "chord"), [(8, 2, 1.5307), (6, 5.5, 5.5)])
def test_neighbouring_holes_are_a_chord_apart(count: int, radius: float, chord: float) -> None:
    # 2 R sin(180 / N): a lesson on bolt-hole patterns (slideserve); numbers our arithmetic.
    found = spots(pattern(circle={"center": [1, -0.5], "diameter": 2 * radius, "count": count}))
    assert chord == pytest.approx(2 * radius * sin(pi / count), abs=5e-5)
    for (ax, ay), (bx, by) in zip(found, found[1:] + found[:1], strict=True):
        assert hypot(bx - ax, by - ay) == pytest.approx(chord, abs=5e-5)
    assert found[0] == (1 + radius, -0.5)


def test_part_of_a_circle() -> None:
    found = pattern(circle={"center": [1, 1], "diameter": 4, "count": 3, "angle": 45.0})
    root = 2**0.5
    assert spots(found) == [(3, 1), pytest.approx((1 + root, 1 + root)), (1, 3)]


def test_rows_and_grids_take_fractions() -> None:
    row = pattern(row={"start": ["1/2", "-1 1/4"], "count": 3, "pitch": "3/4"}, depth="1/2")
    assert spots(row) == [(0.5, -1.25), (1.25, -1.25), (2, -1.25)]
    down = pattern(row={"start": [0, 1], "count": 2, "pitch": "25.4 mm", "angle": -90})
    assert spots(down) == [(0, 1), (0, 0)]
    grid = pattern(grid={"start": [-1, -1], "columns": 3, "rows": 2, "pitch": ["1/2", 2]})
    assert spots(grid) == [(-1, -1), (-0.5, -1), (0, -1), (-1, 1), (-0.5, 1), (0, 1)]


def test_depth_and_a_drill_are_optional() -> None:
    row = {"start": [1, 1], "count": 2, "pitch": 1}
    plain = {"name": "a", "kind": "holes", "row": row}
    deep = {"name": "b", "kind": "holes", "row": row, "depth": 1, "cutter": "seven"}
    first, second = read(job(feature=[plain, deep], dimension=None)).features
    assert (first.depth.nominal, first.floor, first.through, first.cutters) == (0, 0, False, ())
    assert (second.depth.nominal, second.floor, second.through) == (1, -1, True)
    assert second.cutters == ("seven",)
