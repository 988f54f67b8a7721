"""How a sheet is divided: title, set-up strip, middle, cautions with proof, title block."""

from dataclasses import dataclass

from passplot.sheet.paper import Box, Paper

TITLE_MM = 14.0
SETUP_MM = 15.5
FOOT_MM = 26.8
BLOCK_MM = 26.0
"""Height of the title block where it stands below the cautions."""
BLOCK_WIDE_MM = 118.0
"""Its width where it stands beside them."""
GUTTER_MM = 2.5
TABLE_HIGH_MM = 86.0
"""Height of the pass table below the drawing on an upright sheet."""


@dataclass(frozen=True, slots=True)
class Areas:
    """The areas of a sheet."""

    live: Box
    title: Box
    setup: Box
    middle: Box
    cautions: Box
    block: Box
    portrait: bool

    @property
    def table_room(self) -> "TableRoom":
        """Room for the pass table."""
        if self.portrait:
            width = self.middle.width - 4
            return TableRoom(width, width, TABLE_HIGH_MM)
        return TableRoom(138.0, 105.0, self.middle.height)

    def split(self, table_width: float) -> tuple[Box, Box]:
        """The middle of a pass sheet: drawing and table."""
        inner = Box(
            self.middle.left + 2, self.middle.top, self.middle.right - 2, self.middle.bottom
        )
        if self.portrait:
            top = inner.bottom - TABLE_HIGH_MM
            drawing = Box(inner.left, inner.top, inner.right, top - 3)
            return drawing, Box(inner.left, top, inner.right, inner.bottom)
        left = inner.right - table_width
        drawing = Box(inner.left, inner.top, left - 4, inner.bottom)
        return drawing, Box(left, inner.top, inner.right, inner.bottom)


@dataclass(frozen=True, slots=True)
class TableRoom:
    """Room for a pass table: width of two columns at most, of what is said once at least."""

    most_wide: float
    least_wide: float
    height: float


def areas_of(paper: Paper) -> Areas:
    """The areas of a sheet of paper."""
    live = paper.live
    portrait = paper.portrait
    title = Box(live.left, live.top, live.right, live.top + TITLE_MM)
    setup = Box(live.left, title.bottom, live.right, title.bottom + SETUP_MM)
    if portrait:
        block = Box(live.left, live.bottom - BLOCK_MM, live.right, live.bottom)
        cautions = Box(live.left, block.top - FOOT_MM, live.right, block.top)
    else:
        split = live.right - BLOCK_WIDE_MM
        block = Box(split, live.bottom - FOOT_MM, live.right, live.bottom)
        cautions = Box(live.left, block.top, split, live.bottom)
    middle = Box(live.left, setup.bottom + GUTTER_MM, live.right, cautions.top - GUTTER_MM)
    return Areas(live, title, setup, middle, cautions, block, portrait)
