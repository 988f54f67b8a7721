"""Where the walls are: readings from the datum, in a row off the view (running dimensions).

Each wall has an extension line and its distance from X0 or Y0 at the line's end, as coordinate
dimensioning from a common origin has it (ISO 129-1, ASME Y14.5).
"""

from collections.abc import Sequence

from passplot.sheet.canvas import Canvas
from passplot.sheet.ink import line
from passplot.sheet.labels import spread
from passplot.sheet.lettering import letter, width_of
from passplot.sheet.paper import NARROW, SMALL, Box

JOG_MM = 5.0
"""From the view to the row of readings: room for an extension line to bend."""
_GAP_MM = 1.0
_BETWEEN_MM = 2.5
_OVERHANG_MM = 8.0
"""How far the row of readings may reach past its view, at either end."""


def row_turns(texts: Sequence[str], width_mm: float) -> bool:
    """Whether readings below a view of that width must be turned to find room."""
    needed = sum(width_of(text, SMALL) + _BETWEEN_MM for text in texts)
    return needed > width_mm


def row_height(texts: Sequence[str], width_mm: float) -> float:
    """Paper that the row of readings takes below a view."""
    if not texts:
        return 0.0
    longest = max(width_of(text, SMALL) for text in texts)
    high = longest if row_turns(texts, width_mm) else SMALL * 1.22
    return _GAP_MM + JOG_MM + 1.0 + high + 1.5


def column_width(texts: Sequence[str]) -> float:
    """Paper that the column of readings takes to the right of a view."""
    if not texts:
        return 0.0
    return _GAP_MM + JOG_MM + 1.0 + max(width_of(text, SMALL) for text in texts) + 1.0


def readings_below(
    canvas: Canvas, walls: list[tuple[float, str]], view: Box, room: Box, *, above: bool = False
) -> None:
    """Readings of upright walls, as (paper x, text), under or over a view, within ``room``."""
    walls = sorted(walls)
    if not walls:
        return
    sign = -1.0 if above else 1.0
    edge = view.top if above else view.bottom
    turned = row_turns([text for _, text in walls], view.width)
    pitches = [SMALL * 1.6 if turned else width_of(text, SMALL) + _BETWEEN_MM for _, text in walls]
    low = max(view.left - _OVERHANG_MM, room.left)
    high = min(view.right + _OVERHANG_MM, room.right)
    middles = spread([x for x, _ in walls], pitches, low, high)
    row = edge + sign * (_GAP_MM + JOG_MM)
    for (x, text), middle in zip(walls, middles, strict=True):
        _bent(canvas, (x, edge + sign * _GAP_MM), (middle, row))
        if turned:
            y = row - 1.0 if above else row + 1.0 + width_of(text, SMALL)
            lettering = letter(text, middle + SMALL / 2, y, SMALL, turned=True)
        else:
            y = row - 1.0 if above else row + 1.0 + SMALL
            lettering = letter(text, middle, y, SMALL, anchor="middle")
        canvas.write(lettering, gap=0.5)


def readings_beside(canvas: Canvas, walls: list[tuple[float, str]], view: Box, room: Box) -> None:
    """Readings of level walls, given as (paper y, text), right of a view, within ``room``."""
    walls = sorted(walls)
    pitches = [SMALL * 1.7] * len(walls)
    total = sum(pitches)
    # a column longer than its view stands out at both ends of it, but not out of the room
    low = max(view.top - max(total - view.height, 0.0) / 2, room.top)
    low = min(low, max(room.bottom - total, room.top))
    middles = spread([y for y, _ in walls], pitches, low, low + max(total, view.height))
    column = view.right + _GAP_MM + JOG_MM
    for (y, text), middle in zip(walls, middles, strict=True):
        _bent(canvas, (view.right + _GAP_MM, y), (column, middle))
        canvas.write(letter(text, column + 1.0, middle + SMALL / 2, SMALL), gap=0.5)


def _bent(canvas: Canvas, a: tuple[float, float], b: tuple[float, float]) -> None:
    canvas.rule(line(a, b, NARROW), wide=False)
