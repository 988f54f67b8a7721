"""Sheets for work by dials: every row of the table on paper, readable, in the trade's words."""

from functools import cache
from pathlib import Path

import pytest

from passplot.dials import Wheel
from passplot.flow import prove_job
from passplot.records.plan import Plan
from passplot.records.sheet import Page, Sheet, Stroke
from passplot.sheet import lay_out
from passplot.sheet.canvas import Canvas
from passplot.sheet.checks import outside, overlapping
from passplot.sheet.dial_face import LINE_MM, draw_face
from passplot.sheet.dial_lines import FEED, PAST, SET, dial_lines
from passplot.sheet.paper import Box, paper_named
from passplot.sheet.tables import moves_table
from sheet.pages import texts

EXAMPLE = Path(__file__).parents[2] / "shop_examples" / "dial-stop.toml"


@cache
def sheet_of(paper: str, portrait: bool) -> tuple[Plan, Sheet]:
    plan, proof = prove_job(EXAMPLE)
    return plan, lay_out(plan, proof, paper, portrait=portrait)


def dial_pages(sheet: Sheet) -> list[Page]:
    return [page for page in sheet.pages if "AS IT LOOKS" in texts(page)]


@pytest.mark.parametrize(("paper", "portrait"), [("a4", False), ("letter", True)])
def test_nothing_overlaps_or_leaves_the_sheet(paper: str, portrait: bool) -> None:
    _, sheet = sheet_of(paper, portrait)
    live = paper_named(paper, portrait=portrait).live
    assert dial_pages(sheet)
    for page in sheet.pages:
        assert overlapping(page) == []
        assert outside(page, live) == []


def test_every_row_that_is_cranked_stands_on_paper_once() -> None:
    plan, sheet = sheet_of("a4", False)
    table = moves_table(plan)
    cranked = [row for row in table.rows if row[table.columns.index("crank")]]
    lines = [one for one in dial_lines(plan) if one.axis]
    assert [str(one.row) for one in lines] == [row[0] for row in cranked]
    for one, row in zip(lines, cranked, strict=True):
        assert one.turns == row[table.columns.index("turns")]
        assert one.reading == row[table.columns.index("dial")].removeprefix("0")
    shown = [text for page in dial_pages(sheet) for text in texts(page)]
    assert shown.count(SET) == sum(one.word == SET for one in lines)
    assert shown.count(FEED) == sum(one.word == FEED for one in lines)


def test_a_setting_that_was_gone_past_comes_next() -> None:
    plan, _ = sheet_of("a4", False)
    lines = dial_lines(plan)
    past = [k for k, one in enumerate(lines) if one.word == PAST]
    assert past
    for k in past:
        assert lines[k + 1].axis == lines[k].axis
        assert lines[k + 1].word in (SET, "GO")
        assert lines[k + 1].crank != lines[k].crank


@pytest.mark.parametrize(("rising", "larger"), [("cw", "left"), ("ccw", "right")])
def test_the_picture_has_the_reading_under_its_pointer(rising: str, larger: str) -> None:
    canvas = Canvas()
    wheel = Wheel("X", 1, 0.2, 0.0, 0.001, 1.0, 1, rising)
    draw_face(canvas, Box(0.0, 0.0, 32.0, 9.6), wheel, 0.104, inch=True)
    wide = [m for m in canvas.marks if isinstance(m, Stroke) and m.width == 0.7]
    labels = {m.text: m.x for m in canvas.marks if hasattr(m, "text")}
    # .100 stands four lines from the pointer, towards the smaller numbers
    off = labels[".10"] - 16.0
    assert abs(off) == pytest.approx(4 * LINE_MM)
    assert (off > 0) == (larger == "left")
    assert any(m.points[0][0] == pytest.approx(labels[".10"]) for m in wide)


def test_a_feed_begins_at_the_reading_its_axis_was_left_at() -> None:
    plan, sheet = sheet_of("a4", False)
    left: dict[str, str] = {}
    shown = [text for page in dial_pages(sheet) for text in texts(page)]
    feeds = 0
    for one in dial_lines(plan):
        if one.word == FEED and one.axis in left:
            assert one.begins == left[one.axis]
            assert one.clear or f"FROM {one.begins}" in shown
            feeds += 1
        left[one.axis] = one.reading
    assert feeds > 20
