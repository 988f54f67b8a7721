"""The stock as a frame for everything else: where its edges are, and what lies on them."""

from passplot.frozen import dataclass
from passplot.materials import find_material, material_names
from passplot.read.sizes import Least, shown
from passplot.read.source import did_you_mean
from passplot.read.tables import Table
from passplot.records.job import Stock
from passplot.records.material import Material
from passplot.records.sizes import Size, exact

SAME = 1e-6  # lengths closer than this are one length: two ways of writing it
_ZERO_WORDS = (("left", "center", "right"), ("front", "center", "back"), ("top", "bottom"))
DEFAULT_ZERO = "left front top"


@dataclass(frozen=True, slots=True)
class Block:
    """The stock, with the edges at its nominal sizes beside those at the middle of the limits.

    ``nominal_x``, ``nominal_y`` are (low, high); ``nominal_bottom`` and ``nominal_top`` heights.
    """

    stock: Stock
    nominal_x: tuple[float, float]
    nominal_y: tuple[float, float]
    nominal_bottom: float
    nominal_top: float

    def edges(self, axis: str) -> tuple[float, float]:
        """Low and high edge along ``axis`` (``"x"`` or ``"y"``)."""
        return self.stock.x if axis == "x" else self.stock.y

    def nominal_edges(self, axis: str) -> tuple[float, float]:
        """Low and high edge along ``axis`` at the nominal size."""
        return self.nominal_x if axis == "x" else self.nominal_y

    def snap(self, axis: str, size: Size) -> float:
        """The coordinate that ``size`` stands for: exactly the edge where it lies on one."""
        for edge, nominal in zip(self.edges(axis), self.nominal_edges(axis), strict=True):
            if abs(size.nominal - nominal) < SAME or abs(size.middle - edge) < SAME:
                return edge
        return clean(size.middle)

    def inside(self, axis: str, value: float) -> bool:
        """Whether a wall at ``value`` stands in metal, not on or beyond an edge."""
        low, high = self.edges(axis)
        return low < value < high

    @property
    def height(self) -> float:
        """From the bottom to the faced top, nominal."""
        return self.nominal_top - self.nominal_bottom


# Stands in while the stock itself is at fault, so that the rest of the file is still looked at.
_ENDLESS = (-1e6, 1e6)
UNKNOWN = Block(
    Stock((exact(2e6),) * 3, "", DEFAULT_ZERO, _ENDLESS, _ENDLESS, -2e6, 0.0, 0.0),
    _ENDLESS,
    _ENDLESS,
    -2e6,
    0.0,
)


@dataclass(frozen=True, slots=True)
class Blank:
    """The stock as ``[stock]`` gives it: its three sizes, its material, its zero."""

    size: tuple[Size, Size, Size]
    material: str
    zero: str


def read_blank(table: Table, own: tuple[Material, ...] = ()) -> Blank | None:
    """The blank of ``[stock]``; None after noting what is wrong with it.

    ``own`` are the shop's own materials.
    """
    table.check_keys(("size", "material", "zero"))
    sizes = table.sizes("size", 3, "give the stock as [X, Y, Z]", Least.POSITIVE)
    if "size" not in table:
        table.missing("size", "give the stock as [X, Y, Z]")
    material = _material(table, own)
    zero = read_zero(table)
    if sizes is None or material is None:
        return None
    return Blank((sizes[0], sizes[1], sizes[2]), material, zero)


def laid(blank: Blank, axes: tuple[int, int, int], zero: str | None, face: float) -> Block:
    """The blank as it lies in a setup.

    Parameters
    ----------
    blank : Blank
        The blank.
    axes : tuple of int
        Which of its own axes lie along X, Y and Z of the setup.
    zero : str or None
        The setup's own zero, which goes before that of the stock.
    face : float
        How far the raw top stands above the faced one, job units.
    """
    size = (blank.size[axes[0]], blank.size[axes[1]], blank.size[axes[2]])
    zero = zero or blank.zero
    across, away, up = zero.split()
    x, nominal_x = (_ends(length, across, "left") for length in _both(size[0]))
    y, nominal_y = (_ends(length, away, "front") for length in _both(size[1]))
    bottom, nominal_bottom = (0.0 if up == "bottom" else -height for height in _both(size[2]))
    top, nominal_top = (height if up == "bottom" else 0.0 for height in _both(size[2]))
    stock = Stock(size, blank.material, zero, x, y, bottom, top, top + face)
    return Block(stock, nominal_x, nominal_y, nominal_bottom, nominal_top)


def read_zero(table: Table) -> str:
    """The three words of ``zero``, ``"left front top"`` if left out or at fault."""
    right = 'write three words, such as "left front top"'
    text = table.text("zero")
    if text is None:
        return DEFAULT_ZERO
    words = text.casefold().replace("centre", "center").split()
    if len(words) != len(_ZERO_WORDS):
        table.fault("zero", f"{shown(text)} is no corner", right)
        return DEFAULT_ZERO
    for word, choice in zip(words, _ZERO_WORDS, strict=True):
        if word not in choice:
            table.fault("zero", f"{shown(word)} is unknown there", did_you_mean(word, choice))
            return DEFAULT_ZERO
    return " ".join(words)


def _material(table: Table, own: tuple[Material, ...]) -> str | None:
    text = table.text("material", "name the material of the stock")
    if text is None:
        return None
    material = find_material(text, own)
    if material is None:
        table.fault("material", f"{shown(text)} is not in the table", _near(text, own))
        return None
    return material.name


def _near(text: str, own: tuple[Material, ...]) -> str:
    right = did_you_mean(text, material_names(own))
    return right if right.startswith("did") else 'name one such as "1018", "6061" or "brass"'


def _both(size: Size) -> tuple[float, float]:
    return size.middle, size.nominal


def _ends(length: float, word: str, low_word: str) -> tuple[float, float]:
    if word == "center":
        return (-length / 2, length / 2)
    return (0.0, length) if word == low_word else (-length, 0.0)


def clean(value: float) -> float:
    """``value`` without the noise that binary sums leave behind the twelfth decimal."""
    return round(value, 12) + 0.0  # no negative zero
