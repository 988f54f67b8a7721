"""The sheets of cutters: every cutter in a row of its own, nothing on top of another."""

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from click.testing import CliRunner
from cutting.test_choice import CRIB, SHOULDER, texts, write
from read.texts import cutter

from passplot.command.main import main
from passplot.flow import Chosen, choose_crews, choose_cutters
from passplot.read import parse_job
from passplot.records.choice import Crew
from passplot.records.sheet import Lettering, Sheet
from passplot.sheet.checks import outside, overlapping, struck_through
from passplot.sheet.choice_page import lay_out_choice
from passplot.sheet.choice_text import choice_texts
from passplot.sheet.paper import SMALL, paper_named
from sheet.pages import texts as lettering

POCKET = {"name": "pocket", "kind": "pocket", "x": [1.25, 3.75], "y": [0.25, 2.75], "depth": 0.5}
FEATURES = (SHOULDER, POCKET | {"corner_radius": 0.125})


@cache
def chosen() -> Chosen:
    job = parse_job(*texts(*FEATURES))
    choices = choose_cutters(job)
    return Chosen(job, choices, choose_crews(job, choices)[0])


def sheet(paper: str = "a4", portrait: bool = False) -> Sheet:
    found = chosen()
    return lay_out_choice(found.job, found.choices, found.crew, paper, portrait=portrait)


@pytest.mark.parametrize("portrait", [False, True], ids=["", "upright"])
@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_nothing_overlaps_or_leaves_the_sheet(paper: str, portrait: bool) -> None:
    live = paper_named(paper, portrait=portrait).live
    for page in sheet(paper, portrait).pages:
        assert overlapping(page) == []
        assert outside(page, live) == []
        assert struck_through(page) == []
        sizes = [mark.height for mark in page.marks if isinstance(mark, Lettering)]
        assert min(sizes) == SMALL


def test_long_names_and_a_large_crib_take_more_sheets_and_no_smaller_type() -> None:
    found = chosen()
    job = found.job
    name = "end mill of the far drawer with the blue shank and the chipped corner"
    cutters = tuple(replace(each, id=f"{name} {each.id}") for each in job.shop.cutters)
    many = tuple(
        replace(each, id=f"{each.id} {n}") for n in range(3) for each in (*cutters, *cutters[:2])
    )
    long = replace(
        job,
        title="A very long title of a block that is milled on five of its six sides",
        shop=replace(job.shop, cutters=tuple({each.id: each for each in many}.values())),
        features=tuple(replace(each, name=f"{each.name} {name}") for each in job.features),
    )
    choices = choose_cutters(long)
    crew = Crew(tuple((each.needs.feature, (cutters[0].id, cutters[1].id)) for each in choices))
    for portrait in (False, True):
        pages = lay_out_choice(long, choices, crew, portrait=portrait).pages
        assert len(pages) > len(sheet().pages)
        for page in pages:
            assert overlapping(page) == []
            assert outside(page, paper_named("a4", portrait=portrait).live) == []


def test_every_cutter_has_a_row_and_the_one_to_take_comes_first() -> None:
    found = chosen()
    for each in choice_texts(found.job, found.choices):
        assert {row.cutter for row in each.rows} == {str(one["id"]) for one in CRIB}
        assert [row.taken for row in each.rows] == [True] + [False] * (len(CRIB) - 1)
        first = each.rows[0]
        assert all((first.speed, first.feed, first.turn))
    words = [text for page in sheet().pages for text in lettering(page)]
    assert words.count("TAKE") == 2
    verdicts = words.count("TAKE") + words.count("WOULD DO") + words.count("PASSED OVER")
    assert verdicts == 2 * len(CRIB)
    assert words.count("FOR THE WHOLE JOB") == len(sheet().pages)


def test_features_that_are_answered_alike_stand_together() -> None:
    found = chosen()
    first, second = found.choices
    twin = replace(first, needs=replace(first.needs, feature="twin"))
    names = [each.name for each in choice_texts(found.job, (first, second, twin))]
    assert names == [f"{first.needs.feature}, twin", second.needs.feature]


def test_the_reasons_are_those_of_the_choice() -> None:
    found = chosen()
    table = sheet().tables[0]
    column = table.columns.index("reasons")
    judged = [one for each in found.choices for one in each.cutters]
    assert len(table.rows) == len(judged)
    for row, one in zip(table.rows, judged, strict=True):
        assert row[1] == one.cutter
        assert row[column].casefold().startswith(one.reasons[0].casefold()[:12].replace("0.", "."))


def test_the_numbers_are_those_of_the_choice_and_blank_where_passed_over() -> None:
    rows = choice_texts(chosen().job, chosen().choices)[1].rows
    half = next(row for row in rows if row.cutter == "half")
    assert half.verdict == "PASSED OVER"
    assert (half.speed, half.feed, half.turn) == ("", "", ())
    take = choice_texts(chosen().job, chosen().choices)[0].rows[0]
    assert (take.cutter, take.speed, take.feed, take.turn) == ("half", "2200", "12.0", ("1.0",))
    assert take.words == "1/2 square end, 4 fl, carbide"


def test_the_command_writes_its_sheets_into_a_folder(tmp_path: Path) -> None:
    asked = ["choose", write(tmp_path, *texts(*FEATURES)), "--out", str(tmp_path / "out")]
    found = CliRunner().invoke(main, [*asked, "--formats", "svg,html", "--paper", "letter"])
    assert found.exit_code == 0, found.output
    names = {path.name for path in (tmp_path / "out").iterdir()}
    count = len(sheet("letter").pages)
    numbered = {f"job-choose-{n}.svg" for n in range(2, count + 1)}
    assert names == {"job-choose.svg", "job-choose.html"} | numbered
    assert "for the whole job" in found.output
    bad = CliRunner().invoke(main, [*asked, "--formats", "csv"])
    assert bad.exit_code == 2


def test_nothing_is_written_where_no_cutter_will_do(tmp_path: Path) -> None:
    short = [cutter(id="short", flute_length=0.25)]
    asked = ["choose", write(tmp_path, *texts(*FEATURES, crib=short))]
    found = CliRunner().invoke(main, [*asked, "--out", str(tmp_path / "out")])
    assert found.exit_code == 1
    assert not (tmp_path / "out").exists()
