"""Patterns of holes: bolt circle, row, grid; positions only, in the order of the print.

Angles are in degrees, counter-clockwise from X.
"""

from dataclasses import replace
from math import cos, radians, sin

from passplot.read.block import SAME, Block, clean
from passplot.read.form import Form
from passplot.read.marks import hole_marks
from passplot.read.sizes import Least, shown
from passplot.read.tables import Table
from passplot.records.job import HolePattern
from passplot.records.shapes import Point

MOST_HOLES = 1000
_CENTER = "give center = [x, y]"
_START = "give start = [x, y], the first hole"


def read_holes(table: Table, block: Block) -> Form | None:
    """The pattern of a feature of holes; each of them lies on the stock."""
    given = [key for key in ("circle", "row", "grid") if key in table]
    if len(given) != 1:
        wrong = "a second pattern" if given else "no pattern is given"
        table.fault(given[-1] if given else "circle", wrong, "give one of circle, row, grid")
        return None
    inner = table.exact().table(given[0], "write the pattern in braces")
    if inner is None:
        return None
    read = {"circle": _circle, "row": _row, "grid": _grid}[given[0]]
    pattern = read(inner)
    if pattern is None or not _on_stock(table, given[0], pattern, block):
        return None
    return Form(pattern=replace(pattern, room=_room(inner)), marks=hole_marks(pattern))


def _room(table: Table) -> float | None:
    """How far X or Y of a hole may be off: the least that a written tolerance leaves.

    A circle's diameter moves a hole by half of what it is off. None where nothing is toleranced.
    """
    rooms: list[float] = []
    for key in ("center", "start", "pitch", "diameter"):
        if key not in table:
            continue
        share = 4 if key == "diameter" else 2
        if isinstance(table.values[key], list):
            sizes = table.sizes(key, 2, _START) or ()
        else:
            size = table.size(key)
            sizes = () if size is None else (size,)
        rooms += [(size.high - size.low) / share for size in sizes if size.toleranced]
    return min(rooms, default=None)


def _circle(table: Table) -> HolePattern | None:
    """A bolt circle: hole P of N at start + (P - 1) 360 / N, or at the angle given between holes.

    X = R cos, Y = R sin of that angle, from the centre (H. Hall, coordinates of n holes, with the
    start angle added).
    """
    table.check_keys(("center", "diameter", "count", "start_angle", "angle"))
    center = _pair(table, "center", _CENTER)
    diameter = table.size("diameter", required=True)
    count = table.whole("count", 1, MOST_HOLES)
    start = _angle(table, "start_angle", 0.0)
    if center is None or diameter is None or count is None or start is None:
        return None
    step = _angle(table, "angle", 360 / count)
    if step is None:
        return None
    if count > 1 and (step == 0 or abs(step) * (count - 1) >= 360 - 1e-9):
        table.fault(
            "angle",
            f"{count} holes {step:.6g} degrees apart do not fit once round",
            f"it is less than {360 / (count - 1):.6g} and not 0",
        )
        return None
    radius = diameter.middle / 2
    turns = [radians(start + step * hole) for hole in range(count)]
    points = tuple(
        Point(clean(center.x + radius * cos(turn)), clean(center.y + radius * sin(turn)))
        for turn in turns
    )
    return HolePattern(points, center, diameter.middle, start)


def _row(table: Table) -> HolePattern | None:
    """Holes in one line: from ``start`` on, ``pitch`` apart, at ``angle``."""
    table.check_keys(("start", "count", "pitch", "angle"))
    start = _pair(table, "start", _START)
    count = table.whole("count", 1, MOST_HOLES)
    pitch = table.size("pitch", required=True)
    angle = _angle(table, "angle", 0.0)
    if start is None or count is None or pitch is None or angle is None:
        return None
    dx, dy = pitch.middle * cos(radians(angle)), pitch.middle * sin(radians(angle))
    return HolePattern(
        tuple(Point(clean(start.x + i * dx), clean(start.y + i * dy)) for i in range(count))
    )


def _grid(table: Table) -> HolePattern | None:
    """Holes in columns along X and rows along Y, row by row from ``start``, its front left one."""
    table.check_keys(("start", "columns", "rows", "pitch"))
    start = _pair(table, "start", _START)
    columns, rows = (table.whole(key, 1, MOST_HOLES) for key in ("columns", "rows"))
    right = "give pitch = [x, y], from column to column and from row to row"
    if "pitch" not in table:
        table.missing("pitch", right)
    pitch = table.sizes("pitch", 2, right, Least.POSITIVE)
    if start is None or columns is None or rows is None or pitch is None:
        return None
    if columns * rows > MOST_HOLES:
        table.fault("rows", f"{columns * rows} holes", f"{MOST_HOLES} at most in a pattern")
        return None
    x, y = pitch
    return HolePattern(
        tuple(
            Point(clean(start.x + column * x.middle), clean(start.y + row * y.middle))
            for row in range(rows)
            for column in range(columns)
        )
    )


def _pair(table: Table, key: str, right: str) -> Point | None:
    if key not in table:
        table.missing(key, right)
    pair = table.sizes(key, 2, right)
    return None if pair is None else Point(pair[0].middle, pair[1].middle)


def _angle(table: Table, key: str, default: float) -> float | None:
    """An angle in degrees, the default where it is left out."""
    value = table.values.get(key, default)
    if isinstance(value, int | float) and not isinstance(value, bool) and -360 <= value <= 360:
        return float(value)
    table.fault(key, f"{shown(value)} is no angle", "give degrees from -360 to 360")
    return None


def _on_stock(table: Table, key: str, pattern: HolePattern, block: Block) -> bool:
    """Whether every hole has its centre in the stock; notes the first that has not."""
    (left, right), (front, back) = block.stock.x, block.stock.y
    for number, hole in enumerate(pattern.points, 1):
        across = left + SAME < hole.x < right - SAME
        if not (across and front + SAME < hole.y < back - SAME):
            table.fault(
                key,
                f"hole {number} at X {hole.x:.6g} Y {hole.y:.6g} is off the stock",
                f"the stock is X {left:.6g} to {right:.6g}, Y {front:.6g} to {back:.6g}",
            )
            return False
    return True
