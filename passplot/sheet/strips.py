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
    room = right - box.left - width_of(count, MEDIUM, True) - 8
    text = heading.job.title.upper()
    if width_of(text, LARGE, True) > room:
        text = wrap(text, room - width_of("…", LARGE, True), LARGE, True)[0] + "…"
    canvas.write(letter(text, box.left + 2, base, LARGE, bold=True))
    left = box.left + 2 + width_of(text, LARGE, True) + 6
    what = heading.what.upper()
    if left + width_of(what, MEDIUM) < right - width_of(count, MEDIUM, True) - 4:
        canvas.write(letter(what, left, base, MEDIUM))
    canvas.put(line((box.left, box.bottom), (box.right, box.bottom), WIDE))


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
    """Cutter, speed, feed and zero in boxes that share the width by need.

    Where the strip is too narrow for all, the zero is left to the title block.
    """
    inch = job.inch
    feed = printed(plain_feed(use.feed, inch), inch)
    boxes = [
        cutter_lines(job, use),
        ("SPEED", f"{use.speed_rpm:.0f} RPM") if inch else ("REV/MIN", f"{use.speed_rpm:.0f}"),
        ("FEED", f"{feed} IPM") if inch else ("MM/MIN", feed),
        ("ZERO X0 Y0 Z0", zero_words(job)),
    ]
    needs = [max(width_of(a, SMALL), width_of(b, MEDIUM, True)) + 5.0 for a, b in boxes]
    if sum(needs) > strip.width:
        boxes, needs = boxes[:-1], needs[:-1]
    spare = (strip.width - sum(needs)) / len(boxes)
    x = strip.left
    for (caption, value), need in zip(boxes, needs, strict=True):
        canvas.write(letter(caption, x + 2, strip.top + 1.4 + SMALL, SMALL))
        canvas.write(letter(value, x + 2, strip.bottom - 2.2, MEDIUM, bold=True))
        x += need + spare
        if x < strip.right - 1:
            canvas.put(line((x, strip.top), (x, strip.bottom), NARROW))
    canvas.put(line((strip.left, strip.bottom), (strip.right, strip.bottom), NARROW))


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
        f"ZERO {zero_words(job)}",
    ]
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
