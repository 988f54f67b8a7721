"""The job file, read: what the print says, in job units.

Heights are given as Z in the job's own system: ``Stock.top`` is the faced top from which every
depth but that of ``face`` counts down; ``Stock.raw_top`` is the raw top.
"""

from passplot.frozen import dataclass
from passplot.records.shapes import Loop, Point
from passplot.records.shop import Shop
from passplot.records.sizes import Size


@dataclass(frozen=True, slots=True)
class Stock:
    """The block. ``x``, ``y``: (low, high) edges in the job's system; heights are Z.

    ``outline`` holds its corners, counter-clockwise from the front left one, where it is turned:
    then ``x`` and ``y`` are its bounds.
    """

    size: tuple[Size, Size, Size]
    material: str
    zero: str
    x: tuple[float, float]
    y: tuple[float, float]
    bottom: float
    top: float
    raw_top: float
    outline: tuple[Point, ...] = ()


@dataclass(frozen=True, slots=True)
class WallLimit:
    """How far a wall on a line ``axis`` = ``at`` may move: ``low`` to ``high`` (job units)."""

    axis: str
    at: float
    low: float
    high: float
    text: str


@dataclass(frozen=True, slots=True)
class HolePattern:
    """Positions of holes in the order of the print, with the circle they lie on, if any.

    ``diameter`` is that of the circle; ``start_angle`` is in degrees, counter-clockwise from X.
    ``room`` is how far X or Y of a hole may be off, None where no limits are written.
    """

    points: tuple[Point, ...]
    center: Point | None = None
    diameter: float | None = None
    start_angle: float = 0.0
    room: float | None = None


@dataclass(frozen=True, slots=True)
class Keyseat:
    """A keyseat by a standard.

    Attributes
    ----------
    width : Size
        Width of the seat: as written, else the key's own with the limits of N9 (DIN 6885) or
        +.002 -.000 in (ASME B17.1). A cutter within them makes it in one pass along the centre
        line.
    shaft : float
        Diameter of the shaft.
    standard : str
        Name of the standard.
    along : str
        ``"x"`` or ``"y"``.
    from_crown : float
        Total depth of cut from the crown of the shaft.
    from_side : float
        Depth of the side wall, from where it meets the shaft's surface.
    over_far_side : Size
        Check dimension: bottom of the seat to the far side of the shaft, ``shaft`` less
        ``from_crown``; limits of the written depth, else of the standard.
    center : float
        Coordinate of the seat's centre line along the other axis.
    start, end : float
        Outermost points of the seat along its own axis; the stock's edge where it is open.
    key_height : float
        Height of the key.
    """

    width: Size
    shaft: float
    standard: str
    along: str
    from_crown: float
    from_side: float
    over_far_side: Size
    center: float = 0.0
    start: float = 0.0
    end: float = 0.0
    key_height: float = 0.0


@dataclass(frozen=True, slots=True)
class Feature:
    """A feature of the print.

    It clears the union of the ``area`` loops less the union of the ``keep`` loops, within the
    stock, down to ``floor`` (Z, at the middle of the depth's limits). Loops may reach past the
    stock's edge: an edge on or beyond it is open.

    Attributes
    ----------
    depth : Size
        As written, down from the faced top (``face``: up from it).
    corner_radius : Size or None
        Radius written for inside corners, the tightest where there are several; None lets them
        keep the cutter's.
    cutters : tuple of str
        Cutter ids of the feature itself; empty takes the job's.
    line : int
        Line of its header in the job file.
    through : bool
        Whether the floor is the bottom of the stock.
    rounded : tuple of (area, keep) or None
        The same loops with every inside corner that has a written radius rounded to it; None
        where no radius above zero is written. ``area`` and ``keep`` leave such corners sharp, as
        a cutter of just that radius is driven. Corners that the cutter goes round are rounded in
        both, and so are the ends of blind slots.
    inside_radii : tuple of Size
        Every radius written for inside corners, each once, the tightest first. The sharp loops
        hold for a cutter only where it makes all of these.
    diameter : Size or None
        Diameter of a bore or of a round boss, as written.
    pattern : HolePattern or None
        Positions of ``holes``.
    keyseat : Keyseat or None
        What a ``keyseat`` is cut and checked by.
    set_over, rotary : bool
        Whether a wall is asked for with the work turned in the vise; on a rotary table.
    """

    name: str
    kind: str
    depth: Size
    floor: float
    area: tuple[Loop, ...]
    keep: tuple[Loop, ...]
    limits: tuple[WallLimit, ...]
    corner_radius: Size | None
    cutters: tuple[str, ...]
    setup: str
    line: int
    through: bool = False
    rounded: tuple[tuple[Loop, ...], tuple[Loop, ...]] | None = None
    inside_radii: tuple[Size, ...] = ()
    diameter: Size | None = None
    pattern: HolePattern | None = None
    keyseat: Keyseat | None = None
    set_over: bool = False
    rotary: bool = False

    @property
    def curved(self) -> bool:
        """Whether it has walls that do not run along X or Y."""
        return not all(loop.rectilinear for loop in (*self.area, *self.keep))


@dataclass(frozen=True, slots=True)
class KeepOut:
    """A clamp, jaw or screw that nothing of the cutter may enter; ``top`` is Z.

    The loop has its corners rounded where the file says so.
    """

    name: str
    loop: Loop
    top: float


@dataclass(frozen=True, slots=True)
class Finish:
    """``[finish]``; None where the file leaves the default to the program. ``cusp`` resolved."""

    wall: float | None
    floor: float | None
    skims: int
    floor_skims: int
    cusp: float


@dataclass(frozen=True, slots=True)
class Limits:
    """``[limits]``; None where left out. ``stand_off`` and ``cross_over`` are resolved."""

    width_of_cut: float | None
    depth_of_cut: float | None
    spindle_speed: float | None
    feed: float | None
    stand_off: float
    cross_over: float


@dataclass(frozen=True, slots=True)
class Setup:
    """How the work is held."""

    name: str
    hold: str | None = None
    jaw_height: float | None = None
    jaw_opening: float | None = None
    parallels: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Callout:
    """A dimension of the print: from one edge, face, wall or floor to another."""

    name: str
    start: str
    end: str
    size: Size


@dataclass(frozen=True, slots=True)
class Job:
    """A job file and its shop file, read.

    ``material`` of the stock is the materials table's own name. ``climb`` is what the file asks
    for; ``general_tolerance`` is the note for the title block.
    """

    file: str
    title: str
    part_number: str
    quantity: int
    units: str
    shop: Shop
    cutters: tuple[str, ...]
    climb: bool
    general_tolerance: str
    stock: Stock
    finish: Finish
    limits: Limits
    features: tuple[Feature, ...]
    keep_outs: tuple[KeepOut, ...]
    setup: Setup
    callouts: tuple[Callout, ...]

    @property
    def inch(self) -> bool:
        """Whether bare numbers are inches."""
        return self.units == "inch"

    @property
    def metal_on_left(self) -> bool:
        """Side of the line of feed the metal must lie on.

        Conventional with a clockwise spindle keeps it on the left; climb, or a
        counter-clockwise spindle with a left-hand cutter, swaps the side.
        """
        return self.shop.machine.clockwise != self.climb
