"""Tables of points on paper: columns of number, X and Y in capitals of 3.5 mm."""

from collections.abc import Sequence

from passplot.records.sheet import Fill
from passplot.sheet.canvas import TONES, Canvas
from passplot.sheet.ink import line
from passplot.sheet.lettering import letter, width_of
from passplot.sheet.paper import MEDIUM, NARROW, SHADE, SMALL, WIDE, Box
from passplot.sheet.point_flow import GAP_MM, PAD_MM, ROW_MM, Entry, Grid


def draw_points(
    canvas: Canvas, columns: Sequence[Sequence[Entry]], grid: Grid, left: float, top: float
) -> None:
    """Draw the columns of one sheet side by side."""
    for index, entries in enumerate(columns):
        x = left + index * (grid.width + GAP_MM)
        afters = _afters(columns)
        y = top
        for each in entries:
            _draw(canvas, each, grid, Box(x, y, x + grid.width, y + each.height), afters)
            y += each.height


def _draw(canvas: Canvas, each: Entry, grid: Grid, box: Box, afters: tuple[float, float]) -> None:
    if each.kind == "title":
        canvas.write(letter(each.cells[0], box.left, box.bottom - 1.6, MEDIUM, bold=True))
    elif each.kind == "note":
        canvas.write(letter(each.cells[0], box.left, box.bottom - 1.3, SMALL))
    elif each.kind == "heads":
        canvas.put(Fill((box.corners,), SHADE), TONES)
        canvas.put(line((box.left, box.bottom), (box.right, box.bottom), WIDE))
        base = box.bottom - 1.3
        canvas.write(letter("NO", box.left + 0.6, base, SMALL))
        x, first = box.left + grid.number, each.cells[0]
        for axis, wide in (("X", grid.x), ("Y", grid.y)):
            x += wide
            name = axis if not first else f"{axis} 1ST" if axis == first else f"{axis} 2ND"
            right = x - PAD_MM + 0.4
            canvas.write(letter(name, right, base, SMALL, anchor="end", bold=axis == first))
    else:
        _point(canvas, each, grid, box, afters)


def _point(canvas: Canvas, each: Entry, grid: Grid, box: Box, afters: tuple[float, float]) -> None:
    number, *places = each.cells
    base = box.bottom - (ROW_MM - SMALL) / 2
    right = box.left + grid.number
    canvas.write(letter(number, right - PAD_MM, base, SMALL, anchor="end", bold=True))
    for text, wide, after in zip(places, (grid.x, grid.y), afters, strict=True):
        right += wide
        start = right - PAD_MM + 0.4 - after - width_of(text.partition(".")[0], SMALL)
        canvas.write(letter(text, start, base, SMALL))
    canvas.put(line((box.left, box.bottom), (box.right, box.bottom), NARROW))


def _afters(columns: Sequence[Sequence[Entry]]) -> tuple[float, float]:
    """Widths of the longest ends of X and of Y, from the decimal point on: it stands in line."""
    points = [each.cells for column in columns for each in column if each.kind == "point"]
    x, y = (max((_after(cells[at]) for cells in points), default=0.0) for at in (1, 2))
    return x, y


def _after(text: str) -> float:
    return width_of(text, SMALL) - width_of(text.partition(".")[0], SMALL)
