"""A cutter graded for a feature, in the order in which a machinist weighs cutters.

Can it cut the geometry; does it suit the material; is it stiff enough for the depth; has it flutes
enough and no more; how much can it take of what the motor drives; what does it cost. Grades are
small whole numbers, 0 the best: what hardly differs counts as alike, and the next question decides.
"""

from math import ceil, inf, sqrt

from passplot.cutting.drive import eased_feed
from passplot.cutting.duration import cutting_minutes, face_approach, side_approach
from passplot.cutting.limits import Bounds, bounds_of, stickout_of
from passplot.cutting.loads import Load
from passplot.cutting.pace import Setting, pace
from passplot.cutting.speeds import slower_lead
from passplot.cutting.tables import constants
from passplot.frozen import dataclass
from passplot.records.choice import Needs
from passplot.records.job import Limits
from passplot.records.shop import Cutter

# Common practice, no source: flutes are too long where they are more than twice the depth and more
# than the depth and a diameter and a half; steel above 300 HB is too hard for high-speed steel.
_FLUTES, _SPARE, _HARD_HB = 2.0, 1.5, 300.0
_ALIKE, _POOR, _SPARE_MINUTES = 1.5, 3.0, 2.0
_HEAVIER, _HAIR = 1.1, 1e-6
FACE_SHARE = 0.75  # of the diameter: width of a face pass
NO_PRICE = 1e9
_ROUND = ("pocket", "bore", "boss", "outline")


@dataclass(frozen=True, slots=True)
class Grade:
    """A cutter in a feature: its widest rough pass, and how it stands in each question.

    ``stiffness`` is E D⁴/L³ in any one unit, ``minutes`` the time of roughing, infinite where the
    motor drives nothing; ``foot`` the radius it leaves at the foot of a wall;
    ``heavy`` the width it should take where the job asks for much more, else None.
    """

    cutter: Cutter
    bounds: Bounds
    width: float
    depth: float
    load: Load
    stiffness: float
    minutes: float
    suits: int
    whippy: bool
    long_flutes: bool
    foot: float
    heavy: float | None

    def key(self, best_minutes: float, stiffest: float) -> tuple[float, ...]:
        """What cutters are sorted by; ``stiffest`` is the best of those with shorter flutes."""
        return (
            self.foot > 0,
            self.suits,
            self.whippy or self.heavy is not None,
            self.too_long(stiffest),
            self.slow(best_minutes),
            NO_PRICE if self.cutter.price is None else self.cutter.price,
            -self.cutter.cutting_diameter,
        )

    def too_long(self, stiffest: float) -> bool:
        """Whether its flutes are longer than needed where a stiffer cutter has shorter ones."""
        return self.long_flutes and self.stiffness < stiffest

    def slow(self, best_minutes: float) -> int:
        """0 where roughing takes hardly longer than with the quickest, 2 where far longer."""
        if self.minutes <= max(_ALIKE * best_minutes, best_minutes + _SPARE_MINUTES):
            return 0
        return 1 if self.minutes <= _POOR * best_minutes else 2


def graded(setting: Setting, limits: Limits | None, cutter: Cutter, needs: Needs) -> Grade:
    """The grade of a cutter for a feature; the job's own limits rule."""
    data = pace(setting, cutter)
    bounds = bounds_of(setting, cutter, data.spindle_speed_rpm)
    diameter = cutter.cutting_diameter
    depth, width = _widest(bounds, limits, needs)
    feed = eased_feed(bounds, width, depth) if width > 0 else data.feed
    load = bounds.load(width, depth, feed)
    tool = bounds.running.tool
    stiff = tool.modulus_psi * diameter**4 / stickout_of(cutter) ** 3
    bent = bounds.load(min(constants().width_share * diameter, bounds.section() / depth), depth)
    return Grade(
        cutter=cutter,
        bounds=bounds,
        width=width,
        depth=depth,
        load=load,
        stiffness=stiff,
        minutes=_minutes(setting, needs, diameter, (width, depth), feed),
        suits=suits(setting, cutter),
        whippy=not bounds.stiff_enough(bent),
        # a face is shallow whatever cuts it
        long_flutes=needs.kind != "face"
        and cutter.flute_length > _FLUTES * needs.depth
        and cutter.flute_length > needs.depth + _SPARE * diameter,
        foot=0.0 if needs.kind == "face" else cutter.corner_radius,
        heavy=_heavy(bounds, limits, needs, width, depth),
    )


def _heavy(
    bounds: Bounds, limits: Limits | None, needs: Needs, width: float, depth: float
) -> float | None:
    """Width that a cutter should take where the job asks for a good deal more; else None."""
    asked = limits is not None and limits.width_of_cut is not None
    if not asked or needs.kind == "face" or depth <= 0:
        return None
    should = bounds.widest(depth)
    return should if width > _HEAVIER * should else None


def suits(setting: Setting, cutter: Cutter) -> int:
    """0 where a cutter suits the material, 1 where it would do, 2 where it hardly would."""
    material = setting.material
    grade = 0
    if cutter.material != "carbide" and material.group != "N":
        hard = material.hardness_hb is not None and material.hardness_hb[1] > _HARD_HB
        grade = 2 if hard else 1
    return grade + (cutter.flutes > material.most_flutes)


def _widest(bounds: Bounds, limits: Limits | None, needs: Needs) -> tuple[float, float]:
    """Depth of a level and width of the widest rough pass in a feature."""
    cutter, diameter = bounds.cutter, bounds.cutter.cutting_diameter
    asked_w = None if limits is None else limits.width_of_cut
    asked_d = None if limits is None else limits.depth_of_cut
    depth = min(needs.depth, cutter.flute_length)
    if needs.kind == "face":
        depth = min(depth, asked_d or depth)
        return depth, min(asked_w or diameter, bounds.widest_driven(depth, FACE_SHARE * diameter))
    if asked_d is not None:
        depth = min(depth, asked_d)
    else:
        narrow = constants().narrow_share * diameter
        least = bounds.deepest_driven(narrow, 0.25 * diameter)
        depth = min(depth, max(bounds.deepest(narrow), least))
    least = bounds.widest_driven(depth, constants().narrow_share * diameter)
    width = max(bounds.widest(depth), least)
    return depth, width if asked_w is None else min(asked_w, diameter)


def _minutes(
    setting: Setting, needs: Needs, diameter: float, cut: tuple[float, float], feed: float
) -> float:
    """Time of roughing as passes along the side of a square of the feature's area.

    With the setting of every pass and the way back to it, cranked; round a pocket or a boss one
    pass goes on where the one before it ends.
    """
    width, depth = cut
    if width <= 0 or depth <= 0:
        return inf
    side = sqrt(max(needs.area, 1e-6 * setting.unit**2))
    approach = face_approach if needs.kind == "face" else side_approach
    passes = ceil(max(1.0, side / width) * max(1.0, needs.depth / depth) - _HAIR)
    along = side + approach(min(width, diameter), diameter)
    machine = setting.machine
    setting_minutes = machine.seconds_per_setting / 60
    if needs.kind in _ROUND:
        return passes * (cutting_minutes(along, feed) + setting_minutes)
    turns = along / slower_lead(machine, setting.inch)
    back = turns / machine.turns_per_minute + 2 * setting_minutes
    return passes * (cutting_minutes(along, feed) + back)
