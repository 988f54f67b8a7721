"""Arcs on a rotary table in words: centre, radius setting, angles, and which way to turn.

Angles are those of the cutter about the centre, counter-clockwise from X; the table turns the other
way.
"""

from collections.abc import Iterator, Sequence
from math import atan2, degrees

from passplot.frozen import dataclass
from passplot.plan.words import angle_words, size_words
from passplot.records.job import Feature, Job
from passplot.records.plan import Pass
from passplot.records.shapes import Arc, Point

_HAIR = 1e-6


@dataclass(frozen=True, slots=True)
class Swing:
    """One arc of a wall.

    Attributes
    ----------
    center, radius : Point, float
        Of the wall.
    hollow : bool
        Whether the part lies outside the arc: the cutter then runs inside it.
    start, sweep : float
        Where the cutter begins, degrees counter-clockwise from X, and how far it goes, positive
        counter-clockwise, in the direction that is asked for.
    """

    center: Point
    radius: float
    hollow: bool
    start: float
    sweep: float

    def setting(self, cutter_radius: float) -> float:
        """Distance of the cutter's axis from the centre."""
        return self.radius + (-cutter_radius if self.hollow else cutter_radius)


@dataclass(frozen=True, slots=True)
class Rim:
    """The circle that an arc of a wall lies on; ``hollow`` where the part lies outside it."""

    center: Point
    radius: float
    hollow: bool


def rims_of(feature: Feature) -> tuple[Rim, ...]:
    """The circles of a feature's arcs, each once."""
    found = (
        Rim(arc.center, arc.radius, arc.ccw == inner)
        for loops, inner in ((feature.area, True), (feature.keep, False))
        for loop in loops
        for arc in loop.edges
        if isinstance(arc, Arc)
    )
    return tuple(dict.fromkeys(found))


def swings_of(job: Job, feature: Feature) -> tuple[Swing, ...]:
    """Every arc of a feature's walls; arcs of one circle that meet are one."""
    return tuple(
        _swing(job, arcs, hollow)
        for loops, inner in ((feature.area, True), (feature.keep, False))
        for loop in loops
        for arcs, hollow in _runs(loop.edges, inner)
    )


def _runs(edges: Sequence[object], inner: bool) -> Iterator[tuple[list[Arc], bool]]:
    """Arcs of a loop that follow each other on one circle, and whether they are hollow."""
    run: list[Arc] = []
    runs: list[list[Arc]] = []
    for edge in edges:
        if not isinstance(edge, Arc):
            run = []
        elif run and _same(run[-1], edge):
            run.append(edge)
        else:
            run = [edge]
            runs.append(run)
    closed = bool(edges) and isinstance(edges[0], Arc) and isinstance(edges[-1], Arc)
    if len(runs) > 1 and closed and _same(runs[-1][-1], runs[0][0]):
        runs[0] = runs.pop() + runs[0]
    for arcs in runs:
        yield arcs, arcs[0].ccw == inner


def _same(a: Arc, b: Arc) -> bool:
    off = abs(a.center.x - b.center.x) + abs(a.center.y - b.center.y) + abs(a.radius - b.radius)
    return a.ccw == b.ccw and off < _HAIR


def _swing(job: Job, arcs: Sequence[Arc], hollow: bool) -> Swing:
    """The arc in the direction that has the metal on the side asked for.

    Inside a hollow arc a cutter that goes clockwise has the metal on its left, outside a bulge
    one that goes counter-clockwise.
    """
    first, last = arcs[0], arcs[-1]
    sweep = sum(_turn(arc) for arc in arcs)
    start = _angle(first, first.start)
    counter = hollow != job.metal_on_left
    if (sweep > 0) != counter:
        start, sweep = _angle(last, last.end), -sweep
    return Swing(first.center, first.radius, hollow, start % 360, sweep)


def _angle(arc: Arc, spot: Point) -> float:
    return degrees(atan2(spot.y - arc.center.y, spot.x - arc.center.x))


def _turn(arc: Arc) -> float:
    """Degrees from start to end of an arc, positive counter-clockwise; 360 where they meet."""
    turn = (_angle(arc, arc.end) - _angle(arc, arc.start)) % 360
    if min(turn, 360 - turn) < _HAIR:
        turn = 360.0
    return turn if arc.ccw else turn - 360.0


def rotary_notes(job: Job, passes: Sequence[Pass], radius: float) -> tuple[str, ...]:
    """What the rotary table saves on each feature that asks for it, and how its arcs are swung.

    Parameters
    ----------
    radius : float
        Of the cutter that finishes them.
    """
    notes: list[str] = []
    for feature in job.features:
        if not feature.rotary:
            continue
        turns = [one.turn for one in passes if one.feature == feature.name and one.turn is not None]
        saved = sum(turn.settings for turn in turns)
        count = len({turn.center for turn in turns})
        once = f", the work set on it {count} times over" if count > 1 else ""
        notes.append(
            f"{feature.name}: {len(turns)} arcs cut on a rotary table{once}; stepped off they "
            f"would take {saved} settings"
        )
        notes += [_note(job, feature, swing, radius) for swing in swings_of(job, feature)]
    return tuple(notes)


def _note(job: Job, feature: Feature, swing: Swing, radius: float) -> str:
    def said(value: float) -> str:
        return size_words(value, job)

    sign = "less" if swing.hollow else "plus"
    table = "clockwise" if swing.sweep > 0 else "counter-clockwise"
    cut = "climb" if job.climb else "conventional"
    if abs(swing.sweep) >= 360 - _HAIR:
        way = "once round"
    else:
        end = (swing.start + swing.sweep) % 360
        way = (
            f"cutter from {angle_words(swing.start)} to {angle_words(end)} about it (from X, "
            f"counter-clockwise), a swing of {angle_words(abs(swing.sweep))}"
        )
    return (
        f"{feature.name}, rotary table: centre X {said(swing.center.x)} Y {said(swing.center.y)}, "
        f"cutter set {said(swing.setting(radius))} off it ({said(swing.radius)} {sign} "
        f"{said(radius)}), {way}, table {table} seen from above: {cut}"
    )
