"""Spindle speed and feed: published formulas, the spindle's steps, what a hand can crank.

Names of the formulas carry their units. The handbook's constant 3.82 is 12/π rounded; here 12/π is
exact, so that inch and metric twins agree.
"""

from math import pi

from passplot.records.shop import Machine

MM_PER_INCH = 25.4
INCHES_PER_FOOT = 12.0
MM_PER_M = 1000.0
M_PER_FOOT = 0.3048
LEAD_IN, LEAD_MM = 0.200, 5.0  # of a table's screw, where the shop file gives none
SMALL_IN, LARGE_IN = 0.25, 1.0  # diameters that the table of feeds per tooth is given for


def spindle_speed_inch_rpm(cutting_speed_ft_per_min: float, diameter_in: float) -> float:
    """Speed N = 12 V / (π D), rev/min. Univ. of Florida, Design and Manufacturing Lab, eq. 1."""
    return INCHES_PER_FOOT * cutting_speed_ft_per_min / (pi * diameter_in)


def spindle_speed_metric_rpm(cutting_speed_m_per_min: float, diameter_mm: float) -> float:
    """Speed n = 1000 vc / (π D), rev/min. Widia technical pages p. 78."""
    return MM_PER_M * cutting_speed_m_per_min / (pi * diameter_mm)


def cutting_speed_ft_per_min(speed_rpm: float, diameter_in: float) -> float:
    """Cutting speed V = π D N / 12, ft/min; the inverse of ``spindle_speed_inch_rpm``."""
    return pi * diameter_in * speed_rpm / INCHES_PER_FOOT


def cutting_speed_m_per_min(speed_rpm: float, diameter_mm: float) -> float:
    """Cutting speed vc = π D n / 1000, m/min. Mitsubishi Materials' formulas."""
    return pi * diameter_mm * speed_rpm / MM_PER_M


def spindle_step_rpm(wanted_rpm: float, machine: Machine) -> float:
    """The speed to set: the next step down, or within a stepless range.

    The lower of two steps saves the cutter. Where even the lowest step is above, it is taken.
    """
    lowest, highest = machine.spindle_speeds[0], machine.spindle_speeds[-1]
    if machine.stepless:
        return min(max(wanted_rpm, lowest), highest)
    # A step that is missed by rounding alone counts as reached.
    return max((s for s in machine.spindle_speeds if s <= wanted_rpm + 1e-6), default=lowest)


def table_feed_per_tooth_in(feeds_in: tuple[float, float], diameter_in: float) -> float:
    """Feed per tooth, inches, of an end mill of that diameter.

    Parameters
    ----------
    feeds_in : tuple of float
        Published values for 1/4 in and for 1 in and up. Between them they are interpolated along
        the diameter, below 1/4 in they shrink with it (common practice, no source).
    diameter_in : float
        Diameter, inches.
    """
    small, large = feeds_in
    if diameter_in <= SMALL_IN:
        return small * diameter_in / SMALL_IN
    share = min(1.0, (diameter_in - SMALL_IN) / (LARGE_IN - SMALL_IN))
    return small + share * (large - small)


def feed_per_min(feed_per_tooth: float, flutes: int, speed_rpm: float) -> float:
    """Feed vf = fz z n, in the unit of the feed per tooth. Carvill p. 187; Widia p. 78."""
    return feed_per_tooth * flutes * speed_rpm


def feed_per_tooth_of(feed: float, flutes: int, speed_rpm: float) -> float:
    """Feed per tooth fz = vf / (z n), in the unit of the feed. Mitsubishi Materials' formulas."""
    return feed / (flutes * speed_rpm)


def hand_feed_per_min(machine: Machine, inch: bool) -> float:
    """The most that a hand can crank, length a minute.

    It is that of the slower of the X and Y screws, for a pass may run along either.
    """
    return machine.hand_feed * slower_lead(machine, inch)


def slower_lead(machine: Machine, inch: bool) -> float:
    """What a turn of the finer of the X and Y screws moves.

    Where no dial gives a lead it is taken as 0.200 in or 5 mm (shop practice, from memory).
    """
    leads = [dial.per_turn for axis, dial in machine.dials if axis in ("X", "Y")]
    return min(leads, default=LEAD_IN if inch else LEAD_MM)


def held_feed(machine: Machine, feed: float, inch: bool) -> float:
    """``feed`` held to what the power feed has (next step down), or to what a hand can crank."""
    if machine.power_feed:
        lowest, highest = machine.power_feed[0], machine.power_feed[-1]
        if machine.power_feed_range:
            return min(max(feed, lowest), highest)
        return max((step for step in machine.power_feed if step <= feed), default=lowest)
    return min(feed, hand_feed_per_min(machine, inch))


def seconds_per_turn(machine: Machine, feed: float) -> tuple[tuple[str, float | None], ...]:
    """Seconds that a turn of each handwheel takes at ``feed``; None where its lead is not given."""
    found = []
    for axis in ("X", "Y", "Z"):
        dial = machine.dial(axis)
        found.append((axis, None if dial is None else 60 * dial.per_turn / feed))
    return tuple(found)
