"""How long a plan takes: cutting from lengths and feeds, handling from turns and settings.

Rows hold their own approach and run-out, so lengths are those fed. Handling is the handwheel turns
of every row out of the cut at the shop's ``turns_per_minute`` and its ``seconds_per_setting`` for
every setting made, a stepped wall's each among them.
"""

from itertools import pairwise
from math import radians

from passplot.cutting.duration import cutting_minutes
from passplot.cutting.speeds import LEAD_IN, LEAD_MM
from passplot.records.plan import CUT, Move, Plan
from passplot.records.times import PassTime


def pass_times(plan: Plan) -> tuple[PassTime, ...]:
    """Time of every pass, the way to it counted with it, the way back after the last as well."""
    stepped = {each.number for each in plan.passes if each.steps is not None}
    radius = {each.number: each.turn.radius for each in plan.passes if each.turn is not None}
    cutting: dict[int, float] = {}
    handling: dict[int, float] = {}
    waiting, last = 0.0, None
    for before, row in pairwise(plan.moves):
        if not row.axis:
            continue
        feeds = row.feed is not None and row.feed > 0
        swung = radius.get(row.number or 0, 0.0)
        cut = 60 * cutting_minutes(_length(before, row, swung), row.feed) if row.feed else 0.0
        more = 0.0 if feeds and row.number not in stepped else _setting(plan, before, row, feeds)
        if row.number is None or row.move != CUT:
            waiting += more + cut
            continue
        cutting[row.number] = cutting.get(row.number, 0.0) + cut
        handling[row.number] = handling.get(row.number, 0.0) + more + waiting
        waiting, last = 0.0, row.number
    if last is not None:
        handling[last] += waiting
    return tuple(PassTime(number, cutting[number], handling[number]) for number in cutting)


def _length(before: Move, row: Move, radius: float) -> float:
    """How far a row goes, round an arc where it turns a rotary table."""
    if row.axis == "C":
        return radians(abs((row.angle or 0.0) - (before.angle or 0.0))) * radius
    return abs(row.x - before.x) + abs(row.y - before.y) + abs(row.z - before.z)


def _setting(plan: Plan, before: Move, row: Move, feeds: bool) -> float:
    """Seconds that a row's turns and its setting take; of a fed row only the setting."""
    machine = plan.job.shop.machine
    if feeds or row.axis == "C":
        return machine.seconds_per_setting
    dial = machine.dial(row.axis)
    lead = LEAD_IN if plan.job.inch else LEAD_MM
    if dial is not None:
        lead = dial.per_turn
    elif row.axis == "Z":
        lead /= (
            2  # knee and quill screws are finer: 0.100 in or 2.5 mm (shop practice, from memory)
        )
    turns = _length(before, row, 0.0) / lead
    return 60 * turns / machine.turns_per_minute + machine.seconds_per_setting
