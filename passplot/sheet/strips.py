"""The strips of a sheet: title above, set-up below it, cautions, proof and title block at the foot.

The title block holds the fields of ISO 7200 that make sense on a shop sheet.
"""

from passplot.frozen import dataclass
from passplot.records.job import Job
from passplot.records.plan import CutterUse, Plan
from passplot.records.proof import Proof
from passplot.records.sheet import Stroke
from passplot.sheet.canvas import Canvas
from passplot.sheet.change import Change
from passplot.sheet.ink import line, projection_symbol
from passplot.sheet.lettering import letter, width_of, wrap
from passplot.sheet.numbers import fraction, plain, plain_feed, printed
from passplot.sheet.paper import LARGE, MEDIUM, NARROW, SMALL, WIDE, Box
from passplot.sheet.tables import style_of

_PITCH_MM = 5.3
_SYMBOL_MM = 20.0
_SIGN_MM = 8.4
_WIDE_BLOCK_MM = 150.0
_WORD_MM = 1.8


@dataclass(frozen=True, slots=True)
class Heading:
    """What the title strip and the title block say of a sheet."""

    job: Job
    scale: str
    sheet: int
    sheets: int
    date: str
    what: str


def draw_title(canvas: Canvas, heading: Heading, box: Box) -> None:
    """Title at the left, what the sheet shows, sheet number at the right."""
    count = f"SHEET {heading.sheet} OF {heading.sheets}"
    symbol = (box.right - _SYMBOL_MM / 2, (box.top + box.bottom) / 2)
    for mark in projection_symbol(symbol, third_angle=heading.job.inch, size=5.0):
        canvas.put(mark)
    right = box.right - _SYMBOL_MM - 2.0
    base = box.top + (box.height + LARGE) / 2 - 0.5
    canvas.write(letter(count, right, base, MEDIUM, anchor="end", bold=True))
    what, left = heading.what.upper(), box.left + 2
    title = heading.job.title.upper()
    room = right - width_of(count, MEDIUM, True) - 6.0 - left
    used = width_of(title, LARGE, True) + 6.0
    size = MEDIUM if used + width_of(what, MEDIUM) <= room else SMALL
    if used + width_of(what, size) <= room:
        canvas.write(letter(title, left, base, LARGE, bold=True))
        canvas.write(letter(what, left + used, base, size))
    else:
        upper = _cut(title, room, MEDIUM, bold=True)
        canvas.write(letter(upper, left, box.top + 6.2, MEDIUM, bold=True))
        canvas.write(letter(_cut(what, room, SMALL), left, box.bottom - 1.1, SMALL))
    canvas.put(line((box.left, box.bottom), (box.right, box.bottom), WIDE))


def _cut(text: str, room: float, height: float, *, bold: bool = False) -> str:
    """A text of one line; what is longer ends in dots."""
    if width_of(text, height, bold) <= room:
        return text
    return wrap(text, room - width_of("…", height, bold), height, bold)[0] + "…"


def draw_frame(canvas: Canvas, box: Box) -> None:
    """The border of the sheet."""
    canvas.put(Stroke(box.corners, WIDE, closed=True))


def cutter_lines(job: Job, use: CutterUse) -> tuple[str, str]:
    """A cutter in the words of the trade: number, flutes, material; then size and form."""
    cutter = use.cutter
    inch = job.inch
    size = fraction(cutter.diameter) if inch else printed(plain(cutter.diameter, 2), inch)
    material = "HSS" if cutter.material == "high-speed steel" else cutter.material.upper()
    caption = f"CUTTER {cutter.id}, {cutter.flutes} FL, {material}"
    value = f"{size} {cutter.form.upper()}"
    if cutter.actual is not None:
        value += f", Ø {printed(style_of(job).at(cutter.actual), inch)}"
        caption += ", MEASURED"
    return caption, value


def draw_short_setup(
    canvas: Canvas, job: Job, use: CutterUse, strip: Box, change: Change | None = None
) -> None:
    """Cutter, speed and feed in one line: what the sheets of passes repeat.

    Where the cutter is ``change``d first, that is said, and what to touch off with it.
    """
    boxes = _short_boxes(job, use, strip.width, change)
    spare = (strip.width - sum(_line_need(box) for box in boxes)) / len(boxes)
    base = (strip.top + strip.bottom + MEDIUM) / 2
    x = strip.left
    for box in boxes:
        at = x + 2
        for text, bold in zip(box, (False, True, False), strict=True):
            if text:
                height = MEDIUM if bold else SMALL
                canvas.write(letter(text, at, base, height, bold=bold))
                at += width_of(text, height, bold) + _WORD_MM
        x += _line_need(box) + spare
        if x < strip.right - 1:
            canvas.put(line((x, strip.top), (x, strip.bottom), NARROW))
    canvas.put(line((strip.left, strip.bottom), (strip.right, strip.bottom), NARROW))


def _short_boxes(
    job: Job, use: CutterUse, width: float, change: Change | None
) -> list[tuple[str, str, str]]:
    """Small words before, the value, small words after it; what the strip has no room for goes.

    The seconds a turn are left out first, then the cutter's number, which its change names.
    """
    _, cutter = cutter_lines(job, use)
    speed, rate = f"{use.speed_rpm:.0f}", printed(plain_feed(use.feed, job.inch), job.inch)
    turn = turn_words(job, use)
    name, bare = (use.cutter.id, "") if change is None else (change.words, "CHANGE TO")
    touch = [] if change is None else [("TOUCH TOP: Z", change.z, "")]
    short = [] if change is None else [("TOUCH Z", change.z, "")]
    found: list[tuple[str, str, str]] = []
    for number, pace, zero in (
        (name, turn, touch),
        (name, "", touch),
        (bare, "", touch),
        (bare, "", short),
    ):
        if job.inch:
            rest = [("", f"{speed} RPM", ""), ("", f"{rate} IPM", pace)]
        else:
            rest = [("", speed, "REV/MIN"), ("", rate, f"MM/MIN {pace}".rstrip())]
        found = [(number, cutter, ""), *rest, *zero]
        if sum(_line_need(box) for box in found) <= width:
            break
    return found


def _line_need(box: tuple[str, str, str]) -> float:
    before, value, after = box
    words = [width_of(text, SMALL) for text in (before, after) if text]
    return sum(words) + _WORD_MM * len(words) + width_of(value, MEDIUM, True) + 5.0


def turn_words(job: Job, use: CutterUse) -> str:
    """How long a turn of the handwheel takes at the feed, where all turns are alike."""
    dials = [dial for axis in "XY" if (dial := job.shop.machine.dial(axis)) is not None]
    if not dials or any(dial.per_turn != dials[0].per_turn for dial in dials):
        return ""
    return f"{60 * dials[0].per_turn / use.feed:.1f} S A TURN"


def draw_setup(canvas: Canvas, job: Job, use: CutterUse, strip: Box) -> None:
    """Cutter, speed, feed and zero in boxes that share the width by need."""
    boxes = _setup_boxes(job, use, strip.width)
    needs = [_box_need(box) for box in boxes]
    spare = (strip.width - sum(needs)) / len(boxes)
    x = strip.left
    for (caption, value), need in zip(boxes, needs, strict=True):
        canvas.write(letter(caption, x + 2, strip.top + 1.4 + SMALL, SMALL))
        canvas.write(letter(value, x + 2, strip.bottom - 2.2, MEDIUM, bold=True))
        x += need + spare
        if x < strip.right - 1:
            canvas.put(line((x, strip.top), (x, strip.bottom), NARROW))
    canvas.put(line((strip.left, strip.bottom), (strip.right, strip.bottom), NARROW))


def _setup_boxes(job: Job, use: CutterUse, width: float) -> list[tuple[str, str]]:
    """Captions and values of the strip.

    Where it is too narrow for all, the seconds a turn are left out, then the zero is left to the
    title block.
    """
    speed = f"{use.speed_rpm:.0f}"
    first = cutter_lines(job, use), ("SPEED", f"{speed} RPM") if job.inch else ("REV/MIN", speed)
    zero = ("ZERO X0 Y0 Z0", zero_words(job))
    if use.cutter.form == "drill":  # the quill is fed by feel
        return [*first, zero]
    for rest in (
        (_feed_box(job, use, turns=True), zero),
        (_feed_box(job, use, turns=False), zero),
        (_feed_box(job, use, turns=True),),
        (_feed_box(job, use, turns=False),),
    ):
        boxes = [*first, *rest]
        if sum(_box_need(box) for box in boxes) <= width:
            break
    return boxes


def _box_need(box: tuple[str, str]) -> float:
    caption, value = box
    return max(width_of(caption, SMALL), width_of(value, MEDIUM, True)) + 5.0


def _feed_box(job: Job, use: CutterUse, *, turns: bool) -> tuple[str, str]:
    """The feed, with the seconds a turn where asked for."""
    feed = printed(plain_feed(use.feed, job.inch), job.inch)
    words = turn_words(job, use) if turns else ""
    turn = f", {words}" if words else ""
    return (f"FEED{turn}", f"{feed} IPM") if job.inch else (f"MM/MIN{turn}", feed)


def zero_words(job: Job) -> str:
    """Where X0 Y0 Z0 stands, in the words of the job file."""
    return job.stock.zero.upper()


def draw_cautions(canvas: Canvas, proof: str, cautions: tuple[str, ...], box: Box) -> None:
    """The two cautions that matter, and the proof."""
    canvas.put(line((box.left, box.top), (box.right, box.top), NARROW))
    y = box.top + 1.1
    for text in cautions[:2]:
        canvas.write(letter(text, box.left + 2, y + MEDIUM, MEDIUM, bold=True))
        y += MEDIUM + 1.9
    for text in wrap(proof, box.width - 4, SMALL)[:2]:
        canvas.write(letter(text, box.left + 2, y + SMALL, SMALL))
        y += 5.2


def draw_short_block(canvas: Canvas, heading: Heading, box: Box) -> None:
    """The title block of a sheet of passes: it is drawn and checked with the first sheet."""
    _draw_block_border(canvas, box)
    job = heading.job
    facts = [
        f"PART {job.part_number}" if job.part_number else "PART",
        f"ZERO {zero_words(job)}",
        f"SCALE {heading.scale}",
        "DO NOT SCALE",
        "INCH" if job.inch else "MM",
        f"TOL {job.general_tolerance or 'NONE STATED'}",
        job.stock.material.upper(),
    ]
    date = heading.date or "______"
    wide = width_of("DATE", SMALL) + width_of(date, SMALL) + 1.5
    lines = int((box.height - 1.4) // _PITCH_MM)
    rooms = [box.width - 4.0] * (lines - 1) + [box.width - 7.0 - wide]
    base = box.top + 1.4 + SMALL
    for text in _filled(facts, rooms):
        canvas.write(letter(text, box.left + 2, base, SMALL))
        base += _PITCH_MM
    base = box.top + 1.4 + SMALL + (lines - 1) * _PITCH_MM
    right = box.right - 2
    canvas.write(letter("DATE", right - wide, base, SMALL))
    canvas.write(letter(date, right, base, SMALL, anchor="end"))


def _draw_block_border(canvas: Canvas, box: Box) -> None:
    canvas.put(line((box.left, box.top), (box.right, box.top), NARROW))
    canvas.put(line((box.left, box.top), (box.left, box.bottom), NARROW))


def draw_block(canvas: Canvas, heading: Heading, box: Box) -> None:
    """The title block."""
    _draw_block_border(canvas, box)
    job = heading.job
    left, y = box.left + 2, box.top + 1.4
    facts = [
        f"PART {job.part_number}" if job.part_number else "PART",
        f"QTY {job.quantity}",
        job.stock.material.upper(),
        f"TOL {job.general_tolerance or 'NONE STATED'}",
        "INCH" if job.inch else "MM",
        f"SCALE {heading.scale}",
        "DO NOT SCALE",
    ]
    if box.width > _WIDE_BLOCK_MM:  # an upright sheet's set-up strip has no room for it
        facts.insert(2, f"ZERO {zero_words(job)}")
    most = int((box.height - 1.6 - _SIGN_MM) // _PITCH_MM)
    for text in _joined(facts, box.width - 4)[:most]:
        canvas.write(letter(text, left, y + SMALL, SMALL))
        y += _PITCH_MM
    y = box.bottom - _SIGN_MM + 1.0
    step = (box.width - 4) / 3
    for index, label in enumerate(("DATE", "DRAWN", "CHECKED")):
        x = left + index * step
        canvas.write(letter(label, x, y + SMALL + 1.0, SMALL))
        start = x + width_of(label, SMALL) + 1.5
        if label == "DATE" and heading.date:
            canvas.write(letter(heading.date, start, y + SMALL + 1.0, SMALL))
        else:
            base = y + SMALL + 1.6
            canvas.put(line((start, base), (x + step - 2.0, base), NARROW))


def _filled(facts: list[str], rooms: list[float]) -> list[str]:
    """Facts in lines of those widths, each in the first line that still has room for it.

    What finds no room stands on the first sheet.
    """
    lines = [""] * len(rooms)
    for fact in facts:
        for index, room in enumerate(rooms):
            longer = f"{lines[index]} · {fact}" if lines[index] else fact
            if width_of(longer, SMALL) <= room:
                lines[index] = longer
                break
    return lines


def _joined(facts: list[str], room: float) -> list[str]:
    """Facts in lines, as many to a line as fit; one that is too long is broken."""
    lines: list[str] = []
    for fact in facts:
        longer = f"{lines[-1]} · {fact}" if lines else fact
        if lines and width_of(longer, SMALL) <= room:
            lines[-1] = longer
        else:
            lines += wrap(fact, room, SMALL)
    return lines


def _nil(text: str) -> bool:
    """Whether a plain number prints as nothing."""
    return float(text) == 0


def proof_line(plan: Plan, proof: Proof, *, short: bool = False) -> str:
    """What was replayed and what it found; ``short`` for a single line."""
    job = plan.job
    style, inch = style_of(job), job.inch
    unit = "in" if inch else "mm"
    cell = printed(plain(proof.cell, 4 if inch else 3), inch)
    gouge = "none" if _nil(style.at(proof.gouge)) else printed(style.at(proof.gouge), inch)
    left = printed(style.at(proof.left_uncut), inch)
    if _nil(style.at(proof.left_uncut)):
        uncut = "left uncut nothing"
    elif any(each.steps is not None for each in plan.passes):
        # the steps of a wall leave their scallop, and a proven plan leaves no more
        uncut = f"left uncut: scallop {left}"
    else:
        uncut = f"left uncut {left}"
    share = f"{100 * proof.conventional_share:.0f} %"
    good = "PROVEN" if proof.good else "NOT PROVEN"
    side = "climb" if job.climb else "conventional"
    if short:
        return f"{good}: gouge {gouge}, {uncut}."
    return (
        f"{good}: {proof.rows} printed rows replayed on a {cell} {unit} grid. Gouge {gouge}, "
        f"{uncut}, {share} {side}."
    )
