"""The pixel replay for walls of any form: as the straight one, with the true walls by formula.

What rows do to the block is sampled as before; how near they come to the finished part, how far
metal left standing is from the true wall, and whether a cutter could have taken it, is worked out
from the outlines of the job file.
"""

from dataclasses import dataclass, field, replace
from math import inf, pi
from pathlib import Path

import numpy as np

from .block import HAIR, gouged, reach_of_all
from .measures import Measures, Row, read_rows
from .pixels import Replay
from .printed import Grid, Tool
from .round_job import RoundJob, read
from .round_walls import Ground, Place, grounds
from .turning import PLACES, Table, swept

MOST_LOOKED_AT, MOST_PUSHED = 150, 24


@dataclass(slots=True)
class RoundMeasures(Measures):
    """What a replay measures, and the scallop.

    ``scallop`` is how far from the true wall metal stays that a cutter of the job could take,
    ``scallop_at`` where. ``turned`` are rows of a rotary table that do not lead where they say.
    """

    scallop: float = 0.0
    scallop_at: tuple[float, float] | None = None
    turned: list[int] = field(default_factory=list)


def end_height(radius: float, corner: float, away: Grid) -> Grid:
    """Height of the cutter's end above its tip at a distance from the axis; infinite outside.

    A corner radius c leaves c - sqrt(c^2 - (d - (r - c))^2) beyond the flat r - c.
    """
    beyond = np.maximum(away - (radius - corner), 0.0)
    rise = corner - np.sqrt(np.maximum(corner**2 - beyond**2, 0.0)) if corner else 0.0 * away
    return np.where(away < radius, rise, inf)


class RoundReplay(Replay):
    """Replays rows over a block with round walls."""

    job: RoundJob
    found: RoundMeasures

    def __init__(self, job: RoundJob, rows: list[Row], with_reach: bool = False) -> None:
        super().__init__(job, rows)
        self.with_reach = with_reach
        self.found = RoundMeasures(self.block.cell)
        self.grounds = grounds(job)
        self.table = Table(job)

    def _step(self, row: Row, tool: Tool) -> None:
        if row.axis == "C":
            self._turn(row, tool)
            return
        if row.axis in {"X", "Y"} and not self.table.square:
            self.found.turned.append(row.number)
        row = self.table.exact(row)
        if row.stage != "holes" or row.move != "plunge":
            super()._step(row, tool)
            return
        # a hole is no part of the block's walls: only that the drill goes straight down counts
        if (row.x, row.y) != self.at[:2]:
            self.found.slanted.append(row.number)
        self.at = (row.x, row.y, row.z)

    def _turn(self, row: Row, tool: Tool) -> None:
        """A row of axis C."""
        swing = self.table.turn(row, self.at[:2])
        if swing is None or abs(row.z - self.at[2]) > HAIR:
            self.found.turned.append(row.number)
            self.at = (row.x, row.y, row.z)
            return
        x, y = swing.places(PLACES)
        self._gouged_along(row, tool, x, y)
        reach = tool.radius
        window = self.block.window(
            (x.min() - reach, x.max() + reach), (y.min() - reach, y.max() + reach)
        )
        height = self.block.height[window]
        across, along = self.block.x[window[1]][None, :], self.block.y[window[0]][:, None]
        found = swept(across, along, height, swing, tool, row.z, self.block.cell)
        if row.move == "cut":
            self._note_cut(row, tool, swing.length, found[0], found[1])
            self.found.cuts[-1] = replace(self.found.cuts[-1], depth=found[2])
            self.since_cut, self.last_line = 0.0, None
        elif len(found[0]):
            self.found.touched.append(row.number)
        self.at = (*swing.at(1.0), row.z) if not self.table.square else (row.x, row.y, row.z)

    def _gouged_along(self, row: Row, tool: Tool, x: Grid, y: Grid) -> None:
        """As ``_check_gouge``, at places along an arc; clamps too."""
        for ground in self.grounds:
            depth = ground.level - row.z
            if depth > HAIR:
                worst = min(tool.radius - HAIR - float(ground.clearance(x, y).min()), depth)
                if worst > HAIR:
                    self.found.gouge_rows.append(row.number)
                    self.found.gouge = max(self.found.gouge, worst)
        for spot in zip(x[::20].tolist(), y[::20].tolist(), strict=True):
            self._check_clamps(row, tool, (*spot, row.z), (*spot, row.z))

    def _sweep(self, row: Row, tool: Tool, start: Place, end: Place) -> bool:
        corner = self.job.corner(row.cutter)
        if not corner:
            return super()._sweep(row, tool, start, end)
        radius = tool.radius
        window = self.block.window(
            (min(start[0], end[0]) - radius, max(start[0], end[0]) + radius),
            (min(start[1], end[1]) - radius, max(start[1], end[1]) + radius),
        )
        x, y = self.block.x[window[1]][None, :], self.block.y[window[0]][:, None]
        dx = np.maximum(min(start[0], end[0]) - x, x - max(start[0], end[0]))
        dy = np.maximum(min(start[1], end[1]) - y, y - max(start[1], end[1]))
        away = np.hypot(np.maximum(dx, 0), np.maximum(dy, 0))
        low_z = min(start[2], end[2])
        lower_end = low_z + end_height(radius, corner, away)
        before = self.block.height[window].copy()
        # what stands no higher than the round end is not met, though the disc passes over it
        met = before > lower_end + HAIR
        told = met if row.move == "plunge" else met & (before > low_z + corner + HAIR)
        for some in (met, told):
            self.block.height[window] = np.where(some, before, low_z)
            super()._sweep(row, tool, start, end)
        self.block.height[window] = np.minimum(before, lower_end)
        deep = float((before - lower_end)[met].max(initial=0.0))
        self._one_of_both(row, deep, shallow=5 * told.sum() < met.sum())
        return bool(met.any())

    def _one_of_both(self, row: Row, deep: float, *, shallow: bool) -> None:
        """One note of all metal met and of what reaches up to the full diameter.

        The latter tells sides and widths: the floor pass of a ball meets the scallop of the pass
        before on one side, the stock on the other. Depths are how much is taken off at a place.
        """
        if row.move == "plunge":
            number, depth = self.found.plunges.pop()
            self.found.plunges[-1] = number, min(depth, deep)
        elif row.move == "cut":
            told = self.found.cuts.pop()
            low, high = zip(self.found.cuts[-1].both_range, told.both_range, strict=True)
            if shallow:  # the disc has sides where its round end meets nothing yet
                high = (told.length,)
            self.found.cuts[-1] = replace(
                told,
                depth=deep,
                wrong=min(told.wrong, self.found.cuts[-1].wrong),
                both_range=(min(low), max(high)),
            )

    def _wide(self, tool: Tool, above: Grid) -> Grid:
        corner = self.job.corner(tool.id)
        under = np.clip(corner - above, 0.0, corner)
        return tool.radius - corner + np.sqrt(corner**2 - under**2)

    def run(self) -> RoundMeasures:
        """Replay every row, then look at what is left."""
        super().run()
        return self.found

    def _check_gouge(self, row: Row, radius: float, start: Place, end: Place, low_z: float) -> None:
        """How deep the cutter goes into the finished part: the lesser of sideways and down."""
        corner, worst = self.job.corner(row.cutter), 0.0
        for ground in self.grounds:
            depth = ground.level - low_z
            if depth <= HAIR:
                continue
            wide = radius
            if corner and depth < corner:
                wide = radius - corner + (corner**2 - (corner - depth) ** 2) ** 0.5
            worst = max(worst, min(wide - ground.path_clearance(start, end, wide), depth))
        if worst > HAIR:
            self.found.gouge_rows.append(row.number)
            self.found.gouge = max(self.found.gouge, worst)

    def _measure_stock_left(self) -> None:
        """Not told of round walls: distance transforms of every level for a number not judged."""

    def _final_look(self) -> None:
        block, found, job = self.block, self.found, self.job
        used = {row.cutter for row in self.rows}
        floor = job.stock_on(0.0)[1] + job.resolution
        if any(job.corner(name) for name in used):
            floor += job.cusp
        spots = np.argwhere(block.height > block.target + floor + HAIR)
        for level in np.unique(block.target):
            here = spots[np.abs(block.target[tuple(spots.T)] - level) < HAIR]
            if len(here):
                self._look_at(float(level), here, used)
        if self.with_reach:
            unreached = (block.target < job.raw_top - HAIR) & ~reach_of_all(block, used)
            found.unreached = float(unreached.sum() * block.pitch_x * block.pitch_y)
        found.gouged = gouged(block)

    def _look_at(self, level: float, spots: Grid, used: set[str]) -> None:
        """Samples of one floor that stand too high: how far from the wall, and excused or not."""
        ground = next((g for g in self.grounds if g.level > level + HAIR), None)
        names = {
            name
            for cavity in self.job.cavities
            if abs(cavity.floor - level) < HAIR
            for name in self.job.cutters_of(cavity) or used
        }
        tools = [self.job.tools[name] for name in names]
        stays = self.job.stock_on(max(tool.radius for tool in tools))[0]
        x, y = self.block.x[spots[:, 1]], self.block.y[spots[:, 0]]
        away = ground.clearance(x, y) - stays if ground else np.full(len(x), inf)
        order = np.argsort(-away)
        order = order[:: len(order) // MOST_LOOKED_AT + 1]
        allowed = max(self.job.cusp, 1.5 * self.job.resolution) + HAIR
        for k in order:
            spot = (float(x[k]), float(y[k]))
            if not any(self._could_take(ground, spot, t, stays) for t in tools):
                continue
            if away[k] > self.found.scallop and away[k] < min(t.radius for t in tools):
                self.found.scallop, self.found.scallop_at = float(away[k]), spot
            if away[k] > allowed:
                self.found.left += 1
                self.found.left_at = self.found.left_at or spot
                over = self.block.height[spots[k, 0], spots[k, 1]] - level
                self.found.left_height = max(self.found.left_height, float(over))
            elif self.found.scallop >= away[k]:
                break  # the rest lies nearer to the wall still

    def _could_take(
        self, ground: Ground | None, spot: tuple[float, float], tool: Tool, stays: float
    ) -> bool:
        """Whether a position exists at which the cutter takes a sample and nothing else's wall.

        Positions are tried in 96 directions, then pushed off the walls: in a slot of the cutter's
        own width only one line will do. Rounding positions may cost two and a half steps.
        """
        if ground is None:
            return True
        corner = self.job.corner(tool.id)
        if corner and self._at_corner(ground, spot, corner):
            return False
        reach = tool.radius - corner if corner else tool.radius - 2.5 * self.job.resolution
        angle = np.arange(96)[None, :] * pi / 48
        share = reach * np.array([1.0, 0.97, 0.85, 0.6, 0.3, 0.0])[:, None]
        x, y = (share * np.cos(angle)).ravel(), (share * np.sin(angle)).ravel()
        away = tool.radius + stays
        for _ in range(4):
            clear = ground.clearance(spot[0] + x, spot[1] + y)
            if ((clear >= away - HAIR) & (np.hypot(x, y) <= reach + HAIR)).any():
                return self._clear_of_clamps(spot)
            best = np.argsort(-clear)[:MOST_PUSHED]
            if clear[best[0]] < 0.8 * away:
                break
            x, y = x[best], y[best]
            x, y = _pushed(ground, spot, (x, y), away)
        return False

    def _at_corner(self, ground: Ground, spot: tuple[float, float], radius: float) -> bool:
        """Whether a sample lies where the fillets of two walls meet outside their corner.

        Rows along both walls leave them as far as sqrt(2) of their radius from the corner.
        """
        ends = np.array([end for wall in ground.walls for end in (wall.start, wall.end)])
        to_end = float(np.hypot(*(ends - spot).T).min())
        nearest = float(ground.clearance(np.array(spot[0]), np.array(spot[1])))
        return to_end <= nearest + HAIR and to_end < 2**0.5 * radius

    def _clear_of_clamps(self, spot: tuple[float, float]) -> bool:
        widest = max(tool.radius for tool in self.job.tools.values())
        for clamp in self.job.clamps:
            xs, ys = [x for x, _ in clamp.outline], [y for _, y in clamp.outline]
            dx = max(min(xs) - spot[0], spot[0] - max(xs), 0.0)
            dy = max(min(ys) - spot[1], spot[1] - max(ys), 0.0)
            if (dx**2 + dy**2) ** 0.5 < 2 * widest:
                return False  # no judgement beside a strap
        return True


def _pushed(
    ground: Ground, spot: tuple[float, float], offsets: tuple[Grid, Grid], away: float
) -> tuple[Grid, Grid]:
    """Positions moved straight away from the nearest wall until they clear it."""
    x, y = spot[0] + offsets[0], spot[1] + offsets[1]
    hair = 1e-7
    # all five places of the difference quotients in one go
    aside = hair * np.array([[0, 0], [1, 0], [-1, 0], [0, 1], [0, -1]], dtype=float)[:, :, None]
    near, right, left, back, front = ground.clearance(x + aside[:, 0], y + aside[:, 1])
    across, along = right - left, back - front
    push = np.maximum(away - near, 0.0) / np.maximum(np.hypot(across, along), hair)
    return offsets[0] + push * across, offsets[1] + push * along


def replay(job: RoundJob, rows: list[Row], with_reach: bool = False) -> RoundMeasures:
    """Replay a moves table over the stock of a job; the area out of reach only if asked for."""
    return RoundReplay(job, rows, with_reach).run()


def replay_files(job_file: Path, moves: Path) -> RoundMeasures:
    """Replay the moves table written for a job file."""
    return replay(read(job_file), read_rows(moves))
