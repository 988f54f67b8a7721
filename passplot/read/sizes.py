"""Sizes the way prints write them: decimals, fractions, units, tolerances, limits.

Every size is worked out in exact fractions and turned into floats once, so that ``"25.4 mm"`` and
``1.0`` are the same number in an inch job.
"""

import re
from enum import Enum
from fractions import Fraction
from math import isfinite

from passplot.frozen import dataclass
from passplot.read.general import MM_PER_INCH, General
from passplot.records.sizes import Size

LEAST_LENGTH, GREATEST_LENGTH = Fraction(1, 10_000), Fraction(100_000)
LONGEST_TEXT = 80  # no print writes a longer size

_NUMBER = (
    r"\s*(\d+(?:\s+|-)\d+\s*/\s*\d+|\d+\s*/\s*\d+|\d+\.\d*|\.\d+|\d+)"
    r"\s*(mm|inches|inch|in\.?|\"|″|”|'')?\s*"
)
_SIGNED = r"([+-]?)" + _NUMBER
_FORMS = {
    form: re.compile(pattern, re.IGNORECASE | re.ASCII)
    for form, pattern in (
        ("plain", _SIGNED),
        ("equal", _SIGNED + r"(?:±|\+\s*/?\s*-)()" + _NUMBER),
        ("deviations", _SIGNED + _SIGNED + r"[,/]?\s*" + _SIGNED),
        ("limits", _SIGNED + r"to\s*" + _SIGNED),
    )
}
_MINUS_SIGNS = str.maketrans({"−": "-", "–": "-"})

HOW_TO_WRITE = (
    'write it like 0.75, "1 1/2", "10 mm", "0.750 ±0.002", "0.700 +0.002 -0.000" or '
    '"0.748 to 0.752"'
)


class Least(Enum):
    """The least a size may be."""

    POSITIVE = "more than zero"
    ZERO = "zero or more"
    ANY = "any number"


class Unreadable(Exception):
    """A value that is no size that would do: what is ``wrong``, what would be ``right``."""

    def __init__(self, wrong: str, right: str) -> None:
        super().__init__(f"{wrong}, {right}")
        self.wrong = wrong
        self.right = right


@dataclass(frozen=True, slots=True)
class Units:
    """What numbers mean: ``bare`` ones are in that unit, sizes come out in ``job`` units.

    Both are ``"inch"`` or ``"mm"``. ``general`` is the tolerance of sizes written without one.
    """

    bare: str
    job: str
    general: General | None = None


@dataclass(frozen=True, slots=True)
class _Number:
    """A number of a size: its value, its unit if it has one, its decimals unless a fraction."""

    value: Fraction
    unit: str
    decimals: int | None


@dataclass(frozen=True, slots=True)
class _Written:
    """A size as written, in job units. ``decimals`` is None unless written in quotes with some."""

    nominal: Fraction
    low: Fraction
    high: Fraction
    text: str
    toleranced: bool = False
    decimals: int | None = None


def read_size(value: object, units: Units, least: Least = Least.POSITIVE) -> Size:
    """The size that a TOML value stands for.

    Parameters
    ----------
    value : object
        Number or string of the file.
    units : Units
        What bare numbers mean and which unit comes out.
    least : Least
        How small it may be.

    Returns
    -------
    Size
        In job units; the general tolerance is applied where the size has none of its own.

    Raises
    ------
    Unreadable
        The value is no size, or outside what is asked for.
    """
    if isinstance(value, str):
        written = _from_text(value, units)
    elif isinstance(value, int | float) and not isinstance(value, bool):
        written = _from_number(value, units)
    else:
        raise Unreadable(f"{shown(value)} is not a size", HOW_TO_WRITE)
    low, high, toleranced = written.low, written.high, written.toleranced
    if not toleranced and units.general is not None:
        spread = units.general.spread(written.nominal, units.job, written.decimals)
        low, high = written.nominal - (spread or 0), written.nominal + (spread or 0)
        toleranced = spread is not None
    _check(written, low, units, least)
    return Size(float(written.nominal), float(low), float(high), written.text, toleranced)


def shown(value: object) -> str:
    """A value of the file, short and on one line, for a message."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        text = "".join(letter if letter.isprintable() else "?" for letter in value)
        return f'"{text[:60]}…"' if len(text) > 60 else f'"{text}"'
    if isinstance(value, int):
        return str(value) if abs(value) < 10**15 else "so large a number"
    if isinstance(value, float):
        return f"{value:.10g}"
    if isinstance(value, list):
        return "a list"
    return "a table" if isinstance(value, dict) else "a date or time"


def factor(unit: str, job: str) -> Fraction:
    """What a length in ``unit`` is multiplied by to be in ``job`` units."""
    if unit == job:
        return Fraction(1)
    return MM_PER_INCH if job == "mm" else 1 / MM_PER_INCH


def plain_number(text: str) -> Fraction | None:
    """A decimal, fraction or mixed fraction without unit and tolerance; None if it is none."""
    try:
        form, numbers = _take_apart(text)
    except Unreadable:
        return None
    return numbers[0].value if form == "plain" and not numbers[0].unit else None


def _from_number(value: int | float, units: Units) -> _Written:
    if not isfinite(value) if isinstance(value, float) else abs(value) > GREATEST_LENGTH:
        raise Unreadable(f"{shown(value)} is no length", "lengths run from 0.0001 to 100000")
    nominal = Fraction(repr(value)) * factor(units.bare, units.job)
    return _Written(nominal, nominal, nominal, shown(value))


def _from_text(value: str, units: Units) -> _Written:
    form, numbers = _take_apart(value)
    unit = next((number.unit for number in numbers if number.unit), units.bare)
    first, *more = (number.value * factor(number.unit or unit, units.job) for number in numbers)
    text = " ".join(value.split())
    if form == "plain":
        return _Written(first, first, first, text, False, numbers[0].decimals)
    if form == "equal":
        return _Written(first, first - more[0], first + more[0], text, True)
    if form == "limits":
        return _Written((first + more[0]) / 2, min(first, *more), max(first, *more), text, True)
    return _Written(first, first + min(more), first + max(more), text, True)


def _take_apart(value: str) -> tuple[str, list[_Number]]:
    """The form a size is written in, and its numbers in order."""
    text = " ".join(value.translate(_MINUS_SIGNS).split())
    for form, pattern in _FORMS.items():
        hit = pattern.fullmatch(text) if len(text) <= LONGEST_TEXT else None
        if hit is None:
            continue
        parts = hit.groups()
        try:
            numbers = [_number(*parts[i : i + 3]) for i in range(0, len(parts), 3)]
        except ZeroDivisionError:
            break
        if form == "deviations" and not _signs_given(parts):
            break
        return form, numbers
    raise Unreadable(f"{shown(value)} cannot be read as a size", HOW_TO_WRITE)


def _number(sign: str, digits: str, unit: str | None) -> _Number:
    whole, _, part = re.sub(r"\s*/\s*", "/", digits).replace("-", " ").rpartition(" ")
    value = Fraction(part) + (int(whole) if whole else 0)
    decimals = None if "/" in part else len(part.partition(".")[2])
    named = "" if not unit else "mm" if unit.lower() == "mm" else "inch"
    return _Number(-value if sign == "-" else value, named, decimals)


def _signs_given(parts: tuple[str, ...]) -> bool:
    """Whether both deviations have a sign; a zero needs none."""
    return all(parts[i] or not Fraction(parts[i + 1].strip(".") or 0) for i in (3, 6))


def _check(written: _Written, low: Fraction, units: Units, least: Least) -> None:
    """Refuse a size that is too small or too large."""
    bare = abs(written.nominal) * factor(units.job, units.bare)
    text = written.text
    if least is not Least.ANY and written.nominal < 0:
        raise Unreadable(f"{text} is negative", f"it has to be {least.value}")
    if least is Least.POSITIVE and written.nominal == 0:
        raise Unreadable(f"{text} is zero", f"it has to be {least.value}")
    if bare > GREATEST_LENGTH or (least is not Least.ANY and 0 < bare < LEAST_LENGTH):
        raise Unreadable(f"{text} is no length", "lengths run from 0.0001 to 100000")
    if least is Least.POSITIVE and low <= 0:
        raise Unreadable(
            f"{text} has a lower limit of zero or less", "its limits must be above zero"
        )
