"""Areas that loops of lines and arcs enclose, arcs as chords on the side asked for."""

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from passplot.plan.edges import chords
from passplot.plan.zones import solid
from passplot.records.job import Feature
from passplot.records.shapes import Arc, Loop


def loop_area(loop: Loop, sagitta: float, grow: bool) -> Polygon:
    """The area of a counter-clockwise loop, its chords laid so that it comes out larger or smaller.

    Parameters
    ----------
    grow : bool
        Chords outside the area where its arcs bulge outwards and inside where they bulge inwards
        make it larger.
    """
    points: list[tuple[float, float]] = []
    for edge in loop.edges:
        bulges = isinstance(edge, Arc) and edge.ccw
        points += chords(edge, sagitta, outside=grow == bulges)
    return Polygon(points)


def area_of(feature: Feature, sagitta: float, grow: bool) -> BaseGeometry:
    """The area a feature clears, chords laid so that it comes out larger (or smaller)."""
    area = shapely.union_all(
        [shapely.make_valid(loop_area(loop, sagitta, grow)) for loop in feature.area]
    )
    keep = [shapely.make_valid(loop_area(loop, sagitta, not grow)) for loop in feature.keep]
    return solid(area.difference(shapely.union_all(keep))) if keep else area
