"""How wide a text is, measured with the advance widths of DejaVu Sans.

The widths are bundled, so that laying out needs no drawing library and every writer draws the
text to the same width.
"""

from functools import cache
from pathlib import Path

from passplot.records.sheet import CAPITAL_EM, Lettering

TABLE = Path(__file__).parents[1] / "data" / "lettering.txt"
"""Characters with their widths; a plain path, because reading packages' files starts slowly."""
_UNITS_PER_EM = 2048


@cache
def _table() -> str:
    return TABLE.read_text(encoding="utf-8")


@cache
def _advance(char: str, bold: bool) -> int:
    """Advance width of a character in units of the face.

    It is looked up in the table's text: a sheet has few characters of the many that it lists.
    """
    text = _table()
    key = f"\n{ord(char):04X} "
    start = text.find(key)
    if start < 0:
        return _UNITS_PER_EM  # one that the table does not hold is given a square
    start += len(key)
    thin, thick = text[start : text.index("\n", start)].split()
    return int(thick if bold else thin)


@cache
def width_of(text: str, height: float, bold: bool = False) -> float:
    """Width in millimetres of ``text`` with capitals ``height`` millimetres high."""
    units = sum([_advance(char, bold) for char in text])
    return units / _UNITS_PER_EM * height / CAPITAL_EM


def letter(
    text: str,
    x: float,
    y: float,
    height: float,
    *,
    anchor: str = "start",
    bold: bool = False,
    turned: bool = False,
    number: int | None = None,
) -> Lettering:
    """A measured text with its anchor point on the base line at (x, y)."""
    width = width_of(text, height, bold)
    return Lettering(text, x, y, height, width, anchor, bold, turned, number)


def wrap(text: str, room: float, height: float, bold: bool = False) -> tuple[str, ...]:
    """``text`` broken into lines no wider than ``room`` millimetres.

    Breaks at spaces; a single word that is wider is broken where it must be.
    """
    lines: list[str] = []
    line = ""
    for word in text.split():
        longer = f"{line} {word}" if line else word
        if width_of(longer, height, bold) <= room:
            line = longer
            continue
        if line:
            lines.append(line)
        line = word
        while width_of(line, height, bold) > room and len(line) > 1:
            keep = _fitting(line, room, height, bold)
            lines.append(line[:keep])
            line = line[keep:]
    return (*lines, line) if line else tuple(lines)


def _fitting(word: str, room: float, height: float, bold: bool) -> int:
    """How many characters of ``word`` fit, at least one."""
    keep = len(word) - 1
    while keep > 1 and width_of(word[:keep], height, bold) > room:
        keep -= 1
    return keep
