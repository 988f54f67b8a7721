"""The shop's examples of curved work on paper: legible, within the sheet, few sheets."""

from math import sqrt

import pytest

from passplot.keyseats import INCH, METRIC, seat
from passplot.records.sheet import Bow, Lettering, Page, Ring
from passplot.sheet.paper import WIDE
from passplot.sheet.points import point_lists
from sheet.pages import assert_nothing_overlaps, texts
from sheet.plans import plan_named, sheet_of

MOST_SHEETS = {
    "slotted-link": 8,
    "cam-plate": 7,
    "pump-flange": 9,
    "drive-shaft": 5,
    "fan-shaft": 6,
    "angle-template": 8,
    "filter-cover": 10,
    "bearing-plate": 8,
    "wedge-gib": 6,
}


@pytest.mark.parametrize("name", MOST_SHEETS)
def test_nothing_overlaps_on_a_sheet_that_lies_on_its_side(name: str) -> None:
    assert_nothing_overlaps(name, "a4", portrait=False)


@pytest.mark.parametrize("name", ["cam-plate", "drive-shaft"])
def test_nothing_overlaps_on_an_upright_letter_sheet(name: str) -> None:
    assert_nothing_overlaps(name, "letter", portrait=True)


@pytest.mark.parametrize(("name", "most"), MOST_SHEETS.items())
def test_the_examples_take_no_more_sheets_than_they_did(name: str, most: int) -> None:
    assert len(sheet_of(name).pages) <= most


@pytest.mark.parametrize("name", ["cam-plate", "filter-cover", "pump-flange"])
def test_a_sheet_of_points_is_never_made_for_a_few_left_over(name: str) -> None:
    least = 8
    pages = [page for page in sheet_of(name).pages if any("STEP POINTS" in t for t in heads(page))]
    counts = [sum(is_number(mark) for mark in page.marks) for page in pages]
    assert sum(counts) == sum(item.count for item in point_lists(plan_named(name)))
    assert min(counts) >= least


@pytest.mark.parametrize("name", MOST_SHEETS)
def test_the_proof_is_said_to_its_end(name: str) -> None:
    (end,) = [text for text in texts(sheet_of(name).pages[0]) if text.endswith("conventional.")]
    assert "scallop" in end or "left uncut" in end


def heads(page: Page) -> list[str]:
    """The lettering of the title strip."""
    return [m.text for m in page.marks if isinstance(m, Lettering) and m.y < 30]


def is_number(mark: object) -> bool:
    """Whether a mark is the number of a setting in a table of points."""
    return (
        isinstance(mark, Lettering)
        and mark.bold
        and mark.height == 3.5
        and mark.anchor == "end"
        and mark.text.isdigit()
        and mark.text != "0"  # of the axes
    )


@pytest.mark.parametrize(
    ("name", "standard", "shaft", "mm", "scale"),
    [("drive-shaft", INCH, 1.5, 25.4, 0.5), ("fan-shaft", METRIC, 28.0, 1.0, 1.0)],
)
def test_the_shaft_is_drawn_as_a_circle_with_its_seat(
    name: str, standard: str, shaft: float, mm: float, scale: float
) -> None:
    page = sheet_of(name).pages[0]
    radius = shaft / 2 * mm * scale
    bows = [m for m in page.marks if isinstance(m, Bow) and m.width == WIDE]
    (bow,) = [m for m in bows if abs(m.radius - radius) < 1e-6]
    wall = bow.center[1] - sqrt(radius**2 - (0.5 * planned_width(name) * mm * scale) ** 2)
    assert wall < bow.center[1]
    # open where the seat is: the same on both sides of the crown, straight up
    assert (bow.start_deg + bow.end_deg) / 2 == pytest.approx(90)
    found = seat(standard, shaft)
    assert found is not None
    low, high = found.over_far_side - found.deeper, found.over_far_side
    words = texts(page)
    if standard == INCH:
        assert f"{high - 0.015:.4f} TO {high:.4f}" in words
        assert ".3750 TO .3770" in words
    else:
        assert f"{low:g} TO {high:g}" in words
        assert "7.964 TO 8" in words


def planned_width(name: str) -> float:
    """Width of the seat as it is planned."""
    feature = plan_named(name).job.features[0]
    ys = [corner.y for corner in feature.area[0].corners]
    return max(ys) - min(ys)


def test_a_flat_job_has_no_shaft_drawn() -> None:
    words = texts(sheet_of("pump-flange").pages[0])
    assert not any("SECTION" in text for text in words)
    assert any(isinstance(mark, Ring) for mark in sheet_of("pump-flange").pages[0].marks)


def test_the_way_to_a_plunge_is_said() -> None:
    # The second level begins in the drilled hole again: not where the first one ended.
    words = " ".join(text for page in sheet_of("drive-shaft").pages for text in texts(page))
    assert "before a plunge raise to Z .1000." in words
