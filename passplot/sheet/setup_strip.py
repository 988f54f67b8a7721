"""The set-up strip of a sheet: cutter, speed, feed, seconds a turn, and what the cut wants."""

from passplot.records.job import Job
from passplot.records.plan import CutterUse
from passplot.records.shop import Cutter
from passplot.sheet.canvas import Canvas
from passplot.sheet.change import Change
from passplot.sheet.ink import line
from passplot.sheet.lettering import letter, width_of
from passplot.sheet.numbers import fraction, plain, plain_feed, printed
from passplot.sheet.paper import MEDIUM, NARROW, SMALL, Box
from passplot.sheet.strips import zero_words
from passplot.sheet.tables import style_of

_CUT_LINE_MM = 5.4
"""Height of the line on the cut in the set-up strip of the first sheet."""
_WORD_MM = 1.8


def cutter_lines(job: Job, use: CutterUse) -> tuple[str, str]:
    """A cutter in the words of the trade: number, flutes, material; then size and form."""
    cutter = use.cutter
    size, material, measured = cutter_facts(job, cutter)
    caption = f"CUTTER {cutter.id}, {cutter.flutes} FL, {material.upper()}"
    value = f"{size} {cutter.form.upper()}"
    if measured:
        value += f", Ø {measured}"
        caption += ", MEASURED"
    return caption, value


def cutter_facts(job: Job, cutter: Cutter) -> tuple[str, str, str]:
    """A cutter's size and material as the trade writes them, its measured size; empty if none."""
    inch = job.inch
    size = fraction(cutter.diameter) if inch else printed(plain(cutter.diameter, 2), inch)
    material = "HSS" if cutter.material == "high-speed steel" else cutter.material
    if cutter.actual is None:
        return size, material, ""
    return size, material, printed(style_of(job).at(cutter.actual), inch)


def draw_short_setup(
    canvas: Canvas,
    job: Job,
    use: CutterUse,
    strip: Box,
    change: Change | None = None,
    minutes: float | None = None,
) -> None:
    """Cutter, speed and feed in one line: what the sheets of passes repeat.

    Where the cutter is ``change``d first, that is said, and what to touch off with it. What the cut
    wants and the ``minutes`` of the sheet follow where there is room.
    """
    boxes = _short_boxes(job, use, strip.width, change, minutes)
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
    job: Job, use: CutterUse, width: float, change: Change | None, minutes: float | None
) -> list[tuple[str, str, str]]:
    """Small words before, the value, small words after it; what the strip has no room for goes.

    The coolant is left out first, then the time, the seconds a turn, and the cutter's number, which
    its change names.
    """
    _, cutter = cutter_lines(job, use)
    speed, rate = f"{use.speed_rpm:.0f}", printed(plain_feed(use.feed, job.inch), job.inch)
    turn = turn_words(job, use)
    name, bare = (use.cutter.id, "") if change is None else (change.words, "CHANGE TO")
    new = "" if change is None else "NEW"
    touch = [] if change is None else [("TOUCH TOP: Z", change.z, "")]
    short = [] if change is None else [("TOUCH Z", change.z, "")]
    time = [] if minutes is None else [("", f"{max(round(minutes), 1)} MIN", "")]
    fluid = [(fluid_word(use), "", "")] if use.fluid else []
    found: list[tuple[str, str, str]] = []
    for number, pace, more in (
        (name, turn, [*touch, *fluid, *time]),
        (name, turn, [*touch, *time]),
        (name, turn, touch),
        (name, "", touch),
        (bare, "", touch),
        (bare, "", short),
        (new, "", short),
        (new, "", []),
        ("", "", []),
    ):
        if job.inch:
            rest = [("", f"{speed} RPM", ""), ("", f"{rate} IPM", pace)]
        else:
            rest = [("", speed, "REV/MIN"), ("", rate, f"MM/MIN {pace}".rstrip())]
        found = [(number, cutter, ""), *rest, *more]
        if sum(_line_need(box) for box in found) <= width:
            break
    return found


def _line_need(box: tuple[str, str, str]) -> float:
    before, value, after = box
    words = [width_of(text, SMALL) for text in (before, after) if text]
    return sum(words) + _WORD_MM * len(words) + width_of(value, MEDIUM, True) + 5.0


def fluid_word(use: CutterUse) -> str:
    """Dry or what coolant, in a word or two."""
    return use.fluid.split(",", maxsplit=1)[0].upper()


def turn_words(job: Job, use: CutterUse) -> str:
    """How long a turn of the handwheel takes at the feed, where all turns are alike."""
    dials = [dial for axis in "XY" if (dial := job.shop.machine.dial(axis)) is not None]
    if not dials or any(dial.per_turn != dials[0].per_turn for dial in dials):
        return ""
    return f"{60 * dials[0].per_turn / use.feed:.1f} S A TURN"


def draw_setup(canvas: Canvas, job: Job, use: CutterUse, cut: str, strip: Box) -> None:
    """Cutter, speed, feed and zero in boxes that share the width by need; the cut below them."""
    canvas.write(letter(cut, strip.left + 2, strip.bottom - 1.5, SMALL))
    canvas.put(line((strip.left, strip.bottom), (strip.right, strip.bottom), NARROW))
    strip = Box(strip.left, strip.top, strip.right, strip.bottom - _CUT_LINE_MM)
    boxes = _setup_boxes(job, use, strip.width)
    needs = [_box_need(box) for box in boxes]
    spare = (strip.width - sum(needs)) / len(boxes)
    x = strip.left
    for (caption, value), need in zip(boxes, needs, strict=True):
        canvas.write(letter(caption, x + 2, strip.top + 1.0 + SMALL, SMALL))
        canvas.write(letter(value, x + 2, strip.bottom - 1.5, MEDIUM, bold=True))
        x += need + spare
        if x < strip.right - 1:
            canvas.put(line((x, strip.top), (x, strip.bottom), NARROW))


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
