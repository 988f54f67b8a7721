"""The shop file: the machine and the crib. Lengths are in job units (converted when read)."""

from passplot.frozen import dataclass
from passplot.records.material import Material

ROUGHING, FACE_MILL = "roughing", "face mill"
"""Forms of cutters that leave walls to others (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Dial:
    """A handwheel and its graduated dial.

    Attributes
    ----------
    per_turn, graduation, backlash : float
        Travel a turn, travel a line of the dial, lost motion at a reversal; job units.
    clockwise : str
        What turning the wheel clockwise does to the table: ``"table left"``/``"table right"``,
        ``"table in"``/``"table out"``, ``"knee up"``/``"knee down"``.
    wheel : str
        Which wheel it is, for the print; may be empty.
    numbers_rise : str
        Turning direction in which the numbers grow.
    """

    per_turn: float
    graduation: float
    backlash: float
    clockwise: str
    wheel: str = ""
    numbers_rise: str = "clockwise"

    def crank(self, step: float, axis: str) -> str:
        """Which way to turn for a cutter movement of sign ``step`` along ``axis``: ``cw``/``ccw``.

        Table left is cutter +X, table in is cutter -Y, knee up is cutter -Z (ISO 841: the work
        moves the opposite way).
        """
        plus = {"X": "table left", "Y": "table out", "Z": "knee down"}[axis]
        return "cw" if (step > 0) == (self.clockwise == plus) else "ccw"


@dataclass(frozen=True, slots=True)
class Machine:
    """The milling machine.

    ``spindle_speeds`` (rev/min) holds the steps in rising order, or the two ends of a stepless
    range when ``stepless``. ``resolution`` is the readout's step in job units. ``travel`` is
    X, Y, Z in job units, or None. ``efficiency`` is the drive's, None where the file leaves it
    out. ``dials`` maps ``"X"``, ``"Y"``, ``"Z"``; their numbers are
    engraved in ``dial_units``, of which one is ``dial_scale`` job units, and they are read to half
    a line where ``half_graduations`` says so. ``sine_bar`` is the length of the shop's sine bar
    between its rolls (job units), None where the file leaves it out.
    """

    name: str
    spindle_speeds: tuple[float, ...]
    stepless: bool
    power_hp: float | None
    travel: tuple[float, float, float] | None
    clockwise: bool
    edge_finder: float | None
    readout: str
    resolution: float
    dials: tuple[tuple[str, Dial], ...]
    hand_feed: float = 60.0
    turns_per_minute: float = 60.0
    seconds_per_setting: float = 6.0
    power_feed: tuple[float, ...] = ()
    power_feed_range: bool = False
    efficiency: float | None = None
    dial_units: str = ""
    dial_scale: float = 1.0
    half_graduations: bool = False
    sine_bar: float | None = None

    def dial(self, axis: str) -> Dial | None:
        """The dial of ``axis`` (``"X"``, ``"Y"``, ``"Z"``), if the shop file gives it."""
        return next((dial for name, dial in self.dials if name == axis), None)


@dataclass(frozen=True, slots=True)
class Cutter:
    """A cutter of the crib; lengths in job units.

    ``diameter`` is the nominal one; ``actual`` the measured one or None.
    """

    id: str
    form: str
    material: str
    hand: str
    diameter: float
    actual: float | None
    flutes: int
    flute_length: float
    stickout: float | None
    center_cutting: bool
    corner_radius: float
    price: float | None

    @property
    def cutting_diameter(self) -> float:
        """The measured diameter where there is one, else the nominal."""
        return self.diameter if self.actual is None else self.actual

    @property
    def radius(self) -> float:
        """Half the cutting diameter."""
        return self.cutting_diameter / 2


@dataclass(frozen=True, slots=True)
class Shop:
    """A shop file, read; ``materials`` are its own, which come before the table's."""

    file: str
    machine: Machine
    cutters: tuple[Cutter, ...]
    materials: tuple[Material, ...] = ()

    def cutter(self, name: str) -> Cutter:
        """The cutter with that id; KeyError if the crib has none."""
        for cutter in self.cutters:
            if cutter.id == name:
                return cutter
        raise KeyError(name)
