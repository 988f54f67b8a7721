"""The strips of a sheet: title above, set-up below it, cautions, proof and title block at the foot.

The title block holds the fields of ISO 7200 that make sense on a shop sheet.
"""

from dataclasses import dataclass

from passplot.records.job import Job
from passplot.records.plan import CutterUse
from passplot.records.proof import Proof
from passplot.records.sheet import Stroke
from passplot.sheet.canvas import Canvas
from passplot.sheet.ink import line, projection_symbol
from passplot.sheet.lettering import letter, width_of, wrap
from passplot.sheet.numbers import fraction, plain, plain_feed, printed
from passplot.sheet.paper import LARGE, MEDIUM, NARROW, SMALL, WIDE, Box
from passplot.sheet.tables import style_of

_PITCH_MM = 5.3
_SYMBOL_MM = 20.0
_SIGN_MM = 8.4
_WIDE_BLOCK_MM = 150.0


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
    room = right - width_of(count, MEDIUM, True) - width_of(what, MEDIUM) - 12.0 - left
    title = heading.job.title.upper()
    if width_of(title, LARGE, True) <= room:
        canvas.write(letter(title, left, base, LARGE, bold=True))
        used = width_of(title, LARGE, True)
    else:
        lines = _two_lines(title, room)
        places = (base,) if len(lines) == 1 else (box.top + 6.2, box.top + 12.6)
        for line_text, y in zip(lines, places, strict=False):
            canvas.write(letter(line_text, left, y, MEDIUM, bold=True))
        used = max((width_of(each, MEDIUM, True) for each in lines), default=0.0)
    canvas.write(letter(what, left + used + 6.0, base, MEDIUM))
    canvas.put(line((box.left, box.bottom), (box.right, box.bottom), WIDE))


def _two_lines(title: str, room: float) -> tuple[str, ...]:
    """A long title in two lines; what is longer still ends in dots."""
    lines = wrap(title, room, MEDIUM, True)
    if len(lines) <= 2:
        return lines
    second = wrap(f"{lines[1]}", room - width_of("…", MEDIUM, True), MEDIUM, True)[0]
    return lines[0], second + "…"


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
    """The feed, and how long a turn of the handwheel takes at it where all turns are alike."""
    feed = printed(plain_feed(use.feed, job.inch), job.inch)
    dials = [dial for axis in "XY" if (dial := job.shop.machine.dial(axis)) is not None]
    turn = ""
    if turns and dials and all(dial.per_turn == dials[0].per_turn for dial in dials):
        turn = f", {60 * dials[0].per_turn / use.feed:.1f} S A TURN"
    return (f"FEED{turn}", f"{feed} IPM") if job.inch else (f"MM/MIN{turn}", feed)


def zero_words(job: Job) -> str:
    """Where X0 Y0 Z0 stands, in the words of the job file."""
    return job.stock.zero.upper()


def draw_cautions(canvas: Canvas, proof: str, cautions: tuple[str, ...], box: Box) -> None:
    """The two cautions that matter, and the proof."""
    canvas.put(line((box.left, box.top), (box.right, box.top), NARROW))
    y = box.top + 1.4
    for text in cautions[:2]:
        canvas.write(letter(text, box.left + 2, y + MEDIUM, MEDIUM, bold=True))
        y += MEDIUM + 2.2
    for text in wrap(proof, box.width - 4, SMALL)[:2]:
        canvas.write(letter(text, box.left + 2, y + SMALL, SMALL))
        y += 5.2


def draw_block(canvas: Canvas, heading: Heading, box: Box) -> None:
    """The title block."""
    canvas.put(line((box.left, box.top), (box.right, box.top), NARROW))
    canvas.put(line((box.left, box.top), (box.left, box.bottom), NARROW))
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


def proof_line(job: Job, proof: Proof) -> str:
    """What was replayed and what it found."""
    style, inch = style_of(job), job.inch
    unit = "in" if inch else "mm"
    cell = printed(plain(proof.cell, 4 if inch else 3), inch)
    gouge = "none" if _nil(style.at(proof.gouge)) else printed(style.at(proof.gouge), inch)
    left = (
        "nothing" if _nil(style.at(proof.left_uncut)) else printed(style.at(proof.left_uncut), inch)
    )
    share = f"{100 * proof.conventional_share:.0f} %"
    good = "PROVEN" if proof.good else "NOT PROVEN"
    side = "climb" if job.climb else "conventional"
    return (
        f"{good}: {proof.rows} printed rows replayed on a {cell} {unit} grid. Gouge {gouge}, "
        f"left uncut {left}, {share} {side}."
    )
