"""Slots along X or Y: open at the stock's edge, a half circle where they end in the metal."""

from dataclasses import replace

from passplot.curves import turned
from passplot.frozen import dataclass
from passplot.read.block import SAME, Block, clean
from passplot.read.form import Form, form_of
from passplot.read.marks import slot_marks
from passplot.read.outline import Outline, Wall
from passplot.read.sizes import Least
from passplot.read.tables import Table
from passplot.records.shapes import Arc, Edge, Line, Loop, Point
from passplot.records.sizes import Size


@dataclass(frozen=True, slots=True)
class Run:
    """Where a slot starts and ends, the outermost points of it; ``blind`` is (start, end).

    ``nominals`` are start and end as the print has them.
    """

    start: float
    end: float
    blind: tuple[bool, bool]
    nominals: tuple[float, float]


def read_slot(table: Table, block: Block) -> Form | None:
    """A slot along X or Y, open or with round ends."""
    along = table.word("along", ("x", "y"))
    center = table.size("center", Least.ANY, required=True)
    width = table.size("width", required=True)
    run = None if along is None else read_run(table, along, block)
    if along is None or center is None or width is None or run is None:
        return None
    axis = "y" if along == "x" else "x"
    low, high = (_slot_wall(center, width, sign) for sign in (-1, 1))
    edge_low, edge_high = block.nominal_edges(axis)
    if low.nominal < edge_low - SAME or high.nominal > edge_high + SAME:
        table.fault(
            "width" if edge_low < center.nominal < edge_high else "center",
            f"the slot reaches from {axis.upper()} {low.nominal:.6g} to {high.nominal:.6g}, "
            f"outside the stock's {edge_low:.6g} to {edge_high:.6g}",
            "both walls have to be in the stock",
        )
        return None
    ends = (block.snap(axis, low), block.snap(axis, high))
    return slot_form(table, along, run, (low, high), ends)


def slot_form(
    table: Table, along: str, run: Run, walls: tuple[Size, Size], ends: tuple[float, float]
) -> Form | None:
    """The form of a slot between ``ends``; None after noting that round ends do not fit."""
    wide = ends[1] - ends[0]
    least = wide / 2 * sum(run.blind)
    if run.end - run.start < least - SAME:
        table.fault(
            "end" if run.blind[1] else "start",
            f"the slot is {run.end - run.start:.6g} long",
            f"what is round of it takes {least:.6g} alone",
        )
        return None
    axis = "y" if along == "x" else "x"
    sides = ("front", "back") if axis == "y" else ("left", "right")
    named = tuple(
        Wall(axis, at, size, side) for at, size, side in zip(ends, walls, sides, strict=True)
    )
    marks = slot_marks(along, walls, run.nominals, run.blind)
    return replace(form_of(Outline(slot_loop(along, run, ends))), walls=named, marks=marks)


def _slot_wall(center: Size, width: Size, sign: int) -> Size:
    """One wall of a slot, as a coordinate.

    A wall may move by a quarter of the range of the width, so that both together stay inside it,
    and by half the range of the centre: the smaller of the two holds.
    """
    ranges = [(width.high - width.low) / 4] if width.toleranced else []
    ranges += [(center.high - center.low) / 2] if center.toleranced else []
    at = center.middle + sign * width.middle / 2
    room = min(ranges, default=0.0)
    text = width.text if width.toleranced else center.text
    nominal = center.nominal + sign * width.nominal / 2
    return Size(clean(nominal), clean(at - room), clean(at + room), text, bool(ranges))


def read_run(table: Table, along: str, block: Block) -> Run | None:
    """Where the slot starts and ends: at the stock's edges where it is open."""
    low, high = block.nominal_edges(along)
    edges = block.edges(along)
    start, end = table.size("start", Least.ANY), table.size("end", Least.ANY)
    first = low if start is None else start.nominal
    last = high if end is None else end.nominal
    if start is not None and first >= high - SAME:
        table.fault("start", f"{start.text} is outside the stock", f"it ends at {high:.6g}")
    elif end is not None and last <= low + SAME:
        table.fault("end", f"{end.text} is outside the stock", f"it starts at {low:.6g}")
    elif first >= last - SAME:
        table.fault("start", f"the slot runs from {first:.6g} to {last:.6g}", "start is below end")
    else:
        blind = (first > low + SAME, last < high - SAME)
        return Run(
            clean(start.middle) if start is not None and blind[0] else edges[0],
            clean(end.middle) if end is not None and blind[1] else edges[1],
            blind,
            (first, last),
        )
    return None


def slot_loop(along: str, run: Run, ends: tuple[float, float]) -> Loop:
    """The outline of a slot whose walls lie at ``ends`` of the other axis."""
    low, high = ends
    radius, middle = clean((high - low) / 2), clean((low + high) / 2)
    first = clean(run.start + radius) if run.blind[0] else run.start
    last = clean(run.end - radius) if run.blind[1] else run.end
    if last - first < SAME:  # nothing straight is left: the round ends meet
        first = last if run.blind == (True, False) else first
        last = first

    def at(far: float, across: float) -> Point:
        return Point(far, across) if along == "x" else Point(across, far)

    def close(start: Point, end: Point, far: float, blind: bool) -> Edge:
        if blind:
            return Arc(start, end, at(far, middle), radius, along == "x")
        return Line(start, end)

    # counter-clockwise for a slot along X; along Y the same points run clockwise
    edges: list[Edge] = [
        Line(at(first, low), at(last, low)),
        close(at(last, low), at(last, high), last, run.blind[1]),
        Line(at(last, high), at(first, high)),
        close(at(first, high), at(first, low), first, run.blind[0]),
    ]
    if along == "y":
        edges = [turned(edge) for edge in reversed(edges)]
    return Loop(tuple(edge for edge in edges if edge.start != edge.end))
