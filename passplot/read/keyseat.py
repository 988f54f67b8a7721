"""A keyseat in a shaft, by the standard it is given by."""

from dataclasses import replace

from passplot.keyseats import METRIC, STANDARDS, UNIT, Seat, chordal_drop, seat, shaft_range
from passplot.read.block import SAME, Block, clean
from passplot.read.form import Form
from passplot.read.sizes import Least, factor
from passplot.read.slots import Run, read_run, slot_form
from passplot.read.tables import Table
from passplot.records.job import Keyseat
from passplot.records.sizes import Size, exact

# How far sizes that stand for the same may be apart: prints give three or two decimals.
_AGREE = {"inch": 0.001, "mm": 0.02}
# How far the seat's centre line may be off the shaft's: ASME B17.1-1967 (R2013), alignment limits
# (Machinery's Handbook, 31st ed., p. 2552); the same taken for DIN 6885.
_OFF_CENTER = {"inch": 0.010, "mm": 0.25}


def read_keyseat(table: Table, block: Block) -> Form | None:
    """A keyseat along X or Y; the block is the shaft, its crown the top.

    Depth and width follow from the standard. A depth that is written too counts from the crown; it
    has to agree, and its limits hold. So with a width that is written.
    """
    along = table.word("along", ("x", "y"))
    center = table.size("center", Least.ANY, required=True)
    shaft = table.exact().size("shaft", required=True)
    standard = table.word("standard", STANDARDS)
    run = None if along is None else read_run(table, along, block)
    if along is None or center is None or shaft is None or standard is None or run is None:
        return None
    scale = float(factor(UNIT[standard], table.units.job))
    found = seat(standard, shaft.middle / scale)
    if found is None:
        least, greatest = (end * scale for end in shaft_range(standard))
        table.fault(
            "shaft",
            f"{standard} has no key for a shaft of {shaft.text}",
            f"its table runs from {least:.6g} to {greatest:.6g}",
        )
        return None
    width = _width(table, found, scale, standard)
    depth = _depth(table, found, scale, standard)
    if not _on_shaft(table, along, center, shaft, block) or width is None or depth is None:
        return None
    key = Keyseat(
        width=width,
        shaft=shaft.middle,
        standard=standard,
        along=along,
        from_crown=depth.middle,
        from_side=clean(depth.middle - chordal_drop(shaft.middle, width.nominal)),
        over_far_side=_over_far_side(shaft, depth, found.deeper * scale),
        center=clean(center.middle),
        start=run.start,
        end=run.end,
        key_height=clean(found.height * scale),
    )
    return _form(table, key, run, depth)


def _form(table: Table, key: Keyseat, run: Run, depth: Size) -> Form | None:
    """The seat as a slot, at the middle of its limits."""
    width = key.width
    ends = (clean(key.center - width.middle / 2), clean(key.center + width.middle / 2))
    walls = (_wall(key.center, width, -1), _wall(key.center, width, 1))
    form = slot_form(table, key.along, run, walls, ends)
    return None if form is None else replace(form, depth=depth, keyseat=key)


def _wall(center: float, width: Size, sign: int) -> Size:
    """One wall of the seat, as a coordinate: each takes half of what the width may be off."""
    low, high = sorted(clean(center + sign * limit / 2) for limit in (width.low, width.high))
    nominal = clean(center + sign * width.nominal / 2)
    return Size(nominal, low, high, width.text, width.toleranced)


def _width(table: Table, found: Seat, scale: float, standard: str) -> Size | None:
    """The width as written, else the key's own within the standard's limits."""
    nominal = clean(found.width * scale)
    written = table.exact().size("width")
    if written is not None:
        if abs(written.nominal - nominal) <= _AGREE[table.units.job]:
            return written
        table.fault(
            "width",
            f"{written.text} is not the key's {nominal:.6g}",
            f"{standard} gives {nominal:.6g} for this shaft",
        )
    if "width" in table:
        return None
    low, high = clean(found.least_width * scale), clean(found.greatest_width * scale)
    text = f"{found.width:g} N9" if standard == METRIC else f"{low:g} to {high:g}"
    return Size(nominal, low, high, text, True)


def _depth(table: Table, found: Seat, scale: float, standard: str) -> Size | None:
    """The depth from the crown, as written or by the standard."""
    nominal = clean(found.from_crown * scale)
    written = table.exact().size("depth")
    if written is None:
        return None if "depth" in table else exact(nominal)
    if abs(written.nominal - nominal) <= _AGREE[table.units.job]:
        return written
    table.fault(
        "depth",
        f"{written.text} does not agree with {standard}",
        f"from the crown of this shaft it is {nominal:.6g} deep, {found.from_side * scale:.6g} "
        "at the side wall",
    )
    return None


def _over_far_side(shaft: Size, depth: Size, deeper: float) -> Size:
    """The check dimension; its limits are those of a written depth, else the standard's."""
    at = clean(shaft.middle - depth.middle)
    low, high = at - deeper, at
    if depth.toleranced:
        low, high = shaft.middle - depth.high, shaft.middle - depth.low
    return Size(at, clean(low), clean(high), f"{at:.6g}", True)


def _on_shaft(table: Table, along: str, center: Size, shaft: Size, block: Block) -> bool:
    """Whether the block holds the shaft and the seat lies on its centre line."""
    axis = "y" if along == "x" else "x"
    room, unit = _AGREE[table.units.job], table.units.job
    low, high = block.nominal_edges(axis)
    for name, size in ((axis.upper(), high - low), ("Z", block.height)):
        if abs(size - shaft.nominal) > room:
            table.fault(
                "shaft",
                f"{shaft.text} is not the stock's {name} size of {size:.6g}",
                "the stock along the seat's width and height is the shaft's diameter",
            )
            return False
    middle = (low + high) / 2
    if abs(center.nominal - middle) > _OFF_CENTER[unit] + SAME:
        table.fault(
            "center",
            f"{center.text} is off the shaft's centre line",
            f"that is at {axis.upper()} {clean(middle):.6g}",
        )
        return False
    return True
