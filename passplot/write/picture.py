"""Pages as PNG and as one PDF, drawn with matplotlib's renderers from the same marks as the SVG.

The renderers are used directly: no figure, no state of the drawing library, and no dates or
program names in the files, so that the same job gives the same bytes.
"""

# the library's renderers carry no types of their own
# mypy: disallow-untyped-calls=False

import zlib
from collections.abc import Sequence
from contextlib import AbstractContextManager
from functools import cache
from io import BytesIO
from math import cos, radians, sin

import matplotlib
import numpy as np
from matplotlib.backend_bases import RendererBase
from matplotlib.backends.backend_agg import RendererAgg
from matplotlib.backends.backend_pdf import PdfFile, RendererPdf
from matplotlib.font_manager import FontProperties, get_font
from matplotlib.path import Path
from matplotlib.textpath import TextToPath
from matplotlib.transforms import Affine2D
from numpy.typing import NDArray
from PIL import Image

from passplot.records.sheet import (
    CAPITAL_EM,
    FACE,
    Bow,
    Fill,
    Lettering,
    Mark,
    Page,
    Ring,
    Stroke,
)

Loop = tuple[tuple[float, float], ...]

DOTS_PER_INCH = 150
_POINTS_PER_INCH = 72
_MM_PER_INCH = 25.4
_GLYPH_SIZE = 100
_FIXED_POINT = 65536
_BLACK = (0.0, 0.0, 0.0, 1.0)
_FACE_FILES = ("DejaVuSans.ttf", "DejaVuSans-Bold.ttf")
"""Regular and bold, among the faces that come with matplotlib: those the widths were taken from."""


def png_bytes(page: Page) -> bytes:
    """The page as PNG at 150 dots an inch."""
    scale = DOTS_PER_INCH / _MM_PER_INCH
    renderer = RendererAgg(round(page.width * scale), round(page.height * scale), DOTS_PER_INCH)
    with _settings():
        _Ink(renderer, page, scale).draw()
    grey = np.ascontiguousarray(np.asarray(renderer.buffer_rgba())[..., 0])
    out = BytesIO()
    # line drawings are packed as well by runs of equal bytes, in less than half the time
    resolution = (DOTS_PER_INCH, DOTS_PER_INCH)
    Image.fromarray(grey).save(out, "PNG", dpi=resolution, compress_type=zlib.Z_RLE)
    return out.getvalue()


def pdf_bytes(pages: Sequence[Page]) -> bytes:
    """All pages as one PDF with searchable text."""
    out = BytesIO()
    scale = _POINTS_PER_INCH / _MM_PER_INCH
    metadata = {"Creator": None, "Producer": None, "CreationDate": None, "Title": pages[0].title}
    with _settings():
        file = PdfFile(out, metadata=metadata)
        for page in pages:
            width, height = page.width / _MM_PER_INCH, page.height / _MM_PER_INCH
            file.newPage(width, height)
            renderer = RendererPdf(file, _POINTS_PER_INCH, height, width)
            _Ink(renderer, page, scale).draw()
            renderer.finalize()
            file.endStream()
        file.finalize()
        file.close()
    return out.getvalue()


def _settings() -> AbstractContextManager[None]:
    """Text in the PDF as outlines by character code (Type 3 fonts); no point of a path left out.

    Such text can be searched, and no font file has to be taken apart and put together again for it,
    which took longer than all the drawing.
    """
    return matplotlib.rc_context({"pdf.fonttype": 3, "path.simplify": False})


class _Ink:
    """Draws the marks of one page with one renderer; ``scale`` is device units to a millimetre."""

    def __init__(self, renderer: RendererBase, page: Page, scale: float) -> None:
        self.renderer = renderer
        self.page = page
        self.scale = scale
        # paper's y runs down, the renderers' up
        self.place = Affine2D().scale(scale, -scale).translate(0.0, page.height * scale)
        self.pen = renderer.new_gc()
        self.pen.set_antialiased(True)
        self.pen.set_capstyle("butt")
        self.pen.set_joinstyle("miter")
        self.pen.set_snap(False)

    def draw(self) -> None:
        """Draw white paper, then every mark."""
        width, height = self.page.width, self.page.height
        corners = ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))
        for mark in (Fill((corners,), 1.0), *self.page.marks):
            if isinstance(mark, Lettering):
                self._text(mark)
            elif isinstance(mark, Fill):
                path = Path.make_compound_path(*_nested(mark.loops))
                self._path(path, 0.0, mark.grey, (), fill=True)
            else:
                self._path(_outline(mark), mark.width, mark.grey, mark.dashes, fill=False)

    def _path(
        self, path: Path, width: float, grey: float, dashes: tuple[float, ...], *, fill: bool
    ) -> None:
        points = _POINTS_PER_INCH / _MM_PER_INCH  # widths and dashes are in points everywhere
        colour = (grey, grey, grey, 1.0)
        self.pen.set_foreground(colour, isRGBA=True)
        self.pen.set_linewidth(width * points)
        self.pen.set_dashes(0, [length * points for length in dashes] or None)
        self.renderer.draw_path(self.pen, path, self.place, colour if fill else None)

    def _text(self, mark: Lettering) -> None:
        shift = {"start": 0.0, "middle": mark.width / 2, "end": mark.width}[mark.anchor]
        x, y = (mark.x, mark.y + shift) if mark.turned else (mark.x - shift, mark.y)
        left, base = self.place.transform((x, y))
        size = mark.height / CAPITAL_EM * self.scale
        self.pen.set_foreground(_BLACK, isRGBA=True)
        self.pen.set_linewidth(0.0)
        self.pen.set_dashes(0, None)
        if isinstance(self.renderer, RendererPdf):
            face = _face(bold=mark.bold).copy()
            face.set_size(size)
            angle = 90.0 if mark.turned else 0.0
            self.renderer.draw_text(self.pen, left, base, mark.text, face, angle)
            return
        along, up = (0.0, size) if mark.turned else (size, 0.0)
        place = Affine2D.from_values(along, up, -up, along, left, base)
        self.renderer.draw_path(self.pen, _letters(mark.text, bold=mark.bold), place, _BLACK)


@cache
def _face(*, bold: bool) -> FontProperties:
    return FontProperties(family=FACE, weight="bold" if bold else "normal", fname=_file(bold=bold))


def _file(*, bold: bool) -> str:
    return f"{matplotlib.get_data_path()}/fonts/ttf/{_FACE_FILES[bold]}"


@cache
def _letters(text: str, *, bold: bool) -> Path:
    """The outlines of a text one em high along y = 0, set without kerning, as it was measured."""
    x = 0.0
    spots: list[NDArray[np.float64]] = [np.empty((0, 2))]
    codes: list[NDArray[np.uint8]] = [np.empty(0, np.uint8)]
    for char in text:
        outline, kinds = _glyph(char, bold=bold)
        spots.append(outline + np.array([x, 0.0]))
        codes.append(kinds)
        x += _advance(char, bold=bold)
    return Path(np.concatenate(spots), np.concatenate(codes))


@cache
def _glyph(char: str, *, bold: bool) -> tuple[NDArray[np.float64], NDArray[np.uint8]]:
    """The outline of one character, one em high, at the origin: points, and what each one is."""
    maker = TextToPath()
    spots, codes = maker.get_text_path(_face(bold=bold), char)
    outline = np.asarray(spots, np.float64).reshape(-1, 2) / maker.FONT_SCALE
    return outline, np.asarray(codes, np.uint8)


@cache
def _advance(char: str, *, bold: bool) -> float:
    """The advance width of a character in em."""
    font = get_font(_file(bold=bold))
    font.set_size(_GLYPH_SIZE, _POINTS_PER_INCH)
    return float(font.load_char(ord(char)).linearHoriAdvance) / _FIXED_POINT / _GLYPH_SIZE


def _nested(loops: Sequence[Loop]) -> list[Path]:
    """Loops turned so that filling by winding number gives what even-odd filling would.

    The renderers fill by winding number: a loop inside an odd number of others runs the other way.
    """
    paths = [_polygon(loop) for loop in loops]
    turned: list[Path] = []
    for index, loop in enumerate(loops):
        others = paths[:index] + paths[index + 1 :]
        depth = sum(1 for other in others if other.contains_point(loop[0]))
        forward = (_area(loop) > 0) == (depth % 2 == 0)
        turned.append(paths[index] if forward else _polygon(loop[::-1]))
    return turned


def _area(loop: Loop) -> float:
    """Area of a loop, negative where it runs the other way."""
    pairs = zip(loop, (*loop[1:], loop[0]), strict=True)
    return sum(ax * by - bx * ay for (ax, ay), (bx, by) in pairs) / 2


def _polygon(points: Sequence[tuple[float, float]]) -> Path:
    return Path([*points, points[0]], closed=True)


def _outline(mark: Mark) -> Path:
    """A stroke, ring or bow as a path."""
    if isinstance(mark, Stroke):
        return _polygon(mark.points) if mark.closed else Path(mark.points)
    if isinstance(mark, Ring):
        return Path.circle(mark.center, mark.radius)
    assert isinstance(mark, Bow), "fault of passplot: neither texts nor fills are outlines"
    steps = 48
    turn = (mark.end_deg - mark.start_deg) / steps
    angles = [radians(mark.start_deg + turn * step) for step in range(steps + 1)]
    x, y = mark.center
    return Path([(x + mark.radius * cos(a), y + mark.radius * sin(a)) for a in angles])
