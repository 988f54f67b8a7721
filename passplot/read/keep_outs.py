"""The ``[[keep_out]]`` tables: clamps, jaws and screws."""

from passplot.read.block import Block
from passplot.read.shapes import SHAPE_KEYS, own_or_inner_shape
from passplot.read.sizes import Least
from passplot.read.tables import Table
from passplot.records.job import KeepOut


def read_keep_outs(tables: list[Table], block: Block) -> tuple[KeepOut, ...]:
    """The keep-outs."""
    keep_outs: list[KeepOut] = []
    for plain_table in tables:
        table = plain_table.exact()
        table.check_keys(("name", "top", "shape", *SHAPE_KEYS))
        name = table.text("name", "give the keep-out a name")
        top = table.length("top", Least.ANY, required=True)
        outline = own_or_inner_shape(table, block)
        if name is None or top is None or outline is None:
            continue
        if name in [other.name for other in keep_outs]:
            table.fault("name", f'"{name}" is used twice', "give every keep-out its own name")
        keep_outs.append(KeepOut(name, outline.rounded(outline.corners), top))
    return tuple(keep_outs)
