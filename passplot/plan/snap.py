"""Courses brought onto the readout's grid, away from the walls they follow."""

from collections.abc import Sequence
from itertools import pairwise

from passplot.errors import CannotCut
from passplot.frozen import dataclass
from passplot.plan.grid import Grid, wall_position
from passplot.plan.rings import RUBS, Course, Middle, Steps
from passplot.plan.zones import SLACK
from passplot.records.job import WallLimit

Spot = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Snapping:
    """How a feature's courses are rounded.

    ``reach`` is the distance from the axis to the finished wall on the last ring when that ring
    cuts to size, None when it leaves stock on (no limit applies then).
    """

    grid: Grid
    steps: Steps
    limit: float
    reach: float | None
    limits: Sequence[WallLimit]
    feature: str

    def corners(self, course: Course, left: bool) -> list[Spot]:
        """The course's corners on the grid; walls on the left, or on the right if not ``left``."""
        spots = list(course.corners)
        edges = list(zip(spots, spots[1:] + spots[:1], strict=True))
        fixed = [self._edge(course.ring, a, b) for a, b in edges]
        out = []
        for before, here in zip([fixed[-1], *fixed[:-1]], fixed, strict=True):
            axis, value = here
            out.append((value, before[1]) if axis == "X" else (before[1], value))
        out = [a for a, b in pairwise([*out, out[0]]) if a != b]
        return out if left else out[::-1]

    def stretch(self, a: Spot, b: Spot) -> tuple[Spot, Spot]:
        """A stretch of wall on the grid, its ends drawn in."""
        axis, value = self._edge(0, a, b)
        if axis == "Y":
            low, high = self.grid.up(min(a[0], b[0])), self.grid.down(max(a[0], b[0]))
            ends = [(low, value), (max(low, high), value)]
            return (ends[0], ends[1]) if b[0] > a[0] else (ends[1], ends[0])
        low, high = self.grid.up(min(a[1], b[1])), self.grid.down(max(a[1], b[1]))
        ends = [(value, low), (value, max(low, high))]
        return (ends[0], ends[1]) if b[1] > a[1] else (ends[1], ends[0])

    def _edge(self, ring: int, a: Spot, b: Spot) -> tuple[str, float]:
        """The coordinate an edge stands at: (``"X"``, x) for an edge along Y."""
        along_x = abs(b[0] - a[0]) > abs(b[1] - a[1])
        if along_x:
            # the wall is on the left: above an edge that runs to the right
            axis, value, sign = "Y", a[1], -1 if b[0] > a[0] else 1
        else:
            axis, value, sign = "X", a[0], 1 if b[1] > a[1] else -1
        if ring == 0 and self.reach is not None:
            value = wall_position(
                self.grid, value, sign, self.reach, self.limits, axis, self.feature
            )
            return axis, value
        if ring and self._rounds(axis, sign):
            return axis, self.grid.round_setting(value)
        return axis, self.grid.away(value, sign)

    def _rounds(self, axis: str, sign: int) -> bool:
        """Whether passes towards walls facing that way may be moved to round settings."""
        side = {("X", 1): "east", ("X", -1): "west", ("Y", 1): "north", ("Y", -1): "south"}
        step = getattr(self.steps.widths, side[axis, sign])
        widest = getattr(self.steps.widest, side[axis, sign])
        setting, limit = self.grid.setting, self.limit
        fits = step + setting <= limit and widest + setting / 2 <= limit
        return bool(fits and step > 3 * setting)

    def middles(self, course: Course) -> list[list[Spot]]:
        """The course's centre lines on the grid: one point each where they have no length."""
        return [self._middle(line, course.ring) for line in course.lines]

    def _middle(self, line: Middle, ring: int) -> list[Spot]:
        """A centre line: the round setting nearest the middle that stays between the walls."""
        (ax, ay), (bx, by) = line.start, line.end
        along_x = abs(bx - ax) >= abs(by - ay)
        axis, value = ("Y", ay) if along_x else ("X", ax)
        # further off the walls than the last ring there is room to round either way
        room = line.room if ring == 0 else max(line.room, self.grid.resolution)
        rounded, nearest = self.grid.round_setting(value), self.grid.near(value)
        if ring == 0 and room - abs(rounded - value) < RUBS * self.grid.setting:
            rounded = nearest  # what it would leave towards one wall is too thin to cut
        for candidate in (rounded, nearest):
            if abs(candidate - value) <= min(room, self.grid.setting) + 2 * SLACK:
                value = candidate
                break
        else:
            value = self._tight(axis, value)
        ends = sorted((ax, bx)) if along_x else sorted((ay, by))
        low, high = self.grid.up(ends[0]), self.grid.down(ends[1])
        if high < low:
            low = high = self.grid.near((ends[0] + ends[1]) / 2)
        if along_x:
            return [(low, value), (high, value)]
        return [(value, low), (value, high)]

    def _tight(self, axis: str, value: float) -> float:
        """A gap the cutter's own width: only limits of the walls leave room for rounding."""
        reach = self.reach if self.reach is not None else 0.0
        touching = [
            limit
            for limit in self.limits
            if limit.axis.upper() == axis and abs(abs(value - limit.at) - reach) < 5 * SLACK
        ]
        for candidate in (self.grid.up(value), self.grid.down(value)):
            move = candidate - value
            kept = [
                limit.low - SLACK <= limit.at + move <= limit.high + SLACK for limit in touching
            ]
            if len(kept) >= 2 and all(kept):
                return candidate
        raise CannotCut(
            f"{self.feature}: a gap the cutter's own width is centred on {axis} {value:.6g}, which "
            f"the readout cannot show (steps of {self.grid.resolution:g}); "
            "a smaller cutter, or limits on the width, would do"
        )
