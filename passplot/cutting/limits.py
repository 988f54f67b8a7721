"""How wide and how deep a rough pass may be: from power, bending and the flutes.

Full depth with a modest width is preferred, for then all of the flutes wear and not just the
tips: a level is as deep as the flutes and a width worth a pass allow, and the width is what power,
bending and the section of the cut leave at that depth. A job's own ``[limits]`` rule.
"""

from collections.abc import Callable
from math import floor, sqrt

from passplot.cutting.loads import Load, Running, Tool, load_of
from passplot.cutting.pace import Setting, rough_feed, slot_feed
from passplot.cutting.tables import constants
from passplot.frozen import dataclass
from passplot.materials import find_material
from passplot.records.shop import Cutter

ROUND_IN, ROUND_MM = 0.005, 0.1
_STEPS = 40
_SLACK = 1e-9


@dataclass(frozen=True, slots=True)
class Bounds:
    """A cutter in a setting at its speed, ready to be asked what it may take (job units)."""

    setting: Setting
    cutter: Cutter
    running: Running

    def load(self, width: float, depth: float, feed: float | None = None) -> Load:
        """The load of a rough pass, at its own feed unless another is given."""
        unit = self.setting.unit
        if feed is None:
            feed = rough_feed(self.setting, self.cutter, self.running.speed_rpm, width)
        return load_of(self.running, width / unit, depth / unit, feed / unit)

    def slot_load(self, depth: float) -> Load:
        """The load of a cut into the full, at a feed eased to the motor, by half at most."""
        width = self.cutter.cutting_diameter
        feed = slot_feed(self.setting, self.cutter, self.running.speed_rpm, depth)
        load = self.load(width, depth, feed)
        if self.drives(load) or self.setting.feed_asked is not None:
            return load
        eased = _greatest(feed, lambda less: self.drives(self.load(width, depth, less)))
        return self.load(width, depth, max(eased, feed / 2))

    def drives(self, load: Load) -> bool:
        """Whether the motor drives it; a machine without stated power is not asked."""
        power = self.running.power_hp
        return power is None or load.motor_hp <= power + _SLACK

    def stiff_enough(self, load: Load) -> bool:
        """Whether the cutter bends no more than a tenth of the usual wall stock."""
        known, diameter = constants(), self.running.tool.diameter
        return load.deflection <= min(known.bend_share * diameter, known.bend_most_in) + _SLACK

    def section(self) -> float:
        """Greatest width times depth, job units squared."""
        known, tool = constants(), self.running.tool
        reference = find_material("low-carbon steel")
        assert reference is not None, "the table has it"
        # stubbier than half the reference, the holder gives as much as the cutter
        far = max(tool.stickout / tool.diameter, known.section_stickout / 2)
        ease = reference.unit_power_hp / self.running.material.unit_power_hp
        share = known.section_share * sqrt(known.section_stickout / far) * sqrt(ease)
        return share * self.cutter.cutting_diameter**2

    def fluid(self) -> str:
        """Dry or what coolant."""
        material = self.running.material
        return material.fluid_carbide if self.cutter.material == "carbide" else material.fluid_hss

    def widest(self, depth: float) -> float:
        """Greatest width of a rough pass ``depth`` deep, not rounded; 0 where none will do."""
        most = constants().width_share * self.cutter.cutting_diameter
        most = min(most, self.section() / depth) if depth > 0 else most
        return _greatest(most, lambda width: self._allows(self.load(width, depth)))

    def widest_driven(self, depth: float, most: float) -> float:
        """Greatest width up to ``most`` that the motor drives: a face bends no wall."""
        return _greatest(most, lambda width: self.drives(self.load(width, depth)))

    def deepest(self, width: float) -> float:
        """Greatest depth of a rough pass ``width`` wide, the flutes' length at most."""
        most = min(self.cutter.flute_length, self.section() / width)
        return _greatest(most, lambda depth: self._allows(self.load(width, depth)))

    def deepest_driven(self, width: float, most: float) -> float:
        """Greatest depth up to ``most`` at which the motor drives that width."""
        return _greatest(most, lambda depth: self.drives(self.load(width, depth)))

    def deepest_slot(self) -> float:
        """Greatest depth of a cut into the full."""
        share = self.running.material.slot_depth * self.cutter.cutting_diameter
        most = min(share, self.cutter.flute_length)
        return _greatest(most, lambda depth: self._allows(self.slot_load(depth)))

    def _allows(self, load: Load) -> bool:
        return self.drives(load) and self.stiff_enough(load)


def bounds_of(setting: Setting, cutter: Cutter, speed_rpm: float) -> Bounds:
    """What bounds a cutter at a speed.

    A stick-out that the shop file leaves out is taken as the flutes and half a diameter, the
    drive's efficiency as that of the table.
    """
    known, unit, machine = constants(), setting.unit, setting.machine
    tool = Tool(
        diameter=cutter.cutting_diameter / unit,
        shank=cutter.diameter / unit,
        flutes=cutter.flutes,
        flute_length=cutter.flute_length / unit,
        stickout=stickout_of(cutter) / unit,
        modulus_psi=known.modulus_psi.get(cutter.material, known.modulus_psi["high-speed steel"]),
    )
    efficiency = machine.efficiency or known.efficiency
    running = Running(
        tool, setting.material, speed_rpm, setting.climb, machine.power_hp, efficiency
    )
    return Bounds(setting, cutter, running)


def stickout_of(cutter: Cutter) -> float:
    """How far a cutter stands out, in its own unit: as given, else flutes and half a diameter."""
    if cutter.stickout is not None:
        return cutter.stickout
    return cutter.flute_length + constants().stickout_beyond_flutes * cutter.diameter


def rounded_down(length: float, inch: bool) -> float:
    """A limit at the round setting below it: steps of 0.005 in or 0.1 mm, where it has any."""
    step = ROUND_IN if inch else ROUND_MM
    steps = floor(length / step + 1e-6)
    return steps * step if steps else length


def _greatest(most: float, allowed: Callable[[float], bool]) -> float:
    """The greatest value up to ``most`` that is allowed, where less is always allowed more."""
    if allowed(most):
        return most
    low, high = 0.0, most
    for _ in range(_STEPS):
        middle = (low + high) / 2
        low, high = (middle, high) if allowed(middle) else (low, middle)
    return low
