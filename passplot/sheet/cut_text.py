"""What the set-up sheet says of the cut: width, depth, feeds, seconds a turn, coolant, time."""

from passplot.records.plan import FINISH, ROUGH, CutterUse, Plan
from passplot.sheet.numbers import plain_feed, printed
from passplot.sheet.tables import style_of


def cutting_lines(plan: Plan) -> list[str]:
    """A line for each cutter that cuts, its advice, then the time of the whole plan."""
    lines: list[str] = []
    for use in plan.cutters:
        if any(each.cutter == use.cutter.id for each in plan.passes):
            lines += [_cutter_line(plan, use), *(f"{advice}." for advice in use.advice)]
    return lines + _time_lines(plan)


def _cutter_line(plan: Plan, use: CutterUse) -> str:
    """Greatest width and depth of its ordinary rough passes, feeds, seconds a turn, coolant."""
    inch, style = plan.job.inch, style_of(plan.job)
    rate = "IPM" if inch else "mm/min"
    own = [each for each in plan.passes if each.cutter == use.cutter.id]
    mine = [each for each in own if each.stage == ROUGH and each.purpose != "slot"]
    said = []
    if mine:
        wide = max(each.width_of_cut for each in mine)
        deep = max(each.depth_of_cut for each in mine)
        sizes = [printed(style.at(value), inch) for value in (wide, deep)]
        said.append(f"cuts up to {sizes[0]} wide, {sizes[1]} deep")
    said += [
        f"{words} at {printed(plain_feed(feed, inch), inch)} {rate}"
        for words, feed, done in (
            ("finish", use.finish_feed, any(each.stage == FINISH for each in own)),
            ("full width", use.slot_feed, any(each.purpose == "slot" for each in own)),
        )
        if done and feed and abs(feed - use.feed) > 1e-6 * use.feed
    ]
    turns = _turn_words(plan, use)
    said += [turns] if turns else []
    said += [use.fluid] if use.fluid else []
    return f"{use.cutter.id}: {'; '.join(said)}."


def _turn_words(plan: Plan, use: CutterUse) -> str:
    """Seconds that a turn of the X and Y handwheels takes at the rough feed."""
    dials = [(axis, plan.job.shop.machine.dial(axis)) for axis in ("X", "Y")]
    found = [(axis, f"{60 * dial.per_turn / use.feed:.1f}") for axis, dial in dials if dial]
    if len({text for _, text in found}) == 1:
        return f"{found[0][1]} s a turn"
    return ", ".join(f"{axis} {text} s a turn" for axis, text in found)


def _time_lines(plan: Plan) -> list[str]:
    if not plan.times:
        return []
    cutting = round(sum(each.cutting for each in plan.times) / 60)
    handling = round(sum(each.handling for each in plan.times) / 60)
    return [f"Cutting {cutting} min + handling {handling} min = {cutting + handling} min."]
