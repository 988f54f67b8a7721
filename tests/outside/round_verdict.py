"""What a plan for round and slanted walls must be, beyond what holds for straight ones."""

from collections import defaultdict
from dataclasses import dataclass
from math import ceil, pi, sqrt
from pathlib import Path

import numpy as np

from .block import HAIR
from .measures import Row, read_rows
from .printed import Tool
from .round_job import RoundJob, read
from .round_pixels import RoundMeasures, replay
from .round_walls import grounds
from .verdict import (
    both_ways_faults,
    direction_faults,
    engagement_faults,
    form_faults,
    limit_faults,
    thin_faults,
)

FINE = 1e-8  # numbers of a job file are written to nine decimals


@dataclass(frozen=True, slots=True)
class Stepped:
    """A stepped wall of the table: its rows, and every place the axis stops at, with rows' ends.

    ``clear`` is how far the cutter's edge stands from the finished part at each stop;
    ``turning`` says whether what is nearest there is the end of an edge, as on the way round a
    sharp outside corner.
    """

    number: str
    rows: tuple[Row, ...]
    stops: tuple[tuple[float, float], ...]
    clear: tuple[float, ...]
    turning: tuple[bool, ...]

    @property
    def settings(self) -> list[int]:
        """Stops that are no corners on the free side: not farther out than both neighbours."""
        clear = self.clear
        return [
            k
            for k in range(len(clear))
            if not (0 < k < len(clear) - 1 and clear[k] > max(clear[k - 1], clear[k + 1]) + FINE)
        ]

    def at_size(self, step: float) -> bool:
        """Whether it brings a wall to size: some setting stands on the offset."""
        return min(self.clear) < step


def stepped_walls(job: RoundJob, rows: list[Row]) -> list[Stepped]:
    """Passes that cut along X and along Y under one number."""
    members: dict[str, list[int]] = defaultdict(list)
    for k, row in enumerate(rows):
        if row.move == "cut" and row.line.get("pass"):
            members[row.line["pass"]].append(k)
    found, levels = [], grounds(job)
    for number, places in members.items():
        if {rows[k].axis for k in places} != {"X", "Y"}:
            continue
        spots = [(rows[k].x, rows[k].y) for k in (places[0] - 1, *places)]
        first = rows[places[0]]
        tool = job.tools[first.cutter]
        ground = next((g for g in levels if g.level > first.z + HAIR), levels[-1])
        x, y = (np.array([spot[axis] for spot in spots]) for axis in (0, 1))
        clear = ground.clearance(x, y) - tool.radius
        ends = np.array([spot for wall in ground.walls for spot in (wall.start, wall.end)]).T
        to_end = np.hypot(x[:, None] - ends[0], y[:, None] - ends[1]).min(axis=1)
        off_stock = np.maximum(
            np.maximum(job.x[0] - x, x - job.x[1]), np.maximum(job.y[0] - y, y - job.y[1])
        )
        on = off_stock < tool.radius
        found.append(
            Stepped(
                number,
                tuple(rows[k] for k in places),
                tuple(spot for spot, keep in zip(spots, on, strict=True) if keep),
                tuple(float(c) for c in clear[on]),
                tuple(bool(t) for t in (to_end < clear + tool.radius + FINE)[on]),
            )
        )
    return [wall for wall in found if wall.clear]


def offset_faults(job: RoundJob, walls: list[Stepped]) -> list[str]:
    """Settings of a wall brought to size that are not on the offset, to the readout's step."""
    report = []
    for wall in walls:
        if not wall.at_size(job.resolution):
            continue
        good = [k for k in wall.settings if wall.clear[k] <= job.resolution + FINE]
        if not good:
            continue
        for k in wall.settings:
            place = f"pass {wall.number}, X{wall.stops[k][0]:.4f} Y{wall.stops[k][1]:.4f}"
            if wall.clear[k] < -FINE:
                report.append(f"{place}: {-wall.clear[k]:.6f} inside the wall's offset")
            elif good[0] < k < good[-1] and k not in good and not wall.turning[k]:
                report.append(f"{place}: {wall.clear[k]:.6f} off the wall, more than a step")
    return report


def scallop_faults(job: RoundJob, found: RoundMeasures) -> list[str]:
    """A scallop higher than the file allows."""
    if found.scallop > max(job.cusp, 1.5 * job.resolution) + HAIR:
        return [f"scallop {found.scallop:.5f} at {found.scallop_at}, allowed {job.cusp:.5f}"]
    return []


def most_points(job: RoundJob, wall_radius: float, tool: Tool, convex: bool) -> int:
    """Most settings a whole circle may take: ceil(2 pi / delta) + 4, delta from the job's cusp."""
    path = wall_radius + tool.radius if convex else wall_radius - tool.radius
    delta = sqrt(8 * job.cusp * tool.radius / (path * wall_radius))
    return ceil(2 * pi / delta) + 4


def round_faults(job: RoundJob, rows: list[Row], found: RoundMeasures) -> list[str]:
    """Everything a replay holds against a plan with round walls; empty for a good plan."""
    walls = stepped_walls(job, rows)
    report = offset_faults(job, walls) + scallop_faults(job, found)
    if found.gouged or found.gouge > job.resolution / 2 + 1e-6:
        report.append(f"gouge {found.gouge:.5f}, rows {found.gouge_rows[:5]}")
    if found.left:
        report.append(f"{found.left} samples left at {found.left_at}, {found.left_height:.4f} high")
    for name in ("touched", "clamped", "slanted", "low_starts", "turned"):
        if numbers := getattr(found, name):
            report.append(f"{name}: rows {numbers[:8]}")
    if found.rubs:
        report.append(f"return rows rub: {[(r, round(c, 4)) for r, c in found.rubs[:8]]}")
    report += direction_faults(found) + both_ways_faults(found) + thin_faults(job, found)
    # a stepped wall is one cut: its width is not that of any one of its rows
    stepped = {row.number for wall in walls for row in wall.rows}
    cuts, found.cuts = found.cuts, [c for c in found.cuts if c.row.number not in stepped]
    report += engagement_faults(job, found) + limit_faults(job, found)
    found.cuts = cuts
    return report


def judge(job_file: Path, moves: Path) -> list[str]:
    """Complaints about a written moves table, from the job file and the table alone."""
    job, rows = read(job_file), read_rows(moves)
    return form_faults(job, [row.line for row in rows]) + round_faults(job, rows, replay(job, rows))
