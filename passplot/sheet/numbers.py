"""Numbers as the sheet prints them, made once from the readout's resolution.

A number has two faces that hold the same digits: the plain one of the CSV (``-0.5000``) and the
printed one of the paper. Decimal inch carries no zero before the point and keeps equal decimals;
millimetres carry the zero and drop trailing ones (ASME Y14.5 sections 1.6.1 and 1.6.2).
"""

from functools import cache
from math import floor

MINUS = "\N{MINUS SIGN}"
MOST_PLACES = 5
"""No readout of a hand-cranked machine shows more decimals."""
OTHER_UNIT_PLACES = 6
"""Steps of a dial engraved in the other unit end nowhere: so many decimals leave no error."""


@cache
def places_of(resolution: float) -> int:
    """Decimals that write every multiple of ``resolution`` out in full (0.0005: 4; 0.01: 2)."""
    for places in range(MOST_PLACES + 1):
        scaled = resolution * 10**places
        if scaled > 0.5 and abs(scaled - round(scaled)) < 1e-6 * scaled:
            return places
    return OTHER_UNIT_PLACES


def plain(value: float, places: int) -> str:
    """``value`` with that many decimals, never a negative zero."""
    text = f"{value:.{places}f}"
    return text[1:] if text.startswith("-") and float(text) == 0 else text


def plain_down(value: float, places: int) -> str:
    """``value`` rounded towards zero: for what must not come out above its limit."""
    step = 10**places
    return plain(floor(abs(value) * step + 1e-6) / step * (1 if value >= 0 else -1), places)


def plain_feed(value: float, inch: bool) -> str:
    """A feed a minute, rounded down: one decimal in inches, none in millimetres, more if slow."""
    places = 1 if inch else 0
    while places < 3 and value * 10**places < 10:
        places += 1
    return plain_down(value, places)


def printed(text: str, inch: bool) -> str:
    """The paper's face of a plain number, after ASME Y14.5: inch ``.500``, metric ``0.5``."""
    sign = MINUS if text.startswith("-") else ""
    digits = text.lstrip("-")
    whole, point, part = digits.partition(".")
    if inch:
        return f"{sign}{'' if whole == '0' and point else whole}{point}{part}"
    part = part.rstrip("0")
    return f"{sign}{whole}.{part}" if part else f"{sign}{whole}"


def ranged(numbers: list[int]) -> str:
    """``3``, ``3, 7`` or ``3–6``: numbers as they stand at a line."""
    if len(numbers) > 2 and numbers == list(range(numbers[0], numbers[0] + len(numbers))):
        return f"{numbers[0]}–{numbers[-1]}"
    return ", ".join(str(number) for number in numbers)


def point_at(text: str) -> int:
    """How many characters stand before the decimal point: what a column is lined up on."""
    before, _, _ = text.partition(".")
    return len(before)


def fraction(value: float) -> str:
    """A size in inches as the crib has it: ``1/2``, ``1 1/4``; decimals where it is none."""
    for below in (1, 2, 4, 8, 16, 32, 64):
        above = value * below
        if abs(above - round(above)) < 1e-9:
            whole, rest = divmod(round(above), below)
            if not rest:
                return str(whole)
            return f"{whole} {rest}/{below}" if whole else f"{rest}/{below}"
    return printed(plain(value, 4), inch=True)
