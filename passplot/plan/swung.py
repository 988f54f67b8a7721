"""What a feature has to swing on a rotary table, and what that saves, in words."""

from collections.abc import Sequence
from itertools import groupby

from passplot.frozen import dataclass
from passplot.records.job import Feature, Job
from passplot.records.plan import Pass
from passplot.records.shapes import Arc, Point


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


def rotary_notes(job: Job, passes: Sequence[Pass]) -> tuple[str, ...]:
    """For each feature that asks for a rotary table: what is cut on it and what that saves."""
    notes: list[str] = []
    for feature in job.features:
        if not feature.rotary:
            continue
        turns = [one.turn for one in passes if one.feature == feature.name and one.turn is not None]
        if not turns:
            why = "the cutter leaves its arcs by itself" if rims_of(feature) else "no arc to swing"
            notes.append(f"{feature.name}: nothing to do on a rotary table, {why}")
            continue
        times = sum(1 for _ in groupby(turn.center for turn in turns))
        cuts = f"{len(turns)} cuts" if len(turns) > 1 else "1 cut"
        on_it = f"the work centered on it {times} times" if times > 1 else "the work centered once"
        notes.append(
            f"{feature.name}: {cuts} on a rotary table, {on_it}; stepped off, these arcs would "
            f"take {sum(turn.settings for turn in turns)} settings"
        )
    return tuple(notes)
