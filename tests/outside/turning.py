"""Rows of axis C followed from outside: the true arc about the centre the job file names.

The column ``c`` is the angle of the cutter's axis about the centre after the row, degrees,
counter-clockwise from +X seen from above. It starts at 0, and the radius is set along X there (or
at whole turns). The arc is followed disc by disc: what a disc hits lies left or right of its own
way, and the disc before it has taken what it hits first.
"""

from dataclasses import dataclass, replace
from math import ceil, cos, hypot, radians, sin

import numpy as np

from .block import HAIR
from .curves import Bow, Spot
from .measures import Row
from .printed import Grid, Tool
from .round_job import RoundJob

WHOLE = 360.0
ROUNDED = 5e-5  # degrees: half the last printed place
PLACES = 4000  # of an arc, at which its distance from the walls is taken


@dataclass(frozen=True, slots=True)
class Swing:
    """A turn: centre, distance of the axis from it, angles before and after in degrees."""

    center: Spot
    radius: float
    first: float
    last: float

    @property
    def length(self) -> float:
        return abs(radians(self.last - self.first)) * self.radius

    def at(self, share: float) -> Spot:
        """Where the axis is, that share of the way."""
        angle = radians(self.first + share * (self.last - self.first))
        return self.center[0] + self.radius * cos(angle), self.center[1] + self.radius * sin(angle)

    def places(self, count: int) -> tuple[Grid, Grid]:
        """Places along it, both ends included."""
        angle = np.radians(self.first + np.linspace(0, 1, count) * (self.last - self.first))
        x = self.center[0] + self.radius * np.cos(angle)
        return x, self.center[1] + self.radius * np.sin(angle)


@dataclass(slots=True)
class Table:
    """How the table stands: its angle, and the last turn."""

    job: RoundJob
    angle: float = 0.0
    swing: Swing | None = None

    @property
    def square(self) -> bool:
        """Whether it stands at 0 or whole turns."""
        rest = self.angle % WHOLE
        return min(rest, WHOLE - rest) <= ROUNDED

    def exact(self, row: Row) -> Row:
        """A row of Z where the axis really stands while the table is turned."""
        if self.square or self.swing is None or row.axis != "Z":
            return row
        x, y = self.swing.at(1.0)
        return replace(row, x=x, y=y)

    def turn(self, row: Row, start: Spot) -> Swing | None:
        """The turn of a row from where the axis stands; None where no centre makes sense of it."""
        last = float(row.line["c"])
        tries = [self.swing.center] if self.swing and not self.square else self._centers(row)
        step = self.job.resolution / 2 + 2 * HAIR
        for center in tries:
            radius = hypot(start[0] - center[0], start[1] - center[1])
            if self.square:
                radius = start[0] - center[0]
            swing = Swing(center, radius, self.angle, last)
            room = step + radius * radians(ROUNDED)
            ends = ((swing.at(0.0), start), (swing.at(1.0), (row.x, row.y)))
            if radius > 0 and all(abs(a[k] - b[k]) <= room for a, b in ends for k in (0, 1)):
                self.angle, self.swing = last, swing
                return swing
        self.angle, self.swing = last, None
        return None

    def _centers(self, row: Row) -> list[Spot]:
        mine = next(cavity for cavity in self.job.rounds if cavity.name == row.feature)
        outlines = (*mine.loops, *mine.islands)
        found = [edge.center for outline in outlines for edge in outline if isinstance(edge, Bow)]
        return list(dict.fromkeys(found))


def swept(
    x: Grid, y: Grid, height: Grid, swing: Swing, tool: Tool, low_z: float, cell: float
) -> tuple[Grid, Grid, float]:
    """Take the metal of a window out along a turn.

    Returns the length gone and the distance to the left of the way at which each sample was hit,
    and the greatest depth.
    """
    radius, count = tool.radius - HAIR, max(4, ceil(2 * swing.length / cell))
    sign = 1.0 if swing.last > swing.first else -1.0
    moments, sides, depth = [], [], 0.0
    for step in range(count + 1):
        at = swing.at(step / count)
        angle = radians(swing.first + step / count * (swing.last - swing.first))
        dx, dy = x - at[0], y - at[1]
        hit = (dx**2 + dy**2 < radius**2) & (height > low_z + HAIR)
        if not hit.any():
            continue
        depth = max(depth, float(height[hit].max()) - low_z)
        # the way goes towards (-sin, cos), left of it is towards the centre
        side = -sign * (cos(angle) * dx + sin(angle) * dy)
        sides.append(np.broadcast_to(side, hit.shape)[hit])
        moments.append(np.full(int(hit.sum()), step / count * swing.length))
        height[hit] = low_z
    none = np.zeros(0)
    return np.concatenate([none, *moments]), np.concatenate([none, *sides]), depth
