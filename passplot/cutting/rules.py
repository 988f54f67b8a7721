"""The rules of cutting that planning is handed: a cutter's use, its levels, its widths."""

from passplot.cutting.limits import deepest_level, widest_cut
from passplot.cutting.speeds import cut_data
from passplot.materials import Material, find_material
from passplot.records.job import Job
from passplot.records.plan import CutterUse
from passplot.records.shop import Cutter


class CutRules:
    """Speeds, feeds and limits from the tables, the job's own ``[limits]`` first."""

    def use(self, job: Job, cutter: Cutter) -> CutterUse:
        """Everything decided for a cutter in a job."""
        data = cut_data(job, cutter)
        diameter = cutter.cutting_diameter
        level = self.level(job, cutter)
        share = _material(job).slot_depth
        slot = min(share * diameter, level, cutter.flute_length)
        deepest = max(job.stock.raw_top - feature.floor for feature in job.features)
        width = self.width(job, cutter, min(deepest, level))
        least_wall = 0.030 if job.inch else 0.8
        floor = 0.010 if job.inch else 0.25
        finish = job.finish
        return CutterUse(
            cutter=cutter,
            speed_rpm=data.spindle_speed_rpm,
            cutting_speed=data.cutting_speed,
            feed=data.feed,
            wall=min(least_wall, 0.06 * diameter) if finish.wall is None else finish.wall,
            floor=floor if finish.floor is None else finish.floor,
            width_limit=width,
            depth_limit=level,
            slot_depth_limit=slot,
            sources=data.sources,
        )

    def level(self, job: Job, cutter: Cutter) -> float:
        """Greatest depth of a level."""
        limits = job.limits
        return deepest_level(
            cutter.cutting_diameter, cutter.flute_length, limits.width_of_cut, limits.depth_of_cut
        )

    def width(self, job: Job, cutter: Cutter, level: float) -> float:
        """Greatest width of cut at that depth."""
        return widest_cut(cutter.cutting_diameter, level, job.limits.width_of_cut)

    def drilled_entry(self, job: Job) -> bool:
        """Whether a closed pocket in the job's material is entered through a drilled hole."""
        return _material(job).drill_entry


def _material(job: Job) -> Material:
    found = find_material(job.stock.material)
    assert found is not None, "reading lets no unknown material through"
    return found
