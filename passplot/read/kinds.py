"""Kinds of feature: step, pocket, boss, outline, bore, face."""

from dataclasses import replace

from passplot.read.block import SAME, Block, clean
from passplot.read.form import Form, apart, form_of, whole
from passplot.read.outline import SIDES, Outline, Wall, moved
from passplot.read.points import read_points
from passplot.read.shapes import inner_shape, own_or_inner_shape, read_circle, read_rectangle
from passplot.read.sizes import shown
from passplot.read.tables import Table
from passplot.records.shapes import Loop, rectangle

# The axis a wall is fixed along and the edge it is laid off from, by the side of a step.
_AXIS = {"left": "x", "right": "x", "front": "y", "back": "y"}
_OPPOSITE = {"left": "right", "right": "left", "front": "back", "back": "front"}


def read_step(table: Table, block: Block) -> Form | None:
    """A step: from one edge of the stock to the wall, the full side."""
    side = table.word("side", SIDES)
    width = table.size("width", required=True)
    if side is None or width is None:
        return None
    axis = _AXIS[side]
    low, high = block.edges(axis)
    nominal_low, nominal_high = block.nominal_edges(axis)
    if width.nominal >= nominal_high - nominal_low - SAME or width.middle >= high - low:
        table.fault(
            "width",
            f"{width.text} leaves no wall on a stock of {nominal_high - nominal_low:.6g}",
            "it has to be smaller than the stock",
        )
        return None
    near = side in ("left", "front")
    size = moved(width, *((low, nominal_low, 1) if near else (high, nominal_high, -1)))
    at = clean(size.middle)
    wall = Wall(axis, at, size, _OPPOSITE[side])
    strip = _across(block, axis, (low, at) if near else (at, high))
    return replace(form_of(strip), walls=(wall,))


def _across(block: Block, axis: str, ends: tuple[float, float]) -> Outline:
    """The strip of the stock between two coordinates of ``axis``."""
    if axis == "x":
        return Outline(rectangle(*ends, *block.stock.y))
    return Outline(rectangle(*block.stock.x, *ends))


def read_pocket(table: Table, block: Block) -> Form | None:
    """A rectangular pocket with islands; an edge on or past the stock's edge is open."""
    pocket = read_rectangle(table, block)
    islands = _islands(table, block)
    if pocket is None or islands is None or not _on_stock(table, pocket.loop, block):
        return None
    form = form_of(pocket, islands)
    return replace(
        form,
        walls=pocket.walls,
        islands=tuple(island.walls for island in islands),
        island_marks=tuple(island.marks for island in islands),
    )


def _islands(table: Table, block: Block) -> tuple[Outline, ...] | None:
    right = "write islands = [{ x = […], y = […] }, …]"
    entries = table.entries("islands", right)
    if entries is None:
        return None if "islands" in table else ()
    islands = []
    for index, entry in enumerate(entries):
        place = (*table.place, "islands", index)
        if isinstance(entry, dict):
            islands.append(inner_shape(Table(table.source, place, entry, table.units), block))
        else:
            table.source.fault(place, f"{shown(entry)} is no shape", right)
            islands.append(None)
    good = tuple(island for island in islands if island is not None)
    return good if len(good) == len(islands) else None


def read_boss(table: Table, block: Block) -> Form | None:
    """A boss: one shape left standing, the rest of the stock or of ``within`` cleared."""
    boss = own_or_inner_shape(table, block)
    inner = table.table("within", "write a shape in braces, { x = […], y = […] }")
    within = None if inner is None else inner_shape(inner, block)
    if boss is None or ("within" in table and within is None):
        return None
    if not _on_stock(table, boss.loop, block):
        return None
    form = form_of(within or whole(block), (boss,))
    return replace(form, walls=boss.walls, diameter=boss.diameter, marks=boss.marks)


def read_outline(table: Table, block: Block) -> Form | None:
    """An outline of points, cleared inside or outside."""
    clear = table.word("clear", ("inside", "outside"))
    if "points" not in table:
        table.missing("points", "give three points or more, points = [[x, y], …]")
    outline = read_points(table, block)
    if clear is None or outline is None or not _on_stock(table, outline.loop, block):
        return None
    form = form_of(outline) if clear == "inside" else form_of(whole(block), (outline,))
    return replace(form, walls=outline.walls, marks=outline.marks)


def read_bore(table: Table, block: Block) -> Form | None:
    """A bored hole."""
    bore = read_circle(table)
    if bore is None or not _on_stock(table, bore.loop, block):
        return None
    return replace(form_of(bore), diameter=bore.diameter, marks=bore.marks)


def read_face(_table: Table, block: Block) -> Form | None:
    """The whole top."""
    return form_of(whole(block))


def _on_stock(table: Table, loop: Loop, block: Block) -> bool:
    """Whether the shape lies on the stock at least in part; notes it if not."""
    if not apart(loop, whole(block).loop):
        return True
    key = next((key for key in ("points", "center", "shape") if key in table), "x")
    (left, right), (front, back) = block.stock.x, block.stock.y
    table.fault(
        key,
        "the shape is outside the stock",
        f"the stock is X {left:.6g} to {right:.6g}, Y {front:.6g} to {back:.6g}",
    )
    return False
