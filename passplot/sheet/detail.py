"""An enlarged detail of a stepped wall: the two moves to each setting, to a scale of its own."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise
from math import cos, hypot, pi, sin, sqrt

from passplot.frozen import dataclass
from passplot.records.plan import Pass
from passplot.records.shapes import Point
from passplot.records.sheet import Fill, Ring, Stroke
from passplot.sheet.canvas import HATCHING, TONES, Canvas
from passplot.sheet.framing import Frame
from passplot.sheet.ground import Ground, Piece, ground_of, hatched, inside
from passplot.sheet.ink import head, line
from passplot.sheet.labels import place
from passplot.sheet.lettering import letter
from passplot.sheet.paper import NARROW, SCALES, SMALL, WIDE, Box, scale_text
from passplot.sheet.plan_view import HATCH_PITCH_MM, HATCH_WIDTH_MM
from passplot.sheet.round_marks import rule_rounds
from passplot.sheet.scene import Scene
from passplot.sheet.step_lines import Path, beside, dot

Spot = tuple[float, float]

RADIUS_MM = 17.0
"""Radius of the circle a detail is drawn in."""
ROOM_MM = 2 * RADIUS_MM + 8.0
"""Paper it takes with its name below it."""
_CLEAR_MM = 6.5
"""How far apart settings come to stand in it, at least."""
_DOT_MM = 0.8
_SEEN = 0.3
"""A move shorter than that share of the one along the other axis is lost beside it."""


@dataclass(frozen=True, slots=True)
class Detail:
    """A detail: ``at`` is the job point in the middle of its circle at ``spot`` on paper."""

    at: Point
    scale: float
    spot: Spot
    mm: float

    def place(self, x: float, y: float) -> Spot:
        """Paper point of a job point."""
        mm = self.mm * self.scale
        return self.spot[0] + (x - self.at.x) * mm, self.spot[1] - (y - self.at.y) * mm

    def holds(self, spot: Spot, margin: float = 0.0) -> bool:
        """Whether a paper point lies in the circle."""
        return hypot(spot[0] - self.spot[0], spot[1] - self.spot[1]) <= RADIUS_MM - margin

    def cut(self, a: Spot, b: Spot) -> tuple[Spot, Spot] | None:
        """The part of a stretch that lies in the circle."""
        dx, dy = b[0] - a[0], b[1] - a[1]
        wx, wy = a[0] - self.spot[0], a[1] - self.spot[1]
        square, half, rest = dx * dx + dy * dy, wx * dx + wy * dy, wx * wx + wy * wy - RADIUS_MM**2
        root = half * half - square * rest
        if square == 0 or root <= 0:
            return None
        low, high = max((-half - sqrt(root)) / square, 0.0), min((-half + sqrt(root)) / square, 1.0)
        if high - low <= 1e-9:
            return None
        return (a[0] + low * dx, a[1] + low * dy), (a[0] + high * dx, a[1] + high * dy)


def detail_of(scene: Scene, frame: Frame, path: Path, spot: Spot) -> Detail | None:
    """The detail of the place where a path's settings crowd; None where no larger scale is left.

    A place where every setting takes two moves that can be told apart is shown, if there is one:
    it shows their order.
    """
    steps = path.passes[0].steps
    larger = [scale for scale in SCALES if scale > frame.view.scale]
    if steps is None or not larger:
        return None
    gaps = [
        (hypot(b.x - a.x, b.y - a.y) * scene.mm, _two_moves(a, b))
        for a, b in pairwise(steps.points)
    ]
    reach = min(2, len(gaps) // 2)
    places = [
        (-sum(two for _, two in near), sum(gap for gap, _ in near), index)
        for index in range(reach, len(gaps) - reach + 1)
        if (near := gaps[index - reach : index + reach])
    ]
    _, total, index = min(places)
    least = total / (2 * reach)
    wanted = [scale for scale in larger if scale * least >= _CLEAR_MM]
    scale = min(wanted) if wanted else max(larger)
    return Detail(steps.points[index], scale, spot, scene.mm)


def _two_moves(a: Point, b: Point) -> bool:
    """Whether both moves from setting to setting can be seen in a detail."""
    short, long = sorted((abs(b.x - a.x), abs(b.y - a.y)))
    return short > _SEEN * long


def draw_detail(
    canvas: Canvas, scene: Scene, frame: Frame, room: Box, path: Path, detail: Detail, first: int
) -> None:
    """Draw a detail, and the circle round its place on the plan view in ``room``."""
    _marked(canvas, frame, room, detail)
    x, y = detail.spot
    turns = [k * pi / 36 for k in range(72)]
    ring = tuple((x + RADIUS_MM * cos(turn), y + RADIUS_MM * sin(turn)) for turn in turns)
    canvas.put(Ring(detail.spot, RADIUS_MM, NARROW))
    canvas.narrow.extend(pairwise((*ring, ring[0])))
    _work(canvas, scene, detail, ring)
    _steps(canvas, detail, path.passes[0], first)
    name = f"A ({scale_text(detail.scale)})"
    canvas.write(letter(name, x, y + RADIUS_MM + 2.0 + SMALL, SMALL, anchor="middle", bold=True))


def _marked(canvas: Canvas, frame: Frame, room: Box, detail: Detail) -> None:
    at = frame.view.at(detail.at.x, detail.at.y)
    radius = RADIUS_MM * frame.view.scale / detail.scale
    canvas.put(Ring(at, radius, NARROW))
    away = frame.plan.middle
    size = hypot(at[0] - away[0], at[1] - away[1]) or 1.0
    edge = (
        at[0] + (at[0] - away[0]) / size * radius,
        at[1] + (at[1] - away[1]) / size * radius,
    )
    place(canvas, room, "A", (), edge, SMALL, bold=True, dot=False, off=away)


def _work(canvas: Canvas, scene: Scene, detail: Detail, ring: tuple[Spot, ...]) -> None:
    """Metal that stays, hatched, with its finished edges, as far as the circle reaches."""
    stock = scene.job.stock
    (left, right), (front, back) = stock.x, stock.y
    corners = ((left, front), (right, front), (right, back), (left, back))
    ground = ground_of(corners, stock.raw_top, (*scene.gone, *scene.now), detail.place)
    level = scene.lowest + 1e-6

    def stays(spot: Spot) -> bool:
        height = ground.height(spot)
        return inside(spot, ring) and height is not None and height > level

    canvas.put(Fill((ring,), 1.0), TONES)
    for a, b in hatched([ring, *ground.rings], stays, HATCH_PITCH_MM):
        canvas.put(line(a, b, HATCH_WIDTH_MM), HATCHING)
    pieces = list(_pieces(ground, detail))
    rule_rounds(canvas, pieces, WIDE)
    for piece in pieces:
        if piece.circle is None:
            canvas.rule(line(piece.start, piece.end, WIDE))


def _pieces(ground: Ground, detail: Detail) -> Iterator[Piece]:
    """The edges, as far as they lie in the circle."""
    for piece in ground.pieces():
        ends = detail.cut(piece.start, piece.end)
        if ends is not None:
            yield replace(piece, start=ends[0], end=ends[1])


def _steps(canvas: Canvas, detail: Detail, each: Pass, first: int) -> None:
    """The two moves from setting to setting, a dot at each, with its number."""
    steps = each.steps
    if steps is None:
        return
    path: list[Spot] = [detail.place(steps.points[0].x, steps.points[0].y)]
    for axis, (at, to) in zip(steps.first_axes, pairwise(steps.points), strict=True):
        corner = (to.x, at.y) if axis == "X" else (at.x, to.y)
        path += [detail.place(*corner), detail.place(to.x, to.y)]
    ways = [(a, b) for a, b in pairwise(path) if a != b]
    seen = [ends for ends in (detail.cut(a, b) for a, b in ways) if ends is not None]
    for a, b in seen:
        canvas.put(Stroke((a, b), NARROW, number=each.number))
        canvas.wide.append((a, b))
    if seen:
        a, b = max(seen, key=lambda ends: hypot(ends[1][0] - ends[0][0], ends[1][1] - ends[0][1]))
        canvas.put(head(((a[0] + 2 * b[0]) / 3, (a[1] + 2 * b[1]) / 3), a, 3.0, 1.6))
    spots = [detail.place(point.x, point.y) for point in steps.points]
    _numbers(canvas, detail, spots, first)


def _numbers(canvas: Canvas, detail: Detail, spots: Sequence[Spot], first: int) -> None:
    x, y = detail.spot
    half = RADIUS_MM * 0.98
    room = Box(x - half, y - half, x + half, y + half)
    shown = [(index, spot) for index, spot in enumerate(spots) if detail.holds(spot, _DOT_MM)]
    for _, spot in shown:
        dot(canvas, spot, _DOT_MM)
    for index, (sx, sy) in shown:
        if not detail.holds((sx, sy), 4.0):
            continue
        around = [
            (sx + off * cos(turn * pi / 4), sy + off * sin(turn * pi / 4))
            for off in (4.4, 5.6)
            for turn in (1, 3, 5, 7, 0, 2, 4, 6)
        ]
        free = [spot for spot in around if detail.holds(spot, 3.4)]
        beside(canvas, room, str(first + index), free)
