"""Which way to crank along a stepped wall, small: each axis goes both ways there."""

from passplot.records.job import Job
from passplot.sheet.canvas import Canvas
from passplot.sheet.ink import HEAD_LENGTH, head, line, turning
from passplot.sheet.lettering import letter
from passplot.sheet.paper import DASHED_WIDE, SMALL, WIDE, Box

KEY_MM = 52.5
"""Width of the key."""
_ROW_MM = 7.2
KEY_HIGH_MM = 4 * _ROW_MM + SMALL + 2.0
"""Height of the key."""
_CUTTER_MM, _TABLE_MM, _WHEEL_MM = 18.6, 38.0, 49.0
"""Middles of its arrows and wheels, from its left."""
_WAYS = (("X", 1, (1.0, 0.0)), ("X", -1, (-1.0, 0.0)), ("Y", 1, (0.0, -1.0)), ("Y", -1, (0.0, 1.0)))


def draw_key(canvas: Canvas, job: Job, room: Box) -> None:
    """Draw the key at the lower right of its room: reading up or down, cutter, table, wheel."""
    left, y = room.right - KEY_MM + 1.0, room.bottom - KEY_HIGH_MM
    for word, middle in (("CUTTER", _CUTTER_MM), ("TABLE", _TABLE_MM)):
        canvas.write(letter(word, left + middle, y + SMALL, SMALL, anchor="middle"))
    y += SMALL + 2.0
    for axis, sign, way in _WAYS:
        middle = y + _ROW_MM / 2
        name = f"{axis}{'+' if sign > 0 else '−'}"
        canvas.write(letter(name, left, middle + SMALL / 2, SMALL, bold=True))
        _arrow(canvas, (left + _CUTTER_MM, middle), way, dashed=False)
        _arrow(canvas, (left + _TABLE_MM, middle), (-way[0], -way[1]), dashed=True)
        dial = job.shop.machine.dial(axis)
        if dial is not None:
            crank = dial.crank(sign, axis)
            for mark in turning((left + _WHEEL_MM, middle), 2.2, clockwise=crank == "cw"):
                canvas.put(mark)
        y += _ROW_MM
    canvas.block(Box(left, y - 4 * _ROW_MM, room.right, y))


def _arrow(
    canvas: Canvas, middle: tuple[float, float], way: tuple[float, float], *, dashed: bool
) -> None:
    """A short wide arrow through ``middle``, narrower across than the rows are high."""
    half = 6.2 if way[0] else 3.2
    size = HEAD_LENGTH if way[0] else 3.6
    x, y = middle
    tip = (x + half * way[0], y + half * way[1])
    start = (x - half * way[0], y - half * way[1])
    neck = (tip[0] - 0.8 * size * way[0], tip[1] - 0.8 * size * way[1])
    canvas.put(line(start, neck, WIDE, DASHED_WIDE if dashed and way[0] else ()))
    canvas.put(head(tip, start, size, 0.64 * size))
