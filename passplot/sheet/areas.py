"""How a sheet is divided: title, set-up strip, middle, cautions with proof, title block."""

from passplot.frozen import dataclass
from passplot.sheet.paper import Box, Paper

SETUP_MM = 18.3
"""Height of the set-up strip: a caption above each value, a line on the cut below them."""
BLOCK_WIDE_MM = 118.0
"""Width of the title block where it stands beside the cautions."""
_TITLE_MM = 12.6
_FOOT_MM = 26.0
_BLOCK_MM = 26.0
"""Height of the title block where it stands below the cautions."""
_GUTTER_MM = 2.0
_PASS_SETUP_MM = 9.6
_PASS_FOOT_MM = 20.4
_PASS_BLOCK_MM = 14.0
TABLE_HIGH_MM = 98.0
"""Height of the pass table below the drawing on an upright sheet."""
TOP_MM = 1.0
"""Pass sheets say in one line what the first sheet says in two: the room goes to their rows."""


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
    def texts(self) -> Box:
        """What a sheet of text alone has between its strips: it carries no set-up strip."""
        middle = self.middle
        return Box(middle.left, self.setup.top + _GUTTER_MM, middle.right, middle.bottom)

    @property
    def table_room(self) -> "TableRoom":
        """Room for the pass table."""
        if self.portrait:
            width = self.middle.width - 4
            return TableRoom(width, width, TABLE_HIGH_MM)
        return TableRoom(138.0, 110.0, self.middle.height - TOP_MM)

    def split(self, table_width: float, table_height: float) -> tuple[Box, Box]:
        """The middle of a pass sheet: drawing and table."""
        inner = Box(
            self.middle.left + 2, self.middle.top, self.middle.right - 2, self.middle.bottom
        )
        if self.portrait:
            top = inner.bottom - table_height - TOP_MM
            drawing = Box(inner.left, inner.top, inner.right, top - 3)
            return drawing, Box(inner.left, top, inner.right, inner.bottom)
        left = inner.right - table_width
        drawing = Box(inner.left, inner.top + TOP_MM, left - 4, inner.bottom)
        return drawing, Box(left, inner.top + TOP_MM, inner.right, inner.bottom)


@dataclass(frozen=True, slots=True)
class TableRoom:
    """Room for a pass table: width of two columns at most, of what is said once at least."""

    most_wide: float
    least_wide: float
    height: float

    @property
    def below(self) -> bool:
        """Whether it lies below the drawing and takes the width of the sheet."""
        return self.least_wide == self.most_wide


def areas_of(paper: Paper, *, passes: bool = False) -> Areas:
    """The areas of a set-up sheet, or of a sheet of passes."""
    live = paper.live
    portrait = paper.portrait
    strip = _PASS_SETUP_MM if passes else SETUP_MM
    foot = _PASS_FOOT_MM if passes else _FOOT_MM
    title = Box(live.left, live.top, live.right, live.top + _TITLE_MM)
    setup = Box(live.left, title.bottom, live.right, title.bottom + strip)
    if portrait:
        high = _PASS_BLOCK_MM if passes else _BLOCK_MM
        block = Box(live.left, live.bottom - high, live.right, live.bottom)
        cautions = Box(live.left, block.top - foot, live.right, block.top)
    else:
        split = live.right - BLOCK_WIDE_MM
        block = Box(split, live.bottom - foot, live.right, live.bottom)
        cautions = Box(live.left, block.top, split, live.bottom)
    middle = Box(live.left, setup.bottom + _GUTTER_MM, live.right, cautions.top - _GUTTER_MM)
    return Areas(live, title, setup, middle, cautions, block, portrait)
