"""Figures that stand among the text of the set-up sheets."""

from passplot.frozen import dataclass
from passplot.records.job import Job
from passplot.records.sheet import Fill, Stroke
from passplot.sheet.blocks import INDENT_MM, PARAGRAPH_MM
from passplot.sheet.canvas import TONES, Canvas
from passplot.sheet.ink import arrow, full_width_sample, line, turning
from passplot.sheet.lettering import letter
from passplot.sheet.numbers import plain, printed
from passplot.sheet.paper import (
    BAND,
    DASHED_WIDE,
    LONG_DASH_DOUBLE_DOT,
    MEDIUM,
    NARROW,
    SHADE,
    SMALL,
    TONE,
    WIDE,
    Box,
)

_ROW_MM = 7.1
_WAYS = (
    ("X", 1, "RIGHT", "LEFT", (1.0, 0.0)),
    ("X", -1, "LEFT", "RIGHT", (-1.0, 0.0)),
    ("Y", 1, "AWAY", "TO YOU", (0.0, -1.0)),
    ("Y", -1, "TO YOU", "AWAY", (0.0, 1.0)),
)
"""Axis, sign, where the cutter goes, where the table goes, the cutter's way on paper."""
_KNEE = (("Z", -1, "DOWN", "KNEE UP"), ("Z", 1, "UP", "KNEE DOWN"))


@dataclass(frozen=True, slots=True)
class StockBoxes:
    """A box an axis for the measured size of the block, the print's size below it."""

    job: Job

    def room(self, width: float) -> float:
        """Paper it takes."""
        del width
        return 13.5 + PARAGRAPH_MM

    def draw(self, canvas: Canvas, box: Box) -> None:
        """Draw three boxes in a row."""
        step = (box.width - INDENT_MM) / 3
        places = 3 if self.job.inch else 2
        left = box.left + INDENT_MM
        for axis, size in zip("XYZ", self.job.stock.size, strict=True):
            canvas.write(letter(axis, left, box.top + MEDIUM + 1.0, MEDIUM, bold=True))
            frame = Box(left + 6.5, box.top, left + step - 2, box.top + MEDIUM + 2.5)
            canvas.put(Stroke(frame.corners, NARROW, closed=True))
            nominal = printed(plain(size.nominal, places), self.job.inch)
            canvas.write(letter(nominal, frame.left + 1, frame.bottom + 1.5 + SMALL, SMALL))
            left += step


@dataclass(frozen=True, slots=True)
class CrankTable:
    """Cutter one way, table the other, and which way that wheel turns."""

    job: Job

    def room(self, width: float) -> float:
        """Paper it takes."""
        del width
        return 7 * _ROW_MM + PARAGRAPH_MM

    def draw(self, canvas: Canvas, box: Box) -> None:
        """Draw a heading and six rows."""
        left, top = box.left, box.top
        shade = Box(left, top, left + self._width, top + _ROW_MM - 1.5)
        canvas.put(Fill((shade.corners,), SHADE), TONES)
        for text, x in (("CUTTER", 0.0), ("TABLE", 44.0), ("CRANK", 82.0)):
            canvas.write(letter(text, left + x + 1, top + SMALL + 1.4, SMALL))
        y = top + _ROW_MM
        for axis, sign, cutter, table, (dx, dy) in _WAYS:
            middle = y + MEDIUM / 2
            self._arrow(canvas, (left + 10, middle), (dx, dy), ())
            self._arrow(canvas, (left + 52, middle), (-dx, -dy), DASHED_WIDE)
            self._words(canvas, left, y, (cutter, table), (18.0, 60.0))
            self._wheel(canvas, axis, sign, left + 86, middle)
            y += _ROW_MM
        for axis, sign, cutter, table in _KNEE:
            self._words(canvas, left, y, (f"{axis} {cutter}", table), (1.0, 44.0))
            self._wheel(canvas, axis, sign, left + 86, y + MEDIUM / 2)
            y += _ROW_MM

    @property
    def _width(self) -> float:
        return 108.0

    def _arrow(
        self,
        canvas: Canvas,
        middle: tuple[float, float],
        way: tuple[float, float],
        dashes: tuple[float, ...],
    ) -> None:
        half = 7.0 if way[0] else 3.4
        x, y = middle
        a = (x - half * way[0], y - half * way[1])
        b = (x + half * way[0], y + half * way[1])
        for mark in arrow(a, b, dashes=dashes):
            canvas.put(mark)

    def _words(
        self,
        canvas: Canvas,
        left: float,
        y: float,
        words: tuple[str, str],
        places: tuple[float, float],
    ) -> None:
        for word, x in zip(words, places, strict=True):
            canvas.write(letter(word, left + x, y + (MEDIUM + SMALL) / 2, SMALL))

    def _wheel(self, canvas: Canvas, axis: str, sign: int, x: float, y: float) -> None:
        dial = self.job.shop.machine.dial(axis)
        if dial is None:
            return
        crank = dial.crank(sign, axis)
        for mark in turning((x, y), 2.6, clockwise=crank == "cw"):
            canvas.put(mark)
        canvas.write(letter(f"{axis} {crank.upper()}", x + 4.6, y + SMALL / 2, SMALL, bold=True))


@dataclass(frozen=True, slots=True)
class Legend:
    """What the lines and tones of the drawings mean."""

    def room(self, width: float) -> float:
        """Paper it takes."""
        del width
        return len(_SAMPLES) * _SAMPLE_ROW_MM / 2 + PARAGRAPH_MM

    def draw(self, canvas: Canvas, box: Box) -> None:
        """Draw samples and words in two columns."""
        half = len(_SAMPLES) // 2
        for index, (kind, text) in enumerate(_SAMPLES):
            y = box.top + index % half * _SAMPLE_ROW_MM
            left = box.left + INDENT_MM + index // half * box.width / 2
            sample = Box(left, y, left + 14, y + 4.4)
            _sample(canvas, kind, sample)
            canvas.write(letter(text, sample.right + 3, y + SMALL + 0.4, SMALL))


_SAMPLE_ROW_MM = 6.4
_SAMPLES = (
    ("tone", "Metal to clear"),
    ("hatch", "Metal that stays"),
    ("band", "Left to finish"),
    ("corner", "Corner left round"),
    ("pass", "Pass"),
    ("full", "Full width"),
    ("initial", "Stock, cutter"),
    ("back", "Way back"),
)


def _sample(canvas: Canvas, kind: str, box: Box) -> None:
    middle = (box.top + box.bottom) / 2
    if kind in ("tone", "band"):
        canvas.put(Fill((box.corners,), TONE if kind == "tone" else BAND), TONES)
        canvas.put(Stroke(box.corners, NARROW, closed=True))
    elif kind == "hatch":
        canvas.put(Stroke(box.corners, WIDE, closed=True))
        step = box.left + 1.0
        while step + box.height < box.right:
            canvas.put(line((step, box.bottom), (step + box.height, box.top), 0.25))
            step += 3.0
    elif kind == "corner":
        corner = ((box.left, box.bottom), (box.left, box.top), (box.left + 4.4, box.top))
        canvas.put(Fill((corner,), 0.0))
    elif kind == "pass":
        for mark in arrow((box.left, middle), (box.right, middle)):
            canvas.put(mark)
    elif kind == "full":
        for mark in full_width_sample(box.left, middle):
            canvas.put(mark)
    else:
        dashes = LONG_DASH_DOUBLE_DOT if kind == "initial" else ()
        canvas.put(line((box.left, middle), (box.right, middle), NARROW, dashes))
