"""Backlash taken up: a plan made for a readout turned into one that dials alone can follow.

A position counts only when it was reached in the approach direction of its axis. Where a movement
came the other way, the cutter goes past and comes back before the axis is held in a cut: at depth
where it is clear of metal, else lifted out, past, back and down again. A feed that stops at the
finished part against the approach direction stops short by the backlash, for less play would carry
it into the wall; the place itself is then reached from above.
"""

from collections.abc import Sequence
from dataclasses import replace
from itertools import product

from shapely import Point

from passplot.plan.bench import make_obstacles, stock_area
from passplot.plan.ends import corner_of
from passplot.plan.grid import make_grid
from passplot.plan.metal import FINE_QUARTER, QUARTER, Metal
from passplot.plan.past import TOUCH, Room, at, moved, way
from passplot.plan.sharp import with_fillets
from passplot.plan.underside import Cut
from passplot.records import plan as names
from passplot.records.plan import Move, PatternUse, Plan
from passplot.records.shapes import Point as Where

Spot = tuple[float, float]
Approach = tuple[int, int, int]

KNEE = -1
"""Depths are reached by raising the knee, against its weight (common practice, no source)."""


def taken_up(plan: Plan) -> Plan:
    """The plan with every backlash taken up, by the approach directions that need fewest rows."""
    ways = [_TakingUp(plan, (x, y, KNEE)).whole_plan() for x, y in product((1, -1), repeat=2)]
    return min(ways, key=lambda way: len(way.moves))


class _TakingUp:
    """Goes through the rows of a plan once and writes them anew."""

    def __init__(self, plan: Plan, approach: Approach) -> None:
        job = plan.job
        machine = job.shop.machine
        self.plan = plan
        self.approach = dict(zip("XYZ", approach, strict=True))
        self.room = Room(
            job,
            make_grid(machine.resolution, job.inch),
            make_obstacles(job),
            dict(machine.dials),
            {},
        )
        thin = 0.001 if job.inch else 0.02
        quarter = FINE_QUARTER if any(f.curved for f in job.features) else QUARTER
        self.block = Metal(
            stock_area(job), job.stock.bottom, job.stock.raw_top, thin, machine.resolution, quarter
        )
        self.metal = self.block.copy()
        self.cut: list[Cut] = []
        corners = [corner_of(use.cutter) for use in plan.cutters]
        self.fillets = any(corners) and not all(corners)
        self.rows: list[Move] = []
        self.arrived = dict(self.approach)
        self.passes = {each.row: each for each in plan.passes}
        self.new_row: dict[int, int] = {}
        self.over_holes = {hole.row for pattern in plan.patterns for hole in pattern.holes}

    def whole_plan(self) -> Plan:
        """The plan with its rows written anew and everything that counts rows in step."""
        moves = self.plan.moves
        for index, move in enumerate(moves):
            self._row(move, moves[index + 1 :])
            self.new_row[move.row] = len(self.rows)
        kept = sorted(self.passes)
        numbers = {self.passes[row].number: n for n, row in enumerate(kept, 1)}
        return replace(
            self.plan,
            moves=tuple(replace(m, number=m.number and numbers[m.number]) for m in self.rows),
            passes=tuple(
                replace(each, number=numbers[each.number], row=self.new_row[each.row])
                for each in (self.passes[row] for row in kept)
            ),
            patterns=tuple(self._pattern(pattern) for pattern in self.plan.patterns),
            approach=(self.approach["X"], self.approach["Y"], self.approach["Z"]),
        )

    def _pattern(self, pattern: PatternUse) -> PatternUse:
        holes = tuple(replace(hole, row=self.new_row[hole.row]) for hole in pattern.holes)
        return replace(pattern, holes=holes)

    # -- rows ------------------------------------------------------------------------------

    def _row(self, move: Move, ahead: Sequence[Move]) -> None:
        if not move.axis:
            self._change_to(move.cutter)
            self.rows.append(replace(move, row=len(self.rows) + 1))
            return
        if move.move in (names.CUT, names.PLUNGE):
            for axis in "XYZ":
                if axis != move.axis and not self._counts(axis):
                    self._take_up(axis, move)
        if move.move == names.CUT:
            self._cut(move)
        elif self._wrong_way(move) and self._held(move, ahead) and self._runs_past(move):
            pass
        else:
            self._write(move, move.axis, at(move, move.axis))
        if move.row in self.over_holes:
            for axis in "XY":
                if not self._counts(axis):
                    self._take_up(axis, move)

    def _counts(self, axis: str) -> bool:
        return self.arrived[axis] == self.approach[axis]

    def _wrong_way(self, move: Move) -> bool:
        return move.axis != "Z" and self._sense(move) != self.approach[move.axis]

    def _sense(self, move: Move) -> int:
        return 1 if at(move, move.axis) > at(self.rows[-1], move.axis) else -1

    def _held(self, move: Move, ahead: Sequence[Move]) -> bool:
        """Whether the axis is held in a cut before it is moved again."""
        if move.row in self.over_holes:
            return True
        for each in ahead:
            if not each.axis or each.axis == move.axis:
                return False
            if each.move in (names.CUT, names.PLUNGE) or each.row in self.over_holes:
                return True
        return False

    def _write(self, like: Move, axis: str, value: float) -> None:
        """One row that takes ``axis`` to ``value``; nothing where it stands there."""
        last = self.rows[-1]
        step = value - at(last, axis)
        if step == 0:
            return
        crank = self.room.dials[axis].crank(step, axis)
        row = replace(like, row=len(self.rows) + 1, axis=axis, crank=crank)
        row = moved(replace(row, x=last.x, y=last.y, z=last.z), axis, value)
        self.rows.append(row)
        self.arrived[axis] = 1 if step > 0 else -1
        if row.move in (names.CUT, names.PLUNGE):
            line, z = ((last.x, last.y), (row.x, row.y)), min(last.z, row.z)
            self.metal.remove(self.metal.swept(*line, self._radius(row)), z)
            corner = corner_of(self.plan.use(row.cutter).cutter)
            self.cut.append(((z, self._radius(row), corner), line))

    def _change_to(self, cutter: str) -> None:
        """Put a cutter in; to one with a rounded end the metal is told by full diameters."""
        self.arrived = dict(self.approach)
        if self.fillets:
            full = corner_of(self.plan.use(cutter).cutter) > 0
            cut = [((z, r, 0.0 if full else c), line) for (z, r, c), line in self.cut]
            self.metal = with_fillets(self.block.copy(), cut)

    def _air(self, like: Move, kind: str, axis: str, value: float) -> None:
        """One row out of the cut."""
        plain = replace(
            like,
            move=kind,
            both_ways=0.0,
            width_of_cut=0.0,
            depth_of_cut=0.0,
            feed=None,
            number=None,
            drill_diameter=None,
        )
        self._write(plain, axis, value)

    def _radius(self, row: Move) -> float:
        own = self.plan.use(row.cutter).cutter.radius
        return max(own, (row.drill_diameter or 0.0) / 2)

    # -- taking up ---------------------------------------------------------------------------

    def _runs_past(self, move: Move) -> bool:
        """Let a movement out of the cut run past its end and come back, if the way is clear."""
        axis = move.axis
        past = self._past(axis, at(move, axis))
        room = self.room.beside if move.move == names.RETURN else 0.0
        if not self._clear(axis, past, room):
            return False
        self._write(move, axis, past)
        self._air(move, names.POSITION, axis, at(move, axis))
        return True

    def _take_up(self, axis: str, like: Move) -> None:
        """Reach the place of ``axis`` anew, in its approach direction."""
        here = self.rows[-1]
        value = at(here, axis)
        past = self._past(axis, value)
        if axis == "Z":
            self._air(like, names.RETRACT, "Z", past)
            self._air(like, names.POSITION, "Z", value)
        elif self._clear(axis, past):
            if here.move == names.CUT and here.axis == axis:
                self._stretch_cut(axis, past)
            else:
                self._air(like, names.POSITION, axis, past)
            self._air(like, names.POSITION, axis, value)
        else:
            self._from_above(axis, value, like)

    def _from_above(self, axis: str, value: float, like: Move) -> None:
        """Lift, go past, come back, lower."""
        z = self.rows[-1].z
        self._air(like, names.RETRACT, "Z", self._over(axis, self._past(axis, value)))
        self._air(like, names.POSITION, axis, self._past(axis, value))
        self._air(like, names.POSITION, axis, value)
        here = self.rows[-1]
        if self._stands_free((here.x, here.y), z, self._radius(here)):
            self._air(like, names.POSITION, "Z", z)
            return
        use = self.plan.use(like.cutter)
        swept = self.metal.swept((here.x, here.y), (here.x, here.y), use.cutter.radius)
        top = self.metal.highest(swept, self.metal.thin / 100)
        plunge = replace(
            like,
            move=names.PLUNGE,
            both_ways=0.0,
            width_of_cut=0.0,
            number=None,
            feed=use.feed / 2,
            depth_of_cut=self.room.grid.near(max((top or z) - z, 0.0)),
        )
        self._write(plunge, "Z", z)

    def _over(self, axis: str, past: float) -> float:
        """Height at which the cutter goes past over what stands there."""
        here = self.rows[-1]
        z = self.plan.cross_over_z
        line = way(here, axis, past)
        for obstacle in self.room.obstacles:
            if obstacle.area.distance(line) < self._radius(here):
                z = max(z, obstacle.top + self.plan.job.limits.cross_over)
        return max(self.room.grid.up(z), here.z)

    def _stretch_cut(self, axis: str, past: float) -> None:
        """Let the cut just made run on past its end, where nothing stands."""
        last = self.rows[-1]
        self.rows[-1] = moved(last, axis, past)
        for row, each in self.passes.items():
            if each.number == last.number and each.steps is None:
                end = Where(self.rows[-1].x, self.rows[-1].y)
                self.passes[row] = replace(each, end=end, end_clear=self._off_stock(end, last))

    def _off_stock(self, end: Where, row: Move) -> bool:
        off = stock_area(self.plan.job).distance(Point(end.x, end.y))
        return bool(off >= self._radius(row))

    def _past(self, axis: str, value: float) -> float:
        return self.room.grid.near(value - self.approach[axis] * self.room.past(axis))

    def _clear(self, axis: str, to: float, room: float = 0.0) -> bool:
        """Whether the cutter may go along ``axis`` from where it stands without touching metal.

        ``room`` is how far it must stay off it.
        """
        here = self.rows[-1]
        radius = self._radius(here)
        line = way(here, axis, to)
        layer = self.metal.at(here.z)
        free = layer.is_empty or layer.distance(line) >= radius * TOUCH + room
        return bool(free) and not any(
            one.top > here.z and one.area.distance(line) < radius for one in self.room.obstacles
        )

    def _stands_free(self, spot: Spot, z: float, radius: float) -> bool:
        layer = self.metal.at(z)
        return bool(layer.is_empty or layer.distance(Point(spot)) >= radius * TOUCH)

    # -- cutting -----------------------------------------------------------------------------

    def _cut(self, move: Move) -> None:
        """A cut; one that might run into the finished part stops short of its end."""
        axis, end = move.axis, at(move, move.axis)
        play = self.room.dials[axis].backlash
        sense = self._sense(move)
        if sense == self.approach[axis] or not self._meets_part(move, end + sense * play):
            self._write(move, axis, end)
            return
        here = self.rows[-1]
        short = self.room.grid.away(end - sense * play, -sense)
        if (short - at(here, axis)) * sense > 0:
            to = (short, here.y) if axis == "X" else (here.x, short)
            contact = self.metal.contact(
                (here.x, here.y), to, here.z, self._radius(move), self.plan.job.metal_on_left
            )
            both = self.room.grid.near(contact.both_ways)
            self._write(replace(move, both_ways=min(both, move.both_ways)), axis, short)
        elif move.row in self.passes and self.passes[move.row].steps is None:
            del self.passes[move.row]  # as short as the play: coming down again takes all of it
        self._from_above(axis, end, move)

    def _meets_part(self, move: Move, end: float) -> bool:
        """Whether the cutter enters the finished part if it runs on to ``end``."""
        line = way(move, move.axis, end)
        part = self.room.part_at(move.z)
        return bool(part.distance(line) < self._radius(move) * TOUCH)
