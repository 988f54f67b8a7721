"""The rules of cutting that planning is handed: a cutter's use, its levels, its widths."""

from passplot.cutting.drive import eased_feed, refuse_undriven
from passplot.cutting.limits import Bounds, bounds_of, rounded_down
from passplot.cutting.loads import Load
from passplot.cutting.pace import CutData, pace, setting_of, thin_chip
from passplot.cutting.tables import constants
from passplot.records.job import Job
from passplot.records.plan import CutterUse
from passplot.records.shop import Cutter

# How deep a pass of a width that the job sets may be: (depth, width), both in diameters; common
# practice, no source.
_DEPTHS = ((1.0, 0.25), (1.5, 0.15), (2.0, 0.10))
ROUGHING_WALL_IN, ROUGHING_WALL_MM = 0.030, 0.8
"""Least that a roughing cutter leaves on a wall for another: common practice, no source."""
_LEAST_LEVEL = 0.25
"""Of the diameter: a whippy cutter is not given skim after skim but told of, see ``_advice``."""


class CutRules:
    """Speeds, feeds and limits from the tables and mechanics, the job's own ``[limits]`` first."""

    def use(self, job: Job, cutter: Cutter) -> CutterUse:
        """Everything decided for a cutter in a job.

        Raises
        ------
        CannotCut
            Where the machine cannot drive the cut that ``[limits]`` asks for, or any at all.
        """
        setting = setting_of(job)
        data = pace(setting, cutter)
        bounds = bounds_of(setting, cutter, data.spindle_speed_rpm)
        level = self.level(job, cutter)
        deepest = max(job.stock.raw_top - feature.floor for feature in job.features)
        depth = min(deepest, level)
        width = self.width(job, cutter, depth)
        drill = cutter.form == "drill"
        if not drill:
            refuse_undriven(job, bounds, width, depth)
        feed = eased_feed(bounds, width, depth) if not drill else data.feed
        load = bounds.load(width, depth, feed) if width > 0 and depth > 0 else None
        slot = self._slot(job, bounds, level)
        unit = setting.unit
        return CutterUse(
            cutter=cutter,
            speed_rpm=data.spindle_speed_rpm,
            cutting_speed=data.cutting_speed,
            feed=feed,
            wall=_wall(job, cutter),
            floor=_floor(job, cutter),
            width_limit=width,
            depth_limit=level,
            slot_depth_limit=slot,
            sources=(*data.sources, *_raised(job, data, feed)),
            finish_feed=data.feed,
            slot_feed=min(feed, bounds.slot_load(slot).feed * unit) if slot > 0 else 0.0,
            power_hp=None if load is None else load.power_hp,
            motor_hp=None if load is None else load.motor_hp,
            deflection=None if load is None else load.deflection * unit,
            wall_error=None if load is None else load.wall_error * unit,
            torque_lbf_in=None if load is None else load.torque_lbf_in,
            fluid=bounds.fluid(),
            advice=(*_ribs(job, cutter), *_advice(bounds, data, width, load)) if not drill else (),
        )

    def level(self, job: Job, cutter: Cutter) -> float:
        """Greatest depth of a level."""
        limits = job.limits
        if limits.depth_of_cut is not None:
            return min(limits.depth_of_cut, cutter.flute_length)
        bounds = _bounds(job, cutter)
        diameter = cutter.cutting_diameter
        if limits.width_of_cut is not None:
            return _level_for(bounds, min(limits.width_of_cut, diameter))
        narrow = constants().narrow_share * diameter
        least = bounds.deepest_driven(narrow, _LEAST_LEVEL * diameter)
        deepest = max(bounds.deepest(narrow), least)
        if deepest >= cutter.flute_length:
            return cutter.flute_length
        return rounded_down(deepest, job.inch)

    def width(self, job: Job, cutter: Cutter, level: float) -> float:
        """Greatest width of cut at that depth."""
        if job.limits.width_of_cut is not None:
            return min(job.limits.width_of_cut, cutter.cutting_diameter)
        bounds = _bounds(job, cutter)
        least = bounds.widest_driven(level, constants().narrow_share * cutter.cutting_diameter)
        return rounded_down(max(bounds.widest(level), least), job.inch)

    def face_width(self, job: Job, cutter: Cutter, level: float, widest: float) -> float:
        """Greatest width of a face pass, ``widest`` where the motor drives it."""
        if job.limits.width_of_cut is not None:
            return min(job.limits.width_of_cut, widest)
        return rounded_down(_bounds(job, cutter).widest_driven(level, widest), job.inch)

    def drilled_entry(self, job: Job) -> bool:
        """Whether a closed pocket in the job's material is entered through a drilled hole."""
        return setting_of(job).material.drill_entry

    def _slot(self, job: Job, bounds: Bounds, level: float) -> float:
        """Deepest level of a slot; where the job sets limits, the material's share rules."""
        limits = job.limits
        if limits.width_of_cut is None and limits.depth_of_cut is None:
            return min(rounded_down(bounds.deepest_slot(), job.inch), level)
        share = bounds.running.material.slot_depth * bounds.cutter.cutting_diameter
        return min(share, level, bounds.cutter.flute_length)


def _bounds(job: Job, cutter: Cutter) -> Bounds:
    setting = setting_of(job)
    return bounds_of(setting, cutter, pace(setting, cutter).spindle_speed_rpm)


def _level_for(bounds: Bounds, width: float) -> float:
    """Depth of a level where the job sets the width: by the trade's shares, if it is driven."""
    diameter = bounds.cutter.cutting_diameter
    deep = max((d for d, w in _DEPTHS if width <= w * diameter + 1e-9), default=_DEPTHS[0][0])
    most = min(deep * diameter, bounds.cutter.flute_length)
    return max(bounds.deepest_driven(width, most), min(most, 0.05 * diameter))


def _wall(job: Job, cutter: Cutter) -> float:
    """Wall stock: as the job says, else the smaller of 0.030 in (0.8 mm) and 0.06 D.

    A roughing cutter leaves 0.030 in at least where its ribs are to be finished off.
    """
    most = ROUGHING_WALL_IN if job.inch else ROUGHING_WALL_MM
    wall = job.finish.wall
    if wall is None:
        wall = min(most, 0.06 * cutter.cutting_diameter)
    return max(wall, most) if cutter.form == "roughing" and job.finish.skims else wall


def _ribs(job: Job, cutter: Cutter) -> tuple[str, ...]:
    """What to say where a roughing cutter is to leave less than its ribs want."""
    least = ROUGHING_WALL_IN if job.inch else ROUGHING_WALL_MM
    if cutter.form != "roughing" or _wall(job, cutter) >= least - 1e-9:
        return ()
    text = f"{least:.3f} in" if job.inch else f"{least:g} mm"
    return (f"{cutter.id}: leaves a ribbed wall: wall = {text} or more lets the next clean it up",)


def _floor(job: Job, cutter: Cutter) -> float:
    floor = 0.010 if job.inch else 0.25
    if job.finish.floor is not None and not (
        cutter.form == "roughing" and job.finish.floor == 0 and job.finish.floor_skims
    ):
        return job.finish.floor
    return floor


def _raised(job: Job, data: CutData, feed: float) -> list[str]:
    if feed <= data.feed * (1 + 1e-9):
        return []
    more = 100 * (feed / data.feed - 1)
    return [f"rough feed {more:.0f} % more for thin chips: Dormer handbook p. 114, table 2 (seen)"]


def _advice(bounds: Bounds, data: CutData, width: float, load: Load | None) -> tuple[str, ...]:
    """What the operator should know of the cut besides its numbers."""
    thin = thin_chip(bounds.setting, bounds.cutter, data, width) if width > 0 else None
    said = [] if thin is None else [thin]
    if load is not None and not bounds.stiff_enough(load):
        bend = load.deflection * bounds.setting.unit
        text = f"{bend:.4f} in" if bounds.setting.inch else f"{bend:.3f} mm"
        said.append(
            f"{bounds.cutter.id}: bends {text} in its widest rough pass; shorter out of the "
            "holder, or a thicker cutter, would do better"
        )
    return tuple(said)
