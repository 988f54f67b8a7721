"""Numbers in the sentences for the sheet: sizes and angles as a print writes them."""

from math import floor

from passplot.records.job import Job

_MINUS = "\N{MINUS SIGN}"


def size_words(value: float, job: Job) -> str:
    """A size or a coordinate: inches with four places and no zero in front, mm with up to three.

    After ASME Y14.5 sections 1.6.1 and 1.6.2.
    """
    places = 4 if job.inch else 3
    text = f"{abs(value):.{places}f}"
    if float(text) == 0:
        return "0"
    text = text.removeprefix("0") if job.inch else text.rstrip("0").rstrip(".")
    return f"{_MINUS if value < 0 else ''}{text}"


def angle_words(degrees: float) -> str:
    """An angle in degrees and minutes, to the nearest minute."""
    whole, minutes = divmod(round(abs(degrees) * 60), 60)
    sign = _MINUS if degrees < 0 and (whole or minutes) else ""
    return f"{sign}{whole}° {minutes}′"


def drill_words(most: float, job: Job) -> tuple[float, str]:
    """The largest drill at or under a size, by 1/64 in or 0.5 mm, and its name."""
    step = 1 / 64 if job.inch else 0.5
    count = floor(most / step + 1e-9)
    if not job.inch:
        return count * step, f"{count * step:g}"
    whole, rest = divmod(count, 64)
    below = 64
    while rest and rest % 2 == 0:
        rest, below = rest // 2, below // 2
    parts = [str(whole)] if whole else []
    return count * step, " ".join([*parts, f"{rest}/{below}"] if rest else parts)
