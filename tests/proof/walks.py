"""Stepped tables written by arithmetic alone: a bore, a round boss, a slanted wall.

Every point lies on the offset of its wall, rounded to the readout to the free side; between two
points an X and a Y move whose corner lies on the free side. Nothing of planning is used, and of
the proof only the both-ways lengths, which ``told`` copies into the table (their sum is compared
with a formula elsewhere).
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import acos, ceil, cos, floor, hypot, pi, sin, sqrt

from passplot.proof import prove
from passplot.records.job import Feature, Job
from passplot.records.plan import Plan
from passplot.records.proof import Proof
from passplot.records.shapes import Arc, Edge, Line, Loop, Point, rectangle
from passplot.records.shop import Shop

from .hand import HALF, Table, feature, job, machine, plan

BOSS = 2  # radius of the boss, in radii of the cutter

Place = tuple[float, float]


@dataclass(frozen=True)
class Unit:
    """Inch or millimetre: the same pieces in round numbers of each."""

    inch: bool = True

    @property
    def k(self) -> float:
        return 1.0 if self.inch else 25.4

    @property
    def step(self) -> float:
        return 0.0005 if self.inch else 0.01

    @property
    def r(self) -> float:
        return 0.25 if self.inch else 6.0

    @property
    def wall(self) -> float:
        return 0.03 if self.inch else 0.8

    @property
    def cusp(self) -> float:
        return 0.004 if self.inch else 0.1

    def down(self, value: float) -> float:
        """To the readout, towards zero."""
        size = floor(abs(value) / self.step + 1e-7) * self.step
        return round(size if value > 0 else -size, 5)

    def floor(self, value: float) -> float:
        """To the readout, to the left or the front."""
        return round(floor(value / self.step + 1e-7) * self.step, 5)

    def up(self, value: float) -> float:
        """To the readout, away from zero."""
        size = ceil(abs(value) / self.step - 1e-7) * self.step
        return round(size if value > 0 else -size, 5)


INCH, MM = Unit(True), Unit(False)


def turn_for(cusp: float, wall: float, path: float, r: float) -> float:
    """Angle between two points of a circle walked at radius ``path`` that leaves ``cusp``.

    The scallop's tip lies ``wall`` ± ``cusp`` from the center and r from both points.
    """
    tip = wall + cusp if path > wall else wall - cusp
    return 2 * acos(min((tip**2 + path**2 - r**2) / (2 * tip * path), 1.0))


@dataclass
class Walk:
    """Rows of one pass along points; ``free`` says how far a place is on the free side."""

    table: Table
    number: int
    depth: float
    free: Callable[[Place], float]
    wrong_corner: int = -1

    def cut(self, **to: float) -> None:
        axis, place = next(iter(to.items()))
        if self.table.at["xyz".index(axis)] != place:
            self.table.cut(0.0, self.depth, **to)
            self.table.rows[-1]["pass"] = str(self.number)

    def to(self, x: float, y: float, wrong: bool = False) -> None:
        here = (self.table.at[0], self.table.at[1])
        x_first = self.free((x, here[1])) > self.free((here[0], y))
        if x_first != wrong:
            self.cut(x=x)
            self.cut(y=y)
        else:
            self.cut(y=y)
            self.cut(x=x)

    def along(self, points: Sequence[Place]) -> None:
        for number, (x, y) in enumerate(points):
            self.to(x, y, wrong=number == self.wrong_corner)


@dataclass(frozen=True)
class Spoilt:
    """What is wrong with a walk on purpose: the last finish walk, else all of a stage."""

    spacing: float = 1.0
    midpoints: bool = False
    wrong_corner: int = -1
    missing: tuple[float, float] = (0.0, 0.0)
    reverse: bool = False
    rough_wall: float | None = None
    skim: float = 0.5


GOOD = Spoilt()


def circle_points(
    unit: Unit, at: Place, path: float, wall: float, ccw: bool, spoilt: Spoilt = GOOD
) -> list[Place]:
    """Once round from angle 180°, start and end included, rounded to the free side."""
    outside = path > wall
    turn = turn_for(0.98 * unit.cusp, wall, path, unit.r) * spoilt.spacing
    # a point on each pole: a row across one cuts into what bulges there
    count = 4 * ceil(pi / 2 / turn)
    points = []
    for number in range(count + 1):
        angle = pi + (1 if ccw else -1) * 2 * pi * number / count
        if spoilt.missing[0] < (angle % (2 * pi)) < spoilt.missing[1]:
            continue
        ease = unit.up if outside else unit.down
        points.append((at[0] + ease(path * cos(angle)), at[1] + ease(path * sin(angle))))
    if spoilt.midpoints:
        middles = [((a + c) / 2, (b + d) / 2) for (a, b), (c, d) in pairwise(points)]
        points = [at for both in zip(points, middles, strict=False) for at in both]
    return [(round(x, 5), round(y, 5)) for x, y in points]


def circle(x: float, y: float, radius: float) -> Loop:
    """A circle as two arcs."""
    one, two = Point(x + radius, y), Point(x - radius, y)
    middle = Point(x, y)
    return Loop((Arc(one, two, middle, radius, True), Arc(two, one, middle, radius, True)))


def work(unit: Unit, features: tuple[Feature, ...], size: Place, climb: bool) -> Job:
    """A job in either unit; ``size`` already in it."""
    cutter = replace(HALF, diameter=2 * unit.r, flute_length=1.25 * unit.k)
    plain = job(
        features,
        size=(*size, 1.0 * unit.k),
        units="inch" if unit.inch else "mm",
        climb=climb,
        shop=Shop("shop.toml", machine(resolution=unit.step), (cutter,)),
    )
    return replace(plain, finish=replace(plain.finish, cusp=unit.cusp))


def promise(unit: Unit, work: Job, width: float = 0.5) -> Plan:
    """The plan's promises: widths up to ``width`` radii."""
    plain = plan(
        work,
        wall=unit.wall,
        floor=0.0,
        cutters=work.shop.cutters,
        width_limit=width * unit.r,
        depth_limit=0.5 * unit.k,
        slot_depth_limit=0.25 * unit.k,
    )
    return replace(plain, cross_over_z=0.1 * unit.k, stand_off=0.05 * unit.k)


def boss(unit: Unit, climb: bool = False, spoilt: Spoilt = GOOD) -> tuple[Plan, Table]:
    """A round boss that all but fills a square block, walked round in rings from outside in."""
    side, depth = round(2.2 * BOSS * unit.r, 5), unit.r
    middle, big = (side / 2, side / 2), BOSS * unit.r
    loop = circle(*middle, big)
    stop = feature("stop", "boss", -depth, (rectangle(-side, 2 * side, -side, 2 * side),), (loop,))
    table = Table("stop")
    away = round(-4 * unit.r, 5)
    table.start(away, middle[1], 0.1 * unit.k).go("position", z=-depth)
    stock = unit.wall if spoilt.rough_wall is None else spoilt.rough_wall
    rings = [("rough", big + unit.r + stock + more * 0.4 * unit.r) for more in (2, 1, 0)]
    rings += [("finish", big + unit.r + share * unit.wall) for share in (spoilt.skim, 0.0)]
    for number, (stage, path) in enumerate(rings, start=1):
        table.stage = stage
        last = number == len(rings)
        points = circle_points(
            unit, middle, path, path - unit.r, not climb, spoilt if last else GOOD
        )
        walk = Walk(table, number, depth, lambda at: hypot(at[0] - middle[0], at[1] - middle[1]))
        walk.wrong_corner = spoilt.wrong_corner if last else -1
        walk.along(points[::-1] if last and spoilt.reverse else points)
        table.go("return", x=away)
    return promise(unit, work(unit, (stop,), (side, side), climb)), table


def bore(unit: Unit, climb: bool = False, spoilt: Spoilt = GOOD) -> tuple[Plan, Table]:
    """A bore of twice the cutter's diameter, opened by a plunge and walked out in rings."""
    side, depth = 6 * unit.r, unit.r / 2
    middle, big = (side / 2, side / 2), 2 * unit.r
    hole = feature("eye", "bore", -depth, (circle(*middle, big),))
    table = Table("eye")
    table.start(*middle, 0.1 * unit.k).plunge(-depth)
    stock = unit.wall if spoilt.rough_wall is None else spoilt.rough_wall
    most = big - unit.r
    rings = [("rough", (most - stock) * share / 4) for share in (1, 2, 3, 4)]
    rings += [("finish", most - share * unit.wall) for share in (spoilt.skim, 0.0)]
    for number, (stage, path) in enumerate(rings, start=1):
        table.stage = stage
        last = number == len(rings)
        points = circle_points(unit, middle, path, path + unit.r, climb, spoilt if last else GOOD)
        walk = Walk(table, number, depth, lambda at: -hypot(at[0] - middle[0], at[1] - middle[1]))
        walk.wrong_corner = spoilt.wrong_corner if last else -1
        walk.along(points[::-1] if last and spoilt.reverse else points)
    table.go("retract", z=0.1 * unit.k)
    return promise(unit, work(unit, (hole,), (side, side), climb)), table


def slanted(unit: Unit, spoilt: Spoilt = GOOD) -> tuple[Plan, Table]:
    """A wall through (2 r, 0) that rises 2 in 1; all right of it is cleared, conventional.

    Roughed by passes along Y from the right, each stopped where the wall's stock begins.
    """
    r, depth = unit.r, unit.r
    size = (5 * r, 4 * r)
    corners = [Point(0, -4 * r), Point(8 * r, -4 * r), Point(8 * r, 12 * r)]
    edges: list[Edge] = [
        Line(a, b) for a, b in zip(corners, corners[1:] + corners[:1], strict=True)
    ]
    ledge = feature("ledge", "outline", -depth, (Loop(tuple(edges)),))
    root5 = sqrt(5.0)

    def off(at: Place) -> float:
        """Distance from the wall to the free side."""
        return (2 * (at[0] - 2 * r) - at[1]) / root5

    stock = unit.wall if spoilt.rough_wall is None else spoilt.rough_wall
    front, back = round(-1.2 * r, 5), round(5.2 * r, 5)
    table = Table("ledge")
    number, x = 0, round(5 * r + r - 0.4 * r, 5)
    table.start(x, front, 0.1 * unit.k).go("position", z=-depth)
    while (last := unit.floor(2 * (x - 2 * r) - (r + stock) * root5)) > front:
        number += 1
        if table.at[0] != x:
            table.go("position", x=x)
        table.cut(0.45 * r, depth, y=min(last, back))
        table.rows[-1]["pass"] = str(number)
        if table.at[1] != front:
            clear = round(x + 0.06 * unit.k, 5)
            table.go("return", x=clear).go("return", y=front)
        x = round(x - 0.4 * r, 5)
    walks = [("rough", r + stock), ("finish", r + spoilt.skim * unit.wall), ("finish", r)]
    for count, (stage, away) in enumerate(walks, start=1):
        table.stage = stage
        points = _slope_points(unit, away, front, back, spoilt if count == 3 else GOOD)
        if count == 3 and spoilt.reverse:
            points.reverse()
        table.go("retract", z=0.1 * unit.k)
        for axis, place in zip("xy", points[0], strict=True):
            if table.at["xy".index(axis)] != place:
                table.go("position", **{axis: place})
        table.go("position", z=-depth)
        walk = Walk(table, number + count, depth, off)
        walk.wrong_corner = spoilt.wrong_corner if count == 3 else -1
        walk.along(points[1:])
    table.go("retract", z=0.1 * unit.k)
    return promise(unit, work(unit, (ledge,), size, False)), table


def _slope_points(
    unit: Unit, away: float, front: float, back: float, spoilt: Spoilt
) -> list[Place]:
    """Points ``away`` from the slanted wall: r - √(r² - s²/4) is the cusp for a spacing s."""
    r, root5 = unit.r, sqrt(5.0)
    spacing = 2 * sqrt(r**2 - (r - 0.97 * unit.cusp) ** 2) * spoilt.spacing
    count = ceil((back - front) * root5 / 2 / spacing)
    points = []
    for number in range(count + 1):
        y = round(round((front + (back - front) * number / count) / unit.step) * unit.step, 5)
        if spoilt.missing[0] < y / r < spoilt.missing[1]:
            continue
        points.append((unit.up(2 * r + y / 2 + away * root5 / 2), y))
    return points


def told(promise: Plan, table: Table) -> str:
    """The table with the both-ways lengths and widths that the proof measures."""
    both = dict(prove(promise, table.text).row_both_ways)
    for number, row in enumerate(table.rows, start=1):
        if row["move"] == "cut":
            row["both_ways"] = f"{both[number]:.5f}"
            row["width_of_cut"] = str(2 * promise.cutters[0].cutter.radius)
    return table.text


def proven(promise: Plan, table: Table) -> Proof:
    """The proof of a table that tells its both-ways lengths and widths."""
    return prove(promise, told(promise, table))
