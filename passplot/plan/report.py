"""The plan put together: corners, holes, lower bound and the sentences for the sheet."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from passplot.errors import CannotCut
from passplot.plan.advice import bore_notes, seat_notes
from passplot.plan.fillets import fillet_notes, fillets_of, scallop_notes
from passplot.plan.rough import area_to_clear
from passplot.plan.set_over import set_over_notes
from passplot.plan.swung import rotary_notes
from passplot.records import plan as names
from passplot.records.plan import CutterUse, EntryHole, FeatureStock, Move, Plan
from passplot.records.shapes import Point

if TYPE_CHECKING:
    from collections.abc import Sequence

    from passplot.plan.cells import Cells
    from passplot.plan.planner import Done
    from passplot.plan.reach import Reach
    from passplot.records.job import Job


def assemble(
    job: Job,
    cells: Cells,
    done: Sequence[Done],
    reaches: tuple[Reach, ...],
    notes: tuple[str, ...] = (),
) -> Plan:
    """Put a plan together from what each cutter did; ``notes`` are what is known before."""
    moves = tuple(move for one in done for move in one.moves)
    passes = tuple(line for one in done for line in one.passes)
    corners = tuple(corner for reach in reaches for corner in reach.corners)
    stocks = _stocks(job, done)
    fillets = fillets_of(job, done)
    grid_up = job.stock.raw_top + job.limits.cross_over
    return Plan(
        job=job,
        cutters=tuple(_use(job, one) for one in done if one.moves),
        moves=moves,
        passes=passes,
        stocks=stocks,
        corners=corners,
        holes=_holes(moves),
        cross_over_z=min((m.z for m in moves if not m.axis), default=grid_up),
        stand_off=job.limits.stand_off,
        lower_bound=_lower_bound(job, cells, done, moves),
        unreached_area=sum(reach.area for reach in reaches) + sum(each.area for each in fillets),
        notes=(
            *notes,
            *_notes(job, stocks, corners),
            *fillet_notes(job, fillets),
            *scallop_notes(job, done),
            *_idle(done),
            *_advice(job, done, moves, passes),
        ),
        fillets=fillets,
    )


def _stocks(job: Job, done: Sequence[Done]) -> tuple[FeatureStock, ...]:
    """Stock of each feature, as the first cutter that works it leaves it."""
    found: dict[str, FeatureStock] = {}
    for one in done:
        for term, width in zip(one.terms, one.widths, strict=True):
            known = found.get(term.name) or FeatureStock(
                feature=term.name,
                wall=term.wall,
                floor=term.floor,
                wall_left=0.0 if term.wall_skims else term.wall,
                floor_left=0.0 if term.floor_skims else term.floor,
                width_limit=width or one.use.width_limit,
                to_size=term.to_size,
            )
            if term.to_size:
                known = replace(known, to_size_by=(*known.to_size_by, one.use.cutter.id))
            found[term.name] = known
    return tuple(found[feature.name] for feature in job.features if feature.name in found)


def _use(job: Job, one: Done) -> CutterUse:
    """The cutter's use with the widths its passes were planned with; a face may be wider."""
    widths = [
        width
        for term, width in zip(one.terms, one.widths, strict=True)
        if width and job.features[term.index].kind != "face"
    ]
    return replace(one.use, width_limit=max(widths)) if widths else one.use


def _holes(moves: tuple[Move, ...]) -> tuple[EntryHole, ...]:
    """The holes to drill first, one a place, as deep as the deepest rough plunge into it."""
    deepest: dict[tuple[float, float], Move] = {}
    for move in moves:
        if move.drill_diameter is None or move.stage != names.ROUGH:
            continue
        known = deepest.get((move.x, move.y))
        if known is None or move.z < known.z:
            deepest[move.x, move.y] = move
    return tuple(
        EntryHole(move.feature, Point(x, y), move.drill_diameter or 0.0, move.z)
        for (x, y), move in deepest.items()
    )


def _lower_bound(job: Job, cells: Cells, done: Sequence[Done], moves: tuple[Move, ...]) -> float:
    """Area to clear over the width of cut, summed over the levels that were cut."""
    total = 0.0
    for one in done[:1]:
        for term, width in zip(one.terms, one.widths, strict=True):
            levels = {
                move.z
                for move in moves
                if move.feature == term.name
                and move.move == names.CUT
                and move.stage == names.ROUGH
            }
            if width:
                total += area_to_clear(cells, job, term) / width * min(len(levels), 1)
    return total


def stock_notes(stocks: Sequence[FeatureStock]) -> tuple[str, ...]:
    """What there was no room for, and what stays on for good."""
    notes = []
    for stock in stocks:
        if stock.to_size:
            notes.append(f"{stock.feature}: no room for wall stock, cut to size at once")
        if stock.wall_left:
            notes.append(f"{stock.feature}: wall stock stays on (no finish skims)")
        if stock.floor_left:
            notes.append(f"{stock.feature}: floor stock stays on (no floor skims)")
    return tuple(notes)


def _notes(
    job: Job, stocks: tuple[FeatureStock, ...], corners: tuple[names.UncutCorner, ...]
) -> tuple[str, ...]:
    notes = [*stock_notes(stocks)]
    for feature in job.features:
        mine = [corner for corner in corners if corner.feature == feature.name]
        if mine:
            keep = "inside corner keeps" if len(mine) == 1 else "inside corners keep"
            notes.append(
                f"{feature.name}: {len(mine)} {keep} the radius of the cutter, {mine[0].radius:g}"
            )
    return tuple(notes)


def _advice(
    job: Job, done: Sequence[Done], moves: tuple[Move, ...], passes: tuple[names.Pass, ...]
) -> tuple[str, ...]:
    """Other ways to make what is stepped off, and how to set up and measure keyseats."""
    cutters = [one.use.cutter for one in done]
    if not passes:
        return ()
    return (
        *seat_notes(job, moves, cutters),
        *bore_notes(job, passes),
        *set_over_notes(job, passes),
        *rotary_notes(job, passes),
    )


def _idle(done: Sequence[Done]) -> tuple[str, ...]:
    return tuple(
        f"{one.use.cutter.id} is not needed: the cutters before it reach everything"
        for one in done
        if not one.moves
    )


def check_travel(plan: Plan) -> None:
    """Refuse a plan that needs more travel than the machine has.

    Raises
    ------
    CannotCut
        With the axis and both numbers.
    """
    travel = plan.job.shop.machine.travel
    if travel is None or not plan.moves:
        return
    faults = []
    for axis, room in zip("xyz", travel, strict=True):
        values = [getattr(move, axis) for move in plan.moves]
        need = max(values) - min(values)
        if need > room + 1e-9:
            faults.append(
                f"the plan needs {need:g} of {axis.upper()} travel, the machine has {room:g}; "
                "a smaller stand_off or another setup would do"
            )
    if faults:
        raise CannotCut(*faults)
