"""Names for what a print measures to besides straight walls: centres, round ends, points, holes."""

from collections.abc import Iterable, Sequence

from passplot.frozen import dataclass
from passplot.records.job import HolePattern
from passplot.records.sizes import Size

Place = dict[str, float]
"""Nominal coordinates by axis: one for a wall or a floor, two for a point."""


@dataclass(frozen=True, slots=True)
class Mark:
    """A place of a feature with a name: a line across X or Y, or a point with both.

    ``x``, ``y`` are nominal coordinates in the job's own system, None for what it does not fix.
    """

    name: str
    x: float | None = None
    y: float | None = None

    @property
    def place(self) -> Place:
        """The coordinates it has."""
        pairs = (("x", self.x), ("y", self.y))
        return {axis: value for axis, value in pairs if value is not None}


def circle_marks(center: Sequence[Size], diameter: Size) -> tuple[Mark, ...]:
    """Centre of a circle and where its wall is outermost: between these lies its diameter."""
    (x, y), half = (size.nominal for size in center), diameter.nominal / 2
    return (
        Mark("center", x, y),
        Mark("left wall", x=x - half),
        Mark("right wall", x=x + half),
        Mark("front wall", y=y - half),
        Mark("back wall", y=y + half),
    )


def slot_marks(
    along: str, walls: tuple[Size, Size], ends: tuple[float, float], blind: tuple[bool, bool]
) -> tuple[Mark, ...]:
    """Centre line of a slot, its blind ends, outermost, and the centres these are round about."""
    low, high = (wall.nominal for wall in walls)
    center, half = (low + high) / 2, (high - low) / 2
    names = ("left", "right") if along == "x" else ("front", "back")
    across = "y" if along == "x" else "x"
    found = [_mark("center line", {across: center})]
    for name, at, sign, closed in zip(names, ends, (1, -1), blind, strict=True):
        if closed:
            found.append(_mark(f"{name} end", {along: at}))
            found.append(_mark(f"{name} end center", {along: at + sign * half, across: center}))
    return tuple(found)


def outline_marks(
    points: Iterable[tuple[int, Size, Size, tuple[float, float] | None]], count: int
) -> tuple[Mark, ...]:
    """Points of an outline by number, and the centres of its arcs.

    ``points`` are number, X, Y and the centre of the arc that leads there, if one does. Wall 2 runs
    from point 2 to the next, so the arc to point 3 is about the ``wall 2 center``. ``count`` is
    how many points there are.
    """
    found: list[Mark] = []
    for number, x, y, center in points:
        found.append(Mark(f"point {number}", x.nominal, y.nominal))
        if center is not None:
            found.append(Mark(f"wall {(number - 2) % count + 1} center", *center))
    return tuple(found)


def hole_marks(pattern: HolePattern) -> tuple[Mark, ...]:
    """Holes by their number on the print, and the centre of their circle."""
    holes = [Mark(f"hole {n}", at.x, at.y) for n, at in enumerate(pattern.points, 1)]
    center = pattern.center
    return (*holes, *([Mark("center", center.x, center.y)] if center is not None else []))


def _mark(name: str, place: Place) -> Mark:
    return Mark(name, place.get("x"), place.get("y"))
