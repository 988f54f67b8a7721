"""What the set-up sheet says of the cut: width, depth, feeds, seconds a turn, coolant, time."""

from passplot.records.plan import FINISH, ROUGH, CutterUse, Plan
from passplot.sheet.lettering import width_of
from passplot.sheet.minutes import minutes_of
from passplot.sheet.numbers import plain_feed, printed
from passplot.sheet.paper import SMALL
from passplot.sheet.setup_strip import fluid_word
from passplot.sheet.tables import style_of


def cut_line(plan: Plan, room: float) -> str:
    """The first cutter's cut and the time of the setting in a line of the set-up strip.

    What finds no room is left to the block below: first the coolant, then the size of the cut.
    """
    use = plan.cutters[0]
    size = _size(plan, use)
    wide = f"UP TO {size[0]} WIDE, {size[1]} DEEP" if size else ""
    fluid, (time, short) = fluid_word(use), _times(plan)
    for parts in ((wide, fluid, time), (wide, fluid, short), (wide, time), (time,), (wide,)):
        line = " · ".join(part for part in parts if part)
        if width_of(line, SMALL) <= room:
            return line
    return ""


def cutting_lines(plan: Plan) -> list[str]:
    """A line for each cutter that cuts, and its advice."""
    lines: list[str] = []
    for use in plan.cutters:
        if any(each.cutter == use.cutter.id for each in plan.passes):
            lines += [_cutter_line(plan, use), *(f"{advice}." for advice in use.advice)]
    return lines


def _size(plan: Plan, use: CutterUse) -> tuple[str, str] | None:
    """Greatest width and depth of the ordinary rough passes of a cutter; None where it has none."""
    inch, style = plan.job.inch, style_of(plan.job)
    mine = [
        each
        for each in plan.passes
        if each.cutter == use.cutter.id and each.stage == ROUGH and each.purpose != "slot"
    ]
    if not mine:
        return None
    wide = max(each.width_of_cut for each in mine)
    deep = max(each.depth_of_cut for each in mine)
    return printed(style.at(wide), inch), printed(style.at(deep), inch)


def _times(plan: Plan) -> tuple[str, str]:
    """Cutting, handling and both, whole minutes: in full, and in fewer letters."""
    found = minutes_of(plan, plan.passes)
    if found is None:
        return "", ""
    cutting, handling = map(round, found)
    both = cutting + handling
    return (
        f"CUTTING {cutting} + HANDLING {handling} = {both} MIN",
        f"CUT {cutting} + HANDLE {handling} = {both} MIN",
    )


def _cutter_line(plan: Plan, use: CutterUse) -> str:
    """Greatest width and depth of its ordinary rough passes, feeds, seconds a turn, coolant."""
    inch = plan.job.inch
    rate = "IPM" if inch else "mm/min"
    own = [each for each in plan.passes if each.cutter == use.cutter.id]
    size = _size(plan, use)
    said = [f"cuts up to {size[0]} wide, {size[1]} deep"] if size else []
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
