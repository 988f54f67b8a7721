"""A pixel replay of a written moves table: what the printed rows really do to the block.

The stock is a grid of sample points, each carrying the height of the metal there. The cutter is a
disc of its measured diameter. A straight row hits a sample when the disc's leading edge gets to
it; sorting the hits of a row by that moment and by the side of the line of feed they lie on gives
its direction, its both-ways length and its width of cut. Reach is a morphological opening with
the disc, by two distance transforms. Only the job file, the shop file and the moves table are read.

Samples are points, so a row that keeps to the finished walls can never take one out of the part,
however coarse the grid; the grid's pitch only limits how thin a rest of metal is seen.
"""

from dataclasses import replace
from math import ceil, hypot, inf
from pathlib import Path

import numpy as np

from .block import HAIR, Block, can_sweep, gouged, reach_of_all, stock_left
from .measures import Cut, Measures, Row, read_rows
from .printed import Clamp, Grid, Mask, PrintedJob, Tool, read

MOST_ASKED = 400
CENTER_BAND = 0.01  # of D: metal this near the line of feed counts for neither side


class Replay:
    """Runs rows over a block and fills in the measures."""

    def __init__(self, job: PrintedJob, rows: list[Row]) -> None:
        self.job, self.rows, self.block = job, rows, Block(job)
        self.found = Measures(self.block.cell)
        self.at = (0.0, 0.0, inf)
        self.since_cut = inf  # travelled since the last cut row ended
        self.last_line: tuple[str, float, float] | None = None
        self.roughed: dict[str, Tool] = {}

    def run(self) -> Measures:
        """Replay every row, then look at what is left."""
        cutter, finishing = "", False
        for row in self.rows:
            tool = self.job.tools[row.cutter]
            if row.cutter != cutter:
                cutter, finishing = row.cutter, False
                self.at = (row.x, row.y, row.z) if self.at[2] == inf else self.at
            if row.stage == "finish" and not finishing:
                finishing = True
                self._measure_stock_left()
            if row.stage == "rough" and row.move in ("cut", "plunge"):
                self.roughed[row.feature] = tool
            self._step(row, tool)
        self._final_look()
        return self.found

    def _step(self, row: Row, tool: Tool) -> None:
        start, end = self.at, (row.x, row.y, row.z)
        moved = [name for name, a, b in zip("XYZ", start, end, strict=True) if abs(b - a) > HAIR]
        stated = not row.axis and row.move == "position"
        if moved != ([row.axis] if row.axis else []) and not (stated and set(moved) <= {"Z"}):
            self.found.slanted.append(row.number)
        if stated and row.z < self.job.raw_top + self.job.cross_over - HAIR:
            self.found.low_starts.append(row.number)
        self._check_clamps(row, tool, start, end)
        hit = self._sweep(row, tool, start, end)
        if row.move == "cut":
            self.since_cut = 0.0
            fixed = start[1] if row.axis == "X" else start[0]
            self.last_line = (row.axis, fixed, row.z)
        else:
            if hit and row.move != "plunge":
                self.found.touched.append(row.number)
            if row.move == "return":
                self._check_rub(row, tool, start, end)
            self.since_cut += hypot(end[0] - start[0], end[1] - start[1])
        self.at = end

    def _sweep(
        self, row: Row, tool: Tool, start: tuple[float, ...], end: tuple[float, ...]
    ) -> bool:
        """Take the metal out that the disc meets; whether it met any."""
        low_z, radius = min(start[2], end[2]), tool.radius - HAIR
        self._check_gouge(row, radius, start, end, low_z)
        if row.move == "plunge":
            return self._plunge(row, tool, end)
        window = self.block.window(
            (min(start[0], end[0]) - radius, max(start[0], end[0]) + radius),
            (min(start[1], end[1]) - radius, max(start[1], end[1]) + radius),
        )
        x, y = self.block.x[window[1]][None, :], self.block.y[window[0]][:, None]
        sign = 1.0 if end[0] + end[1] > start[0] + start[1] else -1.0
        along, side = sign * (x - start[0]), sign * (y - start[1])
        if row.axis == "Y":
            along, side = sign * (y - start[1]), -sign * (x - start[0])
        length = abs(end[0] - start[0]) + abs(end[1] - start[1])
        half = np.sqrt(np.maximum(radius**2 - side**2, 0.0))
        height = self.block.height[window]
        swept = (np.abs(side) < radius) & (along >= -half) & (along <= length + half)
        hit = swept & (height > low_z + HAIR)
        if row.move == "cut":
            moment = np.broadcast_to(along - half, hit.shape)[hit]
            sideways = np.broadcast_to(side, hit.shape)[hit]
            depth = float(height[hit].max(initial=low_z) - low_z)
            self._note_cut(row, tool, length, moment, sideways)
            self.found.cuts[-1] = replace(self.found.cuts[-1], depth=depth)
        height[hit] = low_z
        return bool(hit.any())

    def _note_cut(self, row: Row, tool: Tool, length: float, moment: Grid, side: Grid) -> None:
        """Sort the samples hit by the moment the leading edge gets there, and by their side."""
        pitch, across = self.block.pitch_x, self.block.pitch_y
        if row.axis == "Y":
            pitch, across = across, pitch
        count = max(1, ceil(length / pitch - 1e-9))
        step = np.full(count, pitch)
        step[-1] = length - (count - 1) * pitch
        when = np.clip((moment / pitch + 1e-7).astype(int), 0, count - 1)
        band = CENTER_BAND * 2 * tool.radius

        def met(least: float) -> tuple[Mask, Mask]:
            """Steps with metal on the wanted and on the other side, farther out than that."""
            left = np.bincount(when[side > least], minlength=count) > 0
            right = np.bincount(when[side < -least], minlength=count) > 0
            return (left, right) if self.job.metal_on_left else (right, left)

        wanted, other = met(band)
        # a strip of metal that ends within a cell of the band may or may not hold a sample
        loose, strict = met(max(band - across, 0.0)), met(band + across)
        low, high = np.full(count, inf), np.full(count, -inf)
        np.minimum.at(low, when, side)
        np.maximum.at(high, when, side)
        both = wanted & other
        bite = ceil(tool.radius / pitch)
        ends = np.flatnonzero(wanted | other)[-1:]
        corner = np.convolve(loose[0] & loose[1], np.ones(2 * bite + 1))[bite : bite + count] > 0
        corner[int(ends[0]) - bite if ends.size and ends[0] > bite else 0 :] = True
        widths = (high - low + across)[(wanted ^ other) & ~corner]
        self.found.cuts.append(
            Cut(
                row,
                length,
                wanted=float(step[wanted & ~other].sum()),
                wrong=float(step[strict[1] & ~loose[0]].sum()),
                both=float(step[both].sum()),
                both_range=tuple(float(step[a & b].sum()) for a, b in (strict, loose)),
                runs=int(np.count_nonzero(np.diff(both.astype(int), append=0) < 0)),
                width=float(widths.max(initial=0.0)),
                radius=tool.radius,
            )
        )

    def _plunge(self, row: Row, tool: Tool, end: tuple[float, ...]) -> bool:
        drill = float(row.line.get("drill_diameter") or 0) / 2
        reach = max(tool.radius, drill)
        window = self.block.window(
            (end[0] - reach, end[0] + reach), (end[1] - reach, end[1] + reach)
        )
        x, y = self.block.x[window[1]][None, :], self.block.y[window[0]][:, None]
        distance = np.hypot(x - end[0], y - end[1])
        height = self.block.height[window]
        if drill:
            self._check_gouge(row, drill - HAIR, end, end, end[2])
            drilled = (distance < drill - HAIR) & (height > end[2])
            height[drilled] = end[2]
        hit = (distance < tool.radius - HAIR) & (height > end[2] + HAIR)
        depth = float(height[hit].max() - end[2]) if hit.any() else 0.0
        self.found.plunges.append((row.number, 0.0 if drill else depth))
        height[hit] = end[2]
        return bool(hit.any())

    def _check_gouge(
        self,
        row: Row,
        radius: float,
        start: tuple[float, ...],
        end: tuple[float, ...],
        low_z: float,
    ) -> None:
        """Exact distance of the swept disc from every block of the finished part above it."""
        solids = self.block.solids
        solid = solids[solids[:, 4] > low_z + HAIR]
        dx = np.maximum(solid[:, 0] - max(start[0], end[0]), min(start[0], end[0]) - solid[:, 1])
        dy = np.maximum(solid[:, 2] - max(start[1], end[1]), min(start[1], end[1]) - solid[:, 3])
        side = radius - np.hypot(np.maximum(dx, 0), np.maximum(dy, 0))
        worst = float(np.minimum(side, solid[:, 4] - low_z).max(initial=0.0))
        if worst > HAIR:
            self.found.gouge_rows.append(row.number)
            self.found.gouge = max(self.found.gouge, worst)

    def _check_clamps(
        self, row: Row, tool: Tool, start: tuple[float, ...], end: tuple[float, ...]
    ) -> None:
        for clamp in self.job.clamps:
            if clamp.top <= min(start[2], end[2]) + HAIR:
                continue
            if _distance_to(clamp, start, end) < tool.radius - HAIR:
                self.found.clamped.append(row.number)

    def _check_rub(
        self, row: Row, tool: Tool, start: tuple[float, ...], end: tuple[float, ...]
    ) -> None:
        """Least distance from metal on the way back, once the cutter has backed off.

        The first ``stand_off`` of travel after a cut may still be close: in a corner there is no
        other way out. A finish pass may come back along its own line.
        """
        if row.axis == "Z":
            return
        fixed = start[1] if row.axis == "X" else start[0]
        if row.stage == "finish" and self.last_line == (row.axis, fixed, row.z):
            return
        length = abs(end[0] - start[0]) + abs(end[1] - start[1])
        skip = max(0.0, self.job.stand_off + 2 * self.job.resolution - self.since_cut)
        if length <= skip + HAIR:
            return
        begin = tuple(a + (b - a) * skip / length for a, b in zip(start, end, strict=True))
        least = self.job.length(0.010, 0.25)
        reach = tool.radius + least
        window = self.block.window(
            (min(begin[0], end[0]) - reach, max(begin[0], end[0]) + reach),
            (min(begin[1], end[1]) - reach, max(begin[1], end[1]) + reach),
        )
        x, y = self.block.x[window[1]][None, :], self.block.y[window[0]][:, None]
        dx = np.maximum(min(begin[0], end[0]) - x, x - max(begin[0], end[0]))
        dy = np.maximum(min(begin[1], end[1]) - y, y - max(begin[1], end[1]))
        distance = np.hypot(np.maximum(dx, 0), np.maximum(dy, 0))
        height = self.block.height[window]
        metal = height > row.z + HAIR
        gap = distance[metal] - self._wide(tool, height[metal] - row.z)
        clearance = float(gap.min(initial=inf))
        if clearance < least - HAIR:
            self.found.rubs.append((row.number, clearance))

    def _wide(self, tool: Tool, above: Grid) -> Grid:
        """Radius of the cutter at heights above its tip."""
        return np.full(above.shape, tool.radius)

    def _measure_stock_left(self) -> None:
        for cavity in self.job.cavities:
            if cavity.name in self.roughed and cavity.name not in self.found.stock_left:
                left = stock_left(self.block, cavity, self.roughed[cavity.name].radius)
                if left:
                    self.found.stock_left[cavity.name] = left

    def _final_look(self) -> None:
        block, found = self.block, self.found
        used = {row.cutter for row in self.rows}
        # heights are whole steps of the readout, at or above the floor's own
        floor = self.job.stock_on(0.0)[1] + self.job.resolution
        rest = block.height > block.target + floor + HAIR
        rest &= reach_of_all(block, used, finished=False, margin=1.5)
        spots = np.argwhere(rest)
        # near the end of a corner's arc the grid cannot tell: ask the formula there
        for row, column in spots[:: len(spots) // MOST_ASKED + 1]:
            spot = (float(block.x[column]), float(block.y[row]))
            if any(can_sweep(block, spot, *size) for size in self._sizes(row, column)):
                found.left += 1
                found.left_at = found.left_at or spot
                over = float(block.height[row, column] - block.target[row, column])
                found.left_height = max(found.left_height, over)
        unreached = (block.target < self.job.raw_top - HAIR) & ~reach_of_all(block, used)
        found.unreached = float(unreached.sum() * block.pitch_x * block.pitch_y)
        found.gouged = gouged(block)

    def _sizes(self, row: int, column: int) -> list[tuple[float, float]]:
        """Radius of each cutter meant for a sample, and the wall stock that is to stay there."""
        job, level = self.job, self.block.target[row, column]
        names = {
            name
            for cavity in job.cavities
            if abs(cavity.floor - level) < HAIR
            for name in job.cutters_of(cavity) or {row.cutter for row in self.rows}
        }
        radii = [job.tools[name].radius for name in names]
        return [(radius, job.stock_on(max(radii))[0]) for radius in radii]


def _distance_to(clamp: Clamp, start: tuple[float, ...], end: tuple[float, ...]) -> float:
    """Distance of a straight axis-parallel path from a clamp's rectangle."""
    xs, ys = [x for x, _ in clamp.outline], [y for _, y in clamp.outline]
    if len(clamp.outline) != 4:
        raise ValueError("clamps of these tests are rectangles")
    dx = max(min(xs) - max(start[0], end[0]), min(start[0], end[0]) - max(xs), 0.0)
    dy = max(min(ys) - max(start[1], end[1]), min(start[1], end[1]) - max(ys), 0.0)
    return hypot(dx, dy)


def replay(job: PrintedJob, rows: list[Row]) -> Measures:
    """Replay a moves table over the stock of a job."""
    return Replay(job, rows).run()


def replay_files(job_file: Path, moves: Path) -> Measures:
    """Replay the moves table written for a job file."""
    return replay(read(job_file), read_rows(moves))
