"""The lower end of a cutter: how far above its tip it is at a distance from its axis.

A ball end or a corner radius c rises by c - √(c² - t²) where it is t outside the flat middle.
Walls are judged with the whole radius, so what such a cutter leaves at the foot of a wall, a
fillet of radius c, is unreached.
"""

import numpy as np

from passplot.proof.gauge import Floats
from passplot.records.shop import Cutter

SQRT2 = 2**0.5


def corner_of(cutter: Cutter) -> float:
    """Radius of a cutter's lower corner, job units; 0 for a square end."""
    if cutter.form == "ball":
        return cutter.radius
    return min(cutter.corner_radius, cutter.radius) if cutter.form == "corner radius" else 0.0


def rise(off: Floats, radius: float | Floats, corner: float | Floats) -> Floats:
    """How far above its tip a cutter is, ``off`` from its axis and within its radius."""
    outside = np.clip(off - (radius - corner), 0.0, corner)
    height: Floats = corner - np.sqrt(np.maximum(corner**2 - outside**2, 0.0))
    return height


def radius_at(height: float | Floats, radius: float | Floats, corner: float | Floats) -> Floats:
    """Radius of a cutter at a height above its tip, 0 at the least: ``rise`` turned round."""
    below = np.clip(corner - height, 0.0, corner)
    wide: Floats = radius - corner + np.sqrt(np.maximum(corner**2 - below**2, 0.0))
    return wide


def scallop_of_rings(cutter: Cutter, width: float) -> float:
    """Scallop on a floor between square rings ``width`` apart, at its highest: where they turn.

    A place p off the inner ring's corner along X and Y is √2 p from it and ``width`` - p from the
    outer ring, farthest from both where these are alike: √2 / (1 + √2) of the width.
    """
    corner = corner_of(cutter)
    off = np.array(min(width * SQRT2 / (1 + SQRT2), cutter.radius))
    return float(rise(off, cutter.radius, corner))
