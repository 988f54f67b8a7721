"""What rounded corners of cutters leave in corners between floor and wall."""

from passplot.frozen import dataclass


@dataclass(frozen=True, slots=True)
class Fillet:
    """What rounded corners of a cutter leave between a floor and its walls.

    ``radius`` is that of the cutter's corner, ``area`` what the fillet takes in plan view; it
    counts as unreached. ``corners``: only at inside corners, where a square end that takes it
    elsewhere does not get in.
    """

    feature: str
    radius: float
    area: float
    corners: bool = False
