"""A sheet laid out once, in millimetres of paper: a list of plain marks that every writer draws.

Coordinates: x to the right, y **down** from the top left corner of the paper, millimetres.
Widths are line widths in millimetres, greys run from 0 (black) to 1 (white). ``number`` is the
pass a mark belongs to, for the page's stepping.
"""

from dataclasses import field

from passplot.frozen import dataclass

FACE = "DejaVu Sans"
"""The face every text is measured and drawn in."""

CAPITAL_EM = 1493 / 2048
"""Height of its capitals in em: a text of ``height`` has the font size height / CAPITAL_EM."""


@dataclass(frozen=True, slots=True)
class Stroke:
    """A polyline. ``dashes`` is on, off, on, off … in millimetres; empty is continuous."""

    points: tuple[tuple[float, float], ...]
    width: float
    grey: float = 0.0
    dashes: tuple[float, ...] = ()
    closed: bool = False
    number: int | None = None


@dataclass(frozen=True, slots=True)
class Ring:
    """A circle."""

    center: tuple[float, float]
    radius: float
    width: float
    grey: float = 0.0
    dashes: tuple[float, ...] = ()
    number: int | None = None


@dataclass(frozen=True, slots=True)
class Bow:
    """A circular arc from ``start_deg`` to ``end_deg``, degrees clockwise on paper from +x."""

    center: tuple[float, float]
    radius: float
    start_deg: float
    end_deg: float
    width: float
    grey: float = 0.0
    dashes: tuple[float, ...] = ()
    number: int | None = None


@dataclass(frozen=True, slots=True)
class Fill:
    """A filled area: loops filled by the even-odd rule."""

    loops: tuple[tuple[tuple[float, float], ...], ...]
    grey: float
    number: int | None = None


@dataclass(frozen=True, slots=True)
class Lettering:
    """Text on one line.

    ``height`` is the height of the capitals; ``anchor`` ``"start"``, ``"middle"`` or ``"end"``;
    (x, y) the anchor point on the base line. ``turned`` reads from the bottom up (90° to the
    left). ``width`` is the measured width the text is held to.
    """

    text: str
    x: float
    y: float
    height: float
    width: float
    anchor: str = "start"
    bold: bool = False
    turned: bool = False
    number: int | None = None

    @property
    def box(self) -> tuple[float, float, float, float]:
        """(left, top, right, bottom) on paper, from the measured width."""
        middle = self.width / 2 if self.anchor == "middle" else self.width
        shift = 0.0 if self.anchor == "start" else middle
        drop = 0.22 * self.height
        if self.turned:
            bottom = self.y + shift
            return (self.x - self.height, bottom - self.width, self.x + drop, bottom)
        left = self.x - shift
        return (left, self.y - self.height, left + self.width, self.y + drop)


Mark = Stroke | Ring | Bow | Fill | Lettering


@dataclass(frozen=True, slots=True)
class Page:
    """One sheet of paper. ``passes`` are the pass numbers it shows, for the page's stepping."""

    width: float
    height: float
    marks: tuple[Mark, ...]
    title: str
    passes: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Table:
    """A table as text cells, for the page and the CSV; numbers already formatted."""

    name: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """All sheets of a job, with the tables that go with them."""

    stem: str
    pages: tuple[Page, ...]
    tables: tuple[Table, ...] = field(default=())
