"""Stepping along a wall: the settings of a stretch cut one after the other, one pass in all."""

from itertools import pairwise
from math import hypot, pi

import numpy as np
import shapely
from shapely import LineString
from shapely import Point as Where
from shapely.geometry.base import BaseGeometry

from passplot.frozen import dataclass
from passplot.plan.entry import approach
from passplot.plan.legs import heading
from passplot.plan.metal import CENTRE_BAND, thick
from passplot.plan.stepping import Stretch
from passplot.plan.walker import Walker, apart
from passplot.plan.zones import SLACK
from passplot.records.plan import Steps
from passplot.records.shapes import Point

Spot = tuple[float, float]

_FRONT = 1.01
"""How far ahead of the cutter metal counts as met, in radii."""

_CORNER = pi / 6
"""Turn of a wall from which on running up to it is running into a corner, radians."""

_FEWEST = 4
"""Stops from which on a walk has a width."""

_NEAR = 0.6
"""How near the first setting ways may leave the zone, in steps of the readout."""


@dataclass(frozen=True, slots=True)
class Step:
    """From one setting to the next: the spots gone to, the last of them the setting."""

    start: Spot
    spots: tuple[Spot, ...]

    @property
    def length(self) -> float:
        """Length fed."""
        return sum(apart(a, b) for a, b in self.ways)

    @property
    def ways(self) -> list[tuple[Spot, Spot]]:
        """Its straight moves."""
        return list(zip((self.start, *self.spots[:-1]), self.spots, strict=True))


@dataclass(frozen=True, slots=True)
class Way:
    """Where the axis may stand, and the area whose metal is to be taken."""

    allowed: BaseGeometry
    target: BaseGeometry


def follow(walker: Walker, stretch: Stretch, z: float, purpose: str, way: Way) -> None:
    """Cut along a stretch wherever it meets metal of the target."""
    if len(stretch.points) == 1:
        _go_into(walker, stretch.points[0], z, way.allowed)
        return
    steps = _steps(stretch)
    live = [_meets(walker, step, z, way.target) for step in steps]
    if not any(live):
        return
    if stretch.closed:
        steps, live = _begun(walker, steps, live, z)
    for first, last in _runs(walker, steps, live):
        # metal too thin to be looked for may stand on the next short step
        more = int(last < len(steps) and len(steps[last].spots) > 1)
        _run(walker, steps[first : last + more], z, purpose, way.allowed, stretch.scallops)


def _go_into(walker: Walker, spot: Spot, z: float, allowed: BaseGeometry) -> None:
    """A single setting that no free move leads to from its neighbours."""
    near = Where(spot).buffer(_NEAR * walker.bench.grid.resolution)
    if not walker.stands_free(spot, z) and not walker.bench.blocked(spot, spot, z):
        approach(walker, spot, z, (0, 0), allowed.union(near))


def _steps(stretch: Stretch) -> list[Step]:
    out = []
    for index in range(1, len(stretch.points)):
        corner, spot = stretch.corners[index], stretch.points[index]
        spots = (spot,) if corner is None else (corner, spot)
        out.append(Step(stretch.points[index - 1], spots))
    return out


def _meets(walker: Walker, step: Step, z: float, target: BaseGeometry) -> bool:
    bench = walker.bench
    for a, b in step.ways:
        contact = walker.metal.contact(a, b, z, bench.radius, bench.left)
        if not contact.empty and thick(contact.met.intersection(target), walker.metal.thin):
            return True
    return False


def _begun(
    walker: Walker, steps: list[Step], live: list[bool], z: float
) -> tuple[list[Step], list[bool]]:
    """A closed round begun where metal begins, else where it is best fed in.

    That is next to free space and square to X or Y, so that one move brings the cutter in.
    """
    count = len(steps)
    gaps = [i for i in range(count) if live[i] and not live[i - 1]]
    if gaps:
        first = min(gaps, key=lambda i: apart(steps[i].start, walker.at))
    else:

        def cost(index: int) -> tuple[bool, bool, float]:
            single = len(steps[index].spots) == 1
            room = walker.metal.at(z).distance(Where(steps[index].start))
            return not single, room < walker.bench.radius / 2, apart(steps[index].start, walker.at)

        first = min(range(count), key=cost)
    return steps[first:] + steps[:first], live[first:] + live[:first]


def _runs(walker: Walker, steps: list[Step], live: list[bool]) -> list[tuple[int, int]]:
    """Unbroken runs of steps that meet metal, short stretches of air among them kept."""
    far = 4 * walker.bench.radius
    runs: list[tuple[int, int]] = []
    air = 0.0
    for index, step in enumerate(steps):
        if not live[index]:
            air += step.length
            continue
        if runs and air <= far:
            runs[-1] = (runs[-1][0], index + 1)
        else:
            runs.append((index, index + 1))
        air = 0.0
    return runs


def _run(
    walker: Walker,
    steps: list[Step],
    z: float,
    purpose: str,
    allowed: BaseGeometry,
    scallops: tuple[tuple[str, float], ...],
) -> None:
    steps = _trimmed(walker, steps, z, allowed)
    a, b = steps[0].ways[0]
    # the zone's chords keep a little off the true offset, on which the first setting lies
    near = Where(a).buffer(_NEAR * walker.bench.grid.resolution)
    approach(walker, a, z, heading(a, b), allowed.union(near))
    first, width = len(walker.passes), 0.0
    places = [a, *(spot for step in steps for spot in step.spots)]
    for number, spot in enumerate(places[1:]):
        width = max(width, _engaged(walker, places[number], _along_wall(places, number, walker), z))
        # every setting is a stop, where two moves go the same way too
        walker.cut(spot, purpose, alone=True)
    if any(len(step.spots) > 1 for step in steps):
        points = (a, *(step.spots[-1] for step in steps))
        axes = tuple("X" if step.ways[0][0][1] == step.ways[0][1][1] else "Y" for step in steps)
        walker.gather(first, Steps(tuple(Point(*spot) for spot in points), axes, scallops), width)


def widest_ahead(walker: Walker, stretch: Stretch, z: float) -> float:
    """Greatest width of cut a walk along a stretch would have; corners run up to do not count.

    These are its end, and where the wall turns towards the cutter by more than ``_CORNER``.
    """
    places = [
        spot
        for corner, point in zip(stretch.corners, stretch.points, strict=True)
        for spot in ((point,) if corner is None else (corner, point))
    ]
    if len(places) < _FEWEST:
        return 0.0
    ways = [_along_wall(places, number, walker) for number in range(len(places) - 1)]
    gone = np.cumsum([0.0, *(apart(a, b) for a, b in pairwise(places))])
    away = -1.0 if walker.bench.left else 1.0
    widest = 0.0
    for number, (x, y) in enumerate(ways):
        last = int(np.searchsorted(gone, gone[number] + walker.bench.radius, side="right"))
        later = np.array(ways[number:last])
        turns = away * np.arctan2(x * later[:, 1] - y * later[:, 0], later @ np.array([x, y]))
        if last < len(places) and not (turns > _CORNER).any():
            widest = max(widest, _engaged(walker, places[number], (x, y), z))
    return widest


def _along_wall(places: list[Spot], number: int, walker: Walker) -> Spot:
    """Which way the wall runs at one of the places a walk stops at, from two before to two after.

    A move longer than the cutter's radius is measured by itself.
    """
    here = min(number, 2)
    near = places[number - here : number + 3]
    far = [apart(a, b) > walker.bench.radius for a, b in pairwise(near)]
    low, high = here, here + 1
    while low > 0 and not far[low - 1] and not far[here]:
        low -= 1
    if high < len(far) and not far[high] and not far[here]:
        high += 1
    (x, y), (u, v) = near[low], near[high]
    span = max(hypot(u - x, v - y), SLACK)
    return (u - x) / span, (v - y) / span


def _engaged(walker: Walker, at: Spot, way: Spot, z: float) -> float:
    """Radial engagement across a direction, where the cutter stands."""
    bench, (dx, dy) = walker.bench, way
    front = Where(at).buffer(bench.radius * _FRONT)
    met = shapely.get_coordinates(walker.metal.near(z, front).intersection(front)) - at
    ahead = met @ np.array([dx, dy])
    aside = met @ np.array([-dy, dx]) * (1 if bench.left else -1)
    beside = aside[(ahead > 0) & (aside > 2 * CENTRE_BAND * bench.radius)]
    return bench.radius - float(beside.min()) if beside.size else 0.0


def _trimmed(walker: Walker, steps: list[Step], z: float, allowed: BaseGeometry) -> list[Step]:
    """Long single moves begun just before the metal and ended just after it."""
    bench = walker.bench
    first = steps[0]
    if len(first.spots) == 1:
        a, b = first.start, first.spots[0]
        contact = walker.metal.contact(a, b, z, bench.radius, bench.left)
        ahead = 0.0 if contact.empty else contact.first - bench.stand_off
        if ahead > 0:
            a = _along(walker, a, b, ahead)
        elif contact.first <= bench.stand_off:
            back = _along(walker, a, b, contact.first - bench.stand_off)
            way = LineString([back, a]) if back != a else None
            clear = way is not None and allowed.covers(way) and walker.stands_free(back, z)
            a = back if clear else a
        steps = [Step(a, (b,)), *steps[1:]] if a != b else steps[1:] or steps
    last = steps[-1]
    if len(last.spots) == 1:
        a, b = last.start, last.spots[0]
        contact = walker.metal.contact(a, b, z, bench.radius, bench.left)
        if not contact.empty and contact.last + bench.back_off < apart(a, b):
            steps = [*steps[:-1], Step(a, (_along(walker, a, b, contact.last + bench.back_off),))]
    return steps


def _along(walker: Walker, a: Spot, b: Spot, s: float) -> Spot:
    dx, dy = heading(a, b)
    grid = walker.bench.grid
    return grid.near(a[0] + dx * s), grid.near(a[1] + dy * s)
