"""What the sheet of cutters says: every cutter judged for a feature, in cells of text.

Paper, page and table take their words and numbers from here.
"""

import re
from collections.abc import Sequence

from passplot.frozen import dataclass
from passplot.records.choice import CHOSEN, NO, WOULD_DO, Crew, FeatureChoice, Judged
from passplot.records.job import Job
from passplot.records.sheet import Table
from passplot.records.shop import Cutter
from passplot.sheet.numbers import plain_feed, printed
from passplot.sheet.setup_strip import cutter_facts
from passplot.sheet.tables import style_of

_LEADING_ZERO = re.compile(r"(?<![\d.])0\.(?=\d)")
VERDICTS = {CHOSEN: "TAKE", WOULD_DO: "WOULD DO", NO: "PASSED OVER"}
COLUMNS = ("feature", "cutter", "verdict", "spindle_speed", "feed", "seconds_per_turn", "reasons")


@dataclass(frozen=True, slots=True)
class CutterRow:
    """A cutter judged: ``turn`` are the seconds a turn, one text where all handwheels agree.

    Speed, feed and seconds are empty where it is passed over.
    """

    cutter: str
    words: str
    verdict: str
    speed: str
    feed: str
    turn: tuple[str, ...]
    reasons: str

    @property
    def taken(self) -> bool:
        """Whether it is the one to take."""
        return self.verdict == VERDICTS[CHOSEN]


@dataclass(frozen=True, slots=True)
class ChoiceText:
    """A feature, or several alike, with its rows, the cutter to take first."""

    name: str
    needs: str
    rows: tuple[CutterRow, ...]


def choice_texts(job: Job, choices: Sequence[FeatureChoice]) -> tuple[ChoiceText, ...]:
    """Every feature in words; those that ask and are answered alike together."""
    names: dict[tuple[str, tuple[CutterRow, ...]], list[str]] = {}
    for each in choices:
        rows = tuple(_row(job, one) for one in each.cutters)
        names.setdefault((_needs(job, each), rows), []).append(each.needs.feature)
    return tuple(ChoiceText(", ".join(alike), *said) for said, alike in names.items())


def _needs(job: Job, choice: FeatureChoice) -> str:
    """What the feature asks of a cutter."""
    needs = choice.needs
    said = [needs.kind.upper(), f"{_n(job, needs.depth)} DEEP"]
    if needs.narrowest is not None:
        said.append(f"NARROWEST PLACE {_n(job, needs.narrowest)}")
    if needs.inside_radius is not None:
        said.append(f"INSIDE RADIUS {_n(job, needs.inside_radius)}")
    return " · ".join(said)


def _row(job: Job, one: Judged) -> CutterRow:
    words = cutter_words(job, job.shop.cutter(one.cutter))
    reasons = "; ".join(one.reasons)
    reasons = f"{reasons[:1].upper()}{reasons[1:]}."
    if job.inch:  # as the rest of the sheet writes inches
        reasons = _LEADING_ZERO.sub(".", reasons)
    verdict = VERDICTS[one.verdict]
    if one.verdict == NO:
        return CutterRow(one.cutter, words, verdict, "", "", (), reasons)
    speed = f"{one.spindle_speed:.0f}"
    feed = printed(plain_feed(one.feed, job.inch), job.inch)
    return CutterRow(one.cutter, words, verdict, speed, feed, _turns(one), reasons)


def _turns(one: Judged) -> tuple[str, ...]:
    """Seconds a turn of the X and Y handwheels."""
    found = [
        (axis, f"{value:.1f}") for axis, value in one.seconds_per_turn if value and axis in "XY"
    ]
    if len({text for _, text in found}) <= 1:
        return tuple(text for _, text in found[:1])
    return tuple(f"{axis} {text}" for axis, text in found)


def cutter_words(job: Job, cutter: Cutter) -> str:
    """A cutter in the words of the trade."""
    size, material, measured = cutter_facts(job, cutter)
    words = f"{size} {cutter.form}, {cutter.flutes} fl, {material}"
    return f"{words}, measures {measured}" if measured else words


def crew_lines(crew: Crew) -> tuple[str, ...]:
    """The cutters for the whole job where one does not do it all: by feature, and why."""
    if len(crew.cutters) < 2:
        return ()
    lines = [f"{name.upper()}: {_in_turn(mine)}." for name, mine in crew.features]
    return (*lines, f"{crew.why[:1].upper()}{crew.why[1:]}.") if crew.why else tuple(lines)


def _in_turn(names: Sequence[str]) -> str:
    if len(names) == 1:
        return names[0]
    *ahead, last = names
    return f"{', '.join(ahead)} to rough, {last} to finish"


def crew_title(crew: Crew | None) -> str:
    """The cutters for the whole job, in a line."""
    return "NAMED IN THE JOB" if crew is None else ", THEN ".join(crew.cutters)


def choice_table(texts: Sequence[ChoiceText]) -> Table:
    """All rows as a table, for the page."""
    rows = tuple(
        (
            *(each.name, one.cutter, one.verdict.lower(), one.speed, one.feed),
            ", ".join(one.turn),
            one.reasons,
        )
        for each in texts
        for one in each.rows
    )
    return Table("cutters", COLUMNS, rows)


def _n(job: Job, value: float) -> str:
    return printed(style_of(job).at(value), job.inch)
