"""Arcs on a rotary table: points along them, angles as a dial shows them."""

from math import ceil, cos, radians, sin

from passplot.records.plan import WHOLE_TURN, Turn
from passplot.records.shapes import Point

_POINT_DEG = 4.0
"""Angle from point to point of an arc that is drawn as a polyline."""


def arc_points(turn: Turn) -> tuple[Point, ...]:
    """Points along an arc, its ends included."""
    count = max(2, ceil(abs(turn.swing) / _POINT_DEG))
    angles = (radians(turn.start + turn.swing * index / count) for index in range(count + 1))
    (x, y), radius = (turn.center.x, turn.center.y), turn.radius
    return tuple(Point(x + radius * cos(angle), y + radius * sin(angle)) for angle in angles)


def dial_text(angle: float) -> str:
    """An angle as a dial of degrees and minutes shows it, 0° 00′ up to 359° 59′."""
    whole, minutes = divmod(round(angle * 60) % round(WHOLE_TURN * 60), 60)
    return f"{whole}° {minutes:02d}′"


def table_way(swing: float) -> str:
    """Which way the table turns, seen from above: against the cutter's way round the work.

    ISO 841 counts the cutter's movement about the work; a table that carries the work moves the
    opposite way (from memory).
    """
    return "CW" if swing > 0 else "CCW"
