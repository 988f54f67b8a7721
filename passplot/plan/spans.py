"""Stretches of a line, each from one length along it to another."""

Span = tuple[float, float]


def total(spans: tuple[Span, ...]) -> float:
    """Added length of spans."""
    return sum(b - a for a, b in spans)


def meet(one: tuple[Span, ...], two: tuple[Span, ...]) -> tuple[Span, ...]:
    """Stretches in both."""
    out = [(max(a, c), min(b, d)) for a, b in one for c, d in two]
    return tuple(span for span in out if span[1] > span[0])


def without(one: tuple[Span, ...], two: tuple[Span, ...]) -> tuple[Span, ...]:
    """Stretches of the first outside the second."""
    spans = list(one)
    for c, d in two:
        cut = [(a, min(b, c)) for a, b in spans] + [(max(a, d), b) for a, b in spans]
        spans = [(a, b) for a, b in cut if b > a]
    return tuple(spans)


def merged(spans: list[Span], gap: float) -> tuple[Span, ...]:
    """Spans in order, those closer than ``gap`` joined."""
    out: list[Span] = []
    for a, b in sorted(spans):
        if out and a <= out[-1][1] + gap:
            out[-1] = (out[-1][0], max(b, out[-1][1]))
        else:
            out.append((a, b))
    return tuple(out)
