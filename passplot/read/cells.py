"""Areas with edges along X and Y, exactly: cut into strips along X, each a row of intervals.

Coordinates are compared, never computed with, so that nothing is lost to rounding.
"""

from itertools import pairwise

from passplot.records.shapes import Loop

Interval = tuple[float, float]
Area = tuple[tuple[Interval, ...], ...]  # the intervals of each strip, in rising order


def strips(loops: list[Loop]) -> list[Interval]:
    """The strips that the edges of ``loops`` cut the plane into, from front to back."""
    ys = sorted({corner.y for loop in loops for corner in loop.corners})
    return list(pairwise(ys))


def area_of(loop: Loop, rows: list[Interval]) -> Area:
    """The area inside a loop, strip by strip. Its edges run along X and Y."""
    area = []
    for low, high in rows:
        ends = sorted(
            edge.start.x
            for edge in loop.edges
            if edge.start.x == edge.end.x
            and min(edge.start.y, edge.end.y) <= low
            and max(edge.start.y, edge.end.y) >= high
        )
        area.append(tuple(zip(ends[::2], ends[1::2], strict=True)))
    return tuple(area)


def union(areas: list[Area], rows: list[Interval]) -> Area:
    """What lies in any of the areas."""
    return tuple(
        _joined([span for area in areas for span in area[row]]) for row in range(len(rows))
    )


def minus(area: Area, taken: Area) -> Area:
    """What lies in ``area`` but not in ``taken``."""
    return tuple(_minus(spans, cut) for spans, cut in zip(area, taken, strict=True))


def common(first: Area, second: Area) -> Area:
    """What lies in both."""
    return minus(first, minus(first, second))


def size(area: Area, rows: list[Interval], least: float = 0.0) -> float:
    """Area in units squared; strips and intervals narrower than ``least`` count as none."""
    return sum(
        (high - low) * (end - start)
        for (low, high), spans in zip(rows, area, strict=True)
        for start, end in spans
        if high - low > least and end - start > least
    )


def _joined(spans: list[Interval]) -> tuple[Interval, ...]:
    joined: list[Interval] = []
    for start, end in sorted(spans):
        if joined and start <= joined[-1][1]:
            joined[-1] = (joined[-1][0], max(joined[-1][1], end))
        else:
            joined.append((start, end))
    return tuple(joined)


def _minus(spans: tuple[Interval, ...], cuts: tuple[Interval, ...]) -> tuple[Interval, ...]:
    """``spans`` without ``cuts``; both are in rising order and apart."""
    left: list[Interval] = []
    for start, end in spans:
        at = start
        for low, high in cuts:
            if high <= at or low >= end:
                continue
            if low > at:
                left.append((at, low))
            at = max(at, high)
        if at < end:
            left.append((at, end))
    return tuple(left)
