"""Plan-view outlines as true lines and arcs, job units, X right and Y away from the operator."""

from math import hypot

from passplot.frozen import dataclass


@dataclass(frozen=True, slots=True)
class Point:
    """A point of the plan view."""

    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Line:
    """A straight edge from ``start`` to ``end``."""

    start: Point
    end: Point

    @property
    def length(self) -> float:
        """Length of the edge."""
        return hypot(self.end.x - self.start.x, self.end.y - self.start.y)

    @property
    def level(self) -> bool:
        """Whether the edge runs along X or along Y."""
        return self.start.x == self.end.x or self.start.y == self.end.y


@dataclass(frozen=True, slots=True)
class Arc:
    """A circular edge from ``start`` to ``end`` about ``center``; ``ccw`` seen from above."""

    start: Point
    end: Point
    center: Point
    radius: float
    ccw: bool


Edge = Line | Arc


@dataclass(frozen=True, slots=True)
class Loop:
    """A closed outline: each edge starts where the one before it ends; counter-clockwise."""

    edges: tuple[Edge, ...]

    @property
    def rectilinear(self) -> bool:
        """Whether every edge is straight and runs along X or Y."""
        return all(isinstance(edge, Line) and edge.level for edge in self.edges)

    @property
    def corners(self) -> tuple[Point, ...]:
        """Start point of every edge."""
        return tuple(edge.start for edge in self.edges)


def rectangle(x_low: float, x_high: float, y_low: float, y_high: float) -> Loop:
    """The loop of an axis-parallel rectangle."""
    a, b = Point(x_low, y_low), Point(x_high, y_low)
    c, d = Point(x_high, y_high), Point(x_low, y_high)
    return Loop((Line(a, b), Line(b, c), Line(c, d), Line(d, a)))
