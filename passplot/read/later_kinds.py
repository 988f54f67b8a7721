"""Kinds of feature that are read and checked, but not planned yet: bore, holes, keyseat."""

from passplot.read.block import SAME, Block
from passplot.read.form import Form, apart, form_of, whole
from passplot.read.shapes import circle
from passplot.read.sizes import Least, shown
from passplot.read.tables import Table

STANDARDS = ("ASME B17.1", "DIN 6885")


def read_bore(table: Table, block: Block) -> Form | None:
    """A bored hole."""
    center = table.sizes("center", 2, "give center = [x, y]")
    if "center" not in table:
        table.missing("center", "give center = [x, y]")
    diameter = table.size("diameter", required=True)
    if center is None or diameter is None:
        return None
    loop = circle(center[0].middle, center[1].middle, diameter.middle / 2)
    if apart(loop, whole(block)):
        table.fault("center", "the bore is outside the stock", "its center lies in the stock")
    return form_of(loop, later=("a bore",))


def read_keyseat(table: Table, _block: Block) -> Form | None:
    """A keyseat in a shaft."""
    along = table.word("along", ("x", "y"))
    table.size("center", Least.ANY, required=True)
    start, end = table.size("start", Least.ANY), table.size("end", Least.ANY)
    if start is not None and end is not None and start.nominal >= end.nominal - SAME:
        table.fault("start", f"{start.text} is not below {end.text}", "start is below end")
    table.size("shaft", required=True)
    table.word("standard", STANDARDS)
    if along is None:
        return None
    return Form(later=("a keyseat",))


def read_holes(table: Table, _block: Block) -> Form | None:
    """Positions of holes."""
    given = [key for key in ("circle", "row", "grid") if key in table]
    if len(given) != 1:
        wrong = "a second pattern" if given else "no pattern is given"
        table.fault(given[-1] if given else "circle", wrong, "give one of circle, row, grid")
        return None
    inner = table.table(given[0], "write the pattern in braces")
    if inner is None:
        return None
    if given[0] == "circle":
        _hole_circle(inner)
    for key, value in inner.values.items():
        if isinstance(value, bool | str) and given[0] != "circle":
            inner.fault(key, f"{shown(value)} is no number", "give numbers")
    return Form(later=("a pattern of holes",))


def _hole_circle(table: Table) -> None:
    table.check_keys(("center", "diameter", "count", "start_angle"))
    for key in ("center", "count"):
        if key not in table:
            table.missing(key, "a circle of holes needs center, diameter and count")
    table.sizes("center", 2, "give center = [x, y]")
    table.size("diameter", required=True)
    if "count" in table:
        table.whole("count", 1, 1000)
    angle = table.values.get("start_angle", 0)
    if isinstance(angle, bool) or not isinstance(angle, int | float) or not -360 <= angle <= 360:
        table.fault("start_angle", f"{shown(angle)} is no angle", "give degrees from -360 to 360")
