"""The settings of a job one after the other: the straight work, then the work set over."""

from collections.abc import Sequence
from dataclasses import replace

from shapely import Polygon

from passplot.plan.metal import Metal
from passplot.plan.planner import plan_setting
from passplot.plan.report import stock_notes
from passplot.plan.set_over import planned_notes, settings_of, sine_bar, sine_stack
from passplot.plan.setting import BESIDE, PLAIN, Setting, turned_area
from passplot.plan.terms import Rules
from passplot.plan.turned_job import FINEST, stock_corners, turned_job
from passplot.plan.ways import Way, ways_of
from passplot.plan.words import angle_words
from passplot.records.care import Care
from passplot.records.job import Job
from passplot.records.plan import CutterUse, Plan
from passplot.records.set_over import SetOver
from passplot.records.shop import Cutter
from passplot.scallop import straight_spacing


def make_plan(job: Job, rules: Rules, cutters: tuple[Cutter, ...], care: Care = PLAIN) -> Plan:
    """Plan a job with the cutters given, one setting after the other.

    Raises
    ------
    CannotCut
        Where no cutter of the job reaches, is deep enough, or a keep-out stands in the way.
    """
    asked = [n for n, each in enumerate(job.features) if each.set_over and each.pattern is None]
    ways, straight = ways_of(job, asked)
    if not ways:
        return plan_setting(job, rules, cutters, Setting(care=care))[0]
    over = frozenset(job.features[n].name for way in ways for n in way.features)
    first = frozenset(
        each.name
        for number, each in enumerate(job.features)
        if each.pattern is None and (each.name not in over or number in straight)
    )
    base, metal = plan_setting(job, rules, cutters, Setting(first, over, care=care))
    settings: list[SetOver] = []
    turned_by = 0.0
    for way in ways:
        before = [base, *(each.plan for each in settings)]
        one, metal = _set_over(job, rules, cutters, way, before, metal, turned_by, care)
        turned_by = way.angle
        settings.append(one)
    return _whole(job, base, settings)


def _set_over(
    job: Job,
    rules: Rules,
    cutters: tuple[Cutter, ...],
    way: Way,
    before: Sequence[Plan],
    metal: Metal | None,
    turned_by: float,
    care: Care,
) -> tuple[SetOver, Metal | None]:
    """The work of one turned setting."""
    names = tuple(job.features[n].name for n in sorted(way.features))
    setup = f"{job.setup.name}, set over {angle_words(way.angle)}"
    while setup in {each.job.setup.name for each in before}:  # less than a minute apart
        setup += ", again"
    turned = turned_job(job, setup, way.angle)
    outline = Polygon([(at.x, at.y) for at in stock_corners(job, way.angle)])
    block = None
    if metal is not None:
        block = metal.each_layer(lambda area: turned_area(area, way.angle - turned_by))
    setting = Setting(
        worked=frozenset(names),
        level=frozenset(names),
        turned=True,
        metal=block,
        outline=outline,
        row=1 + sum(len(plan.moves) for plan in before),
        number=1 + sum(len(plan.passes) for plan in before),
        care=care,
    )
    plan, left = plan_setting(turned, rules, cutters, setting)
    drawn = turned_job(job, setup, way.angle, FINEST)
    parts = tuple(each for each in drawn.features if each.kind != BESIDE)
    plan = replace(plan, job=replace(plan.job, features=parts))
    radius = min(use.cutter.radius for use in plan.cutters)
    steps = sum(
        2 * max(1, round(wall.length / straight_spacing(radius, job.finish.cusp)))
        for _, wall in way.walls
    )
    bar = sine_bar(job)
    over = SetOver(
        setup=setup,
        angle=way.angle,
        features=names,
        plan=plan,
        settings=settings_of(job, len(way.walls)),
        stepping=settings_of(job, steps),
        bar=bar,
        stack=sine_stack(bar, way.angle),
        walls=way.standing(job, parts),
    )
    return over, left


def _whole(job: Job, base: Plan, settings: Sequence[SetOver]) -> Plan:
    """The plan of the whole job, every setting's rows in order."""
    plans = [base, *(each.plan for each in settings)]
    uses: dict[str, CutterUse] = {}
    for plan in plans:
        for use in plan.cutters:
            known = uses.get(use.cutter.id, use)
            widest = max(known.width_limit, use.width_limit)
            uses[use.cutter.id] = replace(known, width_limit=widest)
    stocks = {stock.feature: stock for plan in plans[::-1] for stock in plan.stocks}
    stocks.pop(BESIDE, None)
    notes = dict.fromkeys(
        note
        for note in (*base.notes, *stock_notes(tuple(stocks.values())))
        if "is not needed: the cutters before" not in note
    )
    return replace(
        base,
        job=base.job,
        cutters=tuple(uses.values()),
        moves=tuple(move for plan in plans for move in plan.moves),
        passes=tuple(each for plan in plans for each in plan.passes),
        stocks=tuple(stocks.values()),
        holes=base.holes,
        cross_over_z=max(plan.cross_over_z for plan in plans),
        notes=(*notes, *planned_notes(job, settings)),
        over=tuple(settings),
    )
