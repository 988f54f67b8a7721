"""Slanted straight walls cut with the work turned in the vise, so that they lie along X or Y.

The work turns by the smallest angle that does it. Coordinates of the turned position have the same
X0 Y0, turned with the work.
"""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import atan2, cos, degrees, hypot, radians, sin

from passplot.frozen import dataclass
from passplot.plan.words import angle_words, size_words
from passplot.records.job import Feature, Job
from passplot.records.plan import Pass
from passplot.records.set_over import SetOver
from passplot.records.shapes import Line, Point

BARS = {"inch": 5.0, "mm": 100.0}
"""Length of the sine bar in job units: both are common (gaugehow.com, what is a sine bar)."""
_ALIKE_DEG = 1 / 120
"""Walls that a protractor cannot tell apart are parallel: half a minute."""
_MOST_TURNS = 2
"""Unasked, no more turned positions than this are suggested for a feature."""


@dataclass(frozen=True, slots=True)
class Turn:
    """One turned position: ``angle`` in degrees, counter-clockwise positive, and its walls."""

    angle: float
    walls: tuple[Line, ...]

    def moved(self, spot: Point) -> Point:
        """A point in the turned position."""
        turn = radians(self.angle)
        return Point(
            spot.x * cos(turn) - spot.y * sin(turn), spot.x * sin(turn) + spot.y * cos(turn)
        )

    def axis(self, wall: Line) -> str:
        """The axis that a wall then lies along."""
        a, b = self.moved(wall.start), self.moved(wall.end)
        return "X" if abs(b.x - a.x) > abs(b.y - a.y) else "Y"

    def stands_at(self, wall: Line) -> float:
        """The coordinate of a wall in the turned position."""
        spot = self.moved(wall.start)
        return spot.y if self.axis(wall) == "X" else spot.x


def sine_stack(bar: float, angle_deg: float) -> float:
    """Stack under a sine bar: its length times the sine of the angle, in the bar's unit.

    27 degrees on 5 in take 2.270 in (higherprecision.com, height of gauge blocks).
    """
    return bar * sin(radians(abs(angle_deg)))


def turns_of(feature: Feature) -> tuple[Turn, ...]:
    """The turned positions of a feature, each with the walls that it brings along X or Y."""
    found: list[Turn] = []
    for wall in _slanted(feature):
        angle = _smallest_turn(wall)
        for place, turn in enumerate(found):
            if abs((turn.angle - angle + 45) % 90 - 45) < _ALIKE_DEG:
                found[place] = Turn(turn.angle, (*turn.walls, wall))
                break
        else:
            found.append(Turn(angle, (wall,)))
    return tuple(found)


def _slanted(feature: Feature) -> Iterator[Line]:
    for loop in (*feature.area, *feature.keep):
        for edge in loop.edges:
            if isinstance(edge, Line) and not edge.level:
                yield edge


def _smallest_turn(wall: Line) -> float:
    """Degrees to turn the work, from -45 to 45, that bring a wall along X or Y."""
    slope = degrees(atan2(wall.end.y - wall.start.y, wall.end.x - wall.start.x))
    turn = -slope % 90
    return turn if turn <= 45 else turn - 90


def stepped_settings(passes: Sequence[Pass], feature: str, walls: Sequence[Line]) -> int:
    """How often a handwheel is set to step along some walls of a feature."""
    count = 0
    for each in passes:
        if each.feature != feature or each.steps is None:
            continue
        for a, b in pairwise(each.steps.points):
            middle = Point((a.x + b.x) / 2, (a.y + b.y) / 2)
            if any(_beside(middle, Point(b.x - a.x, b.y - a.y), wall) for wall in walls):
                count += (a.x != b.x) + (a.y != b.y)
    return count


def _beside(middle: Point, way: Point, wall: Line) -> bool:
    """Whether a step runs along a wall: about its way, over some place of it."""
    long = wall.length
    ux, uy = (wall.end.x - wall.start.x) / long, (wall.end.y - wall.start.y) / long
    along = (middle.x - wall.start.x) * ux + (middle.y - wall.start.y) * uy
    size = hypot(way.x, way.y)
    straight = abs(way.x * uy - way.y * ux) <= 0.3 * size
    return -0.05 * long <= along <= 1.05 * long and straight


def set_over_notes(job: Job, passes: Sequence[Pass]) -> tuple[str, ...]:
    """What it takes to turn the work for slanted walls, and what stepping them costs."""
    notes: list[str] = []
    for feature in job.features:
        turns = turns_of(feature)
        if feature.set_over and not turns:
            notes.append(f"{feature.name}: no straight slanted wall to set over")
        if feature.set_over or len(turns) > _MOST_TURNS:
            continue
        for turn in turns:
            settings = stepped_settings(passes, feature.name, turn.walls)
            # set over, a wall takes one setting and one feed a pass
            if settings > 2 * len(turn.walls):
                notes += _notes(job, feature, turn, settings)
    return tuple(notes)


def _notes(job: Job, feature: Feature, turn: Turn, settings: int) -> list[str]:
    def said(value: float) -> str:
        return size_words(value, job)

    bar = BARS["inch" if job.inch else "mm"]
    way = "counter-clockwise" if turn.angle > 0 else "clockwise"
    angle = angle_words(abs(turn.angle))
    bar_words = f"{bar:g} in" if job.inch else f"{bar:g} mm"
    several = len(turn.walls) > 1
    lies = " and ".join(dict.fromkeys(turn.axis(wall) for wall in turn.walls))
    stands = ", ".join(
        f"{'Y' if turn.axis(wall) == 'X' else 'X'} {said(turn.stands_at(wall))}"
        for wall in turn.walls
    )
    (left, right), (front, back) = job.stock.x, job.stock.y
    near, far = turn.moved(Point(left, front)), turn.moved(Point(right, front))
    if turn.angle < 0:
        far = turn.moved(Point(left, back))
    return [
        f"{feature.name}: stepped off, the slanted wall{'s take' if several else ' takes'} "
        f"{settings} settings. Set over: turn the work {angle} {way} in the vise (seen from "
        f"above), the wall{'s then lie' if several else ' then lies'} along {lies}. Protractor "
        f"{angle}, or {said(sine_stack(bar, turn.angle))} under a {bar_words} sine bar",
        f"{feature.name}, set over: pick up zero again at a pin or the point of the left front "
        f"corner, set X {said(near.x)} Y {said(near.y)} there; the "
        f"{'left back' if turn.angle < 0 else 'right front'} corner then shows X {said(far.x)} "
        f"Y {said(far.y)}. Wall at {stands}: the cutter's axis stops its radius off it",
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
