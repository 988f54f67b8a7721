"""How thick a chip is: engagement, the thickest and the mean chip, feed for thin chips.

Lengths in any one unit; the width of cut is the radial engagement.
"""

from math import acos, cos, degrees, pi, radians, sin, sqrt

THINNEST_SHARE = 0.05
"""Share of the diameter below which the feed is raised no further: tables begin there."""


def engagement_deg(width: float, diameter: float) -> float:
    """Angle w over which a tooth is in the cut, degrees: cos w = 1 - 2 ae/D.

    H. El-Hofy, Fundamentals of Machining Processes, p. 174; Palbit A-252.
    """
    share = min(max(width / diameter, 0.0), 1.0)
    return degrees(acos(1 - 2 * share))


def mean_chip(feed_per_tooth: float, width: float, diameter: float) -> float:
    """Mean chip thickness hm = 360 fz ae / (π D w), w in degrees. Palbit A-252."""
    if width <= 0:
        return 0.0
    return 360 * feed_per_tooth * width / (pi * diameter * engagement_deg(width, diameter))


def thickest_chip(feed_per_tooth: float, width: float, diameter: float) -> float:
    """Thickest chip: fz sin w = 2 fz √(x (1 - x)) with x = ae/D, fz from half the diameter on.

    H. El-Hofy, p. 174.
    """
    share = width / diameter
    if share >= 0.5:
        return feed_per_tooth
    return 2 * feed_per_tooth * sqrt(share * (1 - share))


def thinning_factor(width: float, diameter: float) -> float:
    """How much the feed per tooth may be raised so that the thickest chip is as at half width.

    1 / (2 √(x (1 - x))): Dormer technical handbook p. 114, table 2, which begins at 5 % of the
    diameter; what is narrower is fed no faster than that.
    """
    share = max(width / diameter, THINNEST_SHARE)
    return 1.0 if share >= 0.5 else 1 / (2 * sqrt(share * (1 - share)))


def wall_share(width: float, diameter: float, radial_share: float, *, climb: bool) -> float:
    """Mean force across the wall for each unit of mean tangential force; positive pulls into it.

    Chip thickness goes with the sine of the tooth's angle from the wall. In a conventional cut
    the tangential force pulls towards the wall and the radial one pushes away from it; in a climb
    cut both push away. Derived from the definitions of the two; ``radial_share`` is the radial
    force for each unit of tangential force.
    """
    angle = radians(engagement_deg(width, diameter))
    if angle <= 0:
        return 0.0
    squares, cross, whole = _means(angle)
    pull = squares if not climb else -squares
    return (pull - radial_share * cross) / whole


def feed_share(width: float, diameter: float, radial_share: float, *, climb: bool) -> float:
    """Mean force along the feed for each unit of mean tangential force; positive holds it back."""
    angle = radians(engagement_deg(width, diameter))
    if angle <= 0:
        return 0.0
    squares, cross, whole = _means(angle)
    hold = cross if not climb else -cross
    return (hold + radial_share * squares) / whole


def _means(angle: float) -> tuple[float, float, float]:
    """Integrals of sin², sin cos and sin from 0 to ``angle``."""
    return angle / 2 - sin(2 * angle) / 4, sin(angle) ** 2 / 2, 1 - cos(angle)
