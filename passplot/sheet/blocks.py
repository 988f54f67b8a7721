"""Blocks of running text that flow from column to column and sheet to sheet."""

from collections.abc import Iterable
from typing import Protocol

from passplot.frozen import dataclass
from passplot.sheet.canvas import Canvas
from passplot.sheet.lettering import letter, wrap
from passplot.sheet.paper import MEDIUM, SMALL, Box

PITCH_MM = 5.05
PARAGRAPH_MM = 0.8
HEADING_MM = 7.0
INDENT_MM = 3.0
_BLOCK_GAP_MM = 1.0


@dataclass(frozen=True, slots=True)
class Paragraph:
    """A paragraph of a block."""

    text: str
    bold: bool = False

    def lines(self, width: float) -> tuple[str, ...]:
        """Its lines in a column of that width."""
        return wrap(self.text, width - INDENT_MM, SMALL, self.bold)

    def room(self, width: float) -> float:
        """Paper it takes."""
        return len(self.lines(width)) * PITCH_MM + PARAGRAPH_MM

    def draw(self, canvas: Canvas, box: Box) -> None:
        """Write its lines from the top of ``box`` down."""
        y = box.top
        for line in self.lines(box.width):
            canvas.write(letter(line, box.left + INDENT_MM, y + SMALL, SMALL, bold=self.bold))
            y += PITCH_MM


class Item(Protocol):
    """A part of a block: a paragraph or a figure."""

    def room(self, width: float) -> float:
        """Paper it takes in a column of that width."""

    def draw(self, canvas: Canvas, box: Box) -> None:
        """Draw it from the top of ``box`` down."""


@dataclass(frozen=True, slots=True)
class Block:
    """A heading with its items."""

    heading: str
    items: tuple[Item, ...]


def block(heading: str, texts: Iterable[str]) -> Block:
    """A block of plain paragraphs."""
    return Block(heading, tuple(Paragraph(text) for text in texts))


@dataclass(frozen=True, slots=True)
class Placed:
    """An item with where it stands: index of its column, distance from the column's top."""

    column: int
    top: float
    heading: str
    item: Item


def flow(blocks: Iterable[Block], columns: list[Box]) -> list[Placed]:
    """Where every item goes; the last column's shape is repeated as often as needed.

    A heading never stands alone at the foot of a column.
    """
    placed: list[Placed] = []
    index, y = 0, 0.0
    for each in blocks:
        heading = each.heading
        for item in each.items:
            column = _column(columns, index)
            need = item.room(column.width) + (HEADING_MM if heading else 0.0)
            if y + need > column.height and y > 0:
                index, y = index + 1, 0.0
                column = _column(columns, index)
                need = item.room(column.width) + (HEADING_MM if heading else 0.0)
            placed.append(Placed(index, y, heading, item))
            y += need
            heading = ""
        y += _BLOCK_GAP_MM
    return placed


def _column(columns: list[Box], index: int) -> Box:
    """The column of an index: after the first the others take turns."""
    return columns[0] if index == 0 else columns[1:][(index - 1) % (len(columns) - 1)]


def draw_placed(canvas: Canvas, placed: Iterable[Placed], index: int, column: Box) -> None:
    """Draw what stands in one column."""
    for each in placed:
        if each.column != index:
            continue
        y = column.top + each.top
        if each.heading:
            canvas.write(letter(each.heading, column.left, y + MEDIUM + 0.5, MEDIUM, bold=True))
            y += HEADING_MM
        each.item.draw(canvas, Box(column.left, y, column.right, column.bottom))
