"""Walls stepped off by hand: settings on the true offset, and the corners between them.

Every setting lies on the readout's grid, no nearer to the wall than asked. From one to the next
the axis makes one move along X and one along Y whose corner lies on the free side; where the
wall runs along X or Y it is a single move.
"""

from itertools import pairwise
from math import ceil, hypot, sqrt

import numpy as np

from passplot.curves import direction, length, point_at, poles
from passplot.frozen import dataclass
from passplot.plan.distance import Distances
from passplot.plan.edges import piece
from passplot.plan.grid import Grid
from passplot.plan.walls import Chain
from passplot.records.shapes import Edge, Line, Point
from passplot.scallop import arc_angle, straight_spacing

Spot = tuple[float, float]

_TOUCH = 5e-9
"""Nearer to a wall than asked by less than this is not nearer (job units)."""

_SKIPPED = 2
"""Settings this near, in steps of the readout, may be left out where no free move leads there."""

_BEFORE = 40
"""How many steps of the readout before its end a wall is left at most."""

_DEEPEST = 3
"""How often a way without a free corner is halved."""

_MORE = 6
"""How many settings along an edge there may be past twice what the scallop asks for."""

_HALVED = 7
"""How often the way to a setting is halved in search of the farthest that will do."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """A stepped wall: settings, the corner before each (None for a single move), scallops.

    ``scallops`` has the greatest scallop of each form of wall.
    """

    points: tuple[Spot, ...]
    corners: tuple[Spot | None, ...]
    scallops: tuple[tuple[str, float], ...]
    closed: bool


@dataclass(frozen=True, slots=True)
class Wall:
    """What stepping goes by.

    Attributes
    ----------
    distances : Distances
        The finished walls.
    by : float
        Least distance of the axis from them.
    radius : float
        Radius of the cutter.
    cusp : float
        Greatest scallop.
    """

    distances: Distances
    by: float
    radius: float
    cusp: float
    grid: Grid

    @property
    def stock(self) -> float:
        """Stock the walk leaves on the wall."""
        return self.by - self.radius


def step_off(chain: Chain, wall: Wall, metal_left: bool, apart: bool = False) -> list[Stretch]:
    """Settings along an offset chain (the part on its left), in the order they are cut.

    With ``apart`` a new stretch begins at every sharp corner.
    """
    points: list[Spot] = []
    highest: dict[str, float] = {}
    for edge in chain.edges:
        spots = _on_edge(edge, wall)
        form = _form(edge)
        for a, b in pairwise(spots):
            highest[form] = max(highest.get(form, 0.0), _scallop(a, b, wall))
        points += spots
    if not metal_left:
        points.reverse()
    # in a wedge too tight for the readout no setting near the point stands clear
    clear = wall.distances.near(np.array(points)) >= wall.by - _TOUCH
    points = [spot for spot, good in zip(points, clear, strict=True) if good]
    if not points:
        return []
    points = [spot for i, spot in enumerate(points) if i == 0 or spot != points[i - 1]]
    sharp = {snapped(at, wall) for at in sharp_corners([chain])} if apart else set()
    if chain.closed:
        first = next((i for i, spot in enumerate(points) if spot in sharp), 0)
        points = points[:-1] if points[0] == points[-1] else points
        points = [*points[first:], *points[: first + 1]]
    return _joined(points, tuple(sorted(highest.items())), wall, chain.closed, sharp)


def begun(stretch: Stretch, far: float) -> list[Stretch]:
    """The start of a stretch, as far as the first setting ``far`` from it."""
    x, y = stretch.points[0]
    past = (i for i, (u, v) in enumerate(stretch.points, 1) if hypot(u - x, v - y) >= far)
    count = next(past, len(stretch.points))
    points, corners = stretch.points[:count], stretch.corners[:count]
    return [Stretch(points, corners, stretch.scallops, False)]


def _form(edge: Edge) -> str:
    if isinstance(edge, Line):
        return "straight"
    return "convex" if edge.ccw else "concave"


def _spacing(edge: Edge, wall: Wall) -> float:
    """Greatest length along an offset edge between settings for the scallop.

    On arcs by the exact angle, not by sqrt(8 h r / (p R)) for a small scallop h (r the cutter's
    radius, p that of the axis' way, R the wall's): that is larger by about h / (4 r) +- h / (2 R)
    of itself, and would let the scallop out by as much. The difference is far less than one
    setting of a circle; what makes a few more is that each quarter begins and ends at a setting.
    """
    if isinstance(edge, Line):
        return straight_spacing(wall.radius, wall.cusp)
    # the surface left by the walk, round the same centre as the path; a corner has none
    surface = max(edge.radius + (-wall.radius if edge.ccw else wall.radius), 0.0)
    return edge.radius * arc_angle(wall.radius, surface, wall.cusp, convex=edge.ccw)


def _on_edge(edge: Edge, wall: Wall) -> list[Spot]:
    """Settings on one edge, ends included."""
    if isinstance(edge, Line):
        if edge.level:
            return _straight(edge, wall)
        return _spread([edge], wall)
    shares = [0.0, *poles(edge), 1.0]
    return _spread([piece(edge, a, b) for a, b in pairwise(shares)], wall)


def _straight(edge: Line, wall: Wall) -> list[Spot]:
    """Settings at the ends of an edge along X or Y.

    In a wedge the nearest setting to an end may lie a step farther off the wall than the rest of it
    has to: then the wall is left a little before its end.
    """
    ends = [snapped(end, wall) for end in (edge.start, edge.end)]
    tx, ty = direction(edge, 0.0)
    along = 0 if abs(tx) > abs(ty) else 1
    across = 1 - along
    # the part is on the left
    beside = wall.grid.away(
        (edge.start.x, edge.start.y)[across], 1 if (-tx if along == 0 else ty) > 0 else -1
    )
    if all(end[across] == beside for end in ends):
        return ends
    sign = 1.0 if tx + ty > 0 else -1.0
    found = []
    for end, inwards in zip(ends, (sign, -sign), strict=True):
        steps = end[along] + inwards * wall.grid.resolution * np.arange(_BEFORE)
        spots = np.full((_BEFORE, 2), beside)
        spots[:, along] = steps
        clear = wall.distances.near(spots) >= wall.by - _TOUCH
        if end[across] != beside and clear.any():
            at = wall.grid.near(float(steps[int(clear.argmax())]))
            found.append((at, beside) if along == 0 else (beside, at))
    kept = [ends[0], *found, ends[1]]
    return sorted(dict.fromkeys(kept), key=lambda spot: sign * spot[along])


def _spread(parts: list[Edge], wall: Wall) -> list[Spot]:
    """Settings spread evenly over parts that each run one way along X and along Y."""
    out: list[Spot] = []
    for part in parts:
        count = max(1, ceil(length(part) / max(_spacing(part, wall), 1e-9) - 1e-9))
        tries = [snapped(point_at(part, i / count), wall) for i in range(count + 1)]
        if not all(_fits(a, b, wall) for a, b in pairwise(tries)):
            tries = _paced(part, count, tries[0], wall)
        out += tries if not out else tries[1:]
    return out


def _fits(a: Spot, b: Spot, wall: Wall) -> bool:
    """Whether two settings leave no more than the scallop."""
    return _scallop(a, b, wall) <= wall.cusp + 1e-9


def _paced(part: Edge, count: int, first: Spot, wall: Wall) -> list[Spot]:
    """Settings each as far from the one before as its own rounding lets it be.

    Rounding takes something of the scallop at one place and gives it back at another: paced out
    one by one, as many settings do as without it, or one more.
    """
    spots, here = [first], 0.0
    while here < 1.0 and len(spots) <= 2 * count + _MORE:
        low, high = 0.0, 1.2 / count
        for _ in range(_HALVED):
            middle = (low + high) / 2
            tried = snapped(point_at(part, min(here + middle, 1.0)), wall)
            low, high = (middle, high) if _fits(spots[-1], tried, wall) else (low, middle)
        here = min(here + max(low, 0.2 / count), 1.0)
        spots.append(snapped(point_at(part, here), wall))
    return spots


def sharp_corners(chains: list[Chain]) -> list[Point]:
    """Corners of offset chains at which two walls meet at less than a right angle."""
    found = []
    for chain in chains:
        for index, edge in enumerate(chain.edges):
            if index + 1 == len(chain.edges) and not chain.closed:
                continue
            after = chain.edges[(index + 1) % len(chain.edges)]
            (tx, ty), (ux, uy) = direction(edge, 1.0), direction(after, 0.0)
            # the part is on the left: a right turn of more than 95 degrees
            if tx * ux + ty * uy < -0.09 and tx * uy - ty * ux < 0:
                found.append(edge.end)
    return found


def snapped(at: Point, wall: Wall) -> Spot:
    """The setting on the grid next to a point that stands no nearer to the wall than asked."""
    for reach in (2, 5):
        near = _around(at, wall.grid, reach)
        spots = np.array(near)
        room = wall.distances.near(spots) - wall.by
        good = room >= -_TOUCH
        if good.any():
            break
    else:
        return near[int(np.argmax(room))]
    aside = np.hypot(spots[:, 0] - at.x, spots[:, 1] - at.y)
    # the nearest to the wall first: what is left there is what the eye sees
    cost = np.where(good, np.maximum(room, 0.0) + 0.35 * aside, np.inf)
    return near[int(np.argmin(cost))]


def _around(at: Point, grid: Grid, reach: int) -> list[Spot]:
    """Settings round a point, up to ``reach`` steps of the readout away each way."""
    steps = [step * grid.resolution for step in range(-reach, reach + 1)]
    # counted from one of them: halfway between two, every second one would be missed
    x, y = grid.near(at.x), grid.near(at.y)
    return [(grid.near(x + dx), grid.near(y + dy)) for dx in steps for dy in steps]


def _scallop(a: Spot, b: Spot, wall: Wall) -> float:
    """Height left over the surface between two settings; 0 where the move between cuts it all."""
    half = hypot(b[0] - a[0], b[1] - a[1]) / 2
    if half == 0.0 or a[0] == b[0] or a[1] == b[1]:
        return 0.0
    if half >= wall.radius:
        return float("inf")
    rise = sqrt(wall.radius**2 - half**2)
    ux, uy = (b[0] - a[0]) / (2 * half), (b[1] - a[1]) / (2 * half)
    mx, my = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
    tips = np.array([(mx - uy * rise, my + ux * rise), (mx + uy * rise, my - ux * rise)])
    return max(0.0, float(wall.distances.near(tips).min()) - wall.stock)


def _joined(
    points: list[Spot],
    scallops: tuple[tuple[str, float], ...],
    wall: Wall,
    closed: bool,
    sharp: set[Spot],
) -> list[Stretch]:
    """Settings with the corners between them; more settings where no corner is free.

    Where even those do not help, as in a wedge between two walls, and at sharp corners, a new
    stretch begins.
    """
    runs: list[tuple[list[Spot], list[Spot | None]]] = [([points[0]], [None])]
    for index, spot in enumerate(points[1:], 1):
        spots, corners = runs[-1]
        if index > 1 and points[index - 1] in sharp and len(spots) > 1:
            spots, corners = [points[index - 1]], [None]
            runs.append((spots, corners))
        ways = _ways(spots[-1], spot, wall, 0)
        for corner, to in ways:
            if to != spots[-1]:
                spots.append(to)
                corners.append(corner)
        gap = max(abs(spot[0] - spots[-1][0]), abs(spot[1] - spots[-1][1]))
        if gap > _SKIPPED * wall.grid.resolution:
            runs.append(([spot], [None]))
    whole = closed and len(runs) == 1
    return [
        Stretch(tuple(spots), tuple(corners), scallops, whole and spots[0] == spots[-1])
        for spots, corners in runs
    ]


def _ways(a: Spot, b: Spot, wall: Wall, deep: int) -> list[tuple[Spot | None, Spot]]:
    if a[0] == b[0] or a[1] == b[1]:
        return [(None, b)] if wall.distances.beside(a, b) >= wall.by - _TOUCH else []
    tries = []
    for corner in ((b[0], a[1]), (a[0], b[1])):
        room = min(wall.distances.beside(a, corner), wall.distances.beside(corner, b))
        tries.append((room, wall.distances.beside(corner, corner), corner))
    room, _, corner = max(tries)
    if room >= wall.by - _TOUCH:
        return [(corner, b)]
    middle = snapped(Point((a[0] + b[0]) / 2, (a[1] + b[1]) / 2), wall)
    if deep < _DEEPEST and middle not in (a, b):
        first = _ways(a, middle, wall, deep + 1)
        reached = first[-1][1] if first else a
        return first + _ways(reached, b, wall, deep + 1)
    return []
