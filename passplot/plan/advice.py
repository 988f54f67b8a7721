"""Sentences for the sheet on keyseats and bores: how to set up, what to drill, what to measure."""

from collections.abc import Sequence

from passplot.plan.words import drill_words, size_words
from passplot.records.job import Feature, Job, Keyseat
from passplot.records.plan import Move, Pass
from passplot.records.shapes import Arc
from passplot.records.shop import Cutter

_FROM_SIDE = "ASME"
"""Standards of this house count a keyseat's depth from the side wall, others from the crown."""
_TO_BORE = {"inch": 1 / 32, "mm": 0.8}
"""What a drill leaves on a hole for the boring head: common practice, no source."""
_LARGEST_DRILL = {"inch": 1.0, "mm": 25.0}
"""Larger holes are bored from this: common practice, no source."""


def seat_notes(job: Job, moves: Sequence[Move], cutters: Sequence[Cutter]) -> tuple[str, ...]:
    """How to set up for each keyseat, and what to measure on it.

    Crown touch-off and the move off the side of the shaft: US Navy, Machinery Repairman (figures
    7-69 and 7-71); the depth of ASME B17.1 counts from the side wall, that of DIN 6885 from the
    crown.
    """
    return tuple(
        note
        for feature in job.features
        if feature.keyseat is not None
        for note in _seat(job, feature, feature.keyseat, moves, cutters)
    )


def _seat(
    job: Job, feature: Feature, key: Keyseat, moves: Sequence[Move], cutters: Sequence[Cutter]
) -> list[str]:
    def said(value: float) -> str:
        return size_words(value, job)

    name, half = feature.name, key.shaft / 2
    mine = [move for move in moves if move.feature == name]
    first = next((c for c in cutters if mine and c.id == mine[0].cutter), cutters[0])
    side = "Y" if key.along == "x" else "X"
    top = said(job.stock.top)
    lines = [
        f"{name}: touch the crown of the shaft with the cutter on its centre line, set Z {top} "
        "there (a paper strip's thickness allowed for)",
        f"{name}: to centre, touch the side of the shaft below its middle, lift clear and move "
        f"{said(half + first.radius)} towards it: half the shaft, {said(half)}, and half the "
        f"cutter, {said(first.radius)}{_finder(job, half)}. Set {side} {said(key.center)} there",
    ]
    if key.standard.startswith(_FROM_SIDE):
        lines.append(
            f"{name}: {key.standard}, {said(key.from_side)} deep at the side wall, which is "
            f"{said(key.from_crown)} from the crown"
        )
    else:
        lines.append(f"{name}: {key.standard}, {said(key.from_crown)} deep from the crown")
    over = key.over_far_side
    lines.append(
        f"{name}: measure from the floor over the far side of the shaft: {said(over.nominal)} "
        f"({said(over.low)} to {said(over.high)})"
    )
    wide = _made(key, mine, {cutter.id: cutter.radius for cutter in cutters})
    if wide is not None:
        lines.append(f"{name}: comes out {said(wide)} wide, the key is {said(key.width.nominal)}")
    return lines


def _finder(job: Job, half: float) -> str:
    tip = job.shop.machine.edge_finder
    if tip is None:
        return ""
    return f" (with the edge finder {size_words(half + tip / 2, job)})"


def _made(key: Keyseat, mine: Sequence[Move], radii: dict[str, float]) -> float | None:
    """The width that the cuts of a seat come to."""
    deepest = min((move.z for move in mine), default=0.0)
    offs = [
        (abs((move.y if key.along == "x" else move.x) - key.center) + radii[move.cutter])
        for move in mine
        if move.move == "cut" and move.z == deepest
    ]
    return 2 * max(offs) if offs else None


def settings_of(passes: Sequence[Pass], feature: str) -> int:
    """How often a handwheel is set to step off the walls of a feature."""
    mine = [each.steps for each in passes if each.feature == feature]
    return sum(steps.settings for steps in mine if steps is not None)


def bore_notes(job: Job, passes: Sequence[Pass]) -> tuple[str, ...]:
    """The other way to make each bore: drill, then bore, with the hole to drill."""
    unit = "inch" if job.inch else "mm"
    notes = []
    for feature in job.features:
        if feature.kind != "bore" or feature.diameter is None:
            continue
        size = feature.diameter
        drill, name = drill_words(min(size.middle - _TO_BORE[unit], _LARGEST_DRILL[unit]), job)
        steps = settings_of(passes, feature.name)
        if drill <= 0 or not steps:
            continue
        center = next(edge.center for edge in feature.area[0].edges if isinstance(edge, Arc))
        where = f"X {size_words(center.x, job)} Y {size_words(center.y, job)}"
        limits = (
            f"{size_words(size.low, job)} to {size_words(size.high, job)}"
            if size.toleranced
            else size_words(size.middle, job)
        )
        notes.append(
            f"{feature.name}: drill and bore is better where there is a boring head: drill "
            f"{name} {'in' if job.inch else 'mm'} at {where}, bore to {limits}; stepped off it "
            f"takes {steps} settings"
        )
    return tuple(notes)
