"""Stepped walls on the plan view: the path, its settings as ticks, point numbers, an arrow along.

On a sheet of passes only the path is drawn; its settings are on the sheet that lists them.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise
from math import hypot

from passplot.frozen import dataclass
from passplot.records.plan import Pass
from passplot.records.sheet import Fill, Stroke
from passplot.sheet.canvas import Canvas
from passplot.sheet.framing import Frame
from passplot.sheet.groups import stops_of
from passplot.sheet.ink import HEAD_LENGTH, HEAD_WIDTH, head, line
from passplot.sheet.labels import centred, place
from passplot.sheet.numbers import ranged
from passplot.sheet.paper import MEDIUM, NARROW, SMALL, WIDE, Box
from passplot.sheet.scene import Scene

Spot = tuple[float, float]

CROWDED_MM = 3.0
"""Settings nearer on paper than this are shown once more in an enlarged detail."""
EVERY = 5
"""Every which setting has its number beside it."""
_TICK_MM = 1.0
_SAME_PATH_MM = 1.4
_CORNER_MM = 2.0
"""A corner between two moves nearer to their straight line is lost on paper."""
_LABEL_SHARES = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8)
_HEAD_SHARES = (0.12, 0.62)


@dataclass(frozen=True, slots=True)
class Path:
    """A stepped wall on paper, with every pass that runs within a hair of it.

    ``spots`` are its settings; ``way`` has the corners between the two moves to a setting too,
    where these stand out.
    """

    passes: tuple[Pass, ...]
    spots: tuple[Spot, ...]
    way: tuple[Spot, ...]

    @property
    def length(self) -> float:
        """Length on paper."""
        return sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(self.way))

    def at(self, share: float) -> tuple[Spot, Spot]:
        """The spot at a share of the length, and the end of the straight before it."""
        left = share * self.length
        for a, b in pairwise(self.way):
            step = hypot(b[0] - a[0], b[1] - a[1])
            if left <= step and step > 0:
                return (a[0] + (b[0] - a[0]) * left / step, a[1] + (b[1] - a[1]) * left / step), a
            left -= step
        return self.way[-1], self.way[-2]

    @property
    def usual(self) -> float:
        """Distance on paper between neighbouring settings: no fewer are nearer than farther."""
        gaps = sorted(hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(self.spots))
        return gaps[len(gaps) // 2]


def paths_of(scene: Scene, frame: Frame) -> tuple[Path, ...]:
    """The stepped walls and arcs of a scene; those nearly on top of each other are one."""
    found: list[Path] = []
    for row in scene.rows:
        if row.first.straight:
            continue
        spots = tuple(frame.view.at(point.x, point.y) for point in stops_of(row.first))
        steps = row.first.steps
        way = spots if steps is None else tuple(_way(spots, steps.first_axes))
        path = Path(row.passes, spots, way)
        near = next((item for item in found if _same(item, path)), None)
        if near is None:
            found.append(path)
        else:
            found[found.index(near)] = replace(near, passes=(*near.passes, *row.passes))
    return tuple(found)


def _way(spots: Sequence[Spot], first_axes: Sequence[str]) -> Iterator[Spot]:
    """Settings with the corners of the two moves between, where these are off the straight line."""
    yield spots[0]
    for axis, ((ax, ay), (bx, by)) in zip(first_axes, pairwise(spots), strict=True):
        off = abs(bx - ax) * abs(by - ay) / (hypot(bx - ax, by - ay) or 1.0)
        if off > _CORNER_MM:
            yield (bx, ay) if axis == "X" else (ax, by)
        yield bx, by


def _same(one: Path, other: Path) -> bool:
    """Whether every setting of a path lies next to the other path."""
    return all(_off(spot, one.spots) < _SAME_PATH_MM for spot in other.spots) and all(
        _off(spot, other.spots) < _SAME_PATH_MM for spot in one.spots
    )


def _off(spot: Spot, spots: Sequence[Spot]) -> float:
    """Distance of a spot from a polyline."""
    best = float("inf")
    for a, b in pairwise(spots):
        dx, dy = b[0] - a[0], b[1] - a[1]
        square = dx * dx + dy * dy or 1.0
        share = min(max(((spot[0] - a[0]) * dx + (spot[1] - a[1]) * dy) / square, 0.0), 1.0)
        best = min(best, hypot(spot[0] - a[0] - share * dx, spot[1] - a[1] - share * dy))
    return best


def draw_paths(canvas: Canvas, paths: Sequence[Path]) -> None:
    """Draw paths as other passes are drawn."""
    for path in paths:
        canvas.wide.extend(pairwise(path.way))
        for each in path.passes:
            canvas.put(Stroke(path.way, WIDE, number=each.number))
    for path in paths:
        for share in _HEAD_SHARES:
            tip, before = path.at(share)
            for each in path.passes:
                canvas.put(head(tip, before, HEAD_LENGTH, HEAD_WIDTH, each.number))


def label_paths(canvas: Canvas, paths: Sequence[Path], frame: Frame, room: Box) -> None:
    """The numbers of paths, once all lines are drawn that they must keep off."""
    for path in paths:
        label_path(canvas, path, frame, room)


def label_path(canvas: Canvas, path: Path, frame: Frame, room: Box) -> None:
    """The numbers of a path's passes, carried out on a leader."""
    text = ranged([each.number for each in path.passes])
    number = path.passes[0].number
    for share in _LABEL_SHARES:
        target, _ = path.at(share)
        must = share == _LABEL_SHARES[-1]
        if place(
            canvas, room, text, (), target, MEDIUM,
            bold=True, dot=False, number=number, off=frame.plan.middle, must=must,
        ):  # fmt: skip
            return


def draw_settings(canvas: Canvas, path: Path) -> None:
    """A path with a tick across it at every setting, narrow, with arrowheads along it."""
    for each in path.passes:
        canvas.put(Stroke(path.way, NARROW, number=each.number))
    canvas.narrow.extend(pairwise(path.way))
    for spot, (nx, ny) in zip(path.spots, normals(path.spots), strict=True):
        a = spot[0] - nx * _TICK_MM, spot[1] - ny * _TICK_MM
        b = spot[0] + nx * _TICK_MM, spot[1] + ny * _TICK_MM
        canvas.put(line(a, b, NARROW if path.usual < CROWDED_MM else WIDE))
    for share in _HEAD_SHARES:
        tip, before = path.at(share)
        for each in path.passes:
            canvas.put(head(tip, before, HEAD_LENGTH, HEAD_WIDTH, each.number))


def normals(spots: Sequence[Spot]) -> Iterator[Spot]:
    """Unit vectors across a path at each of its settings."""
    for index in range(len(spots)):
        ax, ay = spots[max(index - 1, 0)]
        bx, by = spots[min(index + 1, len(spots) - 1)]
        size = hypot(bx - ax, by - ay) or 1.0
        yield -(by - ay) / size, (bx - ax) / size


def number_settings(
    canvas: Canvas, path: Path, first: int, room: Box, inwards: Spot, every: int = EVERY
) -> None:
    """Numbers beside the first, every fifth and the last setting, where there is room."""
    last = first + len(path.spots) - 1
    for index, (spot, (nx, ny)) in enumerate(zip(path.spots, normals(path.spots), strict=True)):
        number = first + index
        if number not in (first, last) and number % every:
            continue
        # the side that looks to the middle first: the other one lies on the wall
        sign = 1.0 if (inwards[0] - spot[0]) * nx + (inwards[1] - spot[1]) * ny > 0 else -1.0
        spots = [
            (spot[0] + way * sign * nx * off, spot[1] + way * sign * ny * off)
            for off in (4.2, 5.6, 7.2)
            for way in (1.0, -1.0)
        ]
        beside(canvas, room, str(number), spots)


def beside(canvas: Canvas, room: Box, text: str, spots: Sequence[Spot]) -> bool:
    """Write a small text on the first free spot, if there is one; never on a leader."""
    for spot in spots:
        lettering = centred(text, spot, SMALL)
        if canvas.free(Box(*lettering.box).grown(0.3), room):
            canvas.write(lettering, gap=0.3)
            return True
    return False


def dot(canvas: Canvas, spot: Spot, radius: float) -> None:
    """A filled dot."""
    x, y = spot
    near = radius * 0.7
    ring = (
        (x - radius, y), (x - near, y - near), (x, y - radius), (x + near, y - near),
        (x + radius, y), (x + near, y + near), (x, y + radius), (x - near, y + near),
    )  # fmt: skip
    canvas.put(Fill((ring,), 0.0))
