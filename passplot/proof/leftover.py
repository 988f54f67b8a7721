"""Metal that should be gone and is not: on the walls by formula, elsewhere in the height map."""

from collections.abc import Collection, Sequence
from itertools import pairwise
from math import sqrt

import numpy as np

from passplot.proof.case import Case
from passplot.proof.corners import corner_room
from passplot.proof.field import Field
from passplot.proof.forms import corner_of
from passplot.proof.gauge import Floats, Ints
from passplot.proof.limits import limit_on
from passplot.proof.rows import Row
from passplot.proof.slants import AIR
from passplot.proof.standing import Standing
from passplot.proof.walls import SAMPLES_A_RADIUS, Swept, WallPoints, swept_by, wall_points
from passplot.records.job import Feature
from passplot.records.proof import Finding
from passplot.records.shapes import Line, Point
from passplot.records.shop import FACE_MILL, ROUGHING

LEFT_UNCUT = "left uncut"


class Leftover:
    """What is left that a cutter of the feature could have taken.

    Stock that is left for good (no skims) does not count. Walls and floors with limits may stay
    short of their middle up to the limit, others a step of the readout. A wall that does not run
    along X or Y may keep the scallop as well, measured out from it along its normals.

    Attributes
    ----------
    most : float
        Greatest distance from the finished part of metal that should be gone.
    worst : dict
        Feature number -> that distance and its place, beyond what may stay.
    """

    def __init__(self, case: Case, rows: Sequence[Row], field: Field) -> None:
        self.case = case
        self.rows = rows
        self.field = field
        self.most = 0.0
        self.worst: dict[int, tuple[float, Floats]] = {}
        self._stock = case.on_pieces(case.wall_left)
        self._slack = _wall_slack(case)
        self._on_walls()
        if case.here is None or case.here.last:
            self._in_map()

    @property
    def findings(self) -> list[Finding]:
        """One finding a feature, at its worst place."""
        return [
            Finding(
                LEFT_UNCUT,
                0,
                f"metal of {self.case.job.features[number].name!r} is left "
                f"{self.case.gauge.say(distance)} from the finished part near "
                f"X {place[0]:.3f} Y {place[1]:.3f}",
            )
            for number, (distance, place) in sorted(self.worst.items())
        ]

    def _meant(self, feature: Feature) -> Collection[str]:
        """Cutters meant to bring a feature to size."""
        used = {row.cutter for row in self.rows if row.feature == feature.name}
        asked = feature.cutters or self.case.job.cutters
        meant = [name for name in asked if name in self.case.uses]
        named = meant or used or set(self.case.uses)
        forms = {name: self.case.uses[name].cutter.form for name in named}
        others = {ROUGHING} if feature.kind == "face" else {ROUGHING, FACE_MILL}
        return [name for name in named if forms[name] not in others] or named

    def _smallest(self, feature: Feature) -> float:
        """Radius of the smallest cutter meant for a feature: it reaches all that others do."""
        return min(self.case.uses[name].cutter.radius for name in self._meant(feature))

    def _enter(self, number: int, distance: float, place: Floats) -> None:
        self.most = max(self.most, distance)
        if distance > self.worst.get(number, (0.0, place))[0]:
            self.worst[number] = (distance, place)

    def _on_walls(self) -> None:
        """How far from the walls the swept area stays, where a cutter can come up to them."""
        case = self.case
        swept = swept_by([*(case.here.carried if case.here else ()), *self.rows], case)
        floors = case.part.floors + case.floor_left + case.floor_slack()
        for number, feature in enumerate(case.job.features):
            if feature.name == AIR:
                continue
            radius, z = self._smallest(feature), float(floors[number])
            spacing = radius / SAMPLES_A_RADIUS
            walls = wall_points(case.part, z, number, spacing, case.gauge.resolution)
            if case.here is not None:
                walls = walls.take(case.here.walls[walls.piece])
            walls = walls.take(Standing(case, z, radius, self._stock).touches(walls))
            if not len(walls.piece):
                continue
            self._on_no_wall(number, walls)
            left = self._left_at(swept, walls, z, feature.floor)
            self.most = max(self.most, float(left.max()))
            over = np.where(left > self._slack[walls.piece], left, 0.0)
            if over.any():
                self._enter(number, float(over.max()), walls.at[over.argmax()])

    def _on_no_wall(self, number: int, walls: WallPoints) -> None:
        """A wall lower than the rounded end of every cutter meant for it comes out nowhere true."""
        feature = self.case.job.features[number]
        deep = self.case.job.stock.top - feature.floor
        corner = min(corner_of(self.case.uses[name].cutter) for name in self._meant(feature))
        if corner > deep + self.case.gauge.hair:
            short = corner - sqrt(2 * corner * deep - deep**2)
            self._enter(number, short, walls.at[0])

    def _left_at(self, swept: Swept, walls: WallPoints, z: float, floor: float) -> Floats:
        """Greatest distance from the part of metal left at each wall point.

        Between the tips of two rows the wall is as far off as the deeper ones left it, but metal
        there is no farther from the part than it stands over the floor, nor than the raw block.
        """
        top = self.case.job.stock.raw_top
        tips = [tip for tip in sorted(set(swept.tip.tolist())) if z < tip < top]
        left = np.full(len(walls.piece), -np.inf)
        here = self.case.here
        raw = np.inf if here is None else here.thickness(walls.at, walls.free)
        for low, high in pairwise([z, *tips, top]):
            off = np.minimum(swept.left_on(walls, low), raw) - self._stock[walls.piece]
            left = np.maximum(left, np.minimum(off, high - floor))
        return left

    def _in_map(self) -> None:
        """Cells of each feature that stand above its floor although a cutter could lower them."""
        case, field = self.case, self.field
        finished, _ = case.part.grid(field.xs, field.ys)
        slack = case.floor_slack() + case.floor_left
        for number, z in enumerate(case.part.floors.tolist()):
            if case.job.features[number].name == AIR:
                continue
            feature = case.job.features[number]
            for radius, names in case.sizes(self._meant(feature)).items():
                scallop, short = case.rounded_end(feature, names)
                high = field.height > z + slack[number] + scallop
                if high.any():
                    high &= case.part.area(number, field.xs, field.ys)
                cells = np.argwhere(high)
                if len(cells):
                    index = (cells[:, 0], cells[:, 1])
                    up = field.height[index] - finished[index]
                    distance = self._distances(cells, up, z)
                    which = distance > 0
                    cutter = Standing(case, z, radius, self._stock, short)
                    self._judge(number, cells[which], distance[which], cutter)

    def _distances(self, cells: Ints, up: Floats, z: float) -> Floats:
        """Distance of the top of each cell's metal from the part; 0 where stock is meant to be.

        ``up`` is its height over the finished floor.
        """
        which = self.case.part.boundary(z)
        if not which.any():
            return up
        edge = self.case.part.ground.pieces.curves.take(which)
        off = edge.to_points(self._points(cells))
        meant = self._stock[which] + self._slack[which]
        return np.where((off <= meant).any(axis=1), 0.0, np.minimum(off.min(axis=1), up))

    def _judge(self, number: int, cells: Ints, distance: Floats, cutter: Standing) -> None:
        """Enter the worst cell of a feature that a cutter could have covered."""
        if not len(cells):
            return
        points = self._points(cells)
        left = np.where(cutter.covers(points, self.field.cell), distance, 0.0)
        if left.any():
            self._enter(number, float(left.max()), points[left.argmax()])

    def _points(self, cells: Ints) -> Floats:
        return np.stack([self.field.xs[cells[:, 0]], self.field.ys[cells[:, 1]]], axis=1)


def _wall_slack(case: Case) -> Floats:
    """What may stay on each piece of wall: up to the wall's limit, or what rounding leaves.

    At an inside corner both walls are rounded away from, which leaves up to √2 steps in it; so
    does a point beside a stepped wall, which may keep its scallop besides, or stay short of a
    corner's radius by what its own limits allow.
    """
    pieces, free = case.part.ground.pieces, case.part.free
    slack = np.where(pieces.stepped, corner_room(case, case.part, out=True), 0.0)
    slack += case.rounding
    for number, owner in enumerate(pieces.owner):
        if owner < 0 or pieces.curves.turn[number]:
            continue
        ends = (pieces.curves.start[number], pieces.curves.end[number])
        line = Line(Point(*ends[0].tolist()), Point(*ends[1].tolist()))
        limit = limit_on(line, case.job.features[owner].limits, case.gauge.hair)
        if limit is not None and limit.high > limit.low:
            into_open = free[number, 0 if limit.axis.lower() == "x" else 1] > 0
            spread = limit.high - limit.at if into_open else limit.at - limit.low
            slack[number] = spread + case.gauge.hair
    return slack
