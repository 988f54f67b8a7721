"""Patterns of holes: only positions, above the work, every hole reached and none twice.

A hole is reached where a row ends within half a step of the readout of it, along X and along Y.
"""

from collections.abc import Iterator, Sequence

import numpy as np

from passplot.proof.case import Case
from passplot.proof.rows import Row
from passplot.records.job import Feature
from passplot.records.plan import HOLES, POSITION, RETRACT
from passplot.records.proof import Finding

HOLE, HOLE_ROW = "hole", "hole row"


def holes(case: Case, rows: Sequence[Row]) -> list[Finding]:
    """Everything wrong with the rows of stage ``holes`` and with the patterns of the job."""
    kinds = {feature.name: feature.kind for feature in case.job.features}
    found: list[Finding] = []
    for row in rows:
        found += _row(case, row, kinds[row.feature])
    for feature in case.job.features:
        if feature.kind == HOLES:
            mine = [row for row in rows if row.feature == feature.name and row.stage == HOLES]
            found += _pattern(case, feature, mine)
    return found


def _row(case: Case, row: Row, kind: str) -> Iterator[Finding]:
    if (row.stage == HOLES) != (kind == HOLES):
        yield Finding(
            HOLE_ROW, row.index, f"a row of stage {row.stage} for {row.feature!r}, a {kind}"
        )
    elif row.stage == HOLES and row.move not in (POSITION, RETRACT):
        yield Finding(HOLE_ROW, row.index, f"a {row.move} row among positions of holes")
    elif row.stage == HOLES and row.end[2] < case.cross_over - case.gauge.hair:
        yield Finding(
            HOLE_ROW,
            row.index,
            f"a position of a hole at Z {row.end[2]:g}, below the cross-over Z {case.cross_over:g}",
        )


def _pattern(case: Case, feature: Feature, rows: Sequence[Row]) -> Iterator[Finding]:
    if feature.pattern is None:
        return
    ends = np.array([row.end[:2] for row in rows]).reshape(-1, 2)
    half = case.gauge.resolution / 2 + case.gauge.hair
    stops = np.array([row.moved != "Z" for row in rows], dtype=bool)
    for number, point in enumerate(feature.pattern.points, start=1):
        at = (np.abs(ends - (point.x, point.y)) <= half).all(axis=1) & stops
        reached = np.flatnonzero(at)
        where = f"hole {number} of {feature.name!r} at X {point.x:.4f} Y {point.y:.4f}"
        if not len(reached):
            yield Finding(HOLE, 0, f"{where} is not reached")
        elif len(reached) > 1:
            yield Finding(HOLE, rows[reached[1]].index, f"{where} is reached twice")
