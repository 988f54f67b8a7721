"""Kinds of work this version refuses outright: tests of them are skipped until it does not."""

from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from .bench import sheet
from .round_jobs import JOBS, QUARTER, RoundSpec, feature

PROBES = {
    "curves": JOBS["bore"],
    "holes": RoundSpec(
        (3, 3, 1),
        (
            feature(
                "ring", "holes", 0.5, "circle = { center = [1.5, 1.5], diameter = 2, count = 3 }"
            ),
        ),
    ),
    "keyseats": RoundSpec(
        (2, 1, 1),
        (
            'name = "key"\nkind = "keyseat"\nalong = "x"\ncenter = 0.5\nstart = 0.5\nend = 1.5\n'
            'shaft = 1.0\nstandard = "ASME B17.1"',
        ),
        (QUARTER,),
    ),
}


@cache
def planned(what: str) -> bool:
    """Whether this version plans that kind of work at all: a plain job of it is not refused."""
    with TemporaryDirectory() as folder:
        outcome = sheet(PROBES[what].write(Path(folder)))
    return "not yet planned" not in outcome.text


def needs(what: str) -> pytest.MarkDecorator:
    """Skips a test as long as the program refuses that kind of work outright."""
    return pytest.mark.skipif(not planned(what), reason=f"{what} are refused by this version")
