"""Pass numbers, and what holds for a stepped wall as a whole."""

from collections.abc import Iterator, Sequence

from passplot.proof.bites import (
    BOTH_WAYS,
    DIRECTION,
    OVERSTATED_CELLS,
    UNDERSTATED_CELLS,
    WRONG_SIDE_CELLS,
)
from passplot.proof.case import Case
from passplot.proof.replay import Note, Replayed
from passplot.proof.rows import Row
from passplot.proof.ways import distances
from passplot.records.plan import CUT, FINISH
from passplot.records.proof import Finding

PASS_NUMBER, SKIM = "pass number", "skim"

STATION_SHARE = 0.1  # of the both-ways length of a whole stepped wall: sides are noted at stations


def pass_numbers(rows: Sequence[Row]) -> list[Finding]:
    """Cut rows whose pass number does not go on from the one before.

    Numbers run 1, 2, 3, …; all rows of one number follow each other (moves that belong to no pass
    may stand between), with one cutter, for one feature, in one stage, at one height.
    """
    found: list[Finding] = []
    before: Row | None = None
    for row in rows:
        if row.move != CUT or not row.pass_name:
            continue
        wrong = _out_of_turn(before, row)
        if wrong:
            found.append(Finding(PASS_NUMBER, row.index, wrong))
        before = row
    return found


def _out_of_turn(before: Row | None, row: Row) -> str:
    if before is not None and before.pass_name == row.pass_name:
        same = ("feature", "cutter", "stage", "tip")
        parts = [name for name in same if getattr(before, name) != getattr(row, name)]
        return f"pass {row.pass_name} has another {' and '.join(parts)}" if parts else ""
    due = 1 if before is None else _whole(before.pass_name) + 1
    return "" if _whole(row.pass_name) == due else f"pass {row.pass_name} follows, {due} is due"


def _whole(name: str) -> int:
    return int(name) if name.isdecimal() else 0


def stepped_walls(case: Case, replayed: Replayed) -> list[Finding]:
    """What the rows of a stepped wall add up to, where a row alone is too short to tell.

    Metal on the wrong side (but for a step of the readout in each row), and both-ways lengths that
    differ from the table's, are summed over the rows no longer than the cutter's radius.
    """
    found: list[Finding] = []
    for note in replayed.notes:
        if note.row.turn is not None and note.row.move == CUT:
            found += _skim(case, [note.row])
    for wall in replayed.walls:
        found += _skim(case, wall)
        notes = [replayed.notes[row.index - 1] for row in wall]
        notes = [note for note in notes if note.bite.short]
        if notes:
            found += _sides(case, replayed.field.cell, notes)
    return found


def _sides(case: Case, cell: float, notes: Sequence[Note]) -> Iterator[Finding]:
    say, step = case.gauge.say, case.gauge.step
    # a single step of the readout into a wall shaves it with whatever part of the front is nearest
    wrong = sum(max(note.bite.wrong_side - step, 0.0) for note in notes)
    if wrong > WRONG_SIDE_CELLS * cell:
        first = next(note for note in notes if note.bite.wrong_side > 0)
        asked = "left" if case.job.metal_on_left else "right"
        yield Finding(
            DIRECTION,
            first.row.index,
            f"over {say(wrong)} of a stepped wall the metal is not on the {asked} of the line of "
            "feed",
        )
    measured = sum(note.bite.both_ways for note in notes)
    printed = sum(note.row.both_ways for note in notes)
    share = STATION_SHARE * measured + step
    if (
        measured > printed + UNDERSTATED_CELLS * cell + share
        or printed > measured + OVERSTATED_CELLS * cell + share
    ):
        worst = max(notes, key=lambda note: abs(note.bite.both_ways - note.row.both_ways))
        yield Finding(
            BOTH_WAYS,
            worst.row.index,
            f"over a stepped wall metal is cut on both sides over {say(measured)}, the table says "
            f"{say(printed)}",
        )


def _skim(case: Case, wall: Sequence[Row]) -> Iterator[Finding]:
    """A finish pass along a stepped wall comes as near to it as its share of the stock says.

    Skims take the wall stock off in equal shares, no more of them than asked for.
    """
    number, tip = case.number(wall[0].feature), wall[0].tip
    pieces, stock = case.part.ground.pieces, float(case.wall[number])
    which = case.part.walls(tip) & pieces.stepped & (pieces.owner == number)
    skims = case.job.finish.skims
    if wall[0].stage != FINISH or not which.any() or not stock or not skims:
        return
    radius = case.uses[wall[0].cutter].cutter.radius
    near = float(distances(pieces.curves.take(which), wall).min()) - radius
    shares = {stock * left / of for of in range(1, skims + 1) for left in range(of)}
    hair = case.gauge.hair
    # what gouges, or stays off the wall altogether, is not judged here
    if -hair <= near < stock - hair and not any(
        share - hair <= near <= share + case.rounding for share in shares
    ):
        left = ", ".join(case.gauge.say(share) for share in sorted(shares, reverse=True))
        yield Finding(
            SKIM,
            wall[0].index,
            f"a finish pass leaves {case.gauge.say(near)} on a wall, equal skims leave {left}",
        )
