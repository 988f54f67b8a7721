"""What the form of a cutter's lower end asks of its passes: how close they lie on a floor.

A rounded corner c leaves a scallop between passes that lie farther apart than the flat under the
cutter, D - 2 c; a ball has no flat. Sides and widths of a cut are told by the full diameter: what
the rounded end cuts beside them is the scallop of the pass before.
"""

from dataclasses import replace

from passplot.plan.terms import Rules
from passplot.records.job import Job
from passplot.records.plan import CutterUse
from passplot.records.shop import Cutter
from passplot.scallop import floor_width, rings_width


def corner_of(cutter: Cutter) -> float:
    """Radius of a cutter's lower corner, job units: half the diameter of a ball, 0 if square."""
    if cutter.form == "ball":
        return cutter.radius
    return min(cutter.corner_radius, cutter.radius) if cutter.form == "corner radius" else 0.0


def floor_limit(cutter: Cutter, cusp: float) -> float:
    """How far apart rings over a floor may lie so that no scallop is higher than ``cusp``."""
    return rings_width(cutter.cutting_diameter, corner_of(cutter), cusp)


def covered(cutter: Cutter, cusp: float) -> float:
    """How far from its axis a cutter leaves no more than ``cusp`` on a floor."""
    return floor_width(cutter.cutting_diameter, corner_of(cutter), cusp) / 2


class OverFloors:
    """Rules of cutting with widths that leave no higher scallop than a floor may keep.

    A rough pass may leave as much as the floor stock that finishing takes off with it; where a
    floor is cut to size at once, ``[finish] cusp``.
    """

    def __init__(self, rules: Rules) -> None:
        self.rules = rules

    def use(self, job: Job, cutter: Cutter) -> CutterUse:
        """Everything decided for a cutter in a job, its width of cut narrowed."""
        use = self.rules.use(job, cutter)
        return replace(use, width_limit=self._narrowed(job, cutter, use.width_limit))

    def level(self, job: Job, cutter: Cutter) -> float:
        """Greatest depth of a level."""
        return self.rules.level(job, cutter)

    def width(self, job: Job, cutter: Cutter, level: float) -> float:
        """Greatest width of cut at that depth, narrowed."""
        return self._narrowed(job, cutter, self.rules.width(job, cutter, level))

    def face_width(self, job: Job, cutter: Cutter, level: float, widest: float) -> float:
        """Greatest width of a face pass, narrowed."""
        width = self.rules.face_width(job, cutter, level, widest)
        return self._narrowed(job, cutter, width)

    def drilled_entry(self, job: Job) -> bool:
        """Whether a closed pocket in the job's material is entered through a drilled hole."""
        return self.rules.drilled_entry(job)

    def _narrowed(self, job: Job, cutter: Cutter, width: float) -> float:
        if not corner_of(cutter):
            return width
        through = any(feature.floor <= job.stock.bottom for feature in job.features)
        finished = job.finish.floor_skims and not through
        stock = self.rules.use(job, cutter).floor if finished else 0.0
        return min(width, floor_limit(cutter, max(job.finish.cusp, stock)))
