"""Changes of cutter on the sheets: what goes in, and what is touched off with it."""

import pytest
from plan.listed import FACE, STEP, planned, proof_of

from passplot.records.plan import Plan
from passplot.records.proof import Proof
from passplot.sheet import lay_out
from passplot.sheet.checks import overlapping, struck_through
from passplot.sheet.cut_text import cutting_lines
from passplot.sheet.setup_text import cutter_texts
from sheet.pages import texts


@pytest.fixture(scope="module")
def done() -> tuple[Plan, Proof]:
    plan = planned(["ribbed", "large"], FACE, STEP)
    return plan, proof_of(plan)


def test_the_first_sheet_of_a_later_cutter_says_what_to_change_and_touch_off(
    done: tuple[Plan, Proof],
) -> None:
    plan, proof = done
    first = min(each.number for each in plan.passes if each.cutter == "large")
    pages = [page for page in lay_out(plan, proof).pages if page.passes]
    changed = [page for page in pages if any("CHANGE TO" in text for text in texts(page))]
    assert [min(page.passes) for page in changed] == [first]
    # in the strip and in the pass table; roughing has left the floor stock on the faced top
    said = texts(changed[0])
    assert said.count(".0100") >= 2
    assert sum(text.startswith("CHANGE TO") for text in said) == 2
    assert {"TOUCH TOP: Z", "TOUCH TOP: SET Z"} <= set(said)


def test_what_it_says_stands_free(done: tuple[Plan, Proof]) -> None:
    for portrait in (False, True):
        for page in lay_out(*done, portrait=portrait).pages:
            assert overlapping(page) == []
            assert struck_through(page) == []


def test_the_set_up_sheet_says_which_passes_each_cutter_makes(done: tuple[Plan, Proof]) -> None:
    plan, _ = done
    rough = max(each.number for each in plan.passes if each.cutter == "ribbed")
    said = cutter_texts(plan)
    assert said[0].endswith(f"passes 1–{rough}")
    assert said[1].endswith(f"passes {rough + 1}–{len(plan.passes)}")


def test_a_cutter_that_finishes_nothing_has_no_feed_for_it(done: tuple[Plan, Proof]) -> None:
    plan, _ = done
    ribbed = next(text for text in cutting_lines(plan) if text.startswith("ribbed:"))
    assert "finish at" not in ribbed
