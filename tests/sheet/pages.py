"""What stands on a page, for the sheet's tests."""

from passplot.records.sheet import Lettering, Page
from passplot.sheet.checks import outside, overlapping, struck_through
from passplot.sheet.paper import paper_named
from sheet.plans import sheet_of


def texts(page: Page) -> list[str]:
    """Every line of lettering."""
    return [mark.text for mark in page.marks if isinstance(mark, Lettering)]


def assert_nothing_overlaps(name: str, paper: str, portrait: bool) -> None:
    """No text of any sheet overlaps another, leaves the sheet or sits on a line."""
    live = paper_named(paper, portrait=portrait).live
    for page in sheet_of(name, paper, portrait).pages:
        assert overlapping(page) == []
        assert outside(page, live) == []
        assert struck_through(page) == []
