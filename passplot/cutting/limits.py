"""How wide and how deep a rough pass may be, until a job's own ``[limits]`` say otherwise.

Common practice, no source: a quarter of the diameter wide to one diameter deep, 0.15 D to
1.5 D, 0.10 D to 2 D; a slot half a diameter deep a level in steel, one diameter in aluminium,
brass and plastics (the share stands in the materials table).
"""

_DEPTHS = ((1.0, 0.25), (1.5, 0.15), (2.0, 0.10))
"""(depth, width), both in diameters."""


def deepest_level(
    diameter: float, flute_length: float, width: float | None, depth: float | None
) -> float:
    """Greatest depth of a level, in the unit of the diameter.

    Parameters
    ----------
    width, depth : float or None
        The job's own limits, where it sets them.
    """
    if depth is not None:
        return min(depth, flute_length)
    allowed = [deep for deep, wide in _DEPTHS if width is None or width <= wide * diameter + 1e-9]
    return min(max(allowed, default=1.0) * diameter, flute_length)


def widest_cut(diameter: float, level: float, width: float | None) -> float:
    """Greatest width of cut of a pass ``level`` deep, in the unit of the diameter."""
    if width is not None:
        return min(width, diameter)
    for deep, wide in _DEPTHS:
        if level <= deep * diameter + 1e-9:
            return wide * diameter
    return _DEPTHS[-1][1] * diameter
