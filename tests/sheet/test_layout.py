"""Every page of several plans, on both papers, either way up."""

import re
from dataclasses import replace

import pytest

from passplot.records.sheet import Fill, Lettering, Ring, Stroke
from passplot.sheet import lay_out
from passplot.sheet.areas import areas_of
from passplot.sheet.canvas import Canvas
from passplot.sheet.checks import outside, overlapping
from passplot.sheet.diagram import draw_diagram, wall_readings
from passplot.sheet.groups import runs_of
from passplot.sheet.numbers import printed
from passplot.sheet.packing import pack
from passplot.sheet.paper import MEDIUM, SMALL, paper_named
from passplot.sheet.scene import scenes_of
from passplot.sheet.table_choice import roomiest
from passplot.sheet.tables import style_of
from sheet.pages import assert_nothing_overlaps, texts
from sheet.plans import plan_named, proof_of, sheet_of, two_shoulders, with_title

NAMES = (
    *("two shoulders", "closed pocket", "tongue-block", "l-ledge", "corner-boss"),
    *("cross-slots", "reground-shoulder", "open-tray", "climb-ledge", "through-shoulders"),
    *("steel-pocket", "tiny-rib", "long-plate"),
)
CROWDED = ("pocket-islands", "clamped-plate", "faced-block", "closed-pocket", "cross-unit-pad")
CASES = [pytest.param(name) for name in NAMES] + [
    pytest.param(name, marks=pytest.mark.slow) for name in CROWDED
]


@pytest.mark.parametrize(
    ("paper", "portrait"), [("a4", False), ("letter", True)], ids=["a4", "upright letter"]
)
@pytest.mark.parametrize("name", CASES)
def test_no_text_overlaps_leaves_the_sheet_or_sits_on_a_line(
    name: str, paper: str, portrait: bool
) -> None:
    assert_nothing_overlaps(name, paper, portrait)


@pytest.mark.parametrize("name", CASES)
def test_every_pass_is_numbered_on_exactly_one_sheet(name: str) -> None:
    pages = sheet_of(name).pages
    shown = [number for page in pages for number in page.passes]
    assert sorted(shown) == [each.number for each in plan_named(name).passes]
    for page in pages:
        words = re.findall(r"\d+", " ".join(texts(page)))
        assert {str(number) for number in page.passes} <= set(words)


@pytest.mark.parametrize("name", CASES)
def test_every_pass_has_a_line_of_its_own_on_the_drawing(name: str) -> None:
    for page in sheet_of(name).pages:
        drawn = {mark.number for mark in page.marks if isinstance(mark, Fill | Stroke)}
        assert set(page.passes) <= drawn


@pytest.mark.parametrize("name", CASES)
def test_the_reading_to_set_for_every_pass_is_printed(name: str) -> None:
    plan = plan_named(name)
    style = style_of(plan.job)
    passes = {each.number: each for each in plan.passes}
    for page in sheet_of(name).pages:
        words = set(texts(page))
        for number in page.passes:
            each = passes[number]
            fixed = each.start.y if each.axis == "X" else each.start.x
            assert printed(style.at(fixed), plan.job.inch) in words


@pytest.mark.parametrize("name", CASES)
def test_both_directions_stand_on_every_pass_sheet(name: str) -> None:
    for page in sheet_of(name).pages:
        if page.passes:
            assert {"CUTTER", "TABLE"} <= set(texts(page))


def test_letters_are_never_smaller_than_the_smallest_of_the_series() -> None:
    for name in NAMES:
        for page in sheet_of(name).pages:
            marks = [mark for mark in page.marks if isinstance(mark, Lettering)]
            assert min(mark.height for mark in marks) >= SMALL
            numbered = [mark for mark in marks if mark.number is not None]
            assert all(mark.height >= MEDIUM for mark in numbered)


def test_sheets_are_counted_and_carry_the_title_block() -> None:
    pages = sheet_of("tongue-block").pages
    for index, page in enumerate(pages):
        words = " ".join(texts(page))
        assert f"SHEET {index + 1} OF {len(pages)}" in words
        for fact in ("GUIDE BLOCK", "PART TW-101", "DO NOT SCALE", "SCALE", "DATE"):
            assert fact in words
        assert ("CHECKED" in words) == (index == 0)


@pytest.mark.parametrize("portrait", [False, True])
@pytest.mark.parametrize("name", CASES)
def test_nothing_the_drawing_has_to_say_is_left_out(name: str, portrait: bool) -> None:
    plan = plan_named(name)
    inch, style = plan.job.inch, style_of(plan.job)
    leaf = paper_named("letter" if portrait else "a4", portrait=portrait)
    areas = areas_of(leaf, passes=True)
    for scene in scenes_of(plan, pack(plan, areas.table_room)):
        fitted = roomiest(scene, areas)
        zone, frame = fitted.zone, fitted.frame
        canvas = Canvas()
        draw_diagram(canvas, scene, zone, frame)
        words = [mark.text for mark in canvas.marks if isinstance(mark, Lettering)]
        drawn: set[int] = set()
        for word in words:
            for low, high in re.findall(r"(?<![.\d−])(\d+)(?:–(\d+))?(?![.\d])", word):
                drawn |= set(range(int(low), int(high or low) + 1))
        assert {row.first.number for row in scene.rows} <= drawn
        for axis in "XY":
            assert {text for _, text in wall_readings(scene, frame, axis)} <= set(words)
        levels = {level for run in scene.runs for level in run.levels}
        assert {f"Z {printed(style.at(z), inch)}" for z in levels} <= set(words)
        for keep in scene.job.keep_outs:
            left, right, front, back = frame.shown
            xs, ys = ([getattr(c, key) for c in keep.loop.corners] for key in "xy")
            if left < min(xs) and max(xs) < right and front < min(ys) and max(ys) < back:
                assert any(keep.name.upper() in word for word in words)
        for hole in scene.holes:
            assert f"DRILL Ø {printed(style.drill(hole.diameter), inch)}" in words


@pytest.mark.parametrize("name", CASES)
def test_no_view_is_broken_through_a_boss_or_an_island(name: str) -> None:
    plan = plan_named(name)
    areas = areas_of(paper_named("a4", portrait=False), passes=True)
    for scene in scenes_of(plan, pack(plan, areas.table_room)):
        view = roomiest(scene, areas).frame.view
        for way, low, high in view.breaks:
            for feature in scene.now:
                for loop in feature.keep:
                    spots = [view.at(corner.x, corner.y) for corner in loop.corners]
                    along = [spot[0 if way == "across" else 1] for spot in spots]
                    assert max(along) <= low + 1e-6 or min(along) >= high - 1e-6


@pytest.mark.parametrize(
    ("name", "most"), [("two shoulders", 4), ("tongue-block", 5), ("closed-pocket", 8)]
)
def test_a_job_takes_few_sheets(name: str, most: int) -> None:
    assert len(sheet_of(name).pages) <= most


def test_a_floor_finished_along_its_roughing_lines_is_listed_with_them() -> None:
    run = runs_of(plan_named("l-ledge"))[0]
    assert run.to_floor
    assert len(run.levels) == 2
    assert all(row.passes[1].purpose == "floor" for row in run.rows)


def test_the_date_is_blank_unless_given() -> None:
    plan = plan_named("two shoulders")
    dated = lay_out(plan, proof_of(plan), date="2031-05-04")
    assert all("2031-05-04" in texts(page) for page in dated.pages)
    assert not any(
        "2031" in text for page in sheet_of("two shoulders").pages for text in texts(page)
    )


def test_the_set_up_sheet_says_what_the_readout_shows_at_each_touch() -> None:
    words = " ".join(text for page in sheet_of("tongue-block").pages[:2] for text in texts(page))
    # edge finder of .200: half of it, on the outside of the zero corner
    assert "TOUCH LEFT EDGE: SET X −.1000" in words
    assert "TOUCH FRONT EDGE: SET Y −.1000" in words
    assert "TOUCH TOP: SET Z 0" in words


def test_the_cutter_is_drawn_at_its_true_size() -> None:
    page = next(page for page in sheet_of("tongue-block").pages if page.passes)
    scale = re.search(r"SCALE (\d+):(\d+)", " ".join(texts(page)))
    assert scale is not None
    radius = 0.25 * 25.4 * int(scale[1]) / int(scale[2])
    rings = [mark.radius for mark in page.marks if isinstance(mark, Ring)]
    assert any(ring == pytest.approx(radius) for ring in rings)


def test_full_width_is_drawn_dashed_and_ordinary_passes_are_not() -> None:
    plan = plan_named("closed pocket")
    for page in sheet_of("closed pocket").pages:
        for each in plan.passes:
            if each.number not in page.passes:
                continue
            strokes = [m for m in page.marks if isinstance(m, Stroke) and m.number == each.number]
            assert any(stroke.dashes for stroke in strokes) == (each.both_ways > 0)


def test_the_same_plan_is_laid_out_the_same() -> None:
    plan = plan_named("closed pocket")
    assert lay_out(plan, proof_of(plan)) == sheet_of("closed pocket")


def test_titles_of_any_length_and_script_stay_on_the_sheet() -> None:
    live = paper_named("a4", portrait=False).live
    for title in ("X" * 90, "Направляющая планка длинная очень", "一枚の板", ""):
        plan = with_title(two_shoulders(), title)
        for page in lay_out(plan, proof_of(plan)).pages:
            assert outside(page, live) == []
            assert overlapping(page) == []


def test_a_drilled_entry_is_said_before_its_first_pass() -> None:
    hole = plan_named("steel-pocket").holes[0]
    words = " ".join(text for page in sheet_of("steel-pocket").pages for text in texts(page))
    assert f"First drill Ø {printed(f'{hole.diameter:.4f}', True)} at X" in words
    assert f"point to Z {printed(f'{hole.point_z:.4f}', True)}." in words


@pytest.mark.parametrize(("count", "portrait"), [(2, False), (40, True)])
def test_any_number_of_drilled_entries_finds_room(count: int, portrait: bool) -> None:
    plan = plan_named("steel-pocket")
    hole = plan.holes[0]
    at = [replace(hole.at, x=hole.at.x + step / 100) for step in range(count)]
    plan = replace(plan, holes=tuple(replace(hole, at=each) for each in at))
    pages = lay_out(plan, proof_of(plan), portrait=portrait).pages
    words = " ".join(text for page in pages for text in texts(page))
    assert f"First drill {count} holes Ø" in words
    for each in at[:10]:
        assert f"X {printed(style_of(plan.job).at(each.x), plan.job.inch)} Y" in words
    for page in pages:
        assert overlapping(page) == []
        assert outside(page, paper_named("a4", portrait=portrait).live) == []


def test_climb_is_warned_of_on_every_sheet_it_is_cut_on() -> None:
    for page in sheet_of("climb-ledge").pages:
        if page.passes:
            assert "CLIMB CUT: NO BACKLASH" in texts(page)


def test_nothing_is_drawn_of_a_handwheel_that_is_not_known() -> None:
    plan = plan_named("two shoulders")
    machine = replace(plan.job.shop.machine, dials=())
    bare = replace(plan, job=replace(plan.job, shop=replace(plan.job.shop, machine=machine)))
    words = {text for page in lay_out(bare, proof_of(bare)).pages for text in texts(page)}
    assert {"CUTTER", "TABLE"} <= words
    assert not {"CW", "CCW"} & words


@pytest.mark.parametrize("portrait", [False, True])
@pytest.mark.parametrize("name", NAMES)
def test_the_zero_is_told_on_every_pass_sheet(name: str, portrait: bool) -> None:
    zero = plan_named(name).job.stock.zero.upper()
    paper = "letter" if portrait else "a4"
    for page in sheet_of(name, paper, portrait).pages:
        if page.passes:
            assert any(zero in text for text in texts(page))
