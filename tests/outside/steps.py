"""Hand-made tables for stepped walls: the tests' own stepping, to try the checker on.

Settings lie on the readout's steps: one coordinate is laid down, the other rounded away from the
wall. Between two settings the corner lies on the free side.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import ceil, cos, floor, hypot, pi, sin, sqrt
from pathlib import Path

import numpy as np

from .curves import Bow, Outline, Seg, Spot
from .round_walls import Ground

STEP = 0.0005
HEADER = (
    "row,setup,feature,cutter,stage,move,x,y,z,axis,both_ways,width_of_cut,depth_of_cut,feed,"
    "crank,turns,dial,pass,drill_diameter,c\n"
)


@dataclass(frozen=True, slots=True)
class Line:
    """A row of a hand-made table."""

    move: str
    x: float
    y: float
    z: float
    axis: str
    number: str = ""


def down(value: float) -> float:
    return floor(value / STEP + 1e-7) * STEP


def ring(center: Spot, path: float, count: int, clockwise: bool) -> list[Spot]:
    """Settings once round a circle, from its right end back to it, never beyond ``path``.

    For a path round the outside of a wall give a negative count: then never within it.
    """
    inward, found = count > 0, []
    for k in range(abs(count) + 1):
        angle = (-1 if clockwise else 1) * 2 * pi * k / abs(count)
        x, y = path * cos(angle), path * sin(angle)
        if abs(y) < abs(x):
            y = round(y / STEP) * STEP
            x = _away(sqrt(path**2 - y**2), inward) * (1 if x > 0 else -1)
        else:
            x = round(x / STEP) * STEP
            y = _away(sqrt(path**2 - x**2), inward) * (1 if y > 0 else -1)
        found.append((center[0] + x, center[1] + y))
    return found


def _away(value: float, inward: bool) -> float:
    return down(value) if inward else -down(-value)


def slant(count: int) -> list[Spot]:
    """Settings along the wall y = x - 1.7, metal above left, cutter of radius 0.25 below right."""
    found = []
    for k in range(count + 1):
        x = round((1.6 + 0.9 * k / count) / STEP) * STEP
        found.append((x, down(x - 1.7 - 0.25 * sqrt(2))))
    return found


def walk(spots: list[Spot], freer: Callable[[Spot], float], z: float) -> list[Line]:
    """Cut rows from setting to setting by way of the corner that is freer."""
    lines, here = [], spots[0]
    for spot in spots[1:]:
        corners = [(spot[0], here[1]), (here[0], spot[1])]
        corner = max(corners, key=freer)
        for stop in (corner, spot):
            if abs(stop[0] - here[0]) > 1e-9 or abs(stop[1] - here[1]) > 1e-9:
                axis = "X" if abs(stop[0] - here[0]) > 1e-9 else "Y"
                lines.append(Line("cut", stop[0], stop[1], z, axis, "1"))
                here = stop
    return lines


def off(center: Spot) -> Callable[[Spot], float]:
    """Distance from a centre: freer is farther (turn the sign for a bore)."""
    return lambda spot: hypot(spot[0] - center[0], spot[1] - center[1])


def write(folder: Path, feature: str, lines: list[Line], both: dict[int, float]) -> Path:
    """The table; ``both`` holds the both-ways length of rows by number."""
    text = [HEADER]
    for number, line in enumerate(lines, 1):
        cutting = line.move in {"cut", "plunge"}
        text.append(
            f"{number},setup 1,{feature},half,rough,{line.move},{line.x:.4f},{line.y:.4f},"
            f"{line.z:.4f},{line.axis},{both.get(number, 0):.4f},0.5,0.3,{'5' if cutting else ''},"
            f",,,{line.number},,\n"
        )
    table = folder / "job-moves.csv"
    table.write_text("".join(text), encoding="utf-8")
    return table


def follow(ground: Ground, edges: Outline, radius: float, cusp: float, side: float) -> list[Spot]:
    """Settings along a chain of edges, a radius off to the left (``side`` 1) or right (-1).

    Spaced by the small form of the scallop on each edge, sqrt(8 cusp / curvature between cutter
    and wall); each is the grid point nearest to the wall that clears it. Where an arc runs along X
    or Y stands a setting too: a step across such a place would have both its corners in the part.
    """
    found: list[Spot] = []
    for edge in edges:
        path, bend = edge.length, 1 / radius
        if isinstance(edge, Bow):
            # on the outside of a bend the way of the axis is longer, and the wall falls away
            reach = edge.radius + (radius if (edge.sweep > 0) != (side > 0) else -radius)
            path, bend = abs(edge.sweep) * reach, edge.radius / (radius * reach)
        count = max(1, ceil(path / sqrt(8 * cusp / bend)))
        for share in sorted({k / count for k in range(count)} | set(_poles(edge))):
            (x, y), (nx, ny) = edge.at(share), edge.normal(share)
            spot = _cleared(ground, (x + side * radius * nx, y + side * radius * ny), radius)
            if not found or spot != found[-1]:
                found.append(spot)
    return [*found, found[0]]


def _poles(edge: Seg | Bow) -> list[float]:
    """Shares of the way at which an arc runs along X or Y."""
    if isinstance(edge, Seg):
        return []
    shares = [(k * pi / 2 - edge.first) / edge.sweep for k in range(-8, 9)]
    return [share for share in shares if 0 < share < 1]


def _cleared(ground: Ground, spot: Spot, radius: float) -> Spot:
    cells = np.arange(-2.0, 3.0)
    x, y = (round(at / STEP) * STEP + STEP * cells for at in spot)
    x, y = np.repeat(x, 5), np.tile(y, 5)
    clear = ground.clearance(x, y) - radius
    best = np.argmin(np.where(clear >= 0, clear, np.inf))
    return float(x[best]), float(y[best])
