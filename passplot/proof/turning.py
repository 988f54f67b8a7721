"""Rows of axis C: about which centre they turn, where they really take the cutter's axis.

A row of axis C turns a rotary table to the angle in its column ``c``. The cutter's axis goes round
the table's at the distance it was set to while the table stood at 0 (or whole turns), where the
cutter lies in +X of it. The centre is that of an arc of the row's feature; a row that fits none of
them is a finding.
"""

from collections.abc import Sequence
from dataclasses import replace
from math import cos, radians, sin

from passplot.frozen import dataclass
from passplot.proof.case import Case
from passplot.proof.rounds import Round
from passplot.proof.rows import Row
from passplot.records.job import Feature
from passplot.records.proof import Finding
from passplot.records.shapes import Arc, Point

ROTARY = "rotary table"
WHOLE = 360.0
PRINTED = 5e-5  # degrees: half the last place of an angle as printed


@dataclass(frozen=True, slots=True)
class _Table:
    """How the table stands: its angle, and the axis' distance from its centre where off 0."""

    angle: float = 0.0
    center: Point | None = None
    radius: float = 0.0

    @property
    def square(self) -> bool:
        """Whether it stands at 0 or whole turns."""
        rest = self.angle % WHOLE
        return min(rest, WHOLE - rest) <= PRINTED

    def place(self, angle: float) -> tuple[float, float]:
        """Where the cutter's axis stands at an angle."""
        assert self.center is not None
        turn = radians(angle)
        return self.center.x + self.radius * cos(turn), self.center.y + self.radius * sin(turn)


def turned(case: Case, rows: Sequence[Row]) -> tuple[tuple[Row, ...], list[Finding]]:
    """The rows with their arcs, exact places while the table is turned, and what is wrong."""
    found: list[Finding] = []
    done: list[Row] = []
    table = _Table()
    for row in rows:
        if row.axis == "C":
            table, one, wrong = _turn(case, table, row)
            done.append(one)
            found += wrong
            continue
        if not table.square and row.moved.strip("Z"):
            found.append(
                Finding(
                    ROTARY,
                    row.index,
                    f"{row.axis or 'the cutter'} is moved with the table at {table.angle:g} "
                    "degrees: the radius is set at 0",
                )
            )
        done.append(_held(table, row))
    return tuple(done), found


def _held(table: _Table, row: Row) -> Row:
    """A row of Z while the table is turned, at its exact place."""
    if table.square or table.center is None or row.moved.strip("Z"):
        return row
    x, y = table.place(table.angle)
    return replace(row, start=(x, y, row.start[2]), end=(x, y, row.end[2]))


def _turn(case: Case, table: _Table, row: Row) -> tuple[_Table, Row, list[Finding]]:
    if row.c is None:
        return table, row, [Finding(ROTARY, row.index, "a row of axis C gives no angle")]
    if abs(row.c - table.angle) <= PRINTED:
        wrong = Finding(ROTARY, row.index, f"the table stands at {row.c:g} degrees already")
        return table, row, [wrong]
    tries = [_fit(case, table, row, row.c, center) for center in _centers(case, table, row)]
    if not tries:
        wrong = Finding(ROTARY, row.index, f"feature {row.feature!r} has no arc to turn about")
        return replace(table, angle=row.c, center=None), row, [wrong]
    off, best = min(tries, key=lambda each: each[0])
    x, y = best.place(row.c)
    sweep = row.c - table.angle
    way = Round(
        (best.center.x, best.center.y) if best.center else (0.0, 0.0),
        best.radius,
        radians(table.angle),
        radians(sweep),
    )
    start, end = way.ends
    exact = replace(row, start=(*start, row.start[2]), end=(*end, row.end[2]), turn=way)
    room = case.gauge.resolution / 2 + case.gauge.hair + best.radius * radians(PRINTED)
    wrongs = []
    if off > room:
        wrongs.append(
            Finding(
                ROTARY,
                row.index,
                f"turning from {table.angle:g} to {row.c:g} degrees about a centre of "
                f"{row.feature!r} does not lead from X {row.start[0]:g} Y {row.start[1]:g} to "
                f"X {row.end[0]:g} Y {row.end[1]:g}, but at best to X {x:.4f} Y {y:.4f}",
            )
        )
    return replace(best, angle=row.c), exact, wrongs


def _centers(case: Case, table: _Table, row: Row) -> list[Point]:
    """Centres a row may turn about: the one it was set for, else those of the feature's arcs."""
    if not table.square and table.center is not None:
        return [table.center]
    feature = case.job.features[case.number(row.feature)]
    return list(dict.fromkeys(_arc_centers(feature)))


def _arc_centers(feature: Feature) -> list[Point]:
    return [
        edge.center
        for loop in (*feature.area, *feature.keep)
        for edge in loop.edges
        if isinstance(edge, Arc)
    ]


def _fit(case: Case, table: _Table, row: Row, angle: float, center: Point) -> tuple[float, _Table]:
    """How far off along X or Y a row starts and stops from a turn about a centre."""
    if table.square:
        # the readout stands at the nearest it can show of the centre, and X counts from there
        table = _Table(table.angle, center, max(row.start[0] - center.x, 0.0))
    off = 0.0
    for at, spot in ((table.angle, row.start), (angle, row.end)):
        x, y = table.place(at)
        off = max(off, abs(spot[0] - x), abs(spot[1] - y))
    return (off if table.radius > 0 else float("inf")), table
