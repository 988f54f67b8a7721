"""What the motor drives: feeds eased to it, and cuts refused with the numbers."""

from passplot.cutting.limits import Bounds
from passplot.cutting.loads import Load
from passplot.cutting.pace import rough_feed
from passplot.cutting.power import KW_PER_HP
from passplot.cutting.tables import constants
from passplot.errors import CannotCut
from passplot.records.job import Job

_STEPS = 40


def eased_feed(bounds: Bounds, width: float, depth: float) -> float:
    """Feed of a rough pass, eased where the motor would not drive it at the table's.

    A feed that the job asks for stays; none is eased so far that the chip would only rub.
    """
    setting = bounds.setting
    feed = rough_feed(setting, bounds.cutter, bounds.running.speed_rpm, width)
    if setting.feed_asked is not None or bounds.drives(bounds.load(width, depth, feed)):
        return feed
    low, high = min(_least_feed(bounds), feed), feed
    if not bounds.drives(bounds.load(width, depth, low)):
        return low
    for _ in range(_STEPS):
        middle = (low + high) / 2
        driven = bounds.drives(bounds.load(width, depth, middle))
        low, high = (middle, high) if driven else (low, middle)
    return low


def refuse_undriven(job: Job, bounds: Bounds, width: float, depth: float) -> None:
    """Raise where the machine cannot drive a pass so wide and deep, even at an eased feed.

    Raises
    ------
    CannotCut
        With the power it takes, the motor's, and a width or depth that would do.
    """
    power = bounds.running.power_hp
    if power is None:
        return
    if width <= 0 or depth <= 0:
        raise CannotCut(
            f"{bounds.cutter.id}: a motor of {power_words(power, inch=job.inch)} drives no pass in "
            f"{bounds.running.material.name} with it; a smaller cutter would do"
        )
    load = bounds.load(width, depth, eased_feed(bounds, width, depth))
    if bounds.drives(load):
        return
    deepest = min(job.features, key=lambda feature: feature.floor)
    raise CannotCut(
        f"{bounds.cutter.id}: {deepest.name}: a pass {_n(job, width)} wide and "
        f"{_n(job, depth)} deep at {load.feed * bounds.setting.unit:.3g} a minute takes "
        f"{power_words(load.motor_hp, inch=job.inch)} at the motor, which has "
        f"{power_words(power, inch=job.inch)}; "
        f"{_would_do(job, bounds, load, power)}"
    )


def power_words(power_hp: float, *, inch: bool) -> str:
    """Power in the job's own unit."""
    return f"{power_hp:.2f} hp" if inch else f"{power_hp * KW_PER_HP:.2f} kW"


def _would_do(job: Job, bounds: Bounds, load: Load, power: float) -> str:
    """Power goes with the width and with the depth: the share of either that is left."""
    share, unit = power / load.motor_hp, bounds.setting.unit
    wide, deep = share * load.width * unit, share * load.depth * unit
    return (
        f"{_n(job, wide, down=True)} wide at that depth would do, or {_n(job, deep, down=True)} "
        "deep at that width"
    )


def _least_feed(bounds: Bounds) -> float:
    """Feed at which a chip of half the width of the cutter is as thin as an edge still cuts."""
    tooth = constants().least_chip_in * bounds.setting.unit
    return tooth * bounds.cutter.flutes * bounds.running.speed_rpm


def _n(job: Job, length: float, *, down: bool = False) -> str:
    places = 3 if job.inch else 2
    if down:
        length -= 0.5 * 10**-places
    return f"{length:.{places}f}"
