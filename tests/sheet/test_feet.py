"""Fillets at the feet of walls in the elevation: filled in, with their radius on a leader."""

from math import pi

import pytest
from plan.listed import POCKET, STEP, planned, proof_of

from passplot.records.plan import Plan
from passplot.records.proof import Proof
from passplot.records.sheet import Fill, Page
from passplot.sheet import lay_out
from passplot.sheet.checks import overlapping, struck_through
from sheet.pages import texts


@pytest.fixture(scope="module")
def left() -> tuple[Plan, Proof]:
    plan = planned(["rounded"], STEP, POCKET.replace("-0.1, 1.5", "1.5, 3.1"))
    return plan, proof_of(plan)


def black(page: Page) -> list[float]:
    """Areas of what is filled in black, square millimetres."""
    fills = [mark.loops[0] for mark in page.marks if isinstance(mark, Fill) and mark.grey == 0]
    return [
        abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, (*ring[1:], ring[0]), strict=True)))
        / 2
        for ring in fills
    ]


def test_a_fillet_is_filled_in_at_its_true_size_and_named_once(left: tuple[Plan, Proof]) -> None:
    pages = lay_out(*left).pages
    shown = [page for page in pages if "R .0600" in texts(page)]
    assert shown[0] is pages[0]
    assert len(shown) >= 2
    assert all(texts(page).count("R .0600") == 1 for page in shown)
    # (1 - pi / 4) r^2 at full size, chords aside
    at_full_size = (1 - pi / 4) * (0.06 * 25.4) ** 2
    assert any(area == pytest.approx(at_full_size, rel=0.02) for area in black(shown[0]))


def test_its_name_stands_free(left: tuple[Plan, Proof]) -> None:
    for portrait in (False, True):
        for page in lay_out(*left, portrait=portrait).pages:
            assert overlapping(page) == []
            assert struck_through(page) == []


def test_what_a_square_end_takes_is_not_drawn() -> None:
    plan = planned(["rounded", "large"], STEP)
    pages = lay_out(plan, proof_of(plan)).pages
    assert not any("R .0600" in texts(page) for page in pages)


def test_the_fillet_stays_in_the_note(left: tuple[Plan, Proof]) -> None:
    plan, _ = left
    assert sum("leave a fillet of .0600" in note for note in plan.notes) == 2
