"""Outlines to try curved walls on: letters, tangent chains of arcs, shapes of test pieces.

Everything is built of straight edges and arcs as the job file has them. A curve between two points
with given tangents is laid out as two arcs that are tangent to each other and to both (a biarc).
"""

from collections.abc import Callable
from math import atan2, cos, hypot, pi, sin, sqrt
from pathlib import Path
from random import Random

from matplotlib import get_data_path
from matplotlib.ft2font import FT2Font, LoadFlags

from .curves import Bow, Edge, Outline, Seg, Spot, bow, polar

MOVE, LINE, CURVE, CLOSE = 1, 2, 3, 79


def biarc(start: Spot, along: Spot, end: Spot, out: Spot) -> list[Edge]:
    """Two arcs from ``start`` (leaving along ``along``) to ``end`` (arriving along ``out``).

    Both tangents are unit vectors. With tangents of equal length d at both ends the joint lies
    halfway between start + d along and end - d out; those two points are 2 d apart.
    """
    vx, vy = end[0] - start[0], end[1] - start[1]
    tx, ty = along[0] + out[0], along[1] + out[1]
    dot, square = vx * tx + vy * ty, vx**2 + vy**2
    spread = 2 * (1 - along[0] * out[0] - along[1] * out[1])
    if spread < 1e-9:
        d = square / (2 * dot) if dot > 1e-12 else sqrt(square) / 2
    else:
        d = (-dot + sqrt(dot**2 + spread * square)) / spread
    joint = (
        (start[0] + d * along[0] + end[0] - d * out[0]) / 2,
        (start[1] + d * along[1] + end[1] - d * out[1]) / 2,
    )
    back = _tangent_arc(end, (-out[0], -out[1]), joint)
    return [_tangent_arc(start, along, joint), backwards(back)]


def _tangent_arc(start: Spot, along: Spot, end: Spot) -> Edge:
    """The arc that leaves ``start`` along a unit vector and ends at ``end``."""
    vx, vy = end[0] - start[0], end[1] - start[1]
    side = along[0] * vy - along[1] * vx
    if abs(side) < 1e-7 * hypot(vx, vy):
        return Seg(start, end)
    radius = (vx**2 + vy**2) / (2 * side)  # positive: centre on the left
    center = (start[0] - radius * along[1], start[1] + radius * along[0])
    return bow(start, end, center, ccw=side > 0)


def backwards(edge: Edge) -> Edge:
    """The same edge from its end to its start."""
    if isinstance(edge, Seg):
        return Seg(edge.end, edge.start)
    return Bow(edge.end, edge.start, edge.center, edge.radius, -edge.sweep)


def letter(text: str, height: float, origin: Spot) -> Outline:
    """The outer contour of a letter of DejaVu Sans, as matplotlib brings it along.

    Its quadratic curves become biarcs; the contour with the longest way round is taken.
    """
    font = FT2Font(str(Path(get_data_path()) / "fonts" / "ttf" / "DejaVuSans.ttf"))
    font.set_size(100, 72)
    font.load_char(ord(text), flags=LoadFlags.NO_HINTING)
    vertices, codes = font.get_path()
    contours: list[list[Edge]] = []
    here = (0.0, 0.0)
    points = [(float(x), float(y)) for x, y in vertices]
    k = 0
    while k < len(points):
        code = int(codes[k])
        if code == MOVE:
            contours.append([])
            here = points[k]
        elif code == LINE and points[k] != here:
            contours[-1].append(Seg(here, points[k]))
            here = points[k]
        elif code == CURVE:
            contours[-1] += _quadratic(here, points[k], points[k + 1])
            here, k = points[k + 1], k + 1
        elif code == CLOSE and contours[-1] and here != contours[-1][0].start:
            contours[-1].append(Seg(here, contours[-1][0].start))
        k += 1
    outer = max(contours, key=lambda edges: sum(edge.length for edge in edges))
    corners = [spot for edge in outer for spot in (edge.start, edge.end)]
    left, low = min(x for x, _ in corners), min(y for _, y in corners)
    scale = height / (max(y for _, y in corners) - low)
    return tuple(
        moved(edge, lambda p: (origin[0] + (p[0] - left) * scale, origin[1] + (p[1] - low) * scale))
        for edge in outer
    )


def _quadratic(start: Spot, control: Spot, end: Spot) -> list[Edge]:
    along, out = _unit(start, control), _unit(control, end)
    if abs(along[0] * out[1] - along[1] * out[0]) < 1e-6:
        return [Seg(start, end)]
    return biarc(start, along, end, out)


def _unit(start: Spot, end: Spot) -> Spot:
    length = hypot(end[0] - start[0], end[1] - start[1])
    return (end[0] - start[0]) / length, (end[1] - start[1]) / length


def blob(seed: int, center: Spot, size: float, corners: int = 6, wave: float = 0.3) -> Outline:
    """A random smooth outline, counter-clockwise: a closed chain of tangent arcs."""
    random = Random(seed)
    spots = [
        polar(
            center,
            size * (1 - wave * random.random()),
            2 * pi * (k + 0.35 * random.random()) / corners,
        )
        for k in range(corners)
    ]
    tangents = [_unit(spots[k - 1], spots[(k + 1) % corners]) for k in range(corners)]
    edges: list[Edge] = []
    for k in range(corners):
        after = (k + 1) % corners
        edges += biarc(spots[k], tangents[k], spots[after], tangents[after])
    return tuple(edges)


def link(first: Spot, second: Spot, radius: float, other: float) -> Outline:
    """Two round ends joined by their common tangents (a belt round two discs), ccw."""
    dx, dy = second[0] - first[0], second[1] - first[1]
    apart = hypot(dx, dy)
    heading, lean = atan2(dy, dx), (radius - other) / apart
    angle = atan2(sqrt(1 - lean**2), lean)
    low, high = heading - angle, heading + angle
    a, b = polar(first, radius, high), polar(first, radius, low)
    c, d = polar(second, other, low), polar(second, other, high)
    return bow(a, b, first, True), Seg(b, c), bow(c, d, second, True), Seg(d, a)


def moved(edge: Edge, move: Callable[[Spot], Spot], mirror: bool = False) -> Edge:
    """An edge with its points sent through a move; mirrored, arcs turn the other way."""
    if isinstance(edge, Seg):
        return Seg(move(edge.start), move(edge.end))
    center, start, end = move(edge.center), move(edge.start), move(edge.end)
    return bow(start, end, center, (edge.sweep > 0) != mirror)


def tightest(outline: Outline, clear_inside: bool) -> float:
    """Least radius of an arc that is an inside corner for the cutter; outline ccw."""
    return min(
        (
            edge.radius
            for edge in outline
            if isinstance(edge, Bow) and (edge.sweep > 0) == clear_inside
        ),
        default=float("inf"),
    )


def ccw(outline: Outline) -> bool:
    """Whether an outline runs counter-clockwise (arcs taken by points along them)."""
    spots = [edge.at(share) for edge in outline for share in (0.0, 0.25, 0.5, 0.75)]
    return (
        sum(a[0] * b[1] - a[1] * b[0] for a, b in zip(spots, spots[1:] + spots[:1], strict=True))
        > 0
    )


def points(outline: Outline) -> str:
    """The outline as the value of ``points``."""
    entries = []
    for edge in outline:
        x, y = edge.end
        if isinstance(edge, Seg):
            entries.append(f"[{x:.9f}, {y:.9f}]")
        else:
            turn = "ccw" if edge.sweep > 0 else "cw"
            cx, cy = edge.center
            entries.append(
                f'{{ x = {x:.9f}, y = {y:.9f}, center = [{cx:.9f}, {cy:.9f}], turn = "{turn}" }}'
            )
    return "[\n  " + ",\n  ".join(entries) + ",\n]"


def regular(center: Spot, radius: float, count: int, turn: float) -> Outline:
    """A regular polygon, its first corner at an angle of ``turn`` degrees."""
    corners = [polar(center, radius, 2 * pi * k / count + turn * pi / 180) for k in range(count)]
    return tuple(Seg(corners[k - 1], corners[k]) for k in range(count))


def turned(spot: Spot, degrees: float) -> Spot:
    """A point turned about the origin."""
    c, s = cos(degrees * pi / 180), sin(degrees * pi / 180)
    return spot[0] * c - spot[1] * s, spot[0] * s + spot[1] * c
