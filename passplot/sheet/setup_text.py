"""What the set-up sheet says: hold the work, find zero, check the readout.

Trade practice, common practice without a source, except the edge finder's offset (half its tip)
and the paper strip, which are found in published shop notes.
"""

from passplot.dials import wheel_of
from passplot.frozen import dataclass
from passplot.records.job import Feature, Job, Setup
from passplot.records.plan import Plan
from passplot.sheet.numbers import plain, printed
from passplot.sheet.setup_strip import cutter_lines
from passplot.sheet.tables import Style, style_of

PAPER_MM = 0.08
"""A strip of paper: 0.002 to 0.0035 in measured, as published examples have it."""


@dataclass(frozen=True, slots=True)
class Grip:
    """How a vise holds the work, job units: on what parallels, how deep, how far out.

    ``above_jaws`` is how far above the jaws the deepest cut that runs out over them ends:
    negative where the cutter would meet them, None where no cut runs out over them.
    """

    parallel: float
    depth: float
    stands_out: float
    above_jaws: float | None

    @property
    def meets_jaws(self) -> bool:
        """Whether a cut would touch the jaws."""
        return self.above_jaws is not None and self.above_jaws <= 0


def grip_of(job: Job) -> Grip | None:
    """The grip with the parallels that leave the cutter room and hold deepest.

    None where the job does not say how it is held. The jaws stand along X, before and behind
    the work.
    """
    setup, stock = job.setup, job.stock
    if setup.hold != "vise" or setup.jaw_height is None or not setup.parallels:
        return None
    height = stock.raw_top - stock.bottom
    over = [stock.raw_top - each.floor for each in job.features if _runs_over_jaws(job, each)]
    grips = []
    for parallel in setup.parallels:
        depth = min(setup.jaw_height - parallel, height)
        out = height - depth
        grips.append(Grip(parallel, depth, out, out - max(over) if over else None))
    clear = [grip for grip in grips if not grip.meets_jaws and grip.depth > 0]
    if clear:
        return max(clear, key=lambda grip: grip.depth)
    return max(grips, key=lambda grip: grip.stands_out)


def _runs_over_jaws(job: Job, feature: Feature) -> bool:
    """Whether a feature is open to the front or the back of the block."""
    front, back = job.stock.y
    return any(
        corner.y <= front or corner.y >= back for loop in feature.area for corner in loop.corners
    )


def hold_lines(job: Job) -> list[str]:
    """How the work is held."""
    style, inch = style_of(job), job.inch
    lines = ["Head trammed, vise jaw indicated along X, quill up and locked, gibs snug."]
    grip = grip_of(job)
    if grip is not None:
        lines += _grip_lines(job, grip)
    elif job.setup.hold == "clamps":
        lines.append("Clamp the work down; clamps low enough to pass under the cutter.")
    lines += _opening_lines(job.setup, job, style)
    for keep in job.keep_outs:
        lines.append(f"Keep out: {keep.name}, top at Z {printed(style.at(keep.top), inch)}.")
    if job.quantity > 1:
        lines.append(f"{job.quantity} parts: set a work stop, so that every part sits alike.")
        if "front" in job.stock.zero:
            lines.append(
                "Fixed jaw at the back: a front zero does not repeat, find it for each part."
            )
    return lines


def _grip_lines(job: Job, grip: Grip) -> list[str]:
    lines = [
        f"Seat the work on {_n(job, grip.parallel)} parallels. Gripped {_n(job, grip.depth)} deep, "
        f"it stands {_n(job, grip.stands_out)} out of the jaws."
    ]
    if grip.above_jaws is None:
        lines.append("No cut runs out over the jaws.")
    elif grip.meets_jaws:
        under = _n(job, abs(grip.above_jaws))
        lines.append(f"THE CUTTER WOULD MEET THE JAWS, {under} below their top: taller parallels.")
    else:
        above = _n(job, grip.above_jaws)
        lines.append(f"The deepest cut over the jaws ends {above} above them.")
    return lines


def _opening_lines(setup: Setup, job: Job, style: Style) -> list[str]:
    wide = job.stock.y[1] - job.stock.y[0]
    if setup.jaw_opening is None or wide <= setup.jaw_opening:
        return []
    opening = printed(style.at(setup.jaw_opening), job.inch)
    return [f"THE WORK IS WIDER THAN THE VISE OPENS, {opening}."]


def zero_lines(plan: Plan) -> list[str]:
    """How to find X0, Y0 and Z0, with the reading to set at each touch."""
    job = plan.job
    tip = job.shop.machine.edge_finder
    words = job.stock.zero.split()
    if tip is not None:
        offset = tip / 2
        how = (
            f"Edge finder, tip Ø {_n(job, tip)}, at about 1000 rev/min: half the tip is "
            f"{_n(job, offset)}."
        )
    else:
        offset = plan.cutters[0].cutter.radius
        how = (
            f"With the cutter standing still and a strip of paper: half of it is {_n(job, offset)}."
        )
    lines = [how]
    for axis, word, low, high, near, far in (
        ("X", words[0], *job.stock.x, "left", "right"),
        ("Y", words[1], *job.stock.y, "front", "back"),
    ):
        lines += _edge_lines(job, axis, word, (low, high), (near, far), offset)
    if any(feature.keyseat is not None for feature in job.features):
        lines.append("Touch the shaft past the jaws, half way up its sides.")
    lines += _z_lines(job)
    if len(plan.cutters) > 1:
        lines.append("Each cutter has its own length: touch off Z again after every change.")
    return lines


def _edge_lines(
    job: Job,
    axis: str,
    word: str,
    ends: tuple[float, float],
    names: tuple[str, str],
    offset: float,
) -> list[str]:
    """The touches of one axis."""
    low, high = ends
    near, far = names
    if word == "center":
        return [
            f"TOUCH {near.upper()} EDGE: SET {axis} 0",
            f"TOUCH {far.upper()} EDGE: HALVE {axis}",
            f"Set {axis} to half of what it shows there: 0 is then the middle.",
        ]
    at, name = (low - offset, near) if word == near else (high + offset, far)
    return [f"TOUCH {name.upper()} EDGE: SET {axis} {_n(job, at)}"]


def _z_lines(job: Job) -> list[str]:
    stock = job.stock
    paper = PAPER_MM / (25.4 if job.inch else 1.0)
    strip = printed(f"{paper:.{3 if job.inch else 2}f}", job.inch)
    raw = "RAW TOP" if stock.raw_top > stock.top else "TOP"
    lines = [
        f"TOUCH {raw}: SET Z {_n(job, stock.raw_top)}",
        f"Cutter standing still, over a strip of paper: add the paper, about {strip}.",
    ]
    if stock.raw_top > stock.top:
        lines.append(f"The faced top comes out at Z {_n(job, stock.top)}.")
    return lines


_SIGNS = "Table left: X counts up. Table toward you: Y counts up. Knee up: Z counts down."


def readout_lines(plan: Plan) -> list[str]:
    """The sign check of the readout, what to lock, and where moves over the work go."""
    cross_over, stand_off = _n(plan.job, plan.cross_over_z), _n(plan.job, plan.stand_off)
    return [
        *(_dial_lines(plan) if plan.approach else (_SIGNS,)),
        "Lock every axis that is not fed. Read after locking.",
        "Plunge with the quill against its stop at half the feed; set levels with the knee, "
        "raised last.",
        f"Cross over at Z {cross_over}. Stand off {stand_off} from the metal.",
    ]


def _dial_lines(plan: Plan) -> tuple[str, ...]:
    """What the dials were taken to be, and how they are set to zero."""
    assert plan.approach is not None
    machine = plan.job.shop.machine
    inch = machine.dial_units == "inch"
    wheels = [
        wheel
        for axis, sense in zip("XYZ", plan.approach, strict=True)
        if (wheel := wheel_of(machine, axis, sense)) is not None
    ]

    def said(value: float) -> str:
        return printed(plain(value, 4).rstrip("0"), inch)

    alike = f"{said(wheels[0].lead)} a turn" if len({w.lead for w in wheels}) == 1 else ""
    turns = alike or ", ".join(f"{w.axis} {said(w.lead)}" for w in wheels) + " a turn"
    lost = ", ".join(f"{w.axis} {said(w.backlash)}" for w in wheels)
    return (
        f"Check your dials: {turns}; play {lost} at most. Measure it with an indicator.",
        "Come to each zero the way the dial sheets say SET comes in, then turn the dial to 0.",
        *_other_unit(plan.job, wheels[0].step),
    )


def _other_unit(job: Job, step: float) -> tuple[str, ...]:
    """How positions were rounded where the dials are engraved in the unit the print is not in."""
    machine = job.shop.machine
    if machine.dial_units == job.units:
        return ()
    inch = machine.dial_units == "inch"
    own, print_unit = ("in", "mm") if inch else ("mm", "in")
    places = 4 if inch else 6
    return (
        f"Positions are whole lines of {printed(plain(step, 4).rstrip('0'), inch)} {own}, "
        f"{printed(plain(machine.resolution, places), not inch)} {print_unit}, away from the "
        "finished part.",
    )


def rotary_lines(plan: Plan) -> list[str]:
    """How the rotary table and the work on it are set up: common practice, no source."""
    turns = [each.turn for each in plan.passes if each.turn is not None]
    if not turns:
        return []
    center = turns[0].reading
    where = f"X {_n(plan.job, center.x)} Y {_n(plan.job, center.y)}"
    centers = len({turn.center for turn in turns})
    lines = [
        "Clamp the rotary table flat, indicate its bore from the spindle, lock X and Y: its axis "
        "is then under the spindle.",
        f"Set the work on it, edges along X with its dial at 0°, the arc's center, {where}, on its "
        "axis: indicate a bore or a boss, else measure from the edges. Clamp, indicate again.",
        f"SET {where} THERE",
        "Clamps clear of cutter and column all the way round: turn once by hand, spindle stopped.",
        "Lock the table for every cut along X or Y. For an arc lock X and Y, take up the play of "
        "its worm the way it will turn, feed it evenly.",
    ]
    if centers > 1:
        lines.append(
            f"{centers} centers: set the work anew where the rotary sheet says so, the readout to "
            "the new center each time. Measure what is cut first."
        )
    return lines


def cutter_texts(plan: Plan) -> list[str]:
    """Every cutter of the plan."""
    texts: list[str] = []
    for use in plan.cutters:
        caption, value = cutter_lines(plan.job, use)
        unit = "RPM" if plan.job.inch else "rev/min"
        text = f"{value} ({caption.removeprefix('CUTTER ')}): {use.speed_rpm:.0f} {unit}"
        numbers = [each.number for each in plan.passes if each.cutter == use.cutter.id]
        texts.append(f"{text}, {_span(numbers)}" if numbers else text)
    return texts


def _span(numbers: list[int]) -> str:
    """Passes that follow each other."""
    first, last = min(numbers), max(numbers)
    return f"pass {first}" if first == last else f"passes {first}–{last}"


def finish_lines(plan: Plan) -> list[str]:
    """Between roughing and finishing, and between skims."""
    style, inch = style_of(plan.job), plan.job.inch
    alike: dict[str, list[str]] = {}
    for stock in plan.stocks:
        if stock.wall > 0 or stock.floor > 0:
            wall, floor = (printed(style.at(each), inch) for each in (stock.wall, stock.floor))
            alike.setdefault(f"wall {wall}, floor {floor}", []).append(stock.feature)
    left = [f"{sizes} ({', '.join(names)})" for sizes, names in alike.items()]
    lines = [f"Stock left for finishing: {'; '.join(left)}."] if left else []
    lines.append(
        "Let the work cool after roughing. Between skims brush, deburr, wipe, measure without "
        "unclamping. Break the edges first."
    )
    return lines


def _n(job: Job, value: float) -> str:
    text = printed(style_of(job).at(value), job.inch)
    return "0" if float(style_of(job).at(value)) == 0 else text
