"""Arcs of a wall cut on a rotary table: set the radius at angle 0, turn, cut by turning.

The table's axis stands on the arc's centre. Movements along X and Y are made only with the table
at 0 (or whole turns): there the cutter's axis lies in +X of the centre and its distance from it
is what the readout shows of X. Once round starts and ends there. A part of a circle is set there
above the work, turned to its start, gone down on, cut, lifted from and turned back.
"""

from collections.abc import Sequence
from itertools import groupby
from math import atan2, ceil, cos, degrees, floor, hypot, radians, sin

from shapely import LineString
from shapely import Point as Where

from passplot.curves import sweep, turned
from passplot.frozen import dataclass
from passplot.plan.arc_cut import Way as ArcWay
from passplot.plan.arc_cut import measure
from passplot.plan.entry import approach, go_down
from passplot.plan.metal import thick
from passplot.plan.stepping import Wall, step_off
from passplot.plan.swung import Rim, rims_of
from passplot.plan.walk import Way
from passplot.plan.walker import Task, Walker
from passplot.plan.walls import Chain
from passplot.records import plan as names
from passplot.records.job import Feature
from passplot.records.plan import WHOLE_TURN, Pass, Turn
from passplot.records.shapes import Arc, Edge, Point

Spot = tuple[float, float]

_SAME = 1e-5
"""Centres and radii this close are one (job units)."""

_MINUTE = 60
"""Minutes of a degree: what the dial of a rotary table shows."""

_LEAD = 60
"""How far before its start an arc is looked at for a place to go down freely, degrees."""

_SLIVER = 2.5
"""What rounding leaves beside the place to go down, steps of the readout."""


@dataclass(frozen=True, slots=True)
class Swung:
    """An offset arc (edges of one circle, the part on their left) to be cut in one turn."""

    edges: tuple[Arc, ...]
    whole: bool

    @property
    def first(self) -> Arc:
        return self.edges[0]

    @property
    def bulges(self) -> bool:
        """Whether the part lies inside: the cutter then runs round it."""
        return self.first.ccw

    @property
    def degrees(self) -> float:
        """Angle covered."""
        return WHOLE_TURN if self.whole else degrees(sum(sweep(edge) for edge in self.edges))


def parted(feature: Feature, chains: Sequence[Chain], by: float) -> tuple[list[Chain], list[Swung]]:
    """Offset chains as what is stepped or cut straight, and the arcs of a feature to be swung."""
    if not feature.rotary:
        return list(chains), []
    rims = rims_of(feature)
    rest: list[Chain] = []
    arcs: list[Swung] = []
    for chain in chains:
        keys = [_rim(edge, rims, by) for edge in chain.edges]
        if all(key is None for key in keys):
            rest.append(chain)
            continue
        edges = list(chain.edges)
        alike = len(set(keys)) == 1
        if chain.closed and not alike:
            first = next(i for i, key in enumerate(keys) if key != keys[i - 1])
            edges, keys = edges[first:] + edges[:first], keys[first:] + keys[:first]
        for key, run in groupby(zip(keys, edges, strict=True), key=lambda pair: pair[0]):
            some = tuple(edge for _, edge in run)
            if key is None:
                rest.append(Chain(some, False))
            else:
                mine = tuple(edge for edge in some if isinstance(edge, Arc))
                arcs.append(Swung(mine, chain.closed and alike))
    return rest, arcs


def _rim(edge: Edge, rims: Sequence[Rim], by: float) -> int | None:
    """Number of the feature's arc that an offset edge belongs to."""
    if not isinstance(edge, Arc):
        return None
    for number, rim in enumerate(rims):
        off = hypot(edge.center.x - rim.center.x, edge.center.y - rim.center.y)
        radius = rim.radius + (-by if rim.hollow else by)
        if off < _SAME and abs(edge.radius - radius) < _SAME and edge.ccw != rim.hollow:
            return number
    return None


@dataclass(frozen=True, slots=True)
class ToSwing:
    """An arc with what it is cut for."""

    arc: Swung
    wall: Wall
    z: float
    purpose: str
    way: Way
    task: Task


def swing_all(walker: Walker, arcs: Sequence[ToSwing]) -> None:
    """Cut arcs, those about one centre one after the other."""
    centers = list(dict.fromkeys(one.arc.first.center for one in arcs))
    for one in sorted(arcs, key=lambda each: centers.index(each.arc.first.center)):
        walker.task = one.task
        _swing(walker, one)


def _swing(walker: Walker, one: ToSwing) -> None:
    """Cut an arc by turning the table where it meets metal of the target."""
    arc, wall, z, purpose, way = one.arc, one.wall, one.z, one.purpose, one.way
    setting = _setting(walker, arc)
    center, radius = arc.first.center, setting[0] - arc.first.center.x
    first, swing_by = _angles(walker, arc)
    metal, grid = walker.metal, walker.bench.grid
    swept = ArcWay(center, radius, first, swing_by).swept(walker.bench.radius, grid.resolution)
    if not thick(metal.at(z).intersection(swept).intersection(way.target), metal.thin):
        return
    settings = _stepped(arc, wall, walker.bench.left)
    reading = Point(grid.near(center.x), grid.near(center.y))
    if arc.whole:
        start = walker.angle
        sign = 1 if swing_by > 0 else -1
        near = Where(setting).buffer(grid.resolution)
        approach(walker, setting, z, (0, sign), way.allowed.union(near))
        turn = Turn(center, reading, Point(*setting), start, start + swing_by, settings)
        _cut(walker, turn, setting, z, purpose)
        return
    if walker.z < walker.bench.safe_z:
        walker.lift()
    walker.over(setting)
    base = walker.angle
    first += WHOLE_TURN * round((base - first) / WHOLE_TURN)
    start, end = _to_minutes(first, swing_by)
    start = _with_lead(walker, ArcWay(center, radius, start, end - start), z, way)
    turn = Turn(center, reading, Point(*setting), start, end, settings)
    if start != base:
        walker.turn(_at(walker, turn, start), start)
    _down(walker, turn, z)
    _cut(walker, turn, _at(walker, turn, end), z, purpose)
    walker.lift()
    whole = WHOLE_TURN * round(end / WHOLE_TURN)
    if whole != end:
        walker.turn(setting, whole)


def _setting(walker: Walker, arc: Swung) -> Spot:
    """Where the axis is set at angle 0, no nearer to the wall than asked.

    The readout stands at the nearest it can show of the centre when the table's axis is under the
    spindle, so the radius counts both from there and from the centre itself.
    """
    grid, center, radius = walker.bench.grid, arc.first.center, arc.first.radius
    shown = grid.near(center.x)
    if arc.bulges:
        return grid.up(max(center.x, shown) + radius), grid.near(center.y)
    return grid.down(min(center.x, shown) + radius), grid.near(center.y)


def _angles(walker: Walker, arc: Swung) -> tuple[float, float]:
    """Angle at which the cut begins and how far it goes, positive counter-clockwise."""
    edges = arc.edges if walker.bench.left else tuple(turned(e) for e in reversed(arc.edges))
    begin = edges[0]
    assert isinstance(begin, Arc)
    way = 1.0 if begin.ccw else -1.0
    if arc.whole:
        return 0.0, way * WHOLE_TURN
    first = atan2(begin.start.y - begin.center.y, begin.start.x - begin.center.x)
    return degrees(first), way * arc.degrees


def _stepped(arc: Swung, wall: Wall, left: bool) -> int:
    """Settings of stepping the arc off."""
    stretches = step_off(Chain(arc.edges, arc.whole), wall, left)
    return sum(1 if corner is None else 2 for each in stretches for corner in each.corners[1:])


def _to_minutes(first: float, swing_by: float) -> tuple[float, float]:
    """Start and end of a cut in whole minutes, neither past its wall."""
    last = first + swing_by
    up, down = ceil(min(first, last) * _MINUTE - 1e-6), floor(max(first, last) * _MINUTE + 1e-6)
    start, end = (up, down) if swing_by > 0 else (down, up)
    return start / _MINUTE, end / _MINUTE


def _with_lead(walker: Walker, arc: ArcWay, z: float, way: Way) -> float:
    """The start moved back in air to where the cutter goes down freely, if it does somewhere."""
    start, back = arc.first, -1.0 if arc.swing > 0 else 1.0
    allowed = way.allowed.buffer(walker.bench.grid.resolution)
    for lead in range(_LEAD + 1):
        spot = _polar(arc.center, arc.radius, start + back * lead)
        before = _polar(arc.center, arc.radius, start + back * max(lead - 1, 0))
        line = LineString([before, spot])
        if lead and not allowed.covers(line):
            break
        if walker.metal.free(spot, z, walker.bench.radius) and not walker.bench.blocked(
            spot, spot, z
        ):
            return start + back * lead
    return start


def _down(walker: Walker, turn: Turn, z: float) -> None:
    """Down to ``z`` where the cut begins; through a sliver that rounding left by a plunge."""
    bench = walker.bench
    spot = _polar(turn.center, turn.radius, turn.start)
    if walker.metal.free(spot, z, bench.radius):
        walker.height(z, names.POSITION)
    elif walker.metal.free(spot, z, bench.radius - _SLIVER * bench.grid.resolution):
        top = walker.top_under(walker.at)
        above = bench.safe_z if top is None else min(top + bench.stand_off, bench.safe_z)
        walker.height(bench.grid.up(above), names.POSITION)
        walker.height(z, names.PLUNGE)
    else:
        go_down(walker, walker.at, z)


def _cut(walker: Walker, turn: Turn, to: Spot, z: float, purpose: str) -> None:
    """The row and the pass of an arc, its metal taken away."""
    bench, grid = walker.bench, walker.bench.grid
    way = ArcWay(turn.center, turn.radius, turn.start, turn.swing)
    swept = way.swept(bench.radius, grid.resolution)
    top = walker.metal.highest(swept, walker.metal.thin / 100)
    met = measure(walker.metal, way, z, bench.radius, bench.left)
    walker.metal.remove(swept, z)
    start = walker.at
    line = Pass(
        number=walker.next_pass,
        feature=walker.task.feature,
        cutter=bench.use.cutter.id,
        stage=walker.task.stage,
        purpose=purpose,
        start=Point(*start),
        end=Point(*to),
        start_clear=bench.off_stock(start),
        end_clear=bench.off_stock(to),
        z=z,
        level=walker.task.level,
        levels=walker.task.levels,
        width_of_cut=grid.near(met.width),
        depth_of_cut=grid.near(0.0 if top is None else max(top - z, 0.0)),
        both_ways=grid.near(met.both_ways),
        row=walker.next_row,
        turn=turn,
    )
    walker.turn(to, turn.end, line)


def _at(walker: Walker, turn: Turn, angle: float) -> Spot:
    """Where the axis stands at an angle, as the readout would show it of the work."""
    x, y = _polar(turn.center, turn.radius, angle)
    return walker.bench.grid.near(x), walker.bench.grid.near(y)


def _polar(center: Point, radius: float, angle: float) -> Spot:
    turn = radians(angle)
    return center.x + radius * cos(turn), center.y + radius * sin(turn)
