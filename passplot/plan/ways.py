"""Directions of slanted straight walls, and the smallest turns that bring them along X or Y."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from math import atan2, degrees

from passplot.frozen import dataclass
from passplot.plan.turned_job import turned_point
from passplot.plan.walls import make_walls
from passplot.records.job import Feature, Job
from passplot.records.set_over import TurnedWall
from passplot.records.shapes import Edge, Line


@dataclass(frozen=True, slots=True)
class Way:
    """A direction of walls modulo 90 degrees: the turn that squares it, and its walls.

    ``angle`` is in degrees, counter-clockwise positive, -45 to 45; ``walls`` hold the number of
    the feature with each.
    """

    angle: float
    walls: tuple[tuple[int, Line], ...]

    @property
    def features(self) -> frozenset[int]:
        """Numbers of the features with walls that way."""
        return frozenset(number for number, _ in self.walls)

    def standing(self, job: Job, drawn: Sequence[Feature] = ()) -> tuple[TurnedWall, ...]:
        """Where the walls stand with the work turned, as the turned features have it."""
        found = []
        for number, wall in self.walls:
            name = job.features[number].name
            a, b = turned_point(wall.start, self.angle), turned_point(wall.end, self.angle)
            axis = "Y" if abs(b.x - a.x) > abs(b.y - a.y) else "X"
            at = (a.y + b.y) / 2 if axis == "Y" else (a.x + b.x) / 2
            levels = [v for each in drawn if each.name == name for v in _levels(each, axis)]
            at = min(levels, key=lambda level: abs(level - at), default=at)
            found.append(TurnedWall(name, axis, at))
        return tuple(found)


def _levels(feature: Feature, axis: str) -> Iterator[float]:
    """Where walls of a feature stand that hold an axis still."""
    for loop in (*feature.area, *feature.keep):
        for edge in loop.edges:
            start, end = (p.x if axis == "X" else p.y for p in (edge.start, edge.end))
            if isinstance(edge, Line) and start == end:
                yield start


def ways_of(job: Job, numbers: Iterable[int]) -> tuple[tuple[Way, ...], frozenset[int]]:
    """Directions of the slanted walls of some features, and which of these have others.

    Returns
    -------
    tuple of Way
        The longest wall of each first met in file order.
    frozenset of int
        Numbers of features that are cut in the straight setting, too: those with walls along X
        or Y, or arcs, and those with slanted walls of several directions.
    """
    near = job.shop.machine.resolution
    found: list[Way] = []
    straight: set[int] = set()
    for number in numbers:
        for wall in _walls_of(job, number):
            if not isinstance(wall, Line) or _level(wall, 0.0, near):
                straight.add(number)
                continue
            for place, way in enumerate(found):
                if _level(wall, way.angle, near):
                    found[place] = Way(way.angle, (*way.walls, (number, wall)))
                    break
            else:
                found.append(Way(smallest_turn(wall), ((number, wall),)))
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


def smallest_turn(wall: Line) -> float:
    """Degrees to turn the work, from -45 to 45, that bring a wall along X or Y."""
    slope = degrees(atan2(wall.end.y - wall.start.y, wall.end.x - wall.start.x))
    turn = -slope % 90
    return turn if turn <= 45 else turn - 90
