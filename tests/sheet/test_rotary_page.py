"""The sheet for a rotary table: what it says of centres, settings, angles and ways to turn."""

from functools import cache

import pytest

from passplot.proof import prove
from passplot.records.plan import Plan
from passplot.records.sheet import Lettering, Page
from passplot.sheet import lay_out
from passplot.sheet.tables import moves_table
from passplot.sheet.turns import dial_text, table_way
from passplot.write.tables import csv_text
from tests.rotary_jobs import BORE, END, HUB, TRAY, planned


@cache
def printed(feature: str) -> tuple[Plan, tuple[Page, ...]]:
    plan = planned(feature)
    return plan, lay_out(plan, prove(plan, csv_text(moves_table(plan)))).pages


def texts(page: Page) -> list[str]:
    return [mark.text for mark in page.marks if isinstance(mark, Lettering)]


def rotary_pages(feature: str) -> list[Page]:
    _, pages = printed(feature)
    return [page for page in pages if any("ROTARY TABLE:" in text for text in texts(page))]


@pytest.mark.parametrize(
    ("angle", "text"),
    [
        (0, "0° 00′"),
        (-90, "270° 00′"),
        (-720, "0° 00′"),
        (359.9999, "0° 00′"),
        (12.6804, "12° 41′"),
        (1 / 60, "0° 01′"),
    ],
)
def test_angles_are_read_as_a_dial_shows_them(angle, text):
    assert dial_text(angle) == text


def test_the_table_turns_against_the_cutter():
    # the cutter clockwise round the work is the table counter-clockwise
    assert table_way(-360) == "CCW"
    assert table_way(90) == "CW"


@pytest.mark.parametrize(("feature", "way"), [(BORE, "CCW"), (HUB, "CW"), (END, "CW")])
def test_every_arc_is_listed_with_its_setting_and_the_way_to_turn(feature, way):
    plan, _ = printed(feature)
    (page,) = rotary_pages(feature)
    found = texts(page)
    arcs = [each for each in plan.passes if each.turn is not None]
    assert set(page.passes) == {each.number for each in arcs}
    for each in arcs:
        assert f"{each.turn.setting.x:.4f}".removeprefix("0") in found
        assert dial_text(each.turn.start) in found
    assert found.count(way) == len(arcs)


def test_a_part_of_a_circle_is_listed_from_angle_to_angle():
    (page,) = rotary_pages(END)
    assert {"270° 00′", "90° 00′"} <= set(texts(page))
    (page,) = rotary_pages(BORE)
    assert "ONCE ROUND" in texts(page)


def test_what_stepping_would_take_is_said():
    plan, _ = printed(BORE)
    saved = sum(each.turn.settings for each in plan.passes if each.turn is not None)
    (page,) = rotary_pages(BORE)
    assert f"Stepped off, these arcs would take {saved} settings." in texts(page)


def test_the_work_is_set_anew_for_every_center():
    found = [text for page in rotary_pages(TRAY) for text in texts(page)]
    assert len([text for text in found if text.startswith("SET CENTER")]) == 8


def test_the_set_up_sheet_says_how_the_table_is_set_up():
    _, pages = printed(BORE)
    found = [text for page in pages for text in texts(page)]
    assert "ROTARY TABLE" in found
    assert "SET X 1.0000 Y 1.0000 THERE" in found


def test_pass_sheets_send_to_the_sheet_of_the_table():
    plan, pages = printed(BORE)
    found = [text for page in pages for text in texts(page)]
    arcs = [each for each in plan.passes if each.turn is not None]
    assert found.count("ON ROTARY TABLE") == len(arcs)
