"""Hand movements: one axis a row, written down as they are made, the metal taken as they go."""

from dataclasses import replace

from shapely import Point
from shapely.geometry.base import BaseGeometry

from passplot.frozen import dataclass
from passplot.plan.bench import Bench
from passplot.plan.metal import NOTHING, Contact, Metal
from passplot.plan.routes import route
from passplot.plan.rows import Owner, row_of
from passplot.plan.run import Run
from passplot.plan.underside import clear_under, printed_depth
from passplot.records import plan as names
from passplot.records.plan import Move, Pass, Steps
from passplot.records.shapes import Point as Where

Spot = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Task:
    """What rows belong to: feature, stage, and which depth level of how many."""

    feature: str
    stage: str
    level: int = 1
    levels: int = 1


class Walker:
    """Writes rows. All positions given to it lie on the readout's grid."""

    def __init__(self, bench: Bench, metal: Metal, at: Spot, first_row: int, first_pass: int):
        self.bench = bench
        self.metal = metal
        self.at = at
        self.z = bench.safe_z
        self.angle = 0.0
        self.task = Task("", names.ROUGH)
        self.moves: list[Move] = []
        self.passes: list[Pass] = []
        self.holes: list[Spot] = []
        self.owners: tuple[tuple[str, BaseGeometry], ...] = ()
        self.floors: tuple[float, ...] = ()
        self._row = first_row
        self._last_run = Run(NOTHING, 0.0)
        self._cut_before = 0  # lines cut before the last row
        self._pass = first_pass

    # -- rows ------------------------------------------------------------------------------

    def _write(self, move: str, axis: str, step: float, **extra: float | int | None) -> None:
        owner = Owner(self.task.feature, self.bench.use.cutter.id, self.task.stage)
        row = row_of(self.bench.job, owner, self._row, move, self.at, self.z, axis, step)
        self.moves.append(replace(row, **extra))  # type: ignore[arg-type]
        self._row += 1

    def begin(self) -> None:
        """The first row of a cutter: where it stands."""
        self._write(names.POSITION, "", 0.0)

    def shift(self, to: Spot, move: str) -> None:
        """One straight movement along X or Y; nothing where it has no length."""
        dx, dy = to[0] - self.at[0], to[1] - self.at[1]
        if dx == 0 and dy == 0:
            return
        self.at = to
        self._write(move, "X" if dx else "Y", dx or dy)

    def turn(self, to: Spot, angle: float, line: Pass | None = None) -> None:
        """Turn a rotary table to ``angle``, which brings the axis to ``to``; ``line`` is cut."""
        self.at, self.angle = to, angle
        if line is None:
            self._write(names.POSITION, "C", 0.0, angle=angle)
        else:
            self._cut_row(line, 0.0, angle=angle)

    def height(self, z: float, move: str, drill: float | None = None) -> None:
        """One movement along Z."""
        step = z - self.z
        if step == 0:
            return
        self.z = z
        if move == names.PLUNGE:
            swept = self.metal.swept(self.at, self.at, self.bench.radius)
            top = self.metal.highest(swept)
            depth = max(0.0, top - z) if top is not None else 0.0
            depth = self._take(self.at, swept, depth)
            self._write(
                move,
                "Z",
                step,
                feed=self.bench.use.feed / 2,  # common practice, no source: half the feed down
                depth_of_cut=depth,
                drill_diameter=drill,
            )
        else:
            self._write(move, "Z", step)

    def lift(self) -> None:
        """Up to the height at which moves over the work go."""
        self.height(self.bench.safe_z, names.RETRACT)

    def _take(self, to: Spot, swept: BaseGeometry, depth: float, known: bool = False) -> float:
        """Take away what is swept on the way to a place, ``depth`` deep, and stand there.

        Returns the depth to print: what rounded ends have left may be met deeper, unless that is
        ``known`` to be no matter.
        """
        under, row = self.metal.under, (self.at, to, self.z)
        deepest = self.bench.grid.near(depth)
        if not known:
            deepest = printed_depth(self.bench, self.metal, row, depth, None)
        self.metal.remove(swept, self.z)
        if under is not None:
            under.take(self.bench, self.at, to, self.z)
        self.at = to
        return deepest

    # -- travelling --------------------------------------------------------------------------

    def travel(self, to: Spot, z: float) -> None:
        """Go to where the cutter stands clear at height ``z``: at depth if the way is free."""
        if self.at == to and self.z == z:
            return
        if self.z == z:
            way = route(self.bench, self.metal, self.at, to, z)
            if way is not None:
                for spot in way[:-1]:
                    self.shift(spot, names.RETURN)
                self.shift(way[-1], names.POSITION)
                return
        elif self.at == to and self.z > z:
            self.down(z)
            return
        self.over(to)
        self.down(z)

    def down(self, z: float) -> None:
        """Down to where the cutter stands clear, fed where its rounded end meets metal."""
        clear = clear_under(self.bench, self.metal, Point(self.at), z)
        self.height(z, names.POSITION if clear else names.PLUNGE)

    def over(self, to: Spot) -> None:
        """Go above ``to``, over the work."""
        if self.at == to:
            return
        if self.z < self.bench.safe_z:
            self.lift()
        ways = [((to[0], self.at[1]), to), ((self.at[0], to[1]), to)]
        tops = [self._tallest(way) for way in ways]
        best = 0 if tops[0] <= tops[1] else 1
        if tops[best] > self.z:
            self.height(tops[best], names.RETRACT)
        for spot in ways[best]:
            self.shift(spot, names.POSITION)

    def _tallest(self, way: tuple[Spot, Spot]) -> float:
        """Height needed over the keep-outs on the way."""
        here, tallest = self.at, self.bench.safe_z
        for spot in way:
            for obstacle in self.bench.obstacles:
                low = replace(obstacle, top=float("inf"))
                if replace(self.bench, obstacles=(low,)).blocked(here, spot, self.z):
                    tallest = max(tallest, obstacle.top + self.bench.job.limits.cross_over)
            here = spot
        return self.bench.grid.up(tallest)

    # -- cutting -----------------------------------------------------------------------------

    def look(self, to: Spot) -> Contact:
        """What a straight cut from here to ``to`` would meet."""
        bench = self.bench
        return self.metal.contact(self.at, to, self.z, bench.radius, bench.left)

    def cut(self, to: Spot, purpose: str, alone: bool = False) -> Contact:
        """Feed straight to ``to``, cutting; ``alone`` makes no one row of it and the last."""
        bench, start = self.bench, self.at
        contact = self.look(to)
        swept = self.metal.swept(start, to, bench.radius)
        top = self.metal.highest(swept, self.metal.thin / 100)
        if self.owners:
            owner = max(self.owners, key=lambda one: contact.met.intersection(one[1]).area)
            self.task = replace(self.task, feature=owner[0])
        # a stepped wall prints the depth of all its steps, which is that of the wall
        known = alone and purpose != "floor"
        before = len(self.metal.under.cut) if self.metal.under is not None else 0
        depth = self._take(to, swept, 0.0 if top is None else max(top - self.z, 0.0), known)
        dx, dy = to[0] - start[0], to[1] - start[1]
        both = bench.grid.near(contact.both_ways)
        run = Run(contact, apart(start, to))
        line = Pass(
            number=self._pass,
            feature=self.task.feature,
            cutter=bench.use.cutter.id,
            stage=self.task.stage,
            purpose=purpose,
            start=Where(*start),
            end=Where(*to),
            start_clear=bench.off_stock(start),
            end_clear=bench.off_stock(to),
            z=self.z,
            level=self.task.level,
            levels=self.task.levels,
            width_of_cut=0.0,
            depth_of_cut=depth,
            both_ways=both,
            row=self._row,
        )
        if not alone and self._runs_on(line):
            line, run = self._taken_back(line), self._last_run.and_then(run)
        else:
            self._cut_before = before
        self._last_run = run
        line = replace(line, width_of_cut=bench.grid.near(run.width(bench.radius)))
        self._cut_row(line, dx or dy)
        return contact

    def _cut_row(self, line: Pass, step: float, **extra: float) -> None:
        """The row of a pass, and the pass."""
        self._write(
            names.CUT,
            line.axis,
            step,
            both_ways=line.both_ways,
            width_of_cut=line.width_of_cut,
            depth_of_cut=line.depth_of_cut,
            feed=self.bench.use.feed_of(line.stage, line.purpose),
            number=line.number,
            **extra,
        )
        self.passes.append(line)
        self._pass += 1

    def straight_on(self, a: Spot, b: Spot) -> float:
        """Length cut both ways that a cut from ``a`` to ``b`` carries straight on from, if any."""
        if not self.passes or self.passes[-1].row != self._row - 1 or a != self.at:
            return 0.0
        start, end = self.passes[-1].start, self.passes[-1].end
        dx, dy = end.x - start.x, end.y - start.y
        goes_on = (dx * (b[0] - a[0]), dy * (b[1] - a[1]))
        return self.passes[-1].both_ways if max(goes_on) > 0 else 0.0

    def _runs_on(self, line: Pass) -> bool:
        """Whether a cut runs straight on from the row before it."""
        if not self.passes or self.passes[-1].row != self._row - 1:
            return False
        last = self.passes[-1]
        alike = (last.feature, last.stage, last.z, last.axis) == (
            line.feature,
            line.stage,
            line.z,
            line.axis,
        )
        before = last.end.x - last.start.x + last.end.y - last.start.y
        after = line.end.x - line.start.x + line.end.y - line.start.y
        # a slot taken in levels does not run on into a bite that is deeper
        deeper = abs(last.depth_of_cut - line.depth_of_cut) > self.bench.thin
        bites = last.both_ways > 0 and line.both_ways > 0
        return alike and last.end == line.start and before * after > 0 and not (deeper and bites)

    def _taken_back(self, line: Pass) -> Pass:
        """Take back the last row and pass, and make one line of both."""
        last = self.passes.pop()
        self.moves.pop()
        self._row -= 1
        self._pass -= 1
        deepest = max(last.depth_of_cut, line.depth_of_cut)
        row = (last.start.x, last.start.y), self.at, self.z
        deepest = printed_depth(self.bench, self.metal, row, deepest, self._cut_before)
        return replace(
            line,
            number=last.number,
            row=last.row,
            start=last.start,
            start_clear=last.start_clear,
            purpose=line.purpose if last.purpose == "entry" else last.purpose,
            depth_of_cut=deepest,
            both_ways=self.bench.grid.near(last.both_ways + line.both_ways),
        )

    def gather(self, first: int, steps: Steps, width: float) -> None:
        """Make one pass of all from the ``first`` one on: a stepped wall, cut row after row.

        Steps are too short for a width and a depth of their own: they print the greatest of the
        whole wall.

        Parameters
        ----------
        width : float
            Greatest engagement across the line from setting to setting.
        """
        lines = self.passes[first:]
        if not lines:
            return
        near, number = self.bench.grid.near, lines[0].number
        widest = max(near(width), *(line.width_of_cut for line in lines))
        deepest = max(line.depth_of_cut for line in lines)
        self.passes[first:] = [
            replace(
                lines[0],
                purpose=lines[-1].purpose,
                start=steps.points[0],
                end=steps.points[-1],
                end_clear=lines[-1].end_clear,
                width_of_cut=widest,
                depth_of_cut=deepest,
                both_ways=near(sum(line.both_ways for line in lines)),
                steps=steps,
            )
        ]
        mine = {line.number for line in lines}
        self.moves = [
            replace(move, number=number, width_of_cut=widest, depth_of_cut=deepest)
            if move.number in mine
            else move
            for move in self.moves
        ]
        self._pass = number + 1

    def stands_free(self, spot: Spot, z: float) -> bool:
        """Whether the cutter can be set down at ``spot`` without touching metal."""
        if not self.metal.free(spot, z, self.bench.touch):
            return False
        clear = clear_under(self.bench, self.metal, Point(spot), z)
        return clear and not self.bench.blocked(spot, spot, z)

    def top_under(self, spot: Spot) -> float | None:
        """Height of the highest metal under the cutter at ``spot``."""
        # what the readout cannot show still must not be met on the way down
        return self.metal.highest(Point(spot).buffer(self.bench.radius), self.metal.thin / 100)

    @property
    def next_row(self) -> int:
        """Number of the next row."""
        return self._row

    @property
    def next_pass(self) -> int:
        """Number of the next pass."""
        return self._pass


def apart(a: Spot, b: Spot) -> float:
    """Distance along X and Y from a to b."""
    return abs(a[0] - b[0]) + abs(a[1] - b[1])
