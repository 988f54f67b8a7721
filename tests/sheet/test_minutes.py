"""Minutes on the sheets: of each pass in its row, of the sheet and the job in the strips."""

from dataclasses import replace

import pytest

from passplot.records.plan import Plan
from passplot.records.times import PassTime
from passplot.sheet.areas import areas_of
from passplot.sheet.cut_text import cut_line, cutting_lines
from passplot.sheet.lettering import width_of
from passplot.sheet.listing import COLUMN, SAID, listing_of, timed
from passplot.sheet.minutes import minute_cells, minutes_of, minutes_text, tenths
from passplot.sheet.packing import pack
from passplot.sheet.paper import SMALL, paper_named
from passplot.sheet.scene import scenes_of
from passplot.sheet.setup_strip import fluid_word
from passplot.sheet.table_choice import roomiest
from passplot.sheet.tables import PASS_COLUMNS, pass_table
from sheet.pages import texts
from sheet.plans import plan_named, sheet_of, two_shoulders


def with_times(cutting: list[float], handling: float = 0.0) -> Plan:
    """The two shoulders, the first passes taking so many seconds."""
    plan = two_shoulders()
    times = tuple(PassTime(n + 1, seconds, handling) for n, seconds in enumerate(cutting))
    return replace(plan, times=times)


def test_minutes_of_a_pass_have_one_decimal_and_are_never_nothing() -> None:
    assert [tenths(value, inch=True) for value in (0.01, 0.24, 0.26, 1.0)] == [
        *(".1", ".2", ".3", "1.0")
    ]
    assert [tenths(value, inch=False) for value in (0.01, 1.0)] == ["0.1", "1.0"]


@pytest.mark.parametrize(
    ("seconds", "text"),
    [
        ([30, 30], ".5"),
        ([60, 30], "1.0/.5"),
        ([60, 30, 30], "1.0/.5"),
        ([60, 30, 45], "1.0"),
        ([], ""),
    ],
)
def test_levels_that_take_alike_are_said_once(seconds: list[float], text: str) -> None:
    plan = with_times(seconds)
    passes = plan.passes[: len(seconds)]
    assert minutes_text(minute_cells(plan, passes), passes, inch=plan.job.inch) == text


def test_the_pass_table_holds_cutting_and_handling_of_every_pass() -> None:
    plan = plan_named("l-ledge")
    assert PASS_COLUMNS[-2:] == ("cutting_min", "handling_min")
    times = {each.number: each for each in plan.times}
    for cells in pass_table(plan).rows:
        time = times[int(cells[0])]
        assert float(cells[-2]) == pytest.approx(time.cutting / 60, abs=0.0051)
        assert float(cells[-1]) == pytest.approx(time.handling / 60, abs=0.0051)
    assert all(cells[-2:] == ("", "") for cells in pass_table(two_shoulders()).rows)


def test_minutes_stand_in_the_row_of_their_pass_where_there_is_room() -> None:
    plan = plan_named("cross-slots")
    areas = areas_of(paper_named("a4", portrait=False), passes=True)
    columns = 0
    for scene in scenes_of(plan, pack(plan, areas.table_room)):
        table = roomiest(scene, areas).table
        for listing in table.listings:
            said = [each.label for each in listing.said if each.label.startswith("MIN")]
            assert ("min" in listing.columns) != bool(said)
            columns += "min" in listing.columns
            for one in listing.lines:
                cells = minute_cells(plan, plan.passes)
                assert one.minutes == minutes_text(cells, one.row.passes, inch=plan.job.inch)
    assert columns


def test_what_has_no_room_for_a_column_says_the_longest_once() -> None:
    plan = with_times([30, 60, 45, 45, 45, 45])
    scene = scenes_of(plan, pack(plan, areas_of(paper_named("a4", portrait=False)).table_room))[0]
    listing = listing_of(scene, scene.runs[0])
    assert "min" in timed(listing, COLUMN).columns
    (said,) = [each for each in timed(listing, SAID).said if each.label.startswith("MIN")]
    assert (said.label, said.value) == ("MIN EACH UP TO", "1.0")
    even = with_times([45] * 12)
    scene = replace(scene, plan=even)
    listing = timed(listing_of(scene, scene.runs[0]), COLUMN)
    assert "min" not in listing.columns
    assert listing.said[-1].label == "MIN EACH"
    first = replace(scene.runs[0], rows=scene.runs[0].rows[:1])
    assert timed(listing_of(scene, first), COLUMN).said[-1].label == "MIN"


def test_the_strips_say_the_cut_and_the_time() -> None:
    plan = plan_named("l-ledge")
    found = minutes_of(plan, plan.passes)
    assert found is not None
    cutting, handling = map(round, found)
    assert cutting == round(sum(each.cutting for each in plan.times) / 60)
    line = cut_line(plan, 255.0)
    # .095 wide at .365 deep: the job's limits, and its depth less the floor stock
    assert line == (
        f"UP TO .0950 WIDE, .3650 DEEP · DRY · CUTTING {cutting} + HANDLING {handling} = "
        f"{cutting + handling} MIN"
    )
    pages = sheet_of("l-ledge").pages
    assert line in texts(pages[0])
    for page in pages:
        if page.passes:
            spent = minutes_of(plan, (each for each in plan.passes if each.number in page.passes))
            assert spent is not None
            assert {f"{round(sum(spent))} MIN", "DRY"} <= set(texts(page))


def test_a_narrow_strip_leaves_out_what_the_block_says() -> None:
    plan = plan_named("l-ledge")
    whole = width_of(cut_line(plan, 255.0), SMALL)
    for room in (whole, whole - 1, 120.0, 60.0):
        assert width_of(cut_line(plan, room), SMALL) <= room
    assert cut_line(plan, 100.0).endswith("MIN")
    (block,) = cutting_lines(plan)
    assert "cuts up to .0950 wide, .3650 deep" in block
    assert plan.cutters[0].fluid in block
    assert fluid_word(plan.cutters[0]) == "DRY"


def test_a_plan_without_times_says_nothing_of_them() -> None:
    plan = two_shoulders()
    assert minutes_of(plan, plan.passes) is None
    assert cut_line(plan, 255.0) == "UP TO .1250 WIDE, .4900 DEEP"
    for page in sheet_of("two shoulders").pages:
        assert not any(text.endswith(" MIN") or text == "MIN" for text in texts(page))
