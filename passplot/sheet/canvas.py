"""A sheet of paper being drawn on: collects marks in layers and remembers where they are."""

from itertools import pairwise

from passplot.records.sheet import Fill, Lettering, Mark, Stroke
from passplot.sheet.paper import Box

TONES, HATCHING, LINES, GAPS, TEXT = range(5)
"""Layers from the bottom up: a gap is a white box that keeps what is below off a text."""

Spot = tuple[float, float]
_SHORT = 0.93
"""Share of a leader that is looked at: its end stands on the line it names."""


class Canvas:
    """Marks of one page, with the boxes of its texts and the lines no text may sit on.

    Attributes
    ----------
    boxes : list of Box
        Where texts stand.
    wide : list of pairs of points
        Wide lines: no text may touch them.
    narrow : list of pairs of points
        Leaders and the like: placed texts keep off them too.
    """

    def __init__(self) -> None:
        self._layers: tuple[list[Mark], ...] = ([], [], [], [], [])
        self.boxes: list[Box] = []
        self.wide: list[tuple[Spot, Spot]] = []
        self.narrow: list[tuple[Spot, Spot]] = []

    @property
    def marks(self) -> tuple[Mark, ...]:
        """All marks, bottom layer first."""
        return tuple(mark for layer in self._layers for mark in layer)

    def put(self, mark: Mark, layer: int = LINES) -> None:
        """Add a mark that text may stand on."""
        self._layers[layer].append(mark)

    def rule(self, stroke: Stroke, *, wide: bool = True) -> None:
        """Add a line that text must keep off."""
        self._layers[LINES].append(stroke)
        points = (*stroke.points, stroke.points[0]) if stroke.closed else stroke.points
        (self.wide if wide else self.narrow).extend(pairwise(points))

    def write(self, text: Lettering, *, gap: float | None = None) -> None:
        """Add a text; ``gap`` clears that many millimetres of hatching round it."""
        box = Box(*text.box)
        self.boxes.append(box)
        if gap is not None:
            self._layers[GAPS].append(Fill((box.grown(gap).corners,), 1.0))
        self._layers[TEXT].append(text)

    def block(self, box: Box) -> None:
        """Keep placed texts out of ``box``."""
        self.boxes.append(box)

    def free(
        self,
        box: Box,
        room: Box,
        *,
        off_narrow: bool = True,
        off_wide: bool = True,
        but: tuple[Spot, Spot] | None = None,
    ) -> bool:
        """Whether ``box`` lies inside ``room`` and touches no text and no line it must keep off.

        ``but`` is a wide line that does not count: the text's own.
        """
        if not room.holds(box):
            return False
        left, top, right, bottom = box.left, box.top, box.right, box.bottom
        for other in self.boxes:  # Box.meets written out: asked some ten thousand times a sheet
            if (
                left < other.right
                and other.left < right
                and top < other.bottom
                and other.top < bottom
            ):
                return False
        if off_wide:
            wide = self.wide if but is None else [each for each in self.wide if each != but]
            if box.crossed_by(wide):
                return False
        return not (off_narrow and box.crossed_by(self.narrow))

    def crossings(self, a: Spot, b: Spot) -> int:
        """How many wide lines a leader from ``a`` to ``b`` runs across; not where it ends."""
        end = a[0] + (b[0] - a[0]) * _SHORT, a[1] + (b[1] - a[1]) * _SHORT
        return sum(_cross(a, end, c, d) for c, d in self.wide)

    def clear_line(self, a: Spot, b: Spot) -> bool:
        """Whether a leader from ``a`` to ``b`` crosses no text."""
        left, right = (a[0], b[0]) if a[0] < b[0] else (b[0], a[0])
        top, bottom = (a[1], b[1]) if a[1] < b[1] else (b[1], a[1])
        for box in self.boxes:  # most lie off to one side
            if (
                box.left < right
                and left < box.right
                and box.top < bottom
                and top < box.bottom
                and box.crossed(a, b)
            ):
                return False
        return True


def _cross(a: Spot, b: Spot, c: Spot, d: Spot) -> bool:
    """Whether two stretches cross."""

    def side(p: Spot, q: Spot, r: Spot) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return side(a, b, c) * side(a, b, d) < 0 and side(c, d, a) * side(c, d, b) < 0
