"""The proof: the printed rows replayed on the block, and everything wrong that they do."""

from collections.abc import Sequence

from passplot.proof.bites import Bites
from passplot.proof.case import Case, case_of
from passplot.proof.clear import (
    floor_stock_entered,
    gouges,
    keep_outs_hit,
    wall_stock_entered,
)
from passplot.proof.field import Field
from passplot.proof.finish import FinishStock
from passplot.proof.handling import handling, unknown_names
from passplot.proof.holes import holes
from passplot.proof.leftover import Leftover
from passplot.proof.passes import pass_numbers, stepped_walls
from passplot.proof.replay import Note, Replayed, replay
from passplot.proof.rows import Row, UnreadableTable, read_rows
from passplot.proof.screws import screws
from passplot.proof.settings import in_settings
from passplot.proof.turning import turned
from passplot.records.plan import CUT, HOLES, Plan
from passplot.records.proof import Finding, Proof, Spread

TABLE = "table"


def prove(plan: Plan, table: str) -> Proof:
    """Replay the rows of a moves table against the job they are for.

    Parameters
    ----------
    plan : Plan
        Its job, cutters, stock to be left and cross-over height; its moves are not looked at.
    table : str
        Text of the moves table as it will be written.

    Returns
    -------
    Proof
        Lengths in job units; ``findings`` is empty where nothing is wrong.
    """
    try:
        rows = read_rows(table)
    except UnreadableTable as fault:
        return _nothing_replayed([Finding(TABLE, fault.row, str(fault))], 0)
    if not rows:
        return _nothing_replayed([Finding(TABLE, 0, "the moves table has no rows")], 0)
    if plan.over:
        return in_settings(plan, rows, _one_setting)
    return _one_setting(case_of(plan), rows, None)


def _one_setting(case: Case, rows: tuple[Row, ...], field: Field | None) -> Proof:
    """The proof of the rows of one setting on the block as the map ``field`` has it."""
    strange = unknown_names(case, rows)
    if strange:
        return _nothing_replayed(strange, len(rows))
    rows, wrong = turned(case, rows)
    replayed = _replayed(case, rows) if field is None else replay(case, rows, field)
    return _proof(case, rows, replayed, wrong)


def _replayed(case: Case, rows: Sequence[Row]) -> Replayed:
    cutting = [row for row in rows if row.stage != HOLES] or rows
    smallest = min(case.uses[row.cutter].cutter.cutting_diameter for row in cutting)
    return replay(case, rows, Field(case.job.stock, smallest))


def _proof(
    case: Case, rows: Sequence[Row], replayed: Replayed, turned_wrong: Sequence[Finding]
) -> Proof:
    gouge, gouged = gouges(case, rows)
    bad = {finding.row for finding in gouged}
    stock = FinishStock(case, rows, replayed)
    left = Leftover(case, rows, replayed.field)
    bites = Bites(case, replayed.field.cell)
    found = [
        *handling(case, rows),
        *turned_wrong,
        *gouged,
        *floor_stock_entered(case, rows, bad),
        *wall_stock_entered(case, rows, bad),
        *keep_outs_hit(case, rows),
        *bites.check(replayed.notes),
        *pass_numbers(rows),
        *stepped_walls(case, replayed),
        *holes(case, rows),
        *screws(case, rows),
        *stock.findings,
    ]
    cuts = [note for note in replayed.notes if note.row.move == CUT]
    floor_cuts = [note for note in cuts if bites.floor_pass(note)]
    cutting = sum(note.bite.cutting for note in cuts)
    return Proof(
        findings=(*sorted(found, key=lambda finding: finding.row), *left.findings),
        gouge=gouge,
        left_uncut=left.most,
        wall_stock=stock.wall,
        floor_stock=stock.floor,
        conventional_share=_share(sum(note.bite.right_side for note in cuts), cutting),
        both_ways_length=sum(note.bite.both_ways for note in cuts),
        climb_length=sum(note.bite.wrong_side for note in cuts),
        cutting_length=cutting,
        max_width_of_cut=max((note.bite.width for note in cuts), default=0.0),
        max_depth_of_cut=max((_depth(note) for note in cuts), default=0.0),
        cell=replayed.field.cell,
        rows=len(rows),
        row_both_ways=tuple((note.row.index, note.bite.both_ways) for note in cuts),
        floor_both_ways_length=sum(note.bite.both_ways for note in floor_cuts),
    )


def _share(part: float, whole: float) -> float:
    return part / whole if whole else 0.0


def _depth(note: Note) -> float:
    return max(note.bite.depth, note.bite.both_depth)


def _nothing_replayed(found: list[Finding], rows: int) -> Proof:
    """The proof of a table that cannot be replayed at all."""
    nothing = Spread(0.0, 0.0)
    zero = 0.0
    return Proof(
        *(tuple(found), zero, zero, nothing, nothing, zero, zero, zero, zero, zero, zero, zero),
        rows,
    )
