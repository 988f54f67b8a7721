"""Patterns of holes: the positions to stop at, above the work, with the least cranking.

No hole is drilled by a row: each row takes the spindle over the work, one axis at a time, and every
hole is the end of one row. The operator drills there with the quill.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

import shapely

from passplot.errors import CannotCut
from passplot.frozen import dataclass
from passplot.plan.bench import make_obstacles
from passplot.plan.grid import Grid, make_grid
from passplot.plan.rows import Owner, row_of
from passplot.plan.tour import cranked, shortest_order
from passplot.records import plan as names
from passplot.records.plan import Hole, Move, PatternUse, Plan
from passplot.records.shapes import Point

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from passplot.plan.bench import Obstacle, Spot
    from passplot.plan.planner import Done
    from passplot.plan.tour import Step
    from passplot.records.job import Feature, Job
    from passplot.records.plan import CutterUse
    from passplot.records.shop import Cutter

DRILL = "drill"


@dataclass(frozen=True, slots=True)
class Stand:
    """Where the spindle stands before a pattern, and the number of the next row.

    ``begun`` is whether the cutter has rows before.
    """

    at: Spot
    row: int
    begun: bool


def without_holes(job: Job) -> Job:
    """The job with what is cut, and no patterns of holes."""
    return replace(job, features=tuple(each for each in job.features if each.pattern is None))


def hole_cutters(job: Job, used: Sequence[Cutter]) -> tuple[Cutter, ...]:
    """What the spindle holds over the patterns of a job, each once."""
    patterns = [feature for feature in job.features if feature.pattern is not None]
    return tuple(dict.fromkeys(_cutter_of(job, feature, used) for feature in patterns))


def over_holes(job: Job, one: Done, before: Sequence[Done], used: Sequence[Cutter]) -> Done:
    """What a cutter did, and the rows over its patterns of holes after it."""
    patterns = [feature for feature in job.features if feature.pattern is not None]
    mine = [each for each in patterns if _cutter_of(job, each, used) == one.use.cutter]
    if not mine:
        return one
    rows = [move for each in (*before, one) for move in each.moves]
    rounds = Rounds(job, one.use, _stand(job, one.use.cutter, rows))
    found = tuple(rounds.over(feature) for feature in mine)
    return replace(one, moves=(*one.moves, *rounds.moves), patterns=found)


def with_holes(job: Job, plan: Plan, done: Sequence[Done]) -> Plan:
    """The plan of the whole job: its patterns and what there is to say of them."""
    patterns = tuple(pattern for one in done for pattern in one.patterns)
    if not patterns:
        return plan
    cut = {feature.name: feature for feature in plan.job.features}
    features = tuple(cut.get(feature.name, feature) for feature in job.features)
    return replace(
        plan,
        job=replace(plan.job, features=features),
        patterns=patterns,
        notes=(*plan.notes, *hole_notes(job, patterns)),
    )


def _cutter_of(job: Job, feature: Feature, used: Sequence[Cutter]) -> Cutter:
    """The feature's own cutter, else a drill of the crib, else the last cutter.

    Raises
    ------
    CannotCut
        If there is none of them.
    """
    if feature.cutters:
        return job.shop.cutter(feature.cutters[0])
    last = used[-1] if used else None
    drill = next((cutter for cutter in job.shop.cutters if cutter.form == DRILL), last)
    if drill is None:
        raise CannotCut(f"{feature.name}: the crib has no drill, and no cutter is named")
    return drill


def _stand(job: Job, cutter: Cutter, before: Sequence[Move]) -> Stand:
    """Where a cutter stands after the rows before; at first off the front left corner."""
    if before:
        last = before[-1]
        return Stand((last.x, last.y), last.row + 1, last.cutter == cutter.id)
    grid = _grid(job)
    off = cutter.radius + job.limits.stand_off
    corner = grid.round_out(job.stock.x[0] - off, -1), grid.round_out(job.stock.y[0] - off, -1)
    return Stand(corner, 1, False)


class Rounds:
    """Writes the rows of one cutter over its patterns."""

    def __init__(self, job: Job, use: CutterUse, stand: Stand) -> None:
        self.job = job
        self.use = use
        self.grid = _grid(job)
        self.safe_z = _over_z(job)
        self.obstacles = make_obstacles(job)
        self.at = stand.at
        self.z = self.safe_z
        self.begun = stand.begun
        self.moves: list[Move] = []
        self._row = stand.row

    def over(self, feature: Feature) -> PatternUse:
        """Rows from hole to hole of one pattern."""
        spots = _readings(self.grid, feature)
        self._refuse_covered(feature, spots)
        places = [_step(self.grid, spot) for spot in spots]
        start = _step(self.grid, self.at)
        order = shortest_order(start, places)
        if not self.begun:
            self._write(feature.name, names.POSITION, "", 0.0)
            self.begun = True
        holes = []
        for number, index in enumerate(order, 1):
            self._go(feature.name, spots[index], set(spots))
            at = Point(*spots[index])
            holes.append(Hole(number, index + 1, at, self._row_at(spots[index])))
        length = self.grid.resolution
        return PatternUse(
            feature=feature.name,
            cutter=self.use.cutter.id,
            holes=tuple(holes),
            cranked=length * cranked(start, [places[index] for index in order]),
            as_printed=length * cranked(start, places),
        )

    def _row_at(self, spot: Spot) -> int:
        """Number of the last row that moved along X or Y to a place."""
        return next(
            move.row
            for move in reversed(self.moves)
            if (move.x, move.y) == spot and move.axis != "Z"
        )

    def _go(self, feature: str, to: Spot, holes: set[Spot]) -> None:
        """Go over a hole by rows of which no other ends over one."""
        if to == self.at and self.moves and not self.moves[-1].axis:
            return  # the cutter begins over it
        ways = [way for way in self._ways(to) if not holes.intersection(way[:-1])]
        way = min(ways, key=lambda one: (self._height(one), len(one)))
        height = self._height(way)
        self._lift(feature, height, names.RETRACT)
        for spot in way:
            dx, dy = spot[0] - self.at[0], spot[1] - self.at[1]
            self.at = spot
            self._write(feature, names.POSITION, "X" if dx else "Y", dx or dy)
        self._lift(feature, self.safe_z, names.POSITION)

    def _ways(self, to: Spot) -> Iterator[tuple[Spot, ...]]:
        """Ways to a place: straight or round either corner, else with a step aside on the way."""
        (ax, ay), (bx, by) = self.at, to
        if ax != bx and ay != by:
            yield (bx, ay), to
            yield (ax, by), to
        elif (ax, ay) != to:
            yield (to,)
        aside = self.grid.round_out(max(self.job.limits.stand_off, self.grid.resolution), 1)
        for times in range(1, 5):
            x, y = self.grid.near(ax + times * aside), self.grid.near(ay + times * aside)
            if ay != by:
                yield _turns(self.at, (x, ay), (x, by), to)
            if ax != bx:
                yield _turns(self.at, (ax, y), (bx, y), to)
            if self.at == to:
                yield (x, ay), to

    def _height(self, way: Sequence[Spot]) -> float:
        """Height that clears every keep-out on a way."""
        tallest = self.safe_z
        for a, b in pairwise((self.at, *way)):
            tops = [one.top for one in self.obstacles if self._near(one, a, b)]
            tallest = max((tallest, *(top + self.job.limits.cross_over for top in tops)))
        return self.grid.up(tallest)

    def _near(self, obstacle: Obstacle, a: Spot, b: Spot) -> bool:
        return bool(obstacle.area.distance(shapely.LineString([a, b])) < self.use.cutter.radius)

    def _refuse_covered(self, feature: Feature, spots: Sequence[Spot]) -> None:
        """Refuse holes that a clamp lies over or beside, where it is in the drill's way."""
        faults = [
            f"{feature.name}: keep-out {obstacle.name} stands in the way of hole {number} at "
            f"X {spot[0]:.4g} Y {spot[1]:.4g}"
            for number, spot in enumerate(spots, 1)
            for obstacle in self.obstacles
            if obstacle.top > feature.floor and self._near(obstacle, spot, spot)
        ]
        if faults:
            raise CannotCut(*faults)

    def _lift(self, feature: str, z: float, move: str) -> None:
        if z != self.z:
            step, self.z = z - self.z, z
            self._write(feature, move, "Z", step)

    def _write(self, feature: str, move: str, axis: str, step: float) -> None:
        owner = Owner(feature, self.use.cutter.id, names.HOLES)
        self.moves.append(row_of(self.job, owner, self._row, move, self.at, self.z, axis, step))
        self._row += 1


def nothing_cut(job: Job, done: Sequence[Done]) -> Plan:
    """The plan of a job of which nothing is cut by rows."""
    return Plan(
        job=job,
        cutters=tuple(one.use for one in done),
        moves=tuple(move for one in done for move in one.moves),
        passes=(),
        stocks=(),
        corners=(),
        holes=(),
        cross_over_z=_over_z(job),
        stand_off=job.limits.stand_off,
        lower_bound=0.0,
        unreached_area=0.0,
        notes=(),
    )


def hole_notes(job: Job, patterns: Sequence[PatternUse]) -> tuple[str, ...]:
    """What the sheet says of patterns. Common practice, no source: spot first, then drill."""
    notes = []
    for pattern in patterns:
        feature = next(one for one in job.features if one.name == pattern.feature)
        drills = [job.shop.cutter(name) for name in feature.cutters or (pattern.cutter,)]
        sizes = [f"{one.id}, {one.cutting_diameter:g}" for one in drills if one.form == DRILL]
        how = f"drill with {', then '.join(sizes)}" if sizes else "drill to the print's size"
        count = len(pattern.holes)
        which = f"all {count} holes" if count > 1 else "the hole"
        notes.append(f"{pattern.feature}: spot-drill {which} first, then {how}, by the same table")
        spared = pattern.as_printed - pattern.cranked
        if spared > _grid(job).resolution:
            notes.append(
                f"{pattern.feature}: numbered in the order of least cranking, "
                f"{pattern.cranked:.4g} in all; the order of the print takes "
                f"{pattern.as_printed:.4g}"
            )
    return tuple(notes)


def _readings(grid: Grid, feature: Feature) -> list[Spot]:
    """The nearest readings to every hole, each of its own and inside the limits.

    Raises
    ------
    CannotCut
        Where two holes come to one reading, or a reading leaves what a hole may be off.
    """
    assert feature.pattern is not None
    room = feature.pattern.room
    spots: list[Spot] = []
    faults: list[str] = []
    for number, point in enumerate(feature.pattern.points, 1):
        spot = grid.near(point.x), grid.near(point.y)
        off = max(abs(spot[0] - point.x), abs(spot[1] - point.y))
        where = f"{feature.name}: hole {number} at X {point.x:.5g} Y {point.y:.5g}"
        if room is not None and off > room + 1e-9:
            faults.append(
                f"{where} may be {room:.4g} off, the nearest reading of the readout is {off:.4g} "
                f"off (steps of {grid.resolution:g}); a finer readout or wider limits would do"
            )
        elif spot in spots:
            faults.append(f"{where} comes to the same reading as hole {spots.index(spot) + 1}")
        spots.append(spot)
    if faults:
        raise CannotCut(*faults)
    return spots


def _turns(at: Spot, *spots: Spot) -> tuple[Spot, ...]:
    """A way without stops where it does not move."""
    return tuple(b for a, b in pairwise((at, *spots)) if a != b)


def _step(grid: Grid, spot: Spot) -> Step:
    return round(spot[0] / grid.resolution), round(spot[1] / grid.resolution)


def _grid(job: Job) -> Grid:
    return make_grid(job.shop.machine.resolution, job.inch)


def _over_z(job: Job) -> float:
    return _grid(job).up(job.stock.raw_top + max(job.limits.cross_over, 0.0))
