"""Formula checks of every row against the finished part, the stock to be left and keep-outs."""

from collections.abc import Sequence

import numpy as np

from passplot.proof.case import Block, Case
from passplot.proof.corners import corner_room
from passplot.proof.curves import Curves
from passplot.proof.gauge import Floats, Mask
from passplot.proof.part import Part
from passplot.proof.rows import Row
from passplot.proof.ways import distances, in_loop, within
from passplot.records.plan import ROUGH
from passplot.records.proof import Finding

GOUGE, WALL_ENTERED, FLOOR_ENTERED = "gouge", "wall stock entered", "floor stock entered"
KEEP_OUT = "keep-out"


def gouges(case: Case, rows: Sequence[Row]) -> tuple[float, list[Finding]]:
    """How far the cutter goes into the finished part, worst row and findings.

    Depth into the part is the lesser of the way sideways out of it and the way up out of it. A
    wall or floor with limits may be entered down to the limit.
    """
    say, worst = case.gauge.say, 0.0
    found: list[Finding] = []
    for row, sideways in _entered(case, case.limit, rows):
        up = _way_up(case, case.limit, row)
        worst = max(worst, min(sideways, up))
        where = (
            f"below the finished floor by {say(up)}"
            if up < sideways
            else (f"into the finished wall by {say(sideways)}")
        )
        found.append(
            Finding(
                GOUGE,
                row.index,
                f"the cutter goes {where} between X {row.start[0]:g} Y {row.start[1]:g} and "
                f"X {row.end[0]:g} Y {row.end[1]:g} at Z {row.tip:g}",
            )
        )
    return worst, found


def floor_stock_entered(case: Case, rows: Sequence[Row], but: set[int]) -> list[Finding]:
    """Rough rows whose tip goes into the floor stock; rows in ``but`` are found already."""
    rough = [row for row in rows if row.stage == ROUGH and row.index not in but]
    return [
        Finding(
            FLOOR_ENTERED,
            row.index,
            f"a rough row goes {case.gauge.say(min(sideways, _way_up(case, case.rough, row)))} "
            f"into the stock left on a floor, at Z {row.tip:g}",
        )
        for row, sideways in _entered(case, case.rough, rough)
    ]


def wall_stock_entered(case: Case, rows: Sequence[Row], but: set[int]) -> list[Finding]:
    """Rough rows that go nearer to a finished wall than the stock to be left on it.

    Stock is measured along the wall's normal: the cutter must stay outside the wall's line laid
    off by the stock.
    """
    found: list[Finding] = []
    for cutter in case.uses:
        rough = [
            row
            for row in rows
            if row.cutter == cutter and row.stage == ROUGH and row.cuts and row.index not in but
        ]
        found += _stock_entered(case, rough, case.on_pieces(case.wall_by(cutter)))
    return found


def _stock_entered(case: Case, rough: Sequence[Row], stock: Floats) -> list[Finding]:
    found: list[Finding] = []
    for tip, group in _by_tip(rough, case):
        which = case.part.walls(tip) & (stock > 0)
        if not which.any():
            continue
        off, kept = _laid_off(case.part, which, stock)
        if not len(off):
            continue
        into = (_radii(group, case)[:, None] - distances(off, group)).max(axis=1)
        for row, depth in zip(group, into, strict=True):
            if depth > case.gauge.hair:
                found.append(
                    Finding(
                        WALL_ENTERED,
                        row.index,
                        f"a rough row goes {case.gauge.say(float(depth))} into the "
                        f"{case.gauge.say(kept)} of stock left on a wall",
                    )
                )
    return found


def keep_outs_hit(case: Case, rows: Sequence[Row]) -> list[Finding]:
    """Rows that take the cutter into a keep-out."""
    return [
        Finding(
            KEEP_OUT,
            row.index,
            f"the cutter enters keep-out {block.keep_out.name!r}, whose top is at "
            f"Z {block.keep_out.top:g}, with its tip at Z {row.tip:g}",
        )
        for block in case.blocks
        for row in _hits(block, rows, case)
    ]


def _hits(block: Block, rows: Sequence[Row], case: Case) -> list[Row]:
    low = [row for row in rows if row.tip < block.keep_out.top - case.gauge.hair]
    if not low:
        return []
    hit = distances(block.outline, low).min(axis=1) < _radii(low, case) - case.gauge.hair
    hit |= in_loop(block.keep_out.loop, low)
    return [row for row, bad in zip(low, hit, strict=True) if bad]


def _radii(rows: Sequence[Row], case: Case) -> Floats:
    """The radius of what each row sweeps."""
    return np.array([_radius(row, case) for row in rows])


def _radius(row: Row, case: Case) -> float:
    """Of the cutter, or of the drill that went down first if that is larger."""
    return max(case.uses[row.cutter].cutter.radius, (row.drill or 0.0) / 2)


def _by_tip(rows: Sequence[Row], case: Case) -> list[tuple[float, list[Row]]]:
    """Rows below the raw top, grouped by tip."""
    groups: dict[float, list[Row]] = {}
    for row in rows:
        if row.tip < case.job.stock.raw_top - case.gauge.hair:
            groups.setdefault(row.tip, []).append(row)
    return sorted(groups.items())


def _entered(case: Case, part: Part, rows: Sequence[Row]) -> list[tuple[Row, float]]:
    """Rows that enter a part, with how far it is out of it sideways."""
    found: list[tuple[Row, float]] = []
    for tip, group in _by_tip(rows, case):
        depths = _sideways(case, part, group, tip)
        found += [
            (row, float(depth))
            for row, depth in zip(group, depths, strict=True)
            if depth > case.gauge.hair
        ]
    return sorted(found, key=lambda pair: pair[0].index)


def _sideways(case: Case, part: Part, rows: Sequence[Row], z: float) -> Floats:
    """How far rows reach into a part at depth ``z``: radius less distance to its boundary."""
    radius, which = _radii(rows, case), part.boundary(z)
    inside = within(part, rows, z)
    if not which.any():
        return np.where(inside, np.inf, -np.inf)
    off = distances(part.ground.pieces.curves.take(which), rows)
    depth = (radius[:, None] - off - corner_room(case, part, out=False)[which]).max(axis=1)
    deep: Floats = np.where(inside, radius + off.min(axis=1), depth)
    return deep


def _way_up(case: Case, part: Part, row: Row) -> float:
    """How far the tip must rise to be out of the part."""
    levels = sorted({*part.floors.tolist(), case.job.stock.top, case.job.stock.raw_top})
    for level in levels:
        if level > row.tip and _sideways(case, part, [row], level)[0] <= case.gauge.hair:
            return float(level - row.tip)
    return case.job.stock.raw_top - row.tip


def _laid_off(part: Part, which: Mask, stock: Floats) -> tuple[Curves, float]:
    """The chosen wall pieces laid off by their stock to the free side; the most stock kept."""
    pieces, free, keep = part.ground.pieces.curves, part.free, stock
    to_center = ((pieces.center - part.ground.pieces.middle) * free).sum(axis=1) > 0
    radius = pieces.radius + np.where(to_center, -keep, keep)
    grown = (pieces.turn != 0) & (radius > 0)
    scale = (radius / np.where(grown, pieces.radius, 1.0))[:, None]
    move = free * keep[:, None]
    start = np.where(grown[:, None], pieces.center + scale * (pieces.start - pieces.center), 0.0)
    end = np.where(grown[:, None], pieces.center + scale * (pieces.end - pieces.center), 0.0)
    flat = (pieces.turn == 0)[:, None]
    off = Curves(
        np.where(flat, pieces.start + move, start),
        np.where(flat, pieces.end + move, end),
        np.where(flat, pieces.start + move, pieces.center),
        np.where(grown, radius, 0.0),
        pieces.turn,
    )
    chosen = which & (grown | (pieces.turn == 0))
    return off.take(chosen), float(stock[which].max())
