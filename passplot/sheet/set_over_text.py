"""The work set over: how to turn it, find its zero again and check that, in words and numbers."""

from dataclasses import replace
from math import cos, radians, sin

from passplot.records.job import Job
from passplot.records.plan import Plan
from passplot.records.set_over import SetOver
from passplot.records.shapes import Point
from passplot.sheet.numbers import printed
from passplot.sheet.tables import style_of

_MINUS = "\N{MINUS SIGN}"


def settings_of(plan: Plan) -> tuple[tuple[Plan, SetOver | None], ...]:
    """What is done in each setting, the straight one first."""
    if not plan.over:
        return ((plan, None),)
    moves = tuple(move for move in plan.moves if move.setup == plan.job.setup.name)
    rows = {move.row for move in moves}
    passes = tuple(each for each in plan.passes if each.row in rows)
    straight = replace(plan, moves=moves, passes=passes)
    return ((straight, None), *((replace(each.plan, times=plan.times), each) for each in plan.over))


def angle_text(degrees: float) -> str:
    """An angle in degrees and minutes, without its sign."""
    whole, minutes = divmod(round(abs(degrees) * 60), 60)
    return f"{whole}° {minutes}′"


def sense(over: SetOver) -> str:
    """Which way the work is turned, seen from above."""
    return "counter-clockwise" if over.angle > 0 else "clockwise"


def turn_lines(job: Job, over: SetOver) -> list[str]:
    """How to turn the work, by sine bar and by protractor."""
    # the stack under a sine bar is its length times the sine of the angle
    stack = f"{over.stack:.{4 if job.inch else 3}f}"
    unit = "in" if job.inch else "mm"
    lowest = min(move.z for move in over.plan.moves)
    clamped = job.setup.hold == "clamps"
    where = "on the table, and clamp it again" if clamped else "in the vise, by its swivel base"
    face = "long side" if clamped else "turned jaw"
    return [
        f"Turn the work {angle_text(over.angle)} {sense(over).upper()} seen from above, {where}.",
        f"Sine bar, {over.bar:g} {unit}: stack {printed(stack, job.inch)}; on the {face} it "
        "brings an indicator to zero along X.",
        f"Protractor: {angle_text(over.angle)} between the {face} and the X travel "
        f"({abs(over.angle):.4f}° exactly).",
        f"The cutter goes down to Z {_n(job, lowest)}: keep jaws and swivel clear. Keep-outs are "
        "taken to turn with the work.",
    ]


def corner_lines(plan: Plan, over: SetOver) -> list[str]:
    """How to pick up zero again by two touches near a corner, with the readings to set.

    Both faces are slanted now: a touch tells how far the tip is off one of them only. The reading
    of the second touch, counted from the first, tells how far along that face the corner lies.
    """
    job = plan.job
    tip = job.shop.machine.edge_finder
    radius = plan.cutters[0].cutter.radius if tip is None else tip / 2
    words = plan.job.stock.zero.split()
    x_face = "right" if words[0] == "right" else "left"
    y_face = "back" if words[1] == "back" else "front"
    corner = _corner(plan, x_face, y_face)
    c, s = cos(radians(over.angle)), sin(radians(over.angle))
    east, north = (1 if x_face == "right" else -1), (1 if y_face == "back" else -1)
    # the tip's centre where it would touch both faces at once
    at = Point(
        corner.x + radius * (east * c - north * s), corner.y + radius * (east * s + north * c)
    )
    # across the first face, outwards: (-north s, north c); along the second, away from the corner
    ux, uy = north * s, -north * c
    places = 4 if job.inch else 3
    tool = "edge finder" if tip is not None else "cutter standing still, paper between,"
    return [
        "Zero stays on the work. Its faces are slanted now: touch each once.",
        f"TOUCH {y_face.upper()} FACE near the {y_face} {x_face} corner with the {tool} "
        f"moving Y only: SET X 0, Y 0",
        f"Lift, go round, TOUCH {x_face.upper()} FACE moving X only. Read X and Y.",
        f"U = {_factor(ux)} × X {_signed(uy)} × Y: from the corner to the touch.",
        f"SET X to {_n(job, at.x)} {_signed(ux)} × U",
        f"SET Y to {_n(job, at.y)} {_signed(uy)} × U",
        f"(Worked with {2 * radius:.{places}f} for the tip.) Z stays: the work was not lifted.",
    ]


def check_lines(plan: Plan) -> list[str]:
    """Where the corners of the work show now, and what else to look at."""
    job = plan.job
    names = ("Front left", "Front right", "Back right", "Back left")
    shown = [
        f"{name} corner: X {_n(job, at.x)}, Y {_n(job, at.y)}"
        for name, at in zip(names, job.stock.outline, strict=True)
    ]
    return [
        "The corners of the stock now show:",
        *shown,
        "Put the spindle over two of them: that checks zero and angle before anything is cut.",
        "Every reading on these sheets is in the turned position. Lock every axis that is not fed.",
        f"Cross over at Z {_n(job, plan.cross_over_z)}. Stand off {_n(job, plan.stand_off)}.",
    ]


def wall_lines(plan: Plan, over: SetOver) -> list[str]:
    """Where the slanted walls stand now, and that it is proven there."""
    walls = [
        f"{_begun(wall.feature)}: wall at {wall.axis} {_n(plan.job, wall.at)}, along "
        f"{'Y' if wall.axis == 'X' else 'X'}"
        for wall in over.walls
    ]
    return [
        *walls,
        f"Every row was replayed in this position, {angle_text(over.angle)} turned, on the block "
        "as the sheets before leave it.",
    ]


def saving_lines(over: SetOver) -> list[str]:
    """Settings along the slanted walls, set over and stepped off."""
    return [
        f"{_begun(' and '.join(over.features))}: {over.settings} settings along the slanted walls. "
        f"Stepped off they would take about {over.stepping}, and leave scallops."
    ]


def _begun(text: str) -> str:
    """Text at the beginning of a sentence."""
    return text[:1].upper() + text[1:]


def _corner(plan: Plan, x_face: str, y_face: str) -> Point:
    front_left, front_right, back_right, back_left = plan.job.stock.outline
    if y_face == "front":
        return front_left if x_face == "left" else front_right
    return back_left if x_face == "left" else back_right


def _factor(value: float) -> str:
    return f"{_MINUS if value < 0 else ''}{abs(value):.5f}"


def _signed(value: float) -> str:
    return f"{_MINUS if value < 0 else '+'} {abs(value):.5f}"


def _n(job: Job, value: float) -> str:
    return printed(style_of(job).at(value), job.inch)
