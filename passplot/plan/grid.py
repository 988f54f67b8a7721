"""Rounding to what the readout can show, away from the finished part and inside the limits."""

from collections.abc import Sequence
from math import ceil, floor

from passplot.errors import CannotCut
from passplot.frozen import dataclass
from passplot.plan.zones import SLACK
from passplot.records.job import WallLimit

_TOUCH = 5 * SLACK
"""Two coordinates this close are the same wall."""

CLOSE = 4.8 * SLACK
"""What is taken off that where a slanted wall is met: there any coordinate may be as close."""


ROUND_INCH_JOB = (0.005, 0.1 / 25.4)
ROUND_METRIC_JOB = (0.1, 0.005 * 25.4)
"""Round settings, job units: 0.005 in and 0.1 mm, that of the job's own unit first."""


@dataclass(frozen=True, slots=True)
class Grid:
    """Positions a readout can show.

    Attributes
    ----------
    resolution : float
        Step of the readout; every position is a whole number of steps from zero.
    setting : float
        Step of a round setting: 0.005 in or 0.1 mm, or the resolution where that is coarser.
    """

    resolution: float
    setting: float

    def up(self, value: float) -> float:
        """The next position at or above ``value``."""
        return self._clean(ceil((value - _TOUCH) / self.resolution))

    def down(self, value: float) -> float:
        """The next position at or below ``value``."""
        return self._clean(floor((value + _TOUCH) / self.resolution))

    def near(self, value: float) -> float:
        """The nearest position."""
        return self._clean(round(value / self.resolution))

    def away(self, value: float, sign: int) -> float:
        """The next position in the direction of ``sign``."""
        return self.up(value) if sign > 0 else self.down(value)

    def round_setting(self, value: float) -> float:
        """The nearest round setting."""
        return self.near(round(value / self.setting) * self.setting)

    def round_out(self, value: float, sign: int) -> float:
        """The next round setting in the direction of ``sign``."""
        steps = value / self.setting
        whole = ceil(steps - 1e-6) if sign > 0 else floor(steps + 1e-6)
        return self.near(whole * self.setting)

    def _clean(self, steps: float) -> float:
        return round(steps * self.resolution, 9) + 0.0


def make_grid(resolution: float, inch: bool) -> Grid:
    """Grid of a readout with that resolution (job units)."""
    # a dial engraved in the other unit has its round settings in that unit
    for wanted in ROUND_INCH_JOB if inch else ROUND_METRIC_JOB:
        whole = wanted / resolution
        if resolution <= wanted and abs(whole - round(whole)) < 1e-6:
            return Grid(resolution, wanted)
    return Grid(resolution, resolution)


def wall_position(
    grid: Grid,
    position: float,
    sign: int,
    reach: float,
    limits: Sequence[WallLimit],
    axis: str,
    feature: str,
) -> float:
    """Where the axis goes for a wall cut to size.

    Parameters
    ----------
    position : float
        Exact coordinate of the axis at which the wall comes out in the middle of its limits.
    sign : int
        Direction away from the wall.
    reach : float
        Distance from the axis to the wall.
    limits : sequence of WallLimit
        Limits of the feature's walls; the one that stands at this wall is kept.

    Raises
    ------
    CannotCut
        If no position of the readout brings the wall inside its limits.
    """
    wall = position - sign * reach
    mine = [
        limit
        for limit in limits
        if limit.axis.upper() == axis and abs(limit.at - wall) <= _TOUCH and limit.high > limit.low
    ]
    for candidate in (grid.away(position, sign), grid.away(position, -sign)):
        made = candidate - sign * reach
        if all(limit.low - _TOUCH <= made <= limit.high + _TOUCH for limit in mine):
            return candidate
    raise CannotCut(
        f"{feature}: {axis.lower()} {mine[0].text}: no reading of the readout "
        f"(steps of {grid.resolution:g}) brings the wall inside its limits; "
        "a finer readout or wider limits would do"
    )
