"""The general tolerance: what holds for sizes that the print gives none of their own.

ISO 2768-1:1989, table 1, is for linear sizes from 0.5 mm up; below that the tolerance has to stand
beside the size. There is no inch counterpart: inch prints state one by decimal places.
"""

import re
from fractions import Fraction

from passplot.frozen import dataclass

MM_PER_INCH = Fraction(254, 10)

# ISO 2768-1:1989 table 1: upper end of each step (over … up to and including), mm.
_STEPS_MM = (3, 6, 30, 120, 400, 1000, 2000, 4000)
_LEAST_MM = Fraction(1, 2)
_SPREADS_MM: dict[str, tuple[str | None, ...]] = {
    "f": ("0.05", "0.05", "0.1", "0.15", "0.2", "0.3", "0.5", None),
    "m": ("0.1", "0.1", "0.2", "0.3", "0.5", "0.8", "1.2", "2"),
    "c": ("0.2", "0.3", "0.5", "0.8", "1.2", "2", "3", "4"),
    "v": (None, "0.5", "1", "1.5", "2.5", "4", "6", "8"),
}

_ISO_NOTE = re.compile(r"iso\s*2768(?:-1)?\s*-\s*([fmcv])", re.IGNORECASE)
_PLACES = re.compile(r"\.x{1,6}", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class General:
    """A general tolerance; one of the three is given.

    Attributes
    ----------
    note : str
        For the title block.
    iso_class : str
        ``"f"``, ``"m"``, ``"c"`` or ``"v"`` of ISO 2768-1; empty if not by that standard.
    equal : Fraction or None
        Plus or minus this, job units.
    places : tuple
        (number of decimals, plus or minus this in job units), for sizes written in quotes.
    """

    note: str
    iso_class: str = ""
    equal: Fraction | None = None
    places: tuple[tuple[int, Fraction], ...] = ()

    def spread(self, nominal: Fraction, job: str, decimals: int | None) -> Fraction | None:
        """Plus or minus how much a size may be off, job units; None where nothing is stated.

        ``decimals`` is the number of decimals of a size written in quotes, else None.
        """
        if self.equal is not None:
            return self.equal
        if not self.iso_class:
            return next((spread for places, spread in self.places if places == decimals), None)
        unit = Fraction(1) if job == "mm" else MM_PER_INCH
        spread = iso_2768_mm(self.iso_class, abs(nominal) * unit)
        return None if spread is None else spread / unit


def iso_2768_mm(letter: str, nominal_mm: Fraction) -> Fraction | None:
    """The linear tolerance of ISO 2768-1 class ``letter``, ± mm; None where it gives none."""
    if nominal_mm < _LEAST_MM:
        return None
    for end, spread in zip(_STEPS_MM, _SPREADS_MM[letter], strict=True):
        if nominal_mm <= end:
            return None if spread is None else Fraction(spread)
    return None


def iso_class(text: str) -> str:
    """The class letter in a note such as ``"ISO 2768-m"``; empty if it is none."""
    hit = _ISO_NOTE.fullmatch(text.strip())
    return hit.group(1).lower() if hit else ""


def decimal_places(key: str) -> int | None:
    """How many decimals a key such as ``".xxx"`` stands for; None if it is no such key."""
    return len(key) - 1 if _PLACES.fullmatch(key) else None
