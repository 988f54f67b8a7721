"""A picture of a dial as it must look: the pointer, the reading under it, the lines beside it."""

from math import ceil, floor

from passplot.dials import Wheel
from passplot.records.sheet import Fill, Stroke
from passplot.sheet.canvas import Canvas
from passplot.sheet.ink import line
from passplot.sheet.lettering import letter, width_of
from passplot.sheet.numbers import plain, printed
from passplot.sheet.paper import NARROW, SMALL, WIDE, Box

LINE_MM = 1.4
"""From line to line: more than the eye needs to count them from 800 mm."""
_SHORT_MM, _FIFTH_MM, _TENTH_MM = 1.2, 1.9, 2.6
_POINTER_MM = 2.2


def draw_face(canvas: Canvas, box: Box, wheel: Wheel, reading: float, *, inch: bool) -> None:
    """Draw the stretch of a dial that its pointer stands at.

    The pointer is fixed and stands above the dial. Where the numbers grow as the wheel is turned
    clockwise, the larger ones lie to the left of it.
    """
    middle, half = (box.left + box.right) / 2, box.width / 2 - 0.4
    way = -1 if wheel.rising_crank == "cw" else 1
    top = box.top + _POINTER_MM
    canvas.put(Stroke(box.corners, NARROW, closed=True))
    canvas.put(line((box.left, top), (box.right, top)))
    lines = reading / wheel.step
    reach = half / LINE_MM
    places = max(_places(10 * wheel.step), 1)
    for count in range(ceil(lines - reach), floor(lines + reach) + 1):
        x = middle + way * (count - lines) * LINE_MM
        high = _TENTH_MM if count % 10 == 0 else _FIFTH_MM if count % 5 == 0 else _SHORT_MM
        canvas.put(line((x, top), (x, top + high), WIDE if count % 10 == 0 else NARROW))
        if count % 10 == 0:
            value = (count * wheel.step) % wheel.lead
            text = printed(plain(value, places), inch)
            if abs(x - middle) + width_of(text, SMALL) / 2 < half:
                canvas.write(letter(text, x, box.bottom - 0.8, SMALL, anchor="middle"))
    tip = (middle, top - 0.1)
    canvas.put(Fill(((tip, (middle - 1.3, box.top), (middle + 1.3, box.top)),), 0.0))


def _places(value: float) -> int:
    """Decimals that write a multiple of ``value`` out in full."""
    return next(n for n in range(6) if abs(value * 10**n - round(value * 10**n)) < 1e-6)
