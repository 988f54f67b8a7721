"""Texts put where there is room: beside what they name, else at the end of a leader."""

from collections.abc import Iterable, Iterator, Sequence
from math import atan2, cos, pi, sin

from passplot.records.sheet import Fill, Lettering
from passplot.sheet.canvas import Canvas
from passplot.sheet.ink import head, line
from passplot.sheet.lettering import letter, width_of
from passplot.sheet.paper import Box

Spot = tuple[float, float]

CLEARANCE_MM = 0.8
"""Paper left free round a placed text."""
_DIRECTIONS = 16
_SEARCH_MM = (7.0, 100.0, 3.0)


def centred(
    text: str, spot: Spot, height: float, *, bold: bool = False, number: int | None = None
) -> Lettering:
    """A text whose capitals are centred on a spot."""
    x, y = spot
    return letter(text, x, y + height / 2, height, anchor="middle", bold=bold, number=number)


def upended(text: str, spot: Spot, height: float) -> Lettering:
    """A text read from the bottom up, its capitals centred on a spot."""
    x, y = spot
    return letter(text, x + height / 2, y, height, anchor="middle", turned=True)


def place(
    canvas: Canvas,
    room: Box,
    text: str,
    spots: Iterable[Spot],
    target: Spot,
    height: float,
    *,
    bold: bool = False,
    dot: bool = True,
    number: int | None = None,
    off: Spot | None = None,
    turns: bool = False,
) -> bool:
    """Write ``text`` centred on the first free spot, else at the end of a leader to ``target``.

    A leader goes, where it can, away from the spot ``off``. With ``turns`` the text may also be
    turned on a spot. Returns False, and writes nothing, where no free place is found.
    """
    tried = list(spots)
    ways = [centred(text, spot, height, bold=bold, number=number) for spot in tried]
    if turns:
        ways += [upended(text, spot, height) for spot in tried]
    for lettering in ways:
        if canvas.free(Box(*lettering.box).grown(CLEARANCE_MM), room):
            canvas.write(lettering, gap=CLEARANCE_MM)
            return True
    half = width_of(text, height, bold) / 2
    for spot in _round(target, half, height, off or target):
        lettering = centred(text, spot, height, bold=bold, number=number)
        box = Box(*lettering.box)
        roomy = box.grown(CLEARANCE_MM)
        if not canvas.free(roomy, room):
            continue
        end = _edge_towards(roomy, target)
        if canvas.clear_line(end, target):
            lead(canvas, end, target, dot=dot)
            canvas.write(lettering, gap=CLEARANCE_MM)
            return True
    return False


def lead(canvas: Canvas, start: Spot, target: Spot, *, dot: bool) -> None:
    """A leader, with a dot where it ends inside an area or an arrowhead where it ends on a line."""
    canvas.rule(line(start, target), wide=False)
    if dot:
        x, y = target
        r = 0.75
        ring = tuple((x + r * cos(k * pi / 4), y + r * sin(k * pi / 4)) for k in range(8))
        canvas.put(Fill((ring,), 0.0))
    else:
        canvas.put(head(target, start, 3.0, 1.0))


def _round(target: Spot, half: float, height: float, off: Spot) -> Iterator[Spot]:
    """Spots round a target, nearest first, those away from ``off`` before the others."""
    away = atan2(target[1] - off[1], target[0] - off[0])
    turns = sorted(
        (2 * pi * (index + 0.5) / _DIRECTIONS for index in range(_DIRECTIONS)),
        key=lambda angle: abs((angle - away + pi) % (2 * pi) - pi),
    )
    first, last, step = _SEARCH_MM
    reach = first
    while reach < last:
        for angle in turns:
            yield (
                target[0] + (reach + half) * cos(angle),
                target[1] + (reach + height / 2) * sin(angle),
            )
        reach += step


def _edge_towards(box: Box, target: Spot) -> Spot:
    """The point of a box's edge that a leader to ``target`` starts from."""
    x = min(max(target[0], box.left), box.right)
    y = min(max(target[1], box.top), box.bottom)
    middle_x, middle_y = box.middle
    if box.left < x < box.right and box.top < y < box.bottom:
        return middle_x, middle_y
    if x in (box.left, box.right):
        return x, middle_y
    return middle_x, y


def spread(
    wanted: Sequence[float], widths: Sequence[float], low: float, high: float
) -> list[float]:
    """Middles of labels in a row, in order, none overlapping, each as near as can be to its wish.

    ``wanted`` rises. The row is kept within ``low`` … ``high`` as long as it is not longer.
    """
    groups: list[tuple[float, list[int]]] = []
    for index in range(len(wanted)):
        groups.append((wanted[index], [index]))
        while len(groups) > 1 and _overlap(groups[-2], groups[-1], widths):
            _, later = groups.pop()
            _, earlier = groups.pop()
            members = earlier + later
            groups.append((_best_middle(members, wanted, widths), members))
    middles: list[float] = [0.0] * len(wanted)
    for middle, members in groups:
        size = sum(widths[i] for i in members)
        left = min(max(middle - size / 2, low), max(low, high - size))
        for i in members:
            middles[i] = left + widths[i] / 2
            left += widths[i]
    return _unpiled(middles, widths, low, high)


def _best_middle(members: list[int], wanted: Sequence[float], widths: Sequence[float]) -> float:
    size = sum(widths[i] for i in members)
    left, offsets = 0.0, []
    for i in members:
        offsets.append(wanted[i] - (left + widths[i] / 2))
        left += widths[i]
    return sum(offsets) / len(offsets) + size / 2


def _overlap(
    first: tuple[float, list[int]], second: tuple[float, list[int]], widths: Sequence[float]
) -> bool:
    half = sum(widths[i] for i in first[1]) / 2 + sum(widths[i] for i in second[1]) / 2
    return second[0] - first[0] < half - 1e-9


def _unpiled(middles: list[float], widths: Sequence[float], low: float, high: float) -> list[float]:
    """The middles pushed apart where keeping within the bounds made them overlap."""
    result = list(middles)
    for i in range(len(result) - 1, -1, -1):
        most = high - widths[i] / 2
        if i + 1 < len(result):
            most = result[i + 1] - (widths[i] + widths[i + 1]) / 2
        result[i] = min(result[i], most)
    for i in range(len(result)):
        least = low + widths[i] / 2
        if i:
            least = result[i - 1] + (widths[i - 1] + widths[i]) / 2
        result[i] = max(result[i], least)
    return result
