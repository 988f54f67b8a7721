"""The ``[machine]`` of a shop file."""

import re
from collections.abc import Sequence
from fractions import Fraction
from math import lcm

from passplot.frozen import dataclass
from passplot.read.sizes import GREATEST_LENGTH, Least, Units, factor, plain_number, shown
from passplot.read.tables import Table
from passplot.records.shop import Dial, Machine

# What turning a handwheel can do to the table, by axis.
TABLE_MOVES = {
    "x": ("table left", "table right"),
    "y": ("table in", "table out"),
    "z": ("knee up", "knee down"),
}
KW_PER_HP = 0.745_699_872  # mechanical horsepower, 550 ft lbf/s
# Step of a readout that the file does not state: the contract of the shop file.
DEFAULT_RESOLUTION = {"mm": 0.01, "inch": 0.0005}

_POWER = re.compile(r"(.{1,20}?)\s*(hp|kw)", re.IGNORECASE)
_KEYS = (
    "name",
    "spindle_speeds",
    "spindle_range",
    "power",
    "travel",
    "spindle",
    "edge_finder",
    "sine_bar",
    "readout",
    "resolution",
    "resolution_mm",
    "resolution_inch",
    "handling",
    "hand_feed",
    "efficiency",
    "power_feed",
    "dial",
    "half_graduations",
)
_RPM = "speeds are numbers above zero, rev/min"


@dataclass(frozen=True, slots=True)
class _Handling:
    """What handling takes: wheel turns a minute, seconds a setting."""

    turns_per_minute: float = 60.0
    seconds_per_setting: float = 6.0


def read_machine(table: Table) -> Machine | None:
    """The machine of ``table``; None if a key without which there is none is at fault."""
    table.check_keys(_KEYS)
    speeds, stepless = _speeds(table)
    power = _power(table)
    travel = table.sizes("travel", 3, "give the travel as [X, Y, Z]", Least.POSITIVE)
    spindle = table.word("spindle", ("clockwise", "counter-clockwise"), "clockwise")
    readout = table.word("readout", ("dro", "dials"), "dro") or "dro"
    handling = _handling(table)
    feeds, ranged = _power_feed(table)
    dials = _dials(table, readout)
    half = table.flag("half_graduations")
    by_dials = readout == "dials" and len(dials) == len(TABLE_MOVES)
    machine = Machine(
        name=table.text("name") or "",
        spindle_speeds=speeds,
        stepless=stepless,
        power_hp=power,
        travel=None if travel is None else (travel[0].middle, travel[1].middle, travel[2].middle),
        clockwise=spindle == "clockwise",
        edge_finder=table.length("edge_finder"),
        readout=readout,
        resolution=_common_step(table, dials, half) if by_dials else _resolution(table),
        dials=dials,
        efficiency=_efficiency(table),
        hand_feed=table.number("hand_feed", "turns a minute, above zero") or 60.0,
        turns_per_minute=handling.turns_per_minute,
        seconds_per_setting=handling.seconds_per_setting,
        power_feed=feeds,
        power_feed_range=ranged,
        dial_units=table.units.bare,
        dial_scale=float(factor(table.units.bare, table.units.job)),
        half_graduations=half,
        sine_bar=table.length("sine_bar"),
    )
    return machine if speeds else None


def _speeds(table: Table) -> tuple[tuple[float, ...], bool]:
    """The spindle's speeds in rising order, and whether they are the ends of a range."""
    stepless = "spindle_range" in table
    key = "spindle_range" if stepless else "spindle_speeds"
    right = "give [low, high]" if stepless else "give a list of speeds, rev/min"
    if stepless and "spindle_speeds" in table:
        table.fault(key, "stands beside spindle_speeds", "keep the one that the machine has")
        return (), False
    values = table.entries(key, right)
    if values is None:
        if key not in table:
            table.missing(key, "give the steps as a list, or spindle_range = [low, high]")
        return (), False
    place = (*table.place, key)
    read = [table.positive((*place, i), value, _RPM) for i, value in enumerate(values)]
    speeds = tuple(sorted({speed for speed in read if speed is not None}))
    if None in read:
        return (), False
    if not speeds or (stepless and (len(values) != 2 or len(speeds) != 2 or read[0] != speeds[0])):
        table.fault(key, f"{len(values)} speeds will not do", right)
        return (), False
    return speeds, stepless


def _power(table: Table) -> float | None:
    """Power in horsepower; None if left out."""
    value = table.values.get("power")
    if value is None:
        return None
    hit = _POWER.fullmatch(value.strip()) if isinstance(value, str) else None
    power = plain_number(hit.group(1)) if hit else None
    if hit is None or not power or not 0 < power < GREATEST_LENGTH:
        table.fault("power", f"{shown(value)} is no power", 'write it like "2 hp" or "1.5 kW"')
        return None
    return float(power) if hit.group(2).lower() == "hp" else float(power) / KW_PER_HP


def _efficiency(table: Table) -> float | None:
    """Share of the motor's power that reaches the spindle; None if left out."""
    right = "it is the share of the motor's power that reaches the spindle, such as 0.75"
    share = table.number("efficiency", right)
    if share is not None and share > 1:
        table.fault("efficiency", f"{share:g} is more than all of it", right)
        return None
    return share


def _resolution(table: Table) -> float:
    """Step of the readout in the job's unit, switched to that unit where need be."""
    units = table.units
    own = _fine(table, "resolution", units)
    switched = {
        unit: _fine(table, f"resolution_{unit}", Units(unit, unit)) for unit in DEFAULT_RESOLUTION
    }
    if own is not None and units.bare == units.job:
        return own
    return switched[units.job] or DEFAULT_RESOLUTION[units.job]


def _common_step(table: Table, dials: Sequence[tuple[str, Dial]], half: bool) -> float:
    """Step, in job units, that all dials can show: the least their lines have in common.

    Lines that have none within a turn are read to the nearest: the coarsest dial's step holds.
    """
    scale = float(factor(table.units.bare, table.units.job))
    steps = [
        Fraction(dial.graduation / scale).limit_denominator(10**6) / (2 if half else 1)
        for _, dial in dials
    ]
    below = lcm(*(step.denominator for step in steps))
    common = Fraction(lcm(*(int(step * below) for step in steps)), below)
    return float(common if common <= 4 * max(steps) else max(steps)) * scale


def _handling(table: Table) -> _Handling:
    inner = table.table("handling", "write { turns_per_minute = 60, seconds_per_setting = 6 }")
    if inner is None:
        return _Handling()
    inner.check_keys(("turns_per_minute", "seconds_per_setting"))
    turns = inner.number("turns_per_minute", "a number above zero")
    seconds = inner.number("seconds_per_setting", "a number above zero")
    return _Handling(turns or 60.0, seconds or 6.0)


def _power_feed(table: Table) -> tuple[tuple[float, ...], bool]:
    """Feeds of the power feed in job units a minute, and whether they are the ends of a range."""
    right = "give the feeds as a list, or [low, high]"
    values = table.entries("power_feed", right)
    if values is None:
        return (), False
    place = (*table.place, "power_feed")
    read = [table.positive((*place, i), value, right) for i, value in enumerate(values)]
    scale = float(factor(table.units.bare, table.units.job))
    feeds = tuple(sorted({feed * scale for feed in read if feed is not None}))
    if not values:
        table.fault("power_feed", "an empty list", right)
    return feeds, len(feeds) == 2


def _dials(table: Table, readout: str) -> tuple[tuple[str, Dial], ...]:
    outer = table.table("dial", "write [machine.dial.x] and its keys below")
    if outer is None:
        if readout == "dials":
            table.missing("dial", 'readout = "dials" needs [machine.dial.x], .y and .z')
        return ()
    outer.check_keys(tuple(TABLE_MOVES))
    dials = []
    for axis in TABLE_MOVES:
        inner = outer.table(axis, f"write [machine.dial.{axis}] and its keys below")
        if inner is not None:
            dial = _dial(inner, axis, readout)
            dials += [] if dial is None else [(axis.upper(), dial)]
        elif readout == "dials" and axis not in outer:
            outer.missing(axis, f'readout = "dials" needs [machine.dial.{axis}]')
    return tuple(dials)


def _dial(table: Table, axis: str, readout: str) -> Dial | None:
    table.check_keys(("per_turn", "graduation", "backlash", "clockwise", "wheel", "numbers_rise"))
    per_turn = table.length("per_turn", required=True)
    graduation = _fine(table, "graduation", table.units)
    backlash = _fine(table, "backlash", table.units, zero=True)
    if "graduation" not in table:
        table.missing("graduation", "give the travel of one line of the dial")
    if "backlash" not in table and readout == "dials":
        table.missing("backlash", "measure the lost motion and give it")
    clockwise = table.word("clockwise", TABLE_MOVES[axis])
    rise = table.word("numbers_rise", ("clockwise", "counter-clockwise"), "clockwise")
    wheel = table.text("wheel") or ""
    if per_turn is not None and graduation is not None and graduation > per_turn:
        table.fault("graduation", "is more than a turn", "it is the travel of one line of the dial")
    if per_turn is None or graduation is None or clockwise is None:
        return None
    return Dial(per_turn, graduation, backlash or 0.0, clockwise, wheel, rise or "clockwise")


def _fine(table: Table, key: str, units: Units, zero: bool = False) -> float | None:
    """A length that may be finer than any length of the work; ``zero`` where it may be none."""
    if key not in table:
        return None
    size = table.source.size((*table.place, key), table.values[key], units, Least.ANY)
    if size is None:
        return None
    least = Least.ZERO if zero else Least.POSITIVE
    if size.low < 0 or (size.low == 0 and not zero):
        table.fault(key, f"{size.text} will not do", f"it has to be {least.value}")
        return None
    return size.middle
