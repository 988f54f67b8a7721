"""Paper, line widths, letter heights and greys of the sheet, from the drawing standards."""

from collections.abc import Iterable

from passplot.frozen import dataclass

Spot = tuple[float, float]

PAPERS_MM = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
"""Trimmed size, portrait: ISO 216 A4; ASME Y14.1 size A, 8.5 in by 11 in."""

LIVE_MM = (190.0, 259.0)
"""What prints on both papers: 10 mm borders off the smaller of each side, rounded down."""

SCALES = (10.0, 5.0, 2.0, 1.0, 1 / 2, 1 / 5, 1 / 10, 1 / 20, 1 / 50, 1 / 100)
"""ISO 5455 scales, largest first."""

WIDE, NARROW = 0.7, 0.35
"""Line widths, 2 to 1 (ISO 128): edges and passes; everything else."""

LONG_DASH_DOUBLE_DOT = (8.4, 1.05, 0.2, 1.05, 0.2, 1.05)
"""Line 05.1 of ISO 128-24: 24 d, 3 d, dot, 3 d, dot, 3 d with d = 0.35 mm."""

LONG_DASH_DOT = (8.4, 1.05, 0.2, 1.05)
"""Line 04.1, the centre line."""

DASHED_WIDE = (4.2, 2.1)
"""A wide line broken so that 0.7 mm still reads as dashed from 800 mm."""

DASHED_NARROW = (4.2, 1.05)
"""Line 02.1: 12 d, 3 d."""

SMALL, MEDIUM, LARGE = 3.5, 5.0, 7.0
"""Heights of capitals out of the ISO 3098 series: notes and dimensions, the pass table, titles."""

TONE = 0.88
"""Grey of the metal to clear; its outline, not its tone, carries the meaning."""

BAND = 0.48
"""Grey of the stock left for finishing, 3 to 1 against the tone and the white."""

SHADE = 0.93
"""Grey behind the headings of tables."""

LINE_PITCH = 1.6
"""Base line to base line of running text, in heights of its capitals."""


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle of paper, y down, millimetres."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def width(self) -> float:
        return self.right - self.left

    @property
    def height(self) -> float:
        return self.bottom - self.top

    @property
    def middle(self) -> tuple[float, float]:
        return (self.left + self.right) / 2, (self.top + self.bottom) / 2

    @property
    def corners(self) -> tuple[tuple[float, float], ...]:
        """The four corners, clockwise on paper from the top left."""
        return (
            (self.left, self.top),
            (self.right, self.top),
            (self.right, self.bottom),
            (self.left, self.bottom),
        )

    def grown(self, by: float) -> "Box":
        """The box with every side moved out by ``by``."""
        return Box(self.left - by, self.top - by, self.right + by, self.bottom + by)

    def meets(self, other: "Box") -> bool:
        """Whether the two share area."""
        return (
            self.left < other.right
            and other.left < self.right
            and self.top < other.bottom
            and other.top < self.bottom
        )

    def holds(self, other: "Box") -> bool:
        """Whether ``other`` lies wholly inside (a thousandth of a millimetre forgiven)."""
        slack = 0.001
        return (
            other.left >= self.left - slack
            and other.right <= self.right + slack
            and other.top >= self.top - slack
            and other.bottom <= self.bottom + slack
        )

    def crossed(self, a: Spot, b: Spot) -> bool:
        """Whether the straight line from ``a`` to ``b`` runs through the box."""
        return self.crossed_by(((a, b),))

    def crossed_by(self, lines: Iterable[tuple[Spot, Spot]]) -> bool:
        """Whether any of the straight lines runs through the box."""
        left, top, right, bottom = self.left, self.top, self.right, self.bottom
        for (ax, ay), (bx, by) in lines:
            if (ax <= left and bx <= left) or (ax >= right and bx >= right):
                continue
            if (ay <= top and by <= top) or (ay >= bottom and by >= bottom):
                continue
            if ax == bx or ay == by:
                return True
            # a slanted line misses where all corners lie on one side of it
            offs = [(bx - ax) * (y - ay) - (by - ay) * (x - ax) for x, y in self.corners]
            if min(offs) < 0 < max(offs):
                return True
        return False


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet of paper with its live area."""

    width: float
    height: float
    live: Box

    @property
    def portrait(self) -> bool:
        return self.height > self.width


def paper_named(name: str, *, portrait: bool) -> Paper:
    """The paper called ``"a4"`` or ``"letter"``, landscape unless ``portrait``.

    Raises
    ------
    KeyError
        If no such paper is known.
    """
    short, long = PAPERS_MM[name.lower()]
    live_short, live_long = LIVE_MM
    width, height = (short, long) if portrait else (long, short)
    live_width, live_height = (live_short, live_long) if portrait else (live_long, live_short)
    left, top = (width - live_width) / 2, (height - live_height) / 2
    return Paper(width, height, Box(left, top, left + live_width, top + live_height))


def scale_text(scale: float) -> str:
    """How a scale is written: ``2:1``, ``1:5`` (ISO 5455)."""
    return f"{scale:g}:1" if scale >= 1 else f"1:{1 / scale:g}"
