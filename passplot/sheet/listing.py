"""What the pass table says: said once what is the same for all, in the rows what changes."""

from collections.abc import Sequence
from dataclasses import replace

from passplot.frozen import dataclass
from passplot.records.plan import FINISH, Pass
from passplot.sheet.entries import entries_of, plunge_texts, plunged_in
from passplot.sheet.feeds import sign_of
from passplot.sheet.groups import Row, Run, alike
from passplot.sheet.minutes import minute_cells, minutes_text
from passplot.sheet.numbers import printed
from passplot.sheet.points import list_of
from passplot.sheet.scene import Scene

_FEW_STARTS = 2
"""Rows that have their start above them even where the table is short."""
_MOST_NAMED = 6
"""Rows that are named where they start from one place and others go on from the row before."""
_FEW_FULL = 3
"""Rows at full width, or not at it, that are named one by one."""

COLUMN, SAID, UNTIMED = "column", "said", "untimed"
"""How minutes are listed: in a column, once for all rows, or not."""

ON_TABLE = "ON ROTARY TABLE"
"""Where a pass is an arc: its setting and its angles are on a sheet of their own."""

CLEAR = "CLEAR"
"""Where a feed runs out of the stock: until the cutter is clear, not to a number."""


@dataclass(frozen=True, slots=True)
class Said:
    """Something said once: a small label and its value; large where it is a reading to set."""

    label: str
    value: str
    large: bool = True


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the table; empty texts where the column is not needed.

    ``crank`` is ``cw``, ``ccw`` or empty; ``full`` whether the pass cuts both ways somewhere;
    ``above`` stands above the row: how the cutter gets in, or where it starts, if that is not
    where the row before ended. ``points`` says where the settings of a stepped wall or of an arc
    are listed; such a row has no other cells but the ``minutes`` it takes.
    """

    row: Row
    set_axis: str
    set_at: str
    start: str
    feed_axis: str
    end: str
    z: str
    width: str
    crank: str
    full: bool
    note: str
    above: tuple[str, ...] = ()
    points: str = ""
    minutes: str = ""


@dataclass(frozen=True, slots=True)
class Listing:
    """A run as the table prints it.

    ``columns`` are the columns its rows need, ``entries`` how the cutter gets into the metal.
    """

    run: Run
    said: tuple[Said, ...]
    lines: tuple[Line, ...]
    columns: frozenset[str]
    entries: tuple[str, ...]


def listing_of(scene: Scene, run: Run) -> Listing:
    """The listing of one run of a scene."""
    cells, inch = minute_cells(scene.plan, run.passes), scene.job.inch
    lines = tuple(
        replace(_line(scene, row), minutes=minutes_text(cells, row.passes, inch=inch))
        for row in run.rows
    )
    said: list[Said] = []
    columns = {"set"}
    _heights(scene, run, lines, said, columns)
    _sizes(scene, run, lines, said, columns)
    lines = _feeds(scene, lines, said, columns)
    if not alike(line.full for line in lines) and not which_full(lines):
        columns.add("full")
    if not alike(line.note for line in lines):
        columns.add("note")
    return Listing(run, tuple(said), lines, frozenset(columns), entries_of(scene, run))


def timed(listing: Listing, how: str) -> Listing:
    """The listing with the minutes its passes take.

    ``how`` is ``"column"``, or ``"said"`` where the rows have no room: then the longest is said
    once for all, as it is where all take as long.
    """
    times = [line.minutes for line in listing.lines if line.minutes]
    if not times or how not in (COLUMN, SAID):
        return listing
    if alike(times):
        one = len(listing.run.passes) == 1
        said = Said("MIN" if one else "MIN EACH", times[0], large=False)
    elif how == SAID:
        longest = max((each for text in times for each in text.split("/")), key=float)
        said = Said("MIN EACH UP TO", longest, large=False)
    else:
        return replace(listing, columns=listing.columns | {"min"})
    return replace(listing, said=(*listing.said, said))


def title_of(scene: Scene, run: Run) -> str:
    """The heading of a run: its feature, else what is done to the only feature of the sheet.

    Empty where the title strip says it all.
    """
    kinds = {kind_of(each) for each in scene.runs}
    words: list[str] = []
    if len({each.feature for each in scene.runs}) > 1:
        words.append(run.feature.upper())
    if len(kinds) > 1:
        words.append(kind_of(run))
    return ", ".join(words)


def kind_of(run: Run) -> str:
    """What a run does, in a word."""
    if not run.finishing:
        return "ROUGH"
    return "FLOOR" if {row.first.purpose for row in run.rows} <= {"floor", "entry"} else "WALLS"


def heading_of(runs: tuple[Run, ...]) -> str:
    """What the title strip says of a sheet: its stage, and its feature where there is but one."""
    features = {run.feature for run in runs}
    return stage_of(runs) + (f": {runs[0].feature.upper()}" if len(features) == 1 else "")


def stage_of(runs: tuple[Run, ...]) -> str:
    """What the runs of a sheet do: rough, or finish floors, walls or both."""
    if not runs[0].finishing:
        return "ROUGH, THEN FLOOR" if any(run.to_floor for run in runs) else "ROUGH"
    purposes = {row.first.purpose for run in runs for row in run.rows} - {"entry"}
    if purposes == {"floor"}:
        return "FINISH CUT: FLOOR"
    return "FINISH CUT" if "floor" in purposes else "FINISH CUT: WALLS"


def _line(scene: Scene, row: Row) -> Line:
    style, inch = scene.style, scene.job.inch
    each = row.first
    if not each.straight:
        text = f"STEP POINTS {list_of(scene.plan, each).text}" if each.steps else ON_TABLE
        z, width = style.at(each.z), style.cut(each.width_of_cut)
        faces = printed(z, inch), printed(width, inch)
        above = plunge_texts(scene, row)
        return Line(row, "", "", "", "", "", *faces, "", False, note_of(each), above, text)
    along_x = each.axis == "X"
    fixed = each.start.y if along_x else each.start.x
    start, end = (each.start.x, each.end.x) if along_x else (each.start.y, each.end.y)
    dial = scene.job.shop.machine.dial(each.axis)
    return Line(
        row,
        "Y" if along_x else "X",
        printed(style.at(fixed), inch),
        printed(style.at(start), inch),
        each.axis,
        CLEAR if each.end_clear else printed(style.at(end), inch),
        printed(style.at(each.z), inch),
        printed(style.cut(each.width_of_cut), inch),
        dial.crank(sign_of(each), each.axis) if dial else "",
        any(one.both_ways > 0 for one in row.passes),
        note_of(each),
        plunge_texts(scene, row),
    )


def note_of(each: Pass) -> str:
    """A word for a pass that is not an ordinary one."""
    return "SPRING" if each.purpose == "spring" else ""


def _heights(
    scene: Scene, run: Run, lines: tuple[Line, ...], said: list[Said], columns: set[str]
) -> None:
    """The height of the tip, said once, or once a level with the passes at it."""
    if len(run.levels) > 1:
        for index, level in enumerate(run.levels):
            passes = run.at_level(index)
            if not passes:
                continue
            z = printed(scene.style.at(level), scene.job.inch)
            what = "FLOOR, Z" if run.to_floor and passes[0].stage == FINISH else "AT Z"
            first, last = passes[0].number, passes[-1].number
            which = str(first) if first == last else f"{first}–{last}"
            said.append(Said(f"{which} {what}", z))
    elif alike(line.z for line in lines):
        said.append(Said("Z", lines[0].z))
    else:
        columns.add("z")


def _sizes(
    scene: Scene, run: Run, lines: tuple[Line, ...], said: list[Said], columns: set[str]
) -> None:
    style, inch = scene.style, scene.job.inch
    widths = sorted(each.width_of_cut for each in run.passes if each.width_of_cut > 0)
    if widths:
        low, high = (printed(style.cut(value), inch) for value in (widths[0], widths[-1]))
        said.append(Said("WIDE" if low == high else "WIDE UP TO", high, large=False))
    else:
        said.append(Said("WIDE", "FULL", large=False))
    depths = sorted({style.cut(each.depth_of_cut) for each in run.passes}, key=float)
    label = "DEEP" if len(depths) == 1 else "DEEP UP TO"
    said.append(Said(label, printed(depths[-1], inch), large=False))


def _feeds(
    scene: Scene, lines: tuple[Line, ...], said: list[Said], columns: set[str]
) -> tuple[Line, ...]:
    """Where feeds start and stop and which way to crank, said once where it can be."""
    lines = _starts(scene, lines, said, columns)
    straight = [line for line in lines if not line.points]
    if not straight:
        return lines
    if alike((line.feed_axis, line.end) for line in straight):
        said.append(Said(f"TO {straight[0].feed_axis}", straight[0].end))
    else:
        columns.add("end")
    cranks = [line.crank for line in straight]
    if all(cranks):
        if alike((line.feed_axis, line.crank) for line in straight):
            crank = cranks[0].upper()
            said.append(Said(f"CRANK {straight[0].feed_axis}", crank))
        else:
            columns.add("crank")
    return lines


def _starts(
    scene: Scene, lines: tuple[Line, ...], said: list[Said], columns: set[str]
) -> tuple[Line, ...]:
    """Where the feeds start that do not start where the pass before ended.

    Said once where it is one place for all of an axis, above the row where it is few, else in a
    column.
    """
    ends = {each.number: each.end for each in scene.plan.passes}
    apart = [
        line
        for line in lines
        if not line.points
        and any(
            ends.get(each.number - 1) != each.start and not plunged_in(scene, each)
            for each in line.row.passes
        )
    ]
    once: list[Said] = []
    for axis in "XY":
        places = {line.start for line in apart if line.feed_axis == axis}
        rows = [line for line in apart if line.feed_axis == axis]
        every = len(rows) == sum(line.feed_axis == axis for line in lines)
        if len(places) == 1 and (every or _FEW_STARTS < len(rows) <= _MOST_NAMED):
            which = "" if every else ", ".join(str(line.row.first.number) for line in rows) + " "
            once.append(Said(f"{which}FROM {axis}", places.pop()))
            apart = [line for line in apart if line.feed_axis != axis]
    if len(apart) > max(_FEW_STARTS, len(lines) / 3):
        columns.add("start")
        return lines
    said += once
    return tuple(
        replace(line, above=(f"From {line.feed_axis} {line.start}:",)) if line in apart else line
        for line in lines
    )


def which_full(lines: Sequence[Line]) -> str:
    """Which rows cut at full width somewhere, in words; empty where that takes a column."""
    full = [line.row.first.number for line in lines if line.full]
    rest = [line.row.first.number for line in lines if not line.full]
    if len(full) <= _FEW_FULL:
        return f"Where dashed ({', '.join(map(str, full))})"
    if not rest:
        return "Where dashed"
    return f"Where dashed (all but {', '.join(map(str, rest))})" if len(rest) <= _FEW_FULL else ""
