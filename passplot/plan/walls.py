"""The finished walls at a height as true lines and arcs, the part on their left.

Every loop edge is cut wherever it meets another one or the stock's edge; a piece is a wall at a
height where the finished part stands higher than that on one side of it only.
"""

from collections.abc import Sequence
from math import hypot

from passplot.curves import direction, holds, length, meetings, off, point_at, turned
from passplot.frozen import dataclass
from passplot.plan.edges import cut_at
from passplot.records.job import Feature, Job
from passplot.records.shapes import Arc, Edge, Line, Point, rectangle

NEAR = 1e-6
"""Points this close are one (job units)."""

_HAIR = 2e-5
"""How far beside a piece its two sides are looked at (job units)."""


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece of edge with what is cleared on its left and on its right, a flag a feature."""

    edge: Edge
    left: tuple[bool, ...]
    right: tuple[bool, ...]


@dataclass(frozen=True, slots=True)
class Chain:
    """Walls one after the other, the part on their left; ``closed`` where they come round.

    ``run_on`` says how many of its first and last edges carry it on past the stock.
    """

    edges: tuple[Edge, ...]
    closed: bool
    run_on: tuple[int, int] = (0, 0)

    @property
    def ends(self) -> tuple[Edge, Edge]:
        """The first and the last wall itself."""
        first, last = self.run_on
        return self.edges[first], self.edges[len(self.edges) - 1 - last]


@dataclass(frozen=True, slots=True)
class Walls:
    """Every piece of wall there is inside the stock."""

    job: Job
    pieces: tuple[Piece, ...]

    def at(self, floors: Sequence[float], z: float, run: float) -> tuple[Chain, ...]:
        """Walls at height ``z`` with every feature cut down to its floor.

        Where a wall along X or Y ends at the stock's edge it is carried straight on by ``run``,
        so that what follows it runs clear. Others end there: past the edge nothing stands, and
        they are come up to square.
        """
        level = z + NEAR
        found = []
        for each in self.pieces:
            left, right = (
                self._stands(each.left, floors, level),
                self._stands(each.right, floors, level),
            )
            if left != right:
                found.append(each.edge if left else turned(each.edge))
        return tuple(self._run_on(chain, run) for chain in linked(found, NEAR * 10))

    def _stands(self, inside: tuple[bool, ...], floors: Sequence[float], level: float) -> bool:
        deepest = min(
            (floor for floor, here in zip(floors, inside, strict=True) if here),
            default=self.job.stock.raw_top,
        )
        return deepest > level

    def _run_on(self, chain: Chain, run: float) -> Chain:
        if chain.closed:
            return chain
        first, last = chain.edges[0], chain.edges[-1]
        before: tuple[Edge, ...] = ()
        after: tuple[Edge, ...] = ()
        if isinstance(first, Line) and first.level:
            tx, ty = direction(first, 0.0)
            before = (Line(Point(first.start.x - run * tx, first.start.y - run * ty), first.start),)
        if isinstance(last, Line) and last.level:
            tx, ty = direction(last, 1.0)
            after = (Line(last.end, Point(last.end.x + run * tx, last.end.y + run * ty)),)
        return Chain((*before, *chain.edges, *after), False, (len(before), len(after)))


def make_walls(job: Job) -> Walls:
    """Cut the loops of all features into pieces."""
    stock = job.stock
    border = rectangle(*stock.x, *stock.y)
    edges: list[Edge] = []
    for feature in job.features:
        for loop in (*feature.area, *feature.keep):
            edges += loop.edges
    pieces = []
    for index, edge in enumerate(edges):
        others = [*edges[:index], *edges[index + 1 :], *border.edges]
        meets = [at for other in others for at in meetings(edge, other, NEAR)]
        pieces += cut_at(edge, meets, NEAR)
    found: list[Piece] = []
    for part in pieces:
        middle, (tx, ty) = point_at(part, 0.5), direction(part, 0.5)
        left = Point(middle.x - _HAIR * ty, middle.y + _HAIR * tx)
        right = Point(middle.x + _HAIR * ty, middle.y - _HAIR * tx)
        if not (_in_stock(job, left) and _in_stock(job, right)):
            continue
        if any(off(known.edge, middle) <= NEAR and _alike(known.edge, part) for known in found):
            continue
        sides = [
            tuple(cleared(feature, side) for feature in job.features) for side in (left, right)
        ]
        if sides[0] != sides[1]:
            found.append(Piece(part, sides[0], sides[1]))
    return Walls(job, tuple(found))


def cleared(feature: Feature, at: Point) -> bool:
    """Whether a feature clears a point of the plan view."""
    inside = any(holds(loop, at) for loop in feature.area)
    return inside and not any(holds(loop, at) for loop in feature.keep)


def _alike(one: Edge, other: Edge) -> bool:
    """Whether two pieces that have a point in common have both ends in common too."""
    return all(off(one, end) <= 10 * NEAR for end in (other.start, other.end))


def _in_stock(job: Job, at: Point) -> bool:
    (left, right), (front, back) = job.stock.x, job.stock.y
    return left < at.x < right and front < at.y < back


def linked(edges: Sequence[Edge], near: float) -> list[Chain]:
    """Edges put end to start."""
    left = [edge for edge in edges if length(edge) > near / 10]
    chains = []
    while left:
        row = [left.pop()]
        while not _same(row[0].start, row[-1].end, near):
            after = _nearest(left, row[-1].end, True, near)
            if after is None:
                break
            row.append(left.pop(after))
        closed = _same(row[0].start, row[-1].end, near) and (
            len(row) > 1 or isinstance(row[0], Arc)
        )
        while not closed:
            before = _nearest(left, row[0].start, False, near)
            if before is None:
                break
            row.insert(0, left.pop(before))
        chains.append(Chain(tuple(row), closed))
    return chains


def _nearest(edges: list[Edge], at: Point, starts: bool, near: float) -> int | None:
    found = [
        (_apart(at, edge.start if starts else edge.end), index) for index, edge in enumerate(edges)
    ]
    best = min(found, default=None)
    return best[1] if best is not None and best[0] <= near else None


def _apart(a: Point, b: Point) -> float:
    return hypot(a.x - b.x, a.y - b.y)


def _same(a: Point, b: Point, near: float) -> bool:
    return abs(a.x - b.x) <= near and abs(a.y - b.y) <= near
