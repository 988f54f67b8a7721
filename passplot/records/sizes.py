"""A size as the print gives it."""

from passplot.frozen import dataclass


@dataclass(frozen=True, slots=True)
class Size:
    """A length in job units with its limits.

    Attributes
    ----------
    nominal : float
        The size as written, tolerance aside (the mean for a size written as limits).
    low, high : float
        Limits; both equal ``nominal`` where no tolerance applies.
    text : str
        What the file says.
    toleranced : bool
        Whether limits were given, by the size itself or by the general tolerance.
    """

    nominal: float
    low: float
    high: float
    text: str
    toleranced: bool = False

    @property
    def middle(self) -> float:
        """The middle of the limits: what the plan aims at."""
        return (self.low + self.high) / 2


def exact(value: float) -> Size:
    """A size without tolerance."""
    return Size(value, value, value, f"{value:g}")
