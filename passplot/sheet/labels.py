"""Texts put where there is room: beside what they name, else at the end of a leader."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from math import atan2, cos, hypot, pi, sin

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
_CROSSING_MM = 12.0
"""Longer a leader may be for each wide line it does not cross."""
_GRID_MM = 3.0


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
    must: bool = True,
) -> bool:
    """Write ``text`` centred on the first free spot, else at the end of a leader to ``target``.

    A leader goes, where it can, away from the spot ``off``, and over few lines. With ``turns`` the
    text may also be turned on a spot. With ``must`` a text that finds no free place beside what it
    names is carried out to anywhere in the room, at worst over lines; without it False is returned
    and nothing written.
    """
    tried = list(spots)
    ways = [centred(text, spot, height, bold=bold, number=number) for spot in tried]
    if turns:
        ways += [upended(text, spot, height) for spot in tried]
    for lettering in ways:
        if canvas.free(Box(*lettering.box).grown(CLEARANCE_MM), room):
            canvas.write(lettering, gap=CLEARANCE_MM)
            return True

    def at(spot: Spot) -> Lettering:
        return centred(text, spot, height, bold=bold, number=number)

    half = width_of(text, height, bold) / 2
    found = _least_crossing(canvas, room, at, _round(target, half, height, off or target), target)
    if found is None and must:
        found = _anywhere(canvas, room, at, half, target)
    if found is None:
        return False
    lettering, end = found
    lead(canvas, end, target, dot=dot)
    canvas.write(lettering, gap=CLEARANCE_MM)
    return True


def _least_crossing(
    canvas: Canvas,
    room: Box,
    at: Callable[[Spot], Lettering],
    spots: Iterable[tuple[float, Spot]],
    target: Spot,
) -> tuple[Lettering, Spot] | None:
    """The free text, with the start of its leader, that is near and whose leader crosses least."""
    best: tuple[float, Lettering, Spot] | None = None
    for reach, spot in spots:
        if best is not None and reach >= best[0]:
            break
        lettering = at(spot)
        roomy = Box(*lettering.box).grown(CLEARANCE_MM)
        if not canvas.free(roomy, room):
            continue
        end = _edge_towards(roomy, target)
        if canvas.clear_line(end, target):
            cost = reach + _CROSSING_MM * canvas.crossings(end, target)
            if best is None or cost < best[0]:
                best = cost, lettering, end
    return None if best is None else best[1:]


def _anywhere(
    canvas: Canvas, room: Box, at: Callable[[Spot], Lettering], half: float, target: Spot
) -> tuple[Lettering, Spot] | None:
    """The free text nearest to the target in the whole room.

    At worst its leader runs over texts, then it stands over lines itself.
    """
    step = _GRID_MM
    spots = [
        (room.left + half + CLEARANCE_MM + column * step, room.top + (row + 1.5) * step)
        for column in range(int((room.width - 2 * half - 2 * CLEARANCE_MM) / step) + 1)
        for row in range(int(room.height / step) - 1)
    ]
    spots.sort(key=lambda spot: hypot(spot[0] - target[0], spot[1] - target[1]))
    for over_texts, over_lines in ((False, False), (True, False), (True, True)):
        for spot in spots:
            lettering = at(spot)
            roomy = Box(*lettering.box).grown(CLEARANCE_MM)
            end = _edge_towards(roomy, target)
            clear = canvas.free(roomy, room, off_narrow=not over_lines, off_wide=not over_lines)
            if clear and (over_texts or canvas.clear_line(end, target)):
                return lettering, end
    return None


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


def _round(target: Spot, half: float, height: float, off: Spot) -> Iterator[tuple[float, Spot]]:
    """Spots round a target with their reach, nearest first, those away from ``off`` before."""
    away = atan2(target[1] - off[1], target[0] - off[0])
    turns = sorted(
        (2 * pi * (index + 0.5) / _DIRECTIONS for index in range(_DIRECTIONS)),
        key=lambda angle: abs((angle - away + pi) % (2 * pi) - pi),
    )
    first, last, step = _SEARCH_MM
    reach = first
    while reach < last:
        for angle in turns:
            x = target[0] + (reach + half) * cos(angle)
            yield reach, (x, target[1] + (reach + height / 2) * sin(angle))
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
