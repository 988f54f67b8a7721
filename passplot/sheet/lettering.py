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
_UNKNOWN_EM = 1.0
"""A character the table does not hold is given a square."""


@cache
def _advances() -> tuple[dict[str, float], dict[str, float]]:
    """Advance widths in em, regular and bold, by character."""
    regular: dict[str, float] = {}
    bold: dict[str, float] = {}
    for line in TABLE.read_text(encoding="utf-8").splitlines():
        if not line.startswith("#"):
            code, thin, thick = line.split()
            char = chr(int(code, 16))
            regular[char] = int(thin) / _UNITS_PER_EM
            bold[char] = int(thick) / _UNITS_PER_EM
    return regular, bold


@cache
def width_of(text: str, height: float, bold: bool = False) -> float:
    """Width in millimetres of ``text`` with capitals ``height`` millimetres high."""
    table = _advances()[bold]
    return sum(table.get(char, _UNKNOWN_EM) for char in text) * height / CAPITAL_EM


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
