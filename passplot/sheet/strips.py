"""The strips of a sheet: title above, set-up below it, cautions, proof and title block at the foot.

The title block holds the fields of ISO 7200 that make sense on a shop sheet.
"""

from passplot.frozen import dataclass
from passplot.records.job import Job
from passplot.records.plan import Plan
from passplot.records.proof import Proof
from passplot.records.sheet import Stroke
from passplot.sheet.canvas import Canvas
from passplot.sheet.ink import line, projection_symbol
from passplot.sheet.lettering import letter, width_of, wrap
from passplot.sheet.numbers import plain, printed
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
        uncut = f"scallop {left}"
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
