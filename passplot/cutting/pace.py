"""Speed and feed of a cutter in a material on a machine, with where each number comes from."""

from passplot.cutting.chips import thickest_chip, thinning_factor
from passplot.cutting.speeds import (
    M_PER_FOOT,
    MM_PER_INCH,
    cutting_speed_ft_per_min,
    cutting_speed_m_per_min,
    feed_per_min,
    feed_per_tooth_of,
    held_feed,
    spindle_speed_inch_rpm,
    spindle_speed_metric_rpm,
    spindle_step_rpm,
    table_feed_per_tooth_in,
)
from passplot.cutting.tables import constants
from passplot.frozen import dataclass
from passplot.materials import Material, find_material
from passplot.records.job import Job
from passplot.records.shop import Cutter, Machine


@dataclass(frozen=True, slots=True)
class Setting:
    """What a cutter works in and on; speed and feed asked for, where the job does.

    Lengths are inches where ``inch``, else millimetres.
    """

    material: Material
    machine: Machine
    inch: bool
    climb: bool = False
    speed_asked: float | None = None
    feed_asked: float | None = None

    @property
    def unit(self) -> float:
        """One inch in job units."""
        return 1.0 if self.inch else MM_PER_INCH


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


def setting_of(job: Job) -> Setting:
    """The setting of a job: its material, its machine, what ``[limits]`` asks for."""
    material = find_material(job.stock.material, job.shop.materials)
    assert material is not None, "reading lets no unknown material through"
    limits = job.limits
    return Setting(
        material, job.shop.machine, job.inch, job.climb, limits.spindle_speed, limits.feed
    )


def cut_data(job: Job, cutter: Cutter) -> CutData:
    """Speed and feed of ``cutter`` in ``job``, the chips not thinned by a narrow cut.

    The job's own ``[limits]`` rule: its spindle speed replaces the table's (and is still held to
    the speeds the spindle has), its feed is taken as it stands.
    """
    return pace(setting_of(job), cutter)


def pace(setting: Setting, cutter: Cutter) -> CutData:
    """Speed and feed of ``cutter`` in a setting."""
    sources: list[str] = []
    speed = _spindle_speed(setting, cutter, sources)
    feed = _feed(setting, cutter, speed, sources)
    at_edge = cutting_speed_ft_per_min if setting.inch else cutting_speed_m_per_min
    return CutData(
        spindle_speed_rpm=speed,
        cutting_speed=at_edge(speed, cutter.cutting_diameter),
        feed_per_tooth=feed_per_tooth_of(feed, cutter.flutes, speed),
        feed=feed,
        sources=tuple(sources),
    )


def rough_feed(setting: Setting, cutter: Cutter, speed_rpm: float, width: float) -> float:
    """Feed of a rough pass ``width`` wide, raised for its thin chips, job units a minute."""
    factor = thinning_factor(width, cutter.cutting_diameter)
    return _shared_feed(setting, cutter, speed_rpm, factor)


def slot_feed(setting: Setting, cutter: Cutter, speed_rpm: float, depth: float) -> float:
    """Feed into the full, job units a minute.

    Newson Tool catalogue pp. 33-34: a fifth less in a slot, half in a deep one; deep is taken
    as a diameter or more.
    """
    known = constants()
    deep = depth >= cutter.cutting_diameter - 1e-9
    share = known.deep_slot_share if deep else known.slot_share
    return _shared_feed(setting, cutter, speed_rpm, share)


def thin_chip(setting: Setting, cutter: Cutter, data: CutData, width: float) -> str | None:
    """What to say where the feed makes the chip too thin to cut; None where it does not.

    Offers the next lower speed that would make it thick enough, where the spindle has one.
    """
    diameter, flutes = cutter.cutting_diameter, cutter.flutes
    least = constants().least_chip_in * setting.unit
    feed = rough_feed(setting, cutter, data.spindle_speed_rpm, width)
    chip = thickest_chip(feed_per_tooth_of(feed, flutes, data.spindle_speed_rpm), width, diameter)
    if chip >= least - 1e-9:
        return None
    text = f"{cutter.id}: at that feed the chip is {_n(chip, setting)} thick and only rubs"
    slower = [
        speed
        for speed in setting.machine.spindle_speeds
        if speed < data.spindle_speed_rpm and chip * data.spindle_speed_rpm / speed >= least
    ]
    if not slower:
        return text + "; a wider cut or fewer flutes would do"
    return f"{text}; {max(slower):g} rev/min would do"


def _n(length: float, setting: Setting) -> str:
    return f"{length:.4f}" if setting.inch else f"{length:.3f}"


def _shared_feed(setting: Setting, cutter: Cutter, speed_rpm: float, share: float) -> float:
    if setting.feed_asked is not None:
        return setting.feed_asked
    tooth, _ = feed_per_tooth(setting, cutter)
    return held_feed(
        setting.machine, share * feed_per_min(tooth, cutter.flutes, speed_rpm), setting.inch
    )


def feed_per_tooth(setting: Setting, cutter: Cutter) -> tuple[float, str]:
    """Feed per tooth of the tables, job units, and its source."""
    material, known = setting.material, constants()
    inches = cutter.cutting_diameter / setting.unit
    if cutter.material == "carbide" and material.carbide_feeds:
        curve = known.carbide_feeds[material.carbide_feeds]
        smallest = curve.at[0]
        tooth = curve.value(inches) * min(1.0, inches / smallest)
        return tooth * setting.unit, known.carbide_feeds_source
    tooth = table_feed_per_tooth_in(material.feed_per_tooth_in, inches)
    return tooth * setting.unit, material.feed_source


def _spindle_speed(setting: Setting, cutter: Cutter, sources: list[str]) -> float:
    asked, material = setting.speed_asked, setting.material
    if asked is not None:
        sources.append(f"spindle speed {asked:g} rev/min: [limits] of the job")
        return spindle_step_rpm(asked, setting.machine)
    carbide = cutter.material == "carbide"
    speed_ft = material.carbide_ft_per_min if carbide else material.hss_ft_per_min
    source = material.carbide_source if carbide else material.hss_source
    diameter = cutter.cutting_diameter
    if setting.inch:
        text, wanted = f"{speed_ft:g} ft/min", spindle_speed_inch_rpm(speed_ft, diameter)
    else:
        speed_m = speed_ft * M_PER_FOOT
        text, wanted = f"{speed_m:.0f} m/min", spindle_speed_metric_rpm(speed_m, diameter)
    sources.append(f"cutting speed {text}, {cutter.material} in {material.name}: {source}")
    return spindle_step_rpm(wanted, setting.machine)


def _feed(setting: Setting, cutter: Cutter, speed_rpm: float, sources: list[str]) -> float:
    if setting.feed_asked is not None:
        sources.append(f"feed {setting.feed_asked:g} a minute: [limits] of the job")
        return setting.feed_asked
    tooth, source = feed_per_tooth(setting, cutter)
    name = "in" if setting.inch else "mm"
    sources.append(f"feed {tooth:.2g} {name} a tooth: {source}")
    wanted = feed_per_min(tooth, cutter.flutes, speed_rpm)
    feed = held_feed(setting.machine, wanted, setting.inch)
    if feed < wanted and not setting.machine.power_feed:
        turns = setting.machine.hand_feed
        sources.append(f"feed held to {feed:.4g} a minute: {turns:g} turns a minute by hand")
        if not any(axis in "XY" for axis, _ in setting.machine.dials):
            lead = "0.200 in" if setting.inch else "5 mm"
            sources.append(f"the shop file gives no dial: {lead} a turn assumed (from memory)")
    return feed
