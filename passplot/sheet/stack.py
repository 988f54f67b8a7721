"""What the sheets of a job have in common: their strips and how they are headed."""

from collections.abc import Callable

from passplot.frozen import dataclass
from passplot.records.job import Job
from passplot.records.sheet import Page
from passplot.sheet.areas import Areas
from passplot.sheet.canvas import Canvas
from passplot.sheet.paper import Paper, scale_text
from passplot.sheet.strips import (
    Heading,
    draw_cautions,
    draw_frame,
    draw_short_block,
    draw_title,
)


@dataclass(frozen=True, slots=True)
class Stack:
    """What all sheets after the first have in common."""

    leaf: Paper
    areas: Areas
    job: Job
    proof_text: str
    count: int
    date: str

    def heading(self, sheet: int, scale: str, what: str) -> Heading:
        """Title of one sheet."""
        return Heading(self.job, scale, sheet, self.count, self.date, what)

    def page(
        self,
        canvas: Canvas,
        heading: Heading,
        cautions: tuple[str, str],
        numbers: tuple[int, ...] = (),
    ) -> Page:
        """A sheet with its strips drawn round what stands on it; ``numbers`` are its passes."""
        draw_short_block(canvas, heading, self.areas.block)
        finish_page(canvas, self.areas, heading, self.proof_text, cautions)
        return Page(self.leaf.width, self.leaf.height, canvas.marks, self.job.title, numbers)


Further = Callable[[Stack, int], Page]
"""Draws a sheet that few jobs have, from its number."""


def finish_page(
    canvas: Canvas,
    areas: Areas,
    heading: Heading,
    proof_text: str,
    cautions: tuple[str, str],
) -> None:
    """The strips of a sheet, round what stands in its middle."""
    draw_title(canvas, heading, areas.title)
    draw_cautions(canvas, proof_text, cautions, areas.cautions)
    draw_frame(canvas, areas.live)


def scale_named(scale: float | None) -> str:
    """A scale as the title block has it; of a sheet without one ``NONE``."""
    return "NONE" if scale is None else scale_text(scale)
