"""Stepped walls on paper: true arcs, points that equal the moves, one table for paper and file."""

import re
from dataclasses import replace
from itertools import pairwise
from math import cos, hypot, pi, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passplot.records.plan import CUT, Plan
from passplot.records.sheet import Bow, Lettering, Page, Ring, Stroke
from passplot.sheet.numbers import printed
from passplot.sheet.paper import SCALES, SMALL, WIDE, scale_text
from passplot.sheet.points import point_lists, points_table
from passplot.sheet.rounds import Round, circle_through, spans_of
from passplot.sheet.tables import style_of
from sheet.pages import assert_nothing_overlaps, texts
from sheet.plans import plan_named, sheet_of

STEPPED = ("bushing-seat", "cam-template")


def lists_points(page: Page) -> bool:
    return any(re.match(r"STEP POINTS \d+–\d+:", text) for text in texts(page))


@pytest.mark.parametrize(
    ("paper", "portrait"), [("a4", False), ("letter", True)], ids=["a4", "upright letter"]
)
@pytest.mark.parametrize("name", STEPPED)
def test_nothing_overlaps_on_any_sheet_of_a_stepped_job(
    name: str, paper: str, portrait: bool
) -> None:
    assert_nothing_overlaps(name, paper, portrait)


@pytest.mark.parametrize("name", STEPPED)
def test_the_points_are_where_the_moves_stop(name: str) -> None:
    plan, style = plan_named(name), style_of(plan_named(name).job)
    table = points_table(plan)
    stepped = [each for each in plan.passes if each.steps is not None]
    assert stepped
    for each in stepped:
        rows = [row for row in table.rows if row[3] == str(each.number)]
        points = [(row[5], row[6]) for row in rows]
        moves = [move for move in plan.moves if move.number == each.number and move.move == CUT]
        stops = [(style.at(move.x), style.at(move.y)) for move in moves]
        path = [points[0]]
        for point, before, row in zip(points[1:], points, rows[1:], strict=False):
            corner = (point[0], before[1]) if row[8] == "X" else (before[0], point[1])
            path += [corner, point]
        assert turns(path) == turns([points[0], *stops])


def turns(path: list[tuple[str, str]]) -> list[tuple[str, str]]:
    """Where a path changes its axis: moves that go on along one axis are one."""
    found: list[tuple[str, str]] = []
    for spot in path:
        if found and spot == found[-1]:
            continue
        if len(found) > 1:
            before = found[-2:]
            if any(before[0][axis] == before[1][axis] == spot[axis] for axis in (0, 1)):
                found.pop()
        found.append(spot)
    return found


@pytest.mark.parametrize("portrait", [False, True])
@pytest.mark.parametrize("name", STEPPED)
def test_the_paper_prints_every_point_of_the_table_in_order(name: str, portrait: bool) -> None:
    plan = plan_named(name)
    inch = plan.job.inch
    shown = []
    for page in sheet_of(name, "letter" if portrait else "a4", portrait).pages:
        if not lists_points(page):
            continue
        marks = [mark for mark in page.marks if isinstance(mark, Lettering)]
        for one, x, y in zip(marks, marks[1:], marks[2:], strict=False):
            row = one.bold and one.anchor == "end" and one.text.isdigit() and one.height == SMALL
            if row and one.y == x.y == y.y:
                shown.append((one.text, x.text, y.text))
    table = points_table(plan)
    wanted = dict.fromkeys((r[4], printed(r[5], inch), printed(r[6], inch)) for r in table.rows)
    assert shown == list(wanted)


@pytest.mark.parametrize("name", STEPPED)
def test_the_pass_table_refers_to_the_points(name: str) -> None:
    words = [text for page in sheet_of(name).pages for text in texts(page)]
    for item in point_lists(plan_named(name)):
        assert f"STEP POINTS {item.first}–{item.last}" in words


def test_the_head_says_what_is_stepped_and_what_is_left() -> None:
    words = " ".join(text for page in sheet_of("bushing-seat").pages for text in texts(page))
    plan = plan_named("bushing-seat")
    for item in point_lists(plan):
        assert f"PASS {item.passes[0].number}" in words
    assert "ROUGH, Z −.1150" in words
    assert "SCALLOP .00" in words
    assert "X 1ST Y 2ND" in words
    assert "X 2ND Y 1ST" in words


def deepened(plan: Plan) -> Plan:
    """The plan with its first stepped wall cut once more, deeper."""
    first = next(each for each in plan.passes if each.steps is not None)
    again = replace(first, number=len(plan.passes) + 1, z=first.z - 0.05)
    return replace(plan, passes=(*plan.passes, again))


def test_levels_with_the_same_points_share_one_list() -> None:
    plan = plan_named("bushing-seat")
    before, after = point_lists(plan), point_lists(deepened(plan))
    assert len(after) == len(before)
    assert [each.z for each in after[0].passes] == [-0.115, pytest.approx(-0.165)]
    rows = points_table(deepened(plan)).rows
    assert len(rows) == len(points_table(plan).rows) + before[0].count


def test_a_bore_is_drawn_as_one_true_circle_of_its_diameter() -> None:
    for page in sheet_of("bushing-seat").pages:
        found = re.search(r"SCALE (\d+):(\d+)", " ".join(texts(page)))
        if found is None:
            continue
        radius = 0.625 * 25.4 * int(found[1]) / int(found[2])
        rings = [m for m in page.marks if isinstance(m, Ring) and m.width == WIDE]
        assert any(ring.radius == pytest.approx(radius, abs=1e-6) for ring in rings)


def test_arcs_of_an_outline_are_arcs_of_their_radius_that_meet_its_edges() -> None:
    page = sheet_of("cam-template").pages[0]
    found = re.search(r"SCALE (\d+):(\d+)", " ".join(texts(page)))
    assert found is not None
    scale = int(found[1]) / int(found[2])
    bows = [mark for mark in page.marks if isinstance(mark, Bow) and mark.width == WIDE]
    wanted = {round(8 * scale, 4), round(hypot(20, 5) * scale, 4)}
    assert wanted <= {round(bow.radius, 4) for bow in bows}
    corner = next(bow for bow in bows if bow.radius == pytest.approx(8 * scale))
    ends = [
        (
            corner.center[0] + corner.radius * cos(radians(a)),
            corner.center[1] + corner.radius * sin(radians(a)),
        )
        for a in (corner.start_deg, corner.end_deg)
    ]
    strokes = [m for m in page.marks if isinstance(m, Stroke) and m.width == WIDE]
    tips = [tip for stroke in strokes for tip in (stroke.points[0], stroke.points[-1])]
    for x, y in ends:
        assert min(hypot(x - u, y - v) for u, v in tips) < 0.02


def test_crowded_points_have_a_detail_to_a_standard_scale() -> None:
    names = {f"A ({scale_text(scale)})" for scale in SCALES if scale > 1}
    assert any(names & set(texts(page)) for page in sheet_of("bushing-seat").pages)


def test_point_sheets_say_which_way_to_crank() -> None:
    for name in STEPPED:
        for page in sheet_of(name).pages:
            drawn = any(text.startswith("A (") for text in texts(page))
            if lists_points(page) and drawn:
                assert {"X+", "X−", "Y+", "Y−", "CUTTER", "TABLE"} <= set(texts(page))


@given(
    x=st.floats(-50, 50),
    y=st.floats(-50, 50),
    r=st.floats(0.5, 80),
    first=st.floats(-pi, pi),
    turn=st.floats(0.2, 6.0),
)
def test_chords_put_together_are_the_arc_they_came_from(
    x: float, y: float, r: float, first: float, turn: float
) -> None:
    spots = [
        (x + r * cos(first + turn * k / 40), y + r * sin(first + turn * k / 40)) for k in range(41)
    ]
    circle = circle_through(spots[0], spots[20], spots[40])
    assert circle is not None
    assert circle.radius == pytest.approx(r, rel=1e-6)
    spans = spans_of(Round((x, y), r), list(pairwise(spots)))
    assert len(spans) == 1
    assert radians(spans[0][1] - spans[0][0]) == pytest.approx(turn, abs=1e-6)
