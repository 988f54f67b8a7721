"""Shapes of the job file: a rectangle, a circle, or points."""

from passplot.curves import NEAR
from passplot.read.block import Block, clean
from passplot.read.marks import circle_marks
from passplot.read.outline import Corner, Outline, Wall, open_corner
from passplot.read.points import read_points
from passplot.read.sizes import Least
from passplot.read.tables import Table
from passplot.records.shapes import Arc, Loop, Point, rectangle
from passplot.records.sizes import Size

SHAPE_KEYS = ("x", "y", "corner_radius", "center", "diameter", "points")
_ONE_SHAPE = (
    "give x = [low, high] and y = [low, high], or center = [x, y] and diameter, or points = […]"
)


def read_shape(table: Table, block: Block) -> Outline | None:
    """The one shape of ``table``; None after noting what is wrong with it."""
    forms = [
        form
        for form, keys in (("x", "xy"), ("center", ("center", "diameter")), ("points", ["points"]))
        if any(key in table for key in keys)
    ]
    if len(forms) != 1:
        key = forms[-1] if forms else "x"
        table.fault(key, "a second shape" if forms else "no shape is given", _ONE_SHAPE)
        return None
    if forms == ["points"]:
        _no_radius(table)
        return read_points(table, block)
    if forms == ["center"]:
        _no_radius(table)
        return read_circle(table)
    return read_rectangle(table, block)


def own_or_inner_shape(table: Table, block: Block) -> Outline | None:
    """The shape written as keys of ``table`` itself, or as ``shape = { … }``."""
    if "shape" not in table:
        return read_shape(table, block)
    inner = table.table("shape", "write a shape in braces, { x = […], y = […] }")
    if inner is None:
        return None
    for key in SHAPE_KEYS:
        if key in table:
            table.fault(key, "stands beside shape", "give the one shape once")
    return inner_shape(inner, block)


def inner_shape(table: Table, block: Block) -> Outline | None:
    """The shape of a table that holds nothing else."""
    table.check_keys(SHAPE_KEYS)
    return read_shape(table, block)


def read_rectangle(table: Table, block: Block) -> Outline | None:
    """The rectangle ``x = [low, high]``, ``y = [low, high]``, ``corner_radius``."""
    spans = [_span(table, axis, block) for axis in ("x", "y")]
    radius = table.exact().size("corner_radius", Least.ZERO)
    x, y = spans
    if x is None or y is None:
        return None
    (left, right), (front, back) = x, y
    if radius is not None:
        _check_radius(table, radius, min(right.at - left.at, back.at - front.at))
        if radius.middle > min(right.at - left.at, back.at - front.at) / 2 + NEAR:
            return None
    loop = rectangle(left.at, right.at, front.at, back.at)
    corners = (
        [Corner(index, radius, True, open_corner(loop, index, block)) for index in range(4)]
        if radius
        else []
    )
    return Outline(loop, (left, right, front, back), tuple(corners))


def _span(table: Table, axis: str, block: Block) -> tuple[Wall, Wall] | None:
    """The two walls of a rectangle that ``axis`` = [low, high] gives."""
    right = f"give {axis} = [low, high]"
    if axis not in table:
        table.missing(axis, right)
    ends = table.sizes(axis, 2, right)
    if ends is None:
        return None
    low, high = (block.snap(axis, end) for end in ends)
    if not low < high or ends[0].nominal >= ends[1].nominal:
        table.fault(axis, f"{ends[0].text} is not below {ends[1].text}", right)
        return None
    sides = ("left", "right") if axis == "x" else ("front", "back")
    return (Wall(axis, low, ends[0], sides[0]), Wall(axis, high, ends[1], sides[1]))


def _check_radius(table: Table, radius: Size, least_side: float) -> None:
    if radius.nominal > least_side / 2 + 1e-9:
        table.fault(
            "corner_radius",
            f"{radius.text} is more than half the side of {least_side:.6g}",
            f"it is {least_side / 2:.6g} at most",
        )


def _no_radius(table: Table) -> None:
    if "corner_radius" in table:
        table.fault(
            "corner_radius",
            "goes with x = […] and y = […] only",
            "a point of an outline has its own: { x, y, radius }",
        )


def read_circle(table: Table) -> Outline | None:
    """The circle ``center = [x, y]``, ``diameter``, as two half circles."""
    if "center" not in table:
        table.missing("center", "give center = [x, y]")
    center = table.sizes("center", 2, "give center = [x, y]")
    diameter = table.size("diameter", required=True)
    if center is None or diameter is None:
        return None
    loop = circle(center[0].middle, center[1].middle, diameter.middle / 2)
    return Outline(loop, diameter=diameter, marks=circle_marks(center, diameter))


def circle(x: float, y: float, radius: float) -> Loop:
    """The loop of a circle: two half circles, counter-clockwise."""
    middle, right, left = Point(x, y), Point(clean(x + radius), y), Point(clean(x - radius), y)
    return Loop((Arc(right, left, middle, radius, True), Arc(left, right, middle, radius, True)))
