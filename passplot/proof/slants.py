"""Ways and areas along neither X nor Y, as metal is looked at on lines along them."""

import numpy as np

from passplot.frozen import dataclass
from passplot.proof.gauge import Floats

AIR = "beside the stock"
"""Name of the feature that stands for the air beside a turned stock, within its bounds."""


@dataclass(frozen=True, slots=True)
class Slant:
    """A straight way along neither X nor Y that the metal was swept on."""

    start: tuple[float, float]
    end: tuple[float, float]

    def off(self, x: Floats, y: Floats) -> Floats:
        """Distance of points from the way."""
        a, run = np.array(self.start), np.subtract(self.end, self.start)
        t = ((x - a[0]) * run[0] + (y - a[1]) * run[1]) / max(float(run @ run), 1e-300)
        t = np.clip(t, 0.0, 1.0)
        off: Floats = np.hypot(x - a[0] - t * run[0], y - a[1] - t * run[1])
        return off

    @property
    def ends(self) -> tuple[tuple[float, float], tuple[float, float]]:
        """Where it starts and stops."""
        return self.start, self.end

    def crossed(self, lines: Floats, axis: int, reach: float) -> tuple[Floats, Floats]:
        """Intervals on lines across ``axis`` swept by a disc, those at both ends left out."""
        a, run = np.array(self.start), np.subtract(self.end, self.start)
        side = np.array([-run[1], run[0]]) * reach / np.hypot(*run)
        return across(np.array([a + side, a - side, a + run - side, a + run + side]), lines, axis)


@dataclass(frozen=True, slots=True)
class Corner:
    """A corner of the rectangle round a turned block, where there is no metal."""

    corners: Floats

    @property
    def ends(self) -> tuple[tuple[float, float], ...]:
        """Nothing is swept round its ends."""
        return ()

    def off(self, x: Floats, y: Floats) -> Floats:
        """-1 within, 1 outside."""
        signs = []
        for (ax, ay), (bx, by) in zip(self.corners, np.roll(self.corners, -1, axis=0), strict=True):
            signs.append((bx - ax) * (y - ay) - (by - ay) * (x - ax))
        within = np.all(np.array(signs) >= 0, axis=0) | np.all(np.array(signs) <= 0, axis=0)
        return np.where(within, -1.0, 1.0)

    def crossed(self, lines: Floats, axis: int, reach: float) -> tuple[Floats, Floats]:
        """Intervals on lines across ``axis`` that lie within it."""
        return across(self.corners, lines, axis)


def across(corners: Floats, lines: Floats, axis: int) -> tuple[Floats, Floats]:
    """Where lines across ``axis`` lie within a convex polygon: shape (m, 1), else (inf, -inf)."""
    low, high = np.full(len(lines), np.inf), np.full(len(lines), -np.inf)
    for one, two in zip(corners, np.roll(corners, -1, axis=0), strict=True):
        run = two[axis] - one[axis]
        if abs(run) < 1e-12:
            continue
        share = (lines - one[axis]) / run
        on = (share >= 0) & (share <= 1)
        at = one[1 - axis] + share * (two[1 - axis] - one[1 - axis])
        low = np.where(on, np.minimum(low, at), low)
        high = np.where(on, np.maximum(high, at), high)
    return low[:, None], high[:, None]
