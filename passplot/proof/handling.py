"""Checks of the table alone: numbers, names, one axis a row, feeds, order, travel."""

from collections.abc import Iterator, Sequence

from passplot.proof.case import Case
from passplot.proof.rows import Row
from passplot.records.plan import (
    CUT,
    FINISH,
    HOLES,
    PLUNGE,
    POSITION,
    RETRACT,
    RETURN,
    ROUGH,
)
from passplot.records.proof import Finding

ROW_NUMBER, NAMES, ONE_AXIS, FIRST_ROW = "row number", "names", "one axis", "first row"
MOVE, FEED, ORDER, TRAVEL = "kind of move", "feed", "order", "machine travel"
CENTER_CUTTING = "center cutting"


def unknown_names(case: Case, rows: Sequence[Row]) -> list[Finding]:
    """Cells that name what the job or the contract of the table does not know."""
    known = {
        "setup": {case.job.setup.name},
        "feature": {feature.name for feature in case.job.features},
        "cutter": set(case.uses),
        "stage": {ROUGH, FINISH, HOLES},
        "move": {POSITION, PLUNGE, CUT, RETURN, RETRACT},
    }
    return [
        Finding(NAMES, row.index, f"{key} {getattr(row, key)!r} is not known")
        for row in rows
        for key, names in known.items()
        if getattr(row, key) not in names
    ]


def handling(case: Case, rows: Sequence[Row]) -> list[Finding]:
    """Everything wrong with the rows as movements of the hand, whatever the metal."""
    found: list[Finding] = []
    for before, row in zip([None, *rows[:-1]], rows, strict=True):
        found += _numbered(row)
        found += _first(case, before, row) if row.first else _one_axis(row)
        found += _kind(case, row)
        found += _fed(case, row)
    return [*found, *_order(rows), *_travel(case, rows)]


def _numbered(row: Row) -> Iterator[Finding]:
    if row.number.strip() != str(row.index):
        yield Finding(
            ROW_NUMBER, row.index, f"the row is numbered {row.number!r}, it is number {row.index}"
        )


def _first(case: Case, before: Row | None, row: Row) -> Iterator[Finding]:
    """The first row of a cutter only states where it stands, clear above the work."""
    if row.move != POSITION or row.axis:
        yield Finding(FIRST_ROW, row.index, "a cutter's first row must be a position without axis")
    if row.end[2] < case.cross_over - case.gauge.hair:
        yield Finding(
            FIRST_ROW,
            row.index,
            f"cutter {row.cutter!r} starts at Z {row.end[2]:g}, below the cross-over "
            f"Z {case.cross_over:g}",
        )
    if before is not None and before.end[:2] != row.end[:2]:
        yield Finding(
            FIRST_ROW,
            row.index,
            f"cutter {row.cutter!r} starts at X {row.end[0]:g} Y {row.end[1]:g}, the one before "
            f"stopped at X {before.end[0]:g} Y {before.end[1]:g}",
        )


def _one_axis(row: Row) -> Iterator[Finding]:
    if row.moved != row.axis or len(row.moved) != 1:
        moved = " and ".join(row.moved) or "nothing"
        yield Finding(
            ONE_AXIS, row.index, f"the row names axis {row.axis or 'none'} and moves {moved}"
        )


def _kind(case: Case, row: Row) -> Iterator[Finding]:
    """Plunge is Z down, retract Z up, cut and return along X or Y."""
    if row.first:
        return
    down = row.end[2] < row.start[2]
    wrong = {
        PLUNGE: row.axis != "Z" or not down,
        RETRACT: row.axis != "Z" or down,
        CUT: row.axis == "Z",
        RETURN: row.axis == "Z",
    }
    if wrong.get(row.move, False):
        way = ("down" if down else "up") if row.axis == "Z" else "along"
        yield Finding(MOVE, row.index, f"a {row.move} row goes {way} {row.axis}")
    cutter = case.uses[row.cutter].cutter
    # by dials a plunge may come down beside metal that play has left: that is judged by the replay
    if row.move == PLUNGE and not (cutter.center_cutting or row.drill or case.play):
        yield Finding(
            CENTER_CUTTING,
            row.index,
            f"cutter {cutter.id!r} does not cut at its center and no hole is drilled for it",
        )


def _fed(case: Case, row: Row) -> Iterator[Finding]:
    """A feed where metal may be touched, within the user's limit, and nowhere else."""
    limit = case.job.limits.feed
    if row.cuts and (row.feed is None or row.feed <= 0):
        yield Finding(FEED, row.index, f"a {row.move} row has no feed")
    elif not row.cuts and row.feed is not None:
        yield Finding(FEED, row.index, f"a {row.move} row is out of the cut and has a feed")
    elif row.feed is not None and limit is not None and row.feed > limit * (1 + 1e-6):
        yield Finding(FEED, row.index, f"feed {row.feed:g} is above the limit of {limit:g}")


def _order(rows: Sequence[Row]) -> Iterator[Finding]:
    """In a setup, with each cutter, every feature is roughed before any is finished."""
    finishing: set[tuple[str, str]] = set()
    for row in rows:
        key = (row.setup, row.cutter)
        if row.stage == FINISH:
            finishing.add(key)
        elif row.stage == ROUGH and key in finishing:
            yield Finding(
                ORDER,
                row.index,
                f"{row.feature!r} is roughed after cutter {row.cutter!r} has begun to finish",
            )
            return


def _travel(case: Case, rows: Sequence[Row]) -> Iterator[Finding]:
    travel = case.job.shop.machine.travel
    if travel is None or not rows:
        return
    for axis, name in enumerate("XYZ"):
        places = [row.end[axis] for row in rows]
        span = max(places) - min(places)
        if span > travel[axis] + case.gauge.hair:
            far = max(rows, key=lambda row: (abs(row.end[axis] - rows[0].end[axis]), -row.index))
            yield Finding(
                TRAVEL,
                far.index,
                f"the rows need {case.gauge.say(span)} of travel along {name}, "
                f"the machine has {case.gauge.say(travel[axis])}",
            )
