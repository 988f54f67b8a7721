"""A section of the work along one axis: where its finished height changes."""

from itertools import pairwise

from passplot.frozen import dataclass


@dataclass(frozen=True, slots=True)
class Step:
    """A stretch of a section: from ``low`` to ``high`` along it, its height before and after.

    ``owner`` is the feature whose floor it is then, empty where there is none.
    """

    low: float
    high: float
    before: float
    after: float
    owner: str = ""


@dataclass(frozen=True, slots=True)
class Section:
    """A section of the work along one axis at coordinate ``at`` of the other."""

    axis: str
    at: float
    steps: tuple[Step, ...]

    @property
    def walls(self) -> tuple[float, ...]:
        """Where the finished height changes."""
        pairs = pairwise(self.steps)
        return tuple(b.low for a, b in pairs if a.after != b.after)
