"""Sheets of holes: every hole in a table that agrees with the moves, its number, its circle."""

import pytest

from passplot.flow import plan_job
from passplot.proof import prove
from passplot.read import parse_job, starter
from passplot.records.plan import Plan
from passplot.records.sheet import Lettering, Ring, Sheet
from passplot.sheet import lay_out
from passplot.sheet.numbers import printed
from passplot.sheet.paper import LONG_DASH_DOT
from passplot.sheet.tables import moves_table
from passplot.write.tables import csv_text
from sheet.pages import texts

JOB = """
title = "Flange"
units = "inch"
shop = "shop.toml"
cutter = "1/2 carbide"
[stock]
size = [6, 5, 1]
material = "1018"
[[feature]]
name = "holes"
kind = "holes"
depth = 0.5
"""
SHOP = starter("step")[1]
CIRCLE = "circle = { center = [3, 2.5], diameter = 4, count = 6, start_angle = 15 }"
GRID = "grid = { start = [0.5, 0.5], pitch = [0.3, 0.25], columns = 12, rows = 9 }"


def laid_out(pattern: str, **paper: object) -> tuple[Plan, Sheet]:
    plan = plan_job(parse_job(JOB + pattern, SHOP))
    proof = prove(plan, csv_text(moves_table(plan)))
    assert proof.findings == ()
    return plan, lay_out(plan, proof, **paper)  # type: ignore[arg-type]


@pytest.mark.parametrize("portrait", [False, True])
@pytest.mark.parametrize("pattern", [CIRCLE, GRID])
def test_every_hole_is_in_a_table_once_with_the_numbers_of_its_row(pattern, portrait):
    plan, sheet = laid_out(pattern, portrait=portrait)
    pages = [page for page in sheet.pages if "HOLES: HOLES" in texts(page)]
    table = next(table for table in sheet.tables if table.name == "holes")
    moves = {cells[0]: cells for cells in moves_table(plan).rows}
    printed_rows = []
    for page in pages:
        # rows of the table: texts 5 mm high, put down number, X, Y
        large = [m for m in page.marks if isinstance(m, Lettering) and m.height == 5.0]
        numbers = [m for m in large if m.bold and m.anchor == "end" and m.text.isdigit()]
        numbers = [m for m in numbers if m.text != "0"]  # the zero of the axes
        for number in numbers:
            x, y = [m.text for m in large if m.y == number.y and 0 < m.x - number.x < 75][:2]
            printed_rows.append((int(number.text), x, y))
    assert [row[0] for row in sorted(printed_rows)] == list(range(1, len(table.rows) + 1))
    for (_, x, y), cells in zip(sorted(printed_rows), table.rows, strict=True):
        assert moves[cells[6]][6:8] == cells[3:5]
        assert (x, y) == (printed(cells[3], True), printed(cells[4], True))


def test_a_bolt_circle_has_its_centre_line_at_its_size():
    _, sheet = laid_out(CIRCLE)
    page = sheet.pages[-1]
    (ring,) = [m for m in page.marks if isinstance(m, Ring) and m.dashes == LONG_DASH_DOT]
    (scale,) = [text for line in texts(page) for text in line.split(" · ") if "SCALE 1:" in text]
    assert ring.radius == pytest.approx(2 * 25.4 / int(scale.rsplit(":", 1)[1]))


def test_a_sheet_of_holes_says_which_way_to_crank_and_how_far_the_quill_goes():
    _, sheet = laid_out(CIRCLE)
    words = texts(sheet.pages[-1])
    assert {"X+", "X−", "Y+", "Y−", "CUTTER", "TABLE"} <= set(words)
    # half an inch deep, from a tenth above the work
    assert "START WITH THE TIP AT Z .1000" in words
    assert "QUILL DOWN .6000: .5000 DEEP" in words


def test_the_numbers_of_the_print_stand_beside_those_of_the_sheet():
    plan, sheet = laid_out(CIRCLE)
    (page,) = [page for page in sheet.pages if "HOLES: HOLES" in texts(page)]
    assert any(hole.number != hole.printed for hole in plan.patterns[0].holes)
    marks = [mark for mark in page.marks if isinstance(mark, Lettering)]
    (head,) = [mark for mark in marks if mark.text == "PRINT"]
    below = [m for m in marks if m.x == pytest.approx(head.x) and m.y > head.y]
    found = [m.text for m in sorted(below, key=lambda mark: mark.y)]
    assert found == [str(hole.printed) for hole in plan.patterns[0].holes]


def test_holes_well_apart_are_all_numbered_on_the_drawing():
    _, sheet = laid_out(CIRCLE)
    small = [m for m in sheet.pages[-1].marks if isinstance(m, Lettering) and m.height == 3.5]
    assert {m.text for m in small if m.bold and m.text.isdigit()} == set("123456")


@pytest.mark.parametrize("pattern", [CIRCLE, GRID])
def test_no_text_of_a_sheet_of_holes_stands_on_another(pattern):
    for portrait in (False, True):
        for paper in ("a4", "letter"):
            _, sheet = laid_out(pattern, portrait=portrait, paper=paper)
            for page in sheet.pages:
                boxes = [mark.box for mark in page.marks if isinstance(mark, Lettering)]
                for place, a in enumerate(boxes):
                    for b in boxes[place + 1 :]:
                        apart = a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]
                        assert apart, (a, b)


def test_work_with_cuts_too_has_its_holes_on_sheets_of_their_own():
    step = '\n[[feature]]\nname = "edge"\nkind = "step"\nside = "left"\nwidth = 0.4\ndepth = 0.1\n'
    plan, sheet = laid_out(CIRCLE + step)
    assert plan.passes
    assert sum("HOLES: HOLES" in texts(page) for page in sheet.pages) == 1


def test_no_feed_is_said_for_a_drill():
    # The quill is fed by feel; a milling feed beside a drill would be read as the table's.
    _, sheet = laid_out(CIRCLE.replace("circle", 'cutter = "1/4 drill"\ncircle'))
    first = texts(sheet.pages[0])
    assert "1/4 DRILL" in first
    assert not any("FEED" in text or "IPM" in text for text in first)
