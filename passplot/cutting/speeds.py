"""Spindle speed and feed: published formulas, and what they come to for a cutter of a job.

Names of the formulas carry their units. The handbook's constant 3.82 is 12/π rounded; here 12/π is
exact, so that inch and metric twins agree.
"""

from math import pi

from passplot.frozen import dataclass
from passplot.materials import Material, find_material
from passplot.records.job import Job
from passplot.records.shop import Cutter, Machine

MM_PER_INCH = 25.4
INCHES_PER_FOOT = 12.0
MM_PER_M = 1000.0
M_PER_FOOT = 0.3048
SMALL_IN, LARGE_IN = 0.25, 1.0  # diameters that the table of feeds per tooth is given for


@dataclass(frozen=True, slots=True)
class CutData:
    """Speed and feed of a cutter in a job.

    Attributes
    ----------
    spindle_speed_rpm : float
        A speed that the spindle has.
    cutting_speed : float
        At the edge at that speed: ft/min in an inch job, m/min in a metric one.
    feed_per_tooth : float
        What the feed comes to, job units a tooth.
    feed : float
        Job units a minute.
    sources : tuple of str
        Where the numbers come from, one sentence each.
    """

    spindle_speed_rpm: float
    cutting_speed: float
    feed_per_tooth: float
    feed: float
    sources: tuple[str, ...]


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


def hand_feed_per_min(machine: Machine) -> float | None:
    """The most that a hand can crank, length a minute; None where no dial gives the screw's lead.

    It is that of the slower of the X and Y screws, for a pass may run along either.
    """
    leads = [dial.per_turn for axis, dial in machine.dials if axis in ("X", "Y")]
    return machine.hand_feed * min(leads) if leads else None


def cut_data(job: Job, cutter: Cutter) -> CutData:
    """Speed and feed of ``cutter`` in ``job``.

    The job's own ``[limits]`` rule: its spindle speed replaces the table's (and is still held to
    the speeds the spindle has), its feed is taken as it stands.
    """
    material = find_material(job.stock.material)
    assert material is not None, "reading lets no unknown material through"
    sources: list[str] = []
    speed = _spindle_speed(job, cutter, material, sources)
    feed = _feed(job, cutter, material, speed, sources)
    diameter = cutter.cutting_diameter
    at_edge = cutting_speed_ft_per_min if job.inch else cutting_speed_m_per_min
    return CutData(
        spindle_speed_rpm=speed,
        cutting_speed=at_edge(speed, diameter),
        feed_per_tooth=feed_per_tooth_of(feed, cutter.flutes, speed),
        feed=feed,
        sources=tuple(sources),
    )


def _spindle_speed(job: Job, cutter: Cutter, material: Material, sources: list[str]) -> float:
    asked = job.limits.spindle_speed
    if asked is not None:
        sources.append(f"spindle speed {asked:g} rev/min: [limits] of the job")
        return spindle_step_rpm(asked, job.shop.machine)
    carbide = cutter.material == "carbide"
    speed_ft = material.carbide_ft_per_min if carbide else material.hss_ft_per_min
    source = material.carbide_source if carbide else material.hss_source
    if job.inch:
        text, wanted = (
            f"{speed_ft:g} ft/min",
            spindle_speed_inch_rpm(speed_ft, cutter.cutting_diameter),
        )
    else:
        speed_m = speed_ft * M_PER_FOOT
        text = f"{speed_m:.0f} m/min"
        wanted = spindle_speed_metric_rpm(speed_m, cutter.cutting_diameter)
    sources.append(f"cutting speed {text}, {cutter.material} in {material.name}: {source}")
    return spindle_step_rpm(wanted, job.shop.machine)


def _feed(
    job: Job, cutter: Cutter, material: Material, speed_rpm: float, sources: list[str]
) -> float:
    if job.limits.feed is not None:
        sources.append(f"feed {job.limits.feed:g} a minute: [limits] of the job")
        return job.limits.feed
    unit = 1.0 if job.inch else MM_PER_INCH
    tooth = (
        table_feed_per_tooth_in(material.feed_per_tooth_in, cutter.cutting_diameter / unit) * unit
    )
    name = "in" if job.inch else "mm"
    sources.append(f"feed {tooth:.2g} {name} a tooth: {material.feed_source}")
    return _held(job.shop.machine, feed_per_min(tooth, cutter.flutes, speed_rpm), sources)


def _held(machine: Machine, feed: float, sources: list[str]) -> float:
    """``feed`` held to what the power feed has, or to what a hand can crank."""
    if machine.power_feed:
        lowest, highest = machine.power_feed[0], machine.power_feed[-1]
        if machine.power_feed_range:
            return min(max(feed, lowest), highest)
        return max((step for step in machine.power_feed if step <= feed), default=lowest)
    most = hand_feed_per_min(machine)
    if most is None or feed <= most:
        return feed
    sources.append(
        f"feed held to {most:.4g} a minute: {machine.hand_feed:g} turns a minute by hand"
    )
    return most
