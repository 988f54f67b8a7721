"""Settings proven one after the other, each in its own system, what went before carried on."""

from collections.abc import Callable, Sequence
from dataclasses import replace

from passplot.proof.case import Case, Here, case_of
from passplot.proof.field import Field
from passplot.proof.gauge import Floats
from passplot.proof.replay import bottom
from passplot.proof.rows import Row
from passplot.proof.set_over import stock_corners, turned_job, turned_rows, walls_here
from passplot.proof.slants import AIR
from passplot.records.plan import Plan
from passplot.records.proof import Finding, Proof, Spread
from passplot.records.set_over import SetOver

ORDER = "order of settings"

Prove = Callable[[Case, tuple[Row, ...], Field | None], Proof]


def in_settings(plan: Plan, rows: Sequence[Row], prove: Prove) -> Proof:
    """Prove the rows of every setting on what the ones before it left.

    Rows of a setting stand together, in the order of the settings.
    """
    names = [plan.job.setup.name, *(each.setup for each in plan.over)]
    groups = [tuple(row for row in rows if row.setup == name) for name in names]
    strange = [row for row in rows if row.setup not in names]
    ordered = [row.index for group in groups for row in group]
    if strange or ordered != sorted(ordered):
        groups[0] = tuple(rows)  # told as unknown, or out of order, where they are
    over = frozenset(name for each in plan.over for name in each.features)
    proofs: list[Proof] = []
    carried: list[tuple[float, tuple[Row, ...]]] = []
    for number, (group, each) in enumerate(zip(groups, [None, *plan.over], strict=True)):
        last = number == len(plan.over)
        if not group and not last:
            continue
        case, field = _case(plan, each, over, carried, last)
        offset = group[0].index - 1 if group else 0
        proof = prove(case, _renumbered(group), field)
        proofs.append(_moved_on(proof, offset))
        carried.append((each.angle if each is not None else 0.0, group))
    found = _joined(proofs)
    if ordered != sorted(ordered):
        wrong = Finding(ORDER, 0, "rows of one setting stand among those of another")
        found = replace(found, findings=(wrong, *found.findings))
    return found


def _case(
    plan: Plan,
    each: SetOver | None,
    over: frozenset[str],
    carried: Sequence[tuple[float, tuple[Row, ...]]],
    last: bool,
) -> tuple[Case, Field]:
    """What is to be proven of a setting, and the map of the block when it begins."""
    angle = 0.0 if each is None else each.angle
    uses = {use.cutter.id: use for use in plan.cutters}
    if each is None:
        case = case_of(plan)
    else:
        uses |= {use.cutter.id: use for use in each.plan.cutters}
        cutters = tuple(uses.values())
        stocks = {s.feature: s for s in (*plan.stocks, *each.plan.stocks)}
        job = turned_job(plan.job, each.setup, angle)
        one = replace(each.plan, job=job, cutters=cutters, stocks=tuple(stocks.values()))
        case = case_of(one)
    before = tuple(row for was, rows in carried for row in turned_rows(rows, angle - was))
    smallest = min(use.cutter.cutting_diameter for use in plan.cutters)
    field = Field(case.job.stock, smallest)
    for number, feature in enumerate(case.job.features):
        if feature.name == AIR:
            field.height[case.part.area(number, field.xs, field.ys)] = feature.floor
    for row in before:
        if row.cuts:
            cutter = uses[row.cutter].cutter
            window = field.window(row, cutter.radius)
            field.lower(window, bottom(window, row.tip, cutter))
    start: Floats | None = field.height.copy() if before else None
    near = case.gauge.resolution
    walls = walls_here(case.part.ground, case.job, over, near, turned=each is not None)
    here = Here(walls, over, before, start, last, stock_corners(plan.job, angle))
    return replace(case, here=here), field


def _renumbered(rows: Sequence[Row]) -> tuple[Row, ...]:
    """Rows and passes counted from the beginning of their setting."""
    if not rows:
        return ()
    first = rows[0].index - 1
    passes = [int(row.pass_name) for row in rows if row.pass_name.isdecimal()]
    before = min(passes, default=1) - 1

    def less(text: str, by: int) -> str:
        return str(int(text) - by) if text.strip().isdecimal() else text

    return tuple(
        replace(
            row,
            index=row.index - first,
            number=less(row.number, first),
            pass_name=less(row.pass_name, before),
        )
        for row in rows
    )


def _moved_on(proof: Proof, by: int) -> Proof:
    """The proof of a setting with the row numbers of the whole table."""
    return replace(
        proof,
        findings=tuple(
            replace(each, row=each.row + by if each.row else 0) for each in proof.findings
        ),
        row_both_ways=tuple((row + by, length) for row, length in proof.row_both_ways),
    )


def _joined(proofs: Sequence[Proof]) -> Proof:
    """What all settings come to."""
    cutting = sum(each.cutting_length for each in proofs)
    asked = sum(each.conventional_share * each.cutting_length for each in proofs)
    first = proofs[0]
    return replace(
        first,
        findings=tuple(finding for each in proofs for finding in each.findings),
        gouge=max(each.gouge for each in proofs),
        left_uncut=max(each.left_uncut for each in proofs),
        wall_stock=_spread([each.wall_stock for each in proofs]),
        floor_stock=_spread([each.floor_stock for each in proofs]),
        conventional_share=asked / cutting if cutting else 0.0,
        both_ways_length=sum(each.both_ways_length for each in proofs),
        climb_length=sum(each.climb_length for each in proofs),
        cutting_length=cutting,
        max_width_of_cut=max(each.max_width_of_cut for each in proofs),
        max_depth_of_cut=max(each.max_depth_of_cut for each in proofs),
        cell=max(each.cell for each in proofs),
        rows=sum(each.rows for each in proofs),
        row_both_ways=tuple(pair for each in proofs for pair in each.row_both_ways),
        floor_both_ways_length=sum(each.floor_both_ways_length for each in proofs),
    )


def _spread(spreads: Sequence[Spread]) -> Spread:
    some = [each for each in spreads if each.high or each.low]
    if not some:
        return Spread(0.0, 0.0)
    return Spread(min(each.low for each in some), max(each.high for each in some))
