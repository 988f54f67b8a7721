"""Slanted straight walls cut with the work turned in the vise, so that they lie along X or Y.

The work turns by the smallest angle that does it. Coordinates of the turned position have the same
X0 Y0, turned with the work.
"""

from collections.abc import Sequence
from itertools import pairwise
from math import hypot, radians, sin

from passplot.plan.setting import BESIDE
from passplot.plan.turned_job import turned_point
from passplot.plan.ways import Way, ways_of
from passplot.plan.words import angle_words, size_words
from passplot.records.job import Feature, Job
from passplot.records.plan import Pass
from passplot.records.set_over import SetOver
from passplot.records.shapes import Line, Point

BARS = {"inch": 5.0, "mm": 100.0}
"""Length of the sine bar in job units, where the shop file states none: both are common
(gaugehow.com, what is a sine bar)."""
_MOST_TURNS = 2
"""Where more turned positions would do, the sheet gives their number and not each."""


def sine_bar(job: Job) -> float:
    """Length of the sine bar, of the shop or a common one (job units)."""
    return job.shop.machine.sine_bar or BARS["inch" if job.inch else "mm"]


def sine_stack(bar: float, angle_deg: float) -> float:
    """Stack under a sine bar: its length times the sine of the angle, in the bar's unit.

    27 degrees on 5 in take 2.270 in (higherprecision.com, height of gauge blocks).
    """
    return bar * sin(radians(abs(angle_deg)))


def settings_of(job: Job, once: int) -> int:
    """How often a handwheel is set for what takes ``once`` a pass: roughing, and every skim."""
    return once * (1 + job.finish.skims)


def stepped_settings(passes: Sequence[Pass], feature: str, ways: Sequence[Way]) -> list[int]:
    """How often a handwheel is set to step along the walls of each way of a feature."""
    counts = [0] * len(ways)
    walls = [(number, wall) for number, way in enumerate(ways) for _, wall in way.walls]
    for each in passes:
        if each.feature != feature or each.steps is None or not walls:
            continue
        for a, b in pairwise(each.steps.points):
            middle = Point((a.x + b.x) / 2, (a.y + b.y) / 2)
            number, wall = min(walls, key=lambda pair: _apart(middle, pair[1]))
            if _beside(middle, Point(b.x - a.x, b.y - a.y), wall):
                counts[number] += (a.x != b.x) + (a.y != b.y)
    return counts


def _apart(at: Point, wall: Line) -> float:
    """Distance of a point from a wall."""
    long = wall.length
    ux, uy = (wall.end.x - wall.start.x) / long, (wall.end.y - wall.start.y) / long
    along = (at.x - wall.start.x) * ux + (at.y - wall.start.y) * uy
    along = min(max(along, 0.0), long)
    return hypot(at.x - wall.start.x - along * ux, at.y - wall.start.y - along * uy)


def _beside(middle: Point, way: Point, wall: Line) -> bool:
    """Whether a step runs along a wall: about its way, over some place of it."""
    long = wall.length
    ux, uy = (wall.end.x - wall.start.x) / long, (wall.end.y - wall.start.y) / long
    along = (middle.x - wall.start.x) * ux + (middle.y - wall.start.y) * uy
    size = hypot(way.x, way.y)
    straight = abs(way.x * uy - way.y * ux) <= 0.3 * size
    return -0.05 * long <= along <= 1.05 * long and straight


def set_over_notes(job: Job, passes: Sequence[Pass]) -> tuple[str, ...]:
    """What it takes to turn the work for slanted walls, and what stepping them costs.

    It is suggested wherever stepping takes more settings of a handwheel.
    """
    notes: list[str] = []
    for number, feature in enumerate(job.features):
        if feature.kind == BESIDE or not (feature.set_over or _has_slants(feature)):
            continue
        ways = ways_of(job, [number])[0]
        if feature.set_over:
            if not ways:
                notes.append(f"{feature.name}: no straight slanted wall to set over")
            continue
        costs = stepped_settings(passes, feature.name, ways)
        worth = [
            (way, cost)
            for way, cost in zip(ways, costs, strict=True)
            if cost > settings_of(job, len(way.walls))
        ]
        if len(worth) > _MOST_TURNS:
            notes.append(_in_short(job, feature, worth))
        else:
            notes += [note for way, cost in worth for note in _notes(job, feature, way, cost)]
    return tuple(notes)


def _has_slants(feature: Feature) -> bool:
    """Whether some straight wall of a feature lies off X and Y."""
    loops = (*feature.area, *feature.keep)
    edges = (edge for loop in loops for edge in loop.edges)
    return any(isinstance(edge, Line) and not edge.level for edge in edges)


def _in_short(job: Job, feature: Feature, worth: Sequence[tuple[Way, int]]) -> str:
    """What many turned positions save, all together."""
    walls = sum(len(way.walls) for way, _ in worth)
    return (
        f"{feature.name}: stepped off, the slanted walls take {sum(cost for _, cost in worth)} "
        f"settings; set over in the vise {settings_of(job, walls)}, in {len(worth)} turned "
        f"positions{_asked_for(job)}"
    )


def _asked_for(job: Job) -> str:
    """How the job file asks for it; by the dials alone it cannot be planned."""
    return "" if job.shop.machine.readout == "dials" else ": set_over = true plans it"


def _notes(job: Job, feature: Feature, way: Way, cost: int) -> list[str]:
    def said(value: float) -> str:
        return size_words(value, job)

    def at(x: float, y: float) -> str:
        spot = turned_point(Point(x, y), way.angle)
        return f"X {said(spot.x)} Y {said(spot.y)}"

    bar = sine_bar(job)
    several = len(way.walls) > 1
    angle = angle_words(abs(way.angle))
    standing = way.standing(job)
    lies = " and ".join(dict.fromkeys("Y" if wall.axis == "X" else "X" for wall in standing))
    stands = ", ".join(f"{wall.axis} {said(wall.at)}" for wall in standing)
    (left, right), (front, back) = job.stock.x, job.stock.y
    far = ("left back", at(left, back)) if way.angle < 0 else ("right front", at(right, front))
    return [
        f"{feature.name}: stepped off, the slanted wall{'s take' if several else ' takes'} "
        f"{cost} settings; set over, {settings_of(job, len(standing))}{_asked_for(job)}. Turn the "
        f"work {angle} {_sense(way.angle)} in the vise (seen from above), the wall"
        f"{'s then lie' if several else ' then lies'} along {lies}. Protractor {angle}, or "
        f"{said(sine_stack(bar, way.angle))} under a {bar:g} {'in' if job.inch else 'mm'} sine bar",
        f"{feature.name}, set over: pick up zero again at a pin or the point of the left front "
        f"corner, set {at(left, front)} there; the {far[0]} corner then shows {far[1]}. Wall at "
        f"{stands}: the cutter's axis stops its radius off it",
    ]


def planned_notes(job: Job, settings: Sequence[SetOver]) -> tuple[str, ...]:
    """What the work set over saves, for the set-up sheet."""
    return tuple(
        f"{' and '.join(each.features)}: set over {angle_words(abs(each.angle))} "
        f"{_sense(each.angle)}, {each.settings} settings along the slanted walls; stepped off, "
        f"they would take about {each.stepping}"
        for each in settings
    )


def _sense(angle: float) -> str:
    return "counter-clockwise" if angle > 0 else "clockwise"
