"""The stock that stands when finishing begins: even along every wall and floor, or a finding."""

from collections.abc import Sequence

import numpy as np

from passplot.proof.case import Case
from passplot.proof.gauge import Floats, Ints, Mask
from passplot.proof.replay import Replayed
from passplot.proof.rows import Row
from passplot.proof.standing import Standing
from passplot.proof.walls import SAMPLES_A_RADIUS, WallPoints, swept_by, wall_points
from passplot.records.plan import FINISH, ROUGH
from passplot.records.proof import Finding, Spread

FINISH_STOCK = "finish stock"
UNEVEN_STEPS = 2.0  # of the readout: one it cannot show, one for rounding away from the wall


class FinishStock:
    """Wall and floor stock found before the first finish row of each feature.

    What a later, smaller cutter roughs after a larger one has begun to finish is not looked at.
    ``walls``, ``floors`` hold a spread for each feature that is finished; features whose walls
    (floors) are cut to size at once do not count among the walls (floors).
    """

    def __init__(self, case: Case, rows: Sequence[Row], replayed: Replayed) -> None:
        self.case = case
        self.replayed = replayed
        self.findings: list[Finding] = []
        self.walls: list[Spread] = []
        self.floors: list[Spread] = []
        for number, feature in enumerate(case.job.features):
            mine = [row for row in rows if row.feature == feature.name]
            first = next((row.index for row in mine if row.stage == FINISH), None)
            if first is None:
                continue
            before = [row for row in rows if row.index < first and row.stage == ROUGH]
            roughing = [row for row in before if row.feature == feature.name and row.cuts]
            radii = {case.uses[row.cutter].cutter.radius for row in roughing}
            if not radii:
                continue
            if case.wall[number] > 0:
                self._wall(number, before, radii, first)
            if case.floor[number] > 0:
                self._floor(number, {row.cutter for row in roughing}, first)

    @property
    def wall(self) -> Spread:
        """Least and greatest of all walls; 0 and 0 where none is finished."""
        return _overall(self.walls)

    @property
    def floor(self) -> Spread:
        """Likewise of all floors."""
        return _overall(self.floors)

    def _wall(self, number: int, before: Sequence[Row], radii: set[float], first: int) -> None:
        """Stock along the normals of a feature's walls where a rough cutter can come up to them."""
        case = self.case
        # a floor is rounded up to the readout, so rows stand up to a step above it
        z = case.job.features[number].floor + float(case.floor[number]) + case.gauge.step
        spacing = min(radii) / SAMPLES_A_RADIUS
        walls = wall_points(case.part, z, number, spacing, case.gauge.resolution)
        stock = case.on_pieces(case.wall)
        within = np.zeros(len(walls.piece), dtype=bool)
        for radius in radii:
            within |= Standing(case, z, radius, stock).touches(walls)
        if not within.any():
            return
        walls = walls.take(within)
        if case.here is not None:
            walls = walls.take(case.here.walls[walls.piece])
            # round a corner the cut along a wall finished before has taken this one's stock
            off = swept_by(case.here.carried, case).distance(walls.at, z)
            walls = walls.take(off >= case.wall[number] - case.gauge.hair)
            # where the raw block is no thicker than that over the wall, roughing takes nothing
            thick = case.here.thickness(walls.at, walls.free)
            walls = walls.take(thick > case.wall[number] + case.gauge.step)
            before = [*case.here.carried, *before]
            if not len(walls.piece):
                return
        meant = float(case.wall[number])
        left = swept_by(before, case).left_on(walls, z)
        # where the neighbour's cutter has been the stock is less, where it does not fit as meant
        less = meant - self._kept(walls, z, stock)
        left = np.maximum(left, np.minimum(left + less, meant))
        self.walls.append(Spread(float(left.min()), float(left.max())))
        for stepped in (False, True):
            some = left[walls.stepped == stepped]
            if len(some):
                spread = Spread(float(some.min()), float(some.max()))
                most = meant + case.job.finish.cusp + case.rounding if stepped else None
                self._judge("wall", spread, meant, number, first, most)

    def _kept(self, walls: WallPoints, z: float, stock: Floats) -> Floats:
        """Stock meant at each wall point: no more than a wall with less stock on it leaves.

        A wall that lies on one of a feature cut to size keeps what that one keeps, and near the
        end of a wall the neighbour's cut comes as near as its own wall does.
        """
        kept: Floats = stock[walls.piece]
        less = self.case.part.walls(z) & (stock < kept.max(initial=0.0))
        if self.case.here is not None:
            less &= self.case.here.walls
        if less.any():
            off = self.case.part.ground.pieces.curves.take(less).to_points(walls.at)
            kept = np.minimum(kept, (off + stock[less]).min(axis=1))
        return kept

    def _floor(self, number: int, cutters: set[str], first: int) -> None:
        """Stock on a feature's floor, at cells that a rough cutter can cover."""
        case, field = self.case, self.replayed.field
        feature, meant = case.job.features[number], float(case.floor[number])
        _, decider = case.part.grid(field.xs, field.ys)
        mine = np.argwhere(decider == number)
        before = self.replayed.before_finish[feature.name]
        found: list[Spread] = []
        for radius, names in case.sizes(sorted(cutters)).items():
            scallop, short = case.rounded_end(feature, names, rough=True)
            cells = mine
            if case.here is not None and feature.name in case.here.over:
                cells = cells[self._roughed_here(cells, before, feature.floor + meant + scallop)]
            stock = case.on_pieces(case.wall)
            cutter = Standing(case, feature.floor + meant, radius, stock, short)
            heights = self._covered(cells, before - feature.floor, meant + scallop, cutter)
            if len(heights):
                found.append(Spread(float(heights.min()), float(heights.max())))
                most = meant + scallop + case.gauge.step if scallop else None
                self._judge("floor", found[-1], meant, number, first, most)
        if found:
            self.floors.append(_overall(found))

    def _covered(self, cells: Ints, heights: Floats, most: float, cutter: Standing) -> Floats:
        """Heights of cells, those above ``most`` only where a cutter can cover them."""
        field = self.replayed.field
        found: Floats = heights[cells[:, 0], cells[:, 1]]
        high = found > most + self.case.gauge.step
        if high.any():
            points = np.stack([field.xs[cells[high, 0]], field.ys[cells[high, 1]]], axis=1)
            over = cutter.covers(points, field.cell)
            found = np.concatenate([found[~high], found[high][over]])
        return found

    def _roughed_here(self, cells: Ints, before: Floats, high: float) -> Mask:
        """Cells that this setting has brought down to ``high``: others are another's to rough."""
        here, index = self.case.here, (cells[:, 0], cells[:, 1])
        roughed: Mask = before[index] <= high + self.case.gauge.step
        if here is not None and here.start is not None:
            roughed &= here.start[index] > high + self.case.gauge.step
        return roughed

    def _judge(
        self,
        what: str,
        spread: Spread,
        meant: float,
        number: int,
        row: int,
        most: float | None = None,
    ) -> None:
        """A finding unless stock is ``meant`` at least, and even: ``most`` where scallops stand."""
        say, hair = self.case.gauge.say, self.case.gauge.hair
        even = spread.low + UNEVEN_STEPS * self.case.gauge.resolution + hair
        if spread.high > (even if most is None else most) or spread.low < meant - hair:
            self.findings.append(
                Finding(
                    FINISH_STOCK,
                    row,
                    f"{what} stock of {self.case.job.features[number].name!r} before finishing "
                    f"is {say(spread.low)} to {say(spread.high)}, meant to be {say(meant)} "
                    "everywhere",
                )
            )


def _overall(spreads: list[Spread]) -> Spread:
    if not spreads:
        return Spread(0.0, 0.0)
    return Spread(min(s.low for s in spreads), max(s.high for s in spreads))
