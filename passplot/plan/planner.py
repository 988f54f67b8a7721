"""Job to plan: cutter after cutter, every feature roughed before any is finished."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from shapely.geometry.base import BaseGeometry

from passplot.errors import CannotCut, NoWay
from passplot.frozen import dataclass
from passplot.plan.bench import Bench, make_obstacles, stock_area
from passplot.plan.blending import Feet, feet_of
from passplot.plan.cells import Cells, build
from passplot.plan.centring import worth_using
from passplot.plan.core import core_job
from passplot.plan.cover import cover_floors, cover_rough
from passplot.plan.ends import OverFloors
from passplot.plan.entry import drill_size
from passplot.plan.finishing import finish_floors, finish_walls
from passplot.plan.fits import check_fits, ground_of, rounded
from passplot.plan.forms import Shape
from passplot.plan.grid import make_grid
from passplot.plan.holes import hole_cutters, nothing_cut, over_holes, with_holes, without_holes
from passplot.plan.lineup import line_up, listed
from passplot.plan.metal import FINE_QUARTER, QUARTER, Metal
from passplot.plan.report import assemble, check_travel
from passplot.plan.rough import Levels, rough_feature, rough_rest
from passplot.plan.seats import fitted_seats
from passplot.plan.setting import Setting
from passplot.plan.sharp import as_met, caught_up
from passplot.plan.terms import FeatureTerms, Rules, WithCare
from passplot.plan.terms_of import job_terms
from passplot.plan.underside import keep_under
from passplot.plan.walker import Walker
from passplot.records.job import Job
from passplot.records.plan import CutterUse, Move, Pass, PatternUse, Plan
from passplot.records.shop import Cutter

if TYPE_CHECKING:
    from passplot.plan.curved import Curved


@dataclass(frozen=True, slots=True)
class Done:
    """What one cutter did."""

    use: CutterUse
    moves: tuple[Move, ...]
    passes: tuple[Pass, ...]
    terms: tuple[FeatureTerms, ...]
    widths: tuple[float, ...]
    patterns: tuple[PatternUse, ...] = ()


def plan_setting(
    job: Job, rules: Rules, cutters: tuple[Cutter, ...], setting: Setting
) -> tuple[Plan, Metal | None]:
    """Plan a setting with the cutters given, the first to rough, each later one where it must.

    Returns the plan and the block as it is left, None where only holes are gone over.

    Raises
    ------
    CannotCut
        Where no cutter of the job reaches, is deep enough, or a keep-out stands in the way.
    NoWay
        The last of these, or no straight way found: with more care there may be one.
    """
    care = setting.care
    whole, job = job, without_holes(job)
    if not job.features:
        return _holes_only(whole, rules, cutters), None
    per_feature = listed(job, cutters)
    rules = WithCare(OverFloors(rules), care)
    widest = max(cutter.cutting_diameter for mine in per_feature for cutter in mine)
    pad = 2 * widest + 4 * job.limits.stand_off
    grid = make_grid(job.shop.machine.resolution, job.inch)
    square = fitted_seats(job, per_feature, grid)
    job = rounded(square, per_feature)
    cells = build(core_job(job, square), pad)
    per_feature = tuple(
        worth_using(cells, job, index, mine, grid) for index, mine in enumerate(per_feature)
    )
    thin = 0.001 if job.inch else 0.02
    largest = max(cutter.radius for mine in per_feature for cutter in mine)
    ground = ground_of(job, pad, largest + 2 * job.limits.stand_off)
    shape = Shape(job, cells, ground, thin)
    lineup = line_up(shape, rules, cutters, per_feature)
    reaches = check_fits(shape, lineup.per_feature)
    fine = 0.9 * min(job.shop.machine.resolution, thin)
    quarter = FINE_QUARTER if ground is not None or care.fine else QUARTER
    metal = setting.block(job, thin, fine, quarter)
    keep_under(metal, lineup.used)
    outline = setting.stock(job)
    benches = [
        replace(_bench(job, cells, rules, cutter, thin), ground=ground, stock=outline, care=care)
        for cutter in lineup.used
    ]
    uses = [bench.use for bench in benches]
    done: list[Done] = []
    ids = lineup.ids
    table = job_terms(cells, job, uses, ids, grid, ground, alike=care.alike)
    for bench, terms in zip(benches, table, strict=True):
        mine = _mine(job, ids, bench.use.cutter.id, setting)
        finished = lineup.finished_by(bench.use.cutter)
        block = setting.whole(job, thin, fine, quarter)
        one = _work(bench, rules, (metal, block), terms, (mine, finished), done, setting)
        done.append(over_holes(whole, one, done, lineup.used))
    if setting.worked != frozenset():
        _refuse_nothing_cut(job, done)
    done += _drilled(whole, rules, done, lineup.used)
    plan = assemble(job, cells, done, reaches, lineup.notes)
    return _by_hand(with_holes(whole, plan, done)), metal


def _refuse_nothing_cut(job: Job, done: list[Done]) -> None:
    if not any(one.passes for one in done):
        raise CannotCut(
            f"{job.features[0].name}: there is less metal to take than the readout can set "
            f"(steps of {job.shop.machine.resolution:g})"
        )


def _mine(job: Job, ids: list[set[str]], cutter: str, setting: Setting) -> set[int]:
    """Numbers of the features a cutter works in a setting."""
    return {
        number
        for number, some in enumerate(ids)
        if cutter in some and setting.works(job.features[number].name)
    }


def _holes_only(job: Job, rules: Rules, cutters: tuple[Cutter, ...]) -> Plan:
    done = _drilled(job, rules, [], cutters)
    return _by_hand(with_holes(job, nothing_cut(job, done), done))


def _by_hand(plan: Plan) -> Plan:
    """The plan as it is cranked: by the readout, or by dials with every backlash taken up."""
    if plan.job.shop.machine.readout == "dials":
        from passplot.plan.readings import with_readings  # noqa: PLC0415 - for few jobs, and slow
        from passplot.plan.take_up import taken_up  # noqa: PLC0415

        plan = with_readings(taken_up(plan))
    check_travel(plan)
    return plan


def _drilled(job: Job, rules: Rules, done: list[Done], used: tuple[Cutter, ...]) -> list[Done]:
    """Patterns of holes gone over with cutters that have cut nothing: drills."""
    more: list[Done] = []
    for cutter in hole_cutters(job, used):
        if all(one.use.cutter.id != cutter.id for one in done):
            drill = Done(rules.use(job, cutter), (), (), (), ())
            more.append(over_holes(job, drill, [*done, *more], used))
    return more


def _bench(job: Job, cells: Cells, rules: Rules, cutter: Cutter, thin: float) -> Bench:
    machine = job.shop.machine
    inch = job.inch
    grid = make_grid(machine.resolution, inch)
    lost = max((dial.backlash for _, dial in machine.dials), default=0.0)
    back_off = grid.round_out(max(0.050 if inch else 1.2, 3 * lost), 1)
    height = max(job.limits.cross_over, 0.0)
    return Bench(
        job=job,
        cells=cells,
        use=rules.use(job, cutter),
        grid=grid,
        obstacles=make_obstacles(job),
        stock=stock_area(job),
        left=job.metal_on_left,
        clear=0.010 if inch else 0.25,
        back_off=back_off,
        thin=max(thin, 0.002 * cutter.radius),
        safe_z=grid.up(job.stock.raw_top + height),
        drilled=rules.drilled_entry(job),
        drill=drill_size(cutter.cutting_diameter, inch),
    )


def _work(
    bench: Bench,
    rules: Rules,
    metals: tuple[Metal, Metal],
    everything: tuple[FeatureTerms, ...],
    whose: tuple[set[int], set[int]],
    before: list[Done],
    setting: Setting,
) -> Done:
    """Everything one cutter does.

    ``metals`` are the block as it stands, from which is taken what the cutter cuts, and with
    nothing cut; ``whose`` are numbers of the features that the cutter works, and finishes.
    """
    job, (metal, block) = bench.job, metals
    mine, finished = whose
    turned = -1 if bench.care.backwards else 1
    order = sorted(mine, key=lambda index: (job.features[index].kind != "face", turned * index))
    terms = tuple(everything[index] for index in order)
    others = tuple(term for term in everything if term.index not in mine)
    start, row, number = _start(bench, before, setting)
    walker, feet = Walker(bench, as_met(bench, metal, block), start, row, number), Feet()
    if walker.metal is not metal:
        feet = feet_of(walker, metal, terms + others, mine)
        terms = tuple(feet.terms(term) for term in terms)
    walker.begin()
    known = terms + others
    bent = _bent(walker, known, terms, setting)
    stuck, widths = _roughed(walker, rules, known, terms, bent, feet)
    level = tuple(term for term in terms if term.name not in setting.level)
    cover_rough(walker, known, level, max(widths, default=0.0))
    last = tuple(term for term in terms if term.index in finished)
    square = tuple(term for term in last if term.index not in bent)
    curved = [term for term in last if term.index in bent]
    stuck += finish_floors(walker, known, tuple(t for t in square if feet.has_floor(t)))
    for term in curved:
        if feet.has_floor(term):
            bent[term.index].finish_floor()
    floors = tuple(term for term in level if term in last and feet.has_floor(term))
    cover_floors(walker, known, floors, walls=False)
    stuck += finish_walls(walker, known, square)
    for term in curved:
        bent[term.index].finish_wall()
    cover_floors(walker, known, floors, walls=True)
    walker.lift()
    _refuse_stuck(job, stuck)
    if walker.metal is not metal:
        caught_up(metal, bench, tuple(walker.moves))
    if not walker.passes:
        return Done(bench.use, (), (), terms, tuple(widths))
    first = replace(walker.moves[0], feature=walker.moves[min(1, len(walker.moves) - 1)].feature)
    share = bench.care.width_share
    return Done(
        replace(bench.use, width_limit=bench.use.width_limit / share),
        (first, *walker.moves[1:]),
        tuple(walker.passes),
        terms,
        tuple(width / share for width in widths),
    )


def _roughed(
    walker: Walker,
    rules: Rules,
    known: tuple[FeatureTerms, ...],
    terms: tuple[FeatureTerms, ...],
    bent: dict[int, Curved],
    feet: Feet,
) -> tuple[list[tuple[FeatureTerms, BaseGeometry]], list[float]]:
    """Rough every feature; returns metal that is out of reach and the widths of cut."""
    levels = [
        Levels((term.rough_z,), 0.0)
        if not feet.roughs(term)
        else bent[term.index].rough(rules)
        if term.index in bent
        else rough_feature(walker, rules, known, term)
        for term in terms
    ]
    stuck: list[tuple[FeatureTerms, BaseGeometry]] = []
    for term, each in zip(terms, levels, strict=True):
        if not feet.roughs(term):
            continue
        if term.index in bent:
            stuck += [(term, piece) for piece in bent[term.index].left(term.rough_z, each.width)]
        else:
            stuck += [(term, piece) for piece in rough_rest(walker, known, term, each)]
    return stuck, [each.width for each in levels]


def _bent(
    walker: Walker,
    known: tuple[FeatureTerms, ...],
    terms: tuple[FeatureTerms, ...],
    setting: Setting,
) -> dict[int, Curved]:
    """Features with walls off X and Y, by number."""
    ground = walker.bench.ground
    if ground is None:
        return {}
    from passplot.plan.curved import Curved  # noqa: PLC0415 - for few jobs, and slow
    from passplot.plan.straight import Straight  # noqa: PLC0415

    return {
        term.index: (
            Straight(walker, ground, known, term, setting.turned)
            if term.name in setting.level
            else Curved(walker, ground, known, term)
        )
        for term in terms
        if walker.bench.job.features[term.index].curved
    }


def _start(
    bench: Bench, before: list[Done], setting: Setting
) -> tuple[tuple[float, float], int, int]:
    """Where the cutter stands at first, its first row and its first pass."""
    worked = [done for done in before if done.moves]
    if worked:
        last = worked[-1].moves[-1]
        passes = [one for done in before for one in done.passes]
        return (last.x, last.y), last.row + 1, len(passes) + setting.number
    x0, y0, _, _ = bench.stock.bounds
    off = bench.radius + bench.stand_off
    corner = (bench.grid.round_out(x0 - off, -1), bench.grid.round_out(y0 - off, -1))
    return corner, setting.row, setting.number


def _refuse_stuck(job: Job, stuck: list[tuple[FeatureTerms, BaseGeometry]]) -> None:
    if not stuck:
        return
    keep_outs = ", ".join(keep_out.name for keep_out in job.keep_outs)
    why = f"keep-out {keep_outs} stands in the way" if keep_outs else "no straight way leads there"
    faults = []
    for term, piece in stuck:
        spot = piece.representative_point()
        faults.append(
            f"{term.name}: metal at X {spot.x:.4g} Y {spot.y:.4g} ({piece.area:.4g} square) cannot "
            f"be got at, {why}"
        )
    raise NoWay(*dict.fromkeys(faults))
