"""How near the ways of rows come to curves, straight ways and arcs alike."""

from collections.abc import Sequence

import numpy as np

from passplot.proof.curves import Curves
from passplot.proof.gauge import Floats, Mask
from passplot.proof.part import Part
from passplot.proof.raster import points_inside
from passplot.proof.rows import Row
from passplot.records.shapes import Loop


def distances(edges: Curves, rows: Sequence[Row]) -> Floats:
    """Least distance of the axis from every edge during each row, shape (rows, edges)."""
    a = np.array([row.start[:2] for row in rows])
    b = np.array([row.end[:2] for row in rows])
    off = edges.to_segments(a, b)
    for number, row in enumerate(rows):
        if row.turn is not None and len(edges):
            off[number] = edges.to_points(row.turn.places(edges)).min(axis=0)
    return off


def within(part: Part, rows: Sequence[Row], z: float) -> Mask:
    """Whether the axis is inside the part at ``z`` at an end of each row, or on its arc."""
    a = np.array([row.start[:2] for row in rows])
    b = np.array([row.end[:2] for row in rows])
    inside: Mask = part.inside(a, z) | part.inside(b, z)
    for number, row in enumerate(rows):
        if row.turn is not None:
            inside[number] |= bool(part.inside(row.turn.places(None), z).any())
    return inside


def in_loop(loop: Loop, rows: Sequence[Row]) -> Mask:
    """Whether the axis is inside a loop where each row starts, or on its arc."""
    inside: Mask = points_inside(loop, np.array([row.start[:2] for row in rows]))
    for number, row in enumerate(rows):
        if row.turn is not None:
            inside[number] |= bool(points_inside(loop, row.turn.places(None)).any())
    return inside
