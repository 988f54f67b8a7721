"""The settings of a job one after the other: the straight work, then the work set over."""

from collections.abc import Sequence
from dataclasses import replace
from math import atan2, degrees

from shapely import Polygon

from passplot.errors import NotYetPlanned
from passplot.frozen import dataclass
from passplot.plan.metal import Metal
from passplot.plan.planner import plan_setting
from passplot.plan.report import stock_notes
from passplot.plan.set_over import planned_notes
from passplot.plan.setting import BESIDE, PLAIN, Setting, turned_area
from passplot.plan.terms import Rules
from passplot.plan.turned_job import stock_corners, turned_job, turned_point
from passplot.plan.walls import make_walls
from passplot.plan.words import angle_words
from passplot.records.care import Care
from passplot.records.job import Job
from passplot.records.plan import CutterUse, Plan
from passplot.records.set_over import SetOver
from passplot.records.shapes import Edge, Line
from passplot.records.shop import Cutter
from passplot.scallop import straight_spacing


@dataclass(frozen=True, slots=True)
class Way:
    """A direction of walls modulo 90 degrees: the turn that squares it, and its walls.

    ``walls`` hold the number of the feature with each.
    """

    angle: float
    walls: tuple[tuple[int, Line], ...]

    @property
    def features(self) -> frozenset[int]:
        """Numbers of the features with walls that way."""
        return frozenset(number for number, _ in self.walls)


def make_plan(job: Job, rules: Rules, cutters: tuple[Cutter, ...], care: Care = PLAIN) -> Plan:
    """Plan a job with the cutters given, one setting after the other.

    Raises
    ------
    CannotCut
        Where no cutter of the job reaches, is deep enough, or a keep-out stands in the way.
    """
    ways, straight = ways_of(job)
    if not ways:
        return plan_setting(job, rules, cutters, Setting(care=care))[0]
    if job.shop.machine.readout == "dials":
        raise NotYetPlanned("work set over by the dials alone, without a readout")
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


def ways_of(job: Job) -> tuple[tuple[Way, ...], frozenset[int]]:
    """Directions of slanted walls of features to be set over, and who has others.

    Returns
    -------
    tuple of Way
        The longest wall of each first met in file order.
    frozenset of int
        Numbers of features to be set over that are cut in the straight setting, too: those with
        walls along X or Y, or arcs, and those with slanted walls of several directions.
    """
    near = job.shop.machine.resolution
    found: list[Way] = []
    straight: set[int] = set()
    for number, feature in enumerate(job.features):
        if not feature.set_over or feature.pattern is not None:
            continue
        for wall in _walls_of(job, number):
            if not isinstance(wall, Line) or _level(wall, 0.0, near):
                straight.add(number)
                continue
            for place, way in enumerate(found):
                if _level(wall, way.angle, near):
                    found[place] = Way(way.angle, (*way.walls, (number, wall)))
                    break
            else:
                found.append(Way(_smallest_turn(wall), ((number, wall),)))
    several = [number for way in found for number in way.features]
    straight |= {number for number in several if several.count(number) > 1}
    return tuple(found), frozenset(straight)


def _walls_of(job: Job, number: int) -> list[Edge]:
    """Walls of a feature inside the stock, the longest first."""
    return sorted(
        (
            piece.edge
            for piece in make_walls(replace(job, features=(job.features[number],))).pieces
            if piece.left != piece.right
        ),
        key=lambda edge: -edge.length if isinstance(edge, Line) else 0.0,
    )


def _level(wall: Line, angle: float, near: float) -> bool:
    """Whether a wall lies along X or Y once turned, to a step of the readout."""
    a, b = turned_point(wall.start, angle), turned_point(wall.end, angle)
    return min(abs(a.x - b.x), abs(a.y - b.y)) <= min(near, wall.length / 8)


def _smallest_turn(wall: Line) -> float:
    """Degrees to turn the work, from -45 to 45, that bring a wall along X or Y."""
    slope = degrees(atan2(wall.end.y - wall.start.y, wall.end.x - wall.start.x))
    turn = -slope % 90
    return turn if turn <= 45 else turn - 90


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
    cut = tuple(each for each in plan.job.features if each.kind != BESIDE)
    plan = replace(plan, job=replace(plan.job, features=cut))
    skims = 1 + job.finish.skims
    radius = min(use.cutter.radius for use in plan.cutters)
    steps = sum(
        2 * max(1, round(wall.length / straight_spacing(radius, job.finish.cusp)))
        for _, wall in way.walls
    )
    return SetOver(setup, way.angle, names, plan, len(way.walls) * skims, steps * skims), left


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
