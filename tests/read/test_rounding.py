"""Rounded corners and round shapes of the file as exact lines and arcs."""

from itertools import pairwise
from math import atan2, cos, hypot, pi, sin, sqrt, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from passplot.curves import direction, length, sweep
from passplot.read.polygon import signed_area
from passplot.read.rounding import fillet, misfits, rounded
from passplot.records.job import Feature
from passplot.records.shapes import Arc, Line, Loop, Point

from .texts import feature, job, one, read

Row = tuple[float, ...]


def only(kind: str, **keys: object) -> Feature:
    (found,) = read(one(kind, **keys)).features
    return found


def rows(loop: Loop) -> list[Row]:
    """Every edge: its start, and for an arc its centre, radius and turn."""
    return [
        (edge.start.x, edge.start.y)
        if isinstance(edge, Line)
        else (edge.start.x, edge.start.y, edge.center.x, edge.center.y, edge.radius, edge.ccw)
        for edge in loop.edges
    ]


def closed(loop: Loop) -> None:
    """Every edge starts at the very point where the one before it ends."""
    for before, edge in pairwise((loop.edges[-1], *loop.edges)):
        assert before.end == edge.start
        assert length(edge) > 0
        if isinstance(edge, Arc):
            for end in (edge.start, edge.end):
                away = hypot(end.x - edge.center.x, end.y - edge.center.y)
                assert away == pytest.approx(edge.radius, abs=1e-8)


def test_a_pocket_is_driven_sharp_and_comes_out_round() -> None:
    found = only("pocket", x=[1, 3], y=[1, 2], corner_radius=0.25)
    assert rows(found.area[0]) == [(1, 1), (3, 1), (3, 2), (1, 2)]
    assert found.rounded is not None
    ((pocket,), keep) = found.rounded
    assert keep == ()
    assert rows(pocket) == [
        (1.25, 1),
        (2.75, 1, 2.75, 1.25, 0.25, True),
        (3, 1.25),
        (3, 1.75, 2.75, 1.75, 0.25, True),
        (2.75, 2),
        (1.25, 2, 1.25, 1.75, 0.25, True),
        (1, 1.75),
        (1, 1.25, 1.25, 1.25, 0.25, True),
    ] or rows(pocket)[0] == (1, 1.25, 1.25, 1.25, 0.25, True)
    closed(pocket)
    assert [size.nominal for size in found.inside_radii] == [0.25]
    assert found.corner_radius == found.inside_radii[0]


def test_corners_at_an_open_edge_are_none() -> None:
    found = only("pocket", x=[-0.1, 1], y=[1, 2], corner_radius=0.25)
    assert found.rounded is not None
    arcs = [edge for edge in found.rounded[0][0].edges if isinstance(edge, Arc)]
    assert sorted((arc.center.x, arc.center.y) for arc in arcs) == [(0.75, 1.25), (0.75, 1.75)]
    whole = only("pocket", x=[0, 4], y=[1, 2], corner_radius=0.25)
    assert (whole.rounded, whole.corner_radius, whole.inside_radii) == (None, None, ())


def test_a_pocket_as_narrow_as_its_corners_has_half_round_ends() -> None:
    found = only("pocket", x=[1, 3], y=[1, 2], corner_radius=0.5)
    assert found.rounded is not None
    (pocket,) = found.rounded[0]
    closed(pocket)
    assert len(pocket.edges) == 6  # two straight walls, four quarters
    assert signed_area(list(pocket.edges)) == pytest.approx(1 + pi / 4)


def test_corners_the_cutter_goes_round_are_always_round() -> None:
    boss = only("boss", x=[0, 2], y=[1, 2], corner_radius=0.25)
    assert boss.rounded is None
    assert boss.corner_radius is None
    assert len([edge for edge in boss.keep[0].edges if isinstance(edge, Arc)]) == 4
    closed(boss.keep[0])
    tray = only(
        "pocket",
        x=[0.5, 3.5],
        y=[0.5, 2.5],
        corner_radius=0.2,
        islands=[{"x": [1, 2], "y": [1, 2], "corner_radius": 0.1}],
    )
    assert tray.rounded is not None
    assert tray.keep == tray.rounded[1]
    assert [size.nominal for size in tray.inside_radii] == [0.2]


ELL = [[1, 1], [3, 1], [3, 1.5], [2, 1.5], [2, 2.5], [1, 2.5]]


def ell(clear: str, **radii: float) -> Feature:
    """The L with radii: ``p3`` is the third point. Its inner corner is the fourth."""
    points = [
        {"x": x, "y": y, "radius": radii[f"p{n}"]} if f"p{n}" in radii else [x, y]
        for n, (x, y) in enumerate(ELL, 1)
    ]
    return only("outline", clear=clear, points=points)


def test_an_outline_cleared_outside_has_its_inner_corner_inside() -> None:
    found = ell("outside", p2=0.2, p4=0.375)
    assert [size.nominal for size in found.inside_radii] == [0.375]
    outer = (2.8, 1, 2.8, 1.2, 0.2, True)
    inner = (2.375, 1.5, 2.375, 1.875, 0.375, False)
    assert outer in rows(found.keep[0])
    assert inner not in rows(found.keep[0])
    assert found.rounded is not None
    assert {outer, inner} < set(rows(found.rounded[1][0]))
    closed(found.rounded[1][0])


def test_an_outline_cleared_inside_has_its_outer_corners_inside() -> None:
    found = ell("inside", p2=0.2, p3=0.125, p4=0.375)
    assert [size.nominal for size in found.inside_radii] == [0.125, 0.2]
    assert found.corner_radius is not None
    assert found.corner_radius.nominal == 0.125
    assert (2.375, 1.5, 2.375, 1.875, 0.375, False) in rows(found.area[0])
    assert len([edge for edge in found.area[0].edges if isinstance(edge, Arc)]) == 1


def test_bosses_beside_each_other_keep_their_round_forms() -> None:
    first = feature("boss", name="a", points=[
        {"x": x, "y": y, "radius": 0.25} if n == 4 else [x, y] for n, (x, y) in enumerate(ELL, 1)
    ])  # fmt: skip
    second = feature("boss", name="b", center=[0.5, 0.5], diameter=0.5)
    a, b = read(job(feature=[first, second], dimension=None)).features
    assert a.rounded is not None
    assert b.rounded is not None
    assert b.rounded[1][1] == a.rounded[1][0] != b.keep[1] == a.keep[0]
    assert b.inside_radii == ()
    assert b.diameter is not None
    assert b.diameter.nominal == 0.5


def test_a_fillet_at_a_slant_by_arithmetic() -> None:
    # A corner of 60 degrees: the tangents are r / tan 30 = r √3 long.
    root = sqrt(3)
    arc = fillet(Line(Point(-2, 0), Point(0, 0)), Line(Point(0, 0), Point(-1, root)), 0.1)
    assert arc is not None
    assert (arc.start.x, arc.start.y) == (pytest.approx(-0.1 * root), 0)
    assert (arc.end.x, arc.end.y) == (pytest.approx(-0.05 * root), pytest.approx(0.15))
    assert (arc.center.x, arc.center.y) == (pytest.approx(-0.1 * root), pytest.approx(0.1))
    assert sweep(arc) == pytest.approx(2 * pi / 3)
    assert arc.ccw


def test_a_fillet_between_a_line_and_an_arc_by_arithmetic() -> None:
    # Along y = 0.5 to a circle of radius 1 about (0, 1) and on along it. The fillet's centre is r
    # above the line and 1 - r from the circle's.
    way = Line(Point(-3, 0.5), Point(sqrt(0.75), 0.5))
    bow = Arc(way.end, Point(0, 2), Point(0, 1), 1, True)
    arc = fillet(way, bow, 0.2)
    assert arc is not None
    assert arc.center.y == pytest.approx(0.7)
    assert arc.center.x == pytest.approx(sqrt(0.8**2 - 0.3**2))
    assert (arc.start.x, arc.start.y) == (pytest.approx(arc.center.x), 0.5)
    assert hypot(arc.end.x, arc.end.y - 1) == pytest.approx(1)
    assert hypot(arc.end.x - arc.center.x, arc.end.y - arc.center.y) == pytest.approx(0.2)


def test_blind_slots_end_in_half_circles() -> None:
    both = only("slot", along="x", center=1, width=0.5, start=1, end=3)
    assert rows(both.area[0]) == [
        (1.25, 0.75),
        (2.75, 0.75, 2.75, 1, 0.25, True),
        (2.75, 1.25),
        (1.25, 1.25, 1.25, 1, 0.25, True),
    ]
    assert all(sweep(edge) == pytest.approx(pi) for edge in both.area[0].edges[1::2])  # type: ignore[arg-type]
    assert both.rounded is None
    left = only("slot", along="x", center=1, width=0.5, start=1)
    assert rows(left.area[0]) == [
        (1.25, 0.75),
        (4, 0.75),
        (4, 1.25),
        (1.25, 1.25, 1.25, 1, 0.25, True),
    ]
    up = only("slot", along="y", center=1, width=0.5, end=2)
    assert (1.25, 1.75, 1, 1.75, 0.25, True) in rows(up.area[0])
    for found in (both, left, up):
        closed(found.area[0])
        assert signed_area(list(found.area[0].edges)) > 0
    eye = only("slot", along="x", center=1, width=0.5, start=1, end=1.5)
    assert len(eye.area[0].edges) == 2
    assert signed_area(list(eye.area[0].edges)) == pytest.approx(pi / 16)


@pytest.mark.parametrize("turned", [False, True])
def test_arcs_of_both_turns(turned: bool) -> None:
    # A plate of 1 by 1 with a half circle bulging out on the right and one hollow on the left.
    right = {"x": 2, "y": 1.75, "center": [2, 1.5], "turn": "ccw"}
    left = {"x": 1, "y": 1.25, "center": [1, 1.5], "turn": "cw"}
    points: list[object] = [[1, 1], [2, 1], [2, 1.25], right, [2, 2], [1, 2], [1, 1.75], left]
    if turned:
        right = {"x": 2, "y": 1.25, "center": [2, 1.5], "turn": "cw"}
        left = {"x": 1, "y": 1.75, "center": [1, 1.5], "turn": "ccw"}
        points = [[1, 1], [1, 1.25], left, [1, 2], [2, 2], [2, 1.75], right, [2, 1], [1, 1]]
    (loop,) = only("outline", clear="inside", points=points).area
    closed(loop)
    assert signed_area(list(loop.edges)) == pytest.approx(1)
    assert len(loop.edges) == 8
    assert {row for row in rows(loop) if len(row) > 2} == {
        (1, 1.75, 1, 1.5, 0.25, False),
        (2, 1.25, 2, 1.5, 0.25, True),
    }


def test_a_center_rounded_on_the_print_is_put_between_the_ends() -> None:
    points = [[1, 1], [3.0006, 1], {"x": 2, "y": 2, "center": [2, 1], "turn": "ccw"}]
    (loop,) = only("outline", clear="inside", points=points).area
    closed(loop)
    (arc,) = [edge for edge in loop.edges if isinstance(edge, Arc)]
    assert hypot(arc.center.x - 2, arc.center.y - 1) < 0.0006


def test_a_circle_may_be_written_as_two_arcs() -> None:
    half = [{"x": x, "y": 1.5, "center": [2, 1.5], "turn": "ccw"} for x in (3, 1)]
    (loop,) = only("outline", clear="inside", points=half).area
    closed(loop)
    assert signed_area(list(loop.edges)) == pytest.approx(pi)


def test_keep_outs_have_their_round_corners() -> None:
    clamp = {"name": "clamp", "x": [3, 3.5], "y": [2, 2.5], "corner_radius": 0.125, "top": 0.5}
    screw = {"name": "screw", "center": [3.75, 0.25], "diameter": 0.25, "top": 0.5}
    first, second = read(job(keep_out=[clamp, screw])).keep_outs
    assert signed_area(list(first.loop.edges)) == pytest.approx(0.25 - (4 - pi) / 64)
    assert signed_area(list(second.loop.edges)) == pytest.approx(pi / 64)


def test_a_bore_has_its_diameter() -> None:
    bore = only("bore", center=[1, 1], diameter="1.000 +0.002 -0")
    assert rows(bore.area[0]) == [
        (1.5005, 1, 1, 1, 0.5005, True),
        (0.4995, 1, 1, 1, 0.5005, True),
    ]
    assert bore.diameter is not None
    assert (bore.diameter.low, bore.diameter.high) == (1, 1.002)


def test_ways_of_working_are_carried_on() -> None:
    slant = [[0, 0], [1, 0], [1.5, 3], [0, 3]]
    assert only("outline", clear="inside", points=slant, set_over=True).set_over
    assert only("bore", center=[1, 1], diameter=1, rotary=True).rotary
    tray = only("pocket", x=[1, 2], y=[1, 2], corner_radius=0.25, rotary=True)
    assert (tray.rotary, tray.set_over) == (True, False)


# --- laws ----------------------------------------------------------------------------------------


@st.composite
def stars(draw: st.DrawFn) -> tuple[Loop, dict[int, float]]:
    """A polygon seen whole from its middle, and radii that fit: up to half of the shorter edge."""
    count = draw(st.integers(3, 9))
    turns = [2 * pi * (i + draw(st.floats(-0.3, 0.3))) / count for i in range(count)]
    reaches = [draw(st.floats(0.5, 2.0)) for _ in range(count)]
    corners = [Point(r * cos(t), r * sin(t)) for r, t in zip(reaches, turns, strict=True)]
    edges = [Line(a, b) for a, b in zip(corners, corners[1:] + corners[:1], strict=True)]
    radii = {}
    for i, edge in enumerate(edges):
        bend = abs(_bend(edges[i - 1], edge))
        if bend > 0.01 and draw(st.booleans()):
            room = min(edge.length, edges[i - 1].length) / 2
            radii[i] = draw(st.floats(0.05, 1.0)) * room / tan(bend / 2)
    return Loop(tuple(edges)), radii


def _bend(before: Line, after: Line) -> float:
    """Angle an outline turns by at a corner, left positive."""
    (ux, uy), (vx, vy) = direction(before, 1.0), direction(after, 0.0)
    return atan2(ux * vy - uy * vx, ux * vx + uy * vy)


@settings(deadline=None)
@given(stars())
def test_rounded_outlines_run_on_smoothly_and_lose_their_corners(
    drawn: tuple[Loop, dict[int, float]],
) -> None:
    sharp, radii = drawn
    assert misfits(sharp.edges, radii) == []
    smooth = rounded(sharp, radii)
    closed(smooth)
    for before, edge in pairwise((smooth.edges[-1], *smooth.edges)):
        if isinstance(before, Arc) or isinstance(edge, Arc):
            along, on = direction(before, 1.0), direction(edge, 0.0)
            assert along == pytest.approx(on, abs=1e-6)
    # At a corner that turns by the angle b the kite of two tangents and two radii, r² tan(b / 2),
    # loses all but its sector, r² b / 2.
    area = signed_area(list(sharp.edges))
    for i, r in radii.items():
        first, second = sharp.edges[i - 1], sharp.edges[i]
        assert isinstance(first, Line)
        assert isinstance(second, Line)
        bend = _bend(first, second)
        area -= r * r * (tan(bend / 2) - bend / 2)
    assert signed_area(list(smooth.edges)) == pytest.approx(area, abs=1e-7)
    assert area > 0


@settings(deadline=None)
@given(stars(), st.floats(1.001, 3.0))
def test_radii_that_are_too_large_are_found(
    drawn: tuple[Loop, dict[int, float]], more: float
) -> None:
    sharp, _ = drawn
    edges = [edge for edge in sharp.edges if isinstance(edge, Line)]
    shortest = min(range(len(edges)), key=lambda i: edges[i].length)
    bend = abs(_bend(edges[shortest - 1], edges[shortest]))
    if 0.01 < bend < 3:
        radius = more * edges[shortest].length / tan(bend / 2)
        found = misfits(sharp.edges, {shortest: radius})
        assert {misfit.corner for misfit in found} == {shortest}
        assert any(misfit.edge == edges[shortest].length for misfit in found)
