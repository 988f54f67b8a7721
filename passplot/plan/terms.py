"""What the plan needs to know of cutting: a cutter's use and the widths and depths allowed.

Planning is handed these by the flow, so that it need not know where they come from.
"""

from dataclasses import replace
from typing import Protocol

from passplot.frozen import dataclass
from passplot.records.care import Care
from passplot.records.job import Job
from passplot.records.plan import CutterUse
from passplot.records.shop import Cutter


class Rules(Protocol):
    """Speeds, feeds and limits of a cut."""

    def use(self, job: Job, cutter: Cutter) -> CutterUse:
        """Everything decided for a cutter in a job."""

    def level(self, job: Job, cutter: Cutter) -> float:
        """Greatest depth of a level."""

    def width(self, job: Job, cutter: Cutter, level: float) -> float:
        """Greatest width of cut at that depth."""

    def face_width(self, job: Job, cutter: Cutter, level: float, widest: float) -> float:
        """Greatest width of a face pass at that depth, ``widest`` at most."""

    def drilled_entry(self, job: Job) -> bool:
        """Whether a closed pocket in the job's material is entered through a drilled hole."""


class WithCare:
    """Rules of cutting with a margin kept to the greatest width of cut."""

    def __init__(self, rules: Rules, care: Care) -> None:
        self.rules = rules
        self.share = care.width_share

    def use(self, job: Job, cutter: Cutter) -> CutterUse:
        """Everything decided for a cutter in a job, the margin kept."""
        use = self.rules.use(job, cutter)
        return replace(use, width_limit=self.share * use.width_limit)

    def level(self, job: Job, cutter: Cutter) -> float:
        """Greatest depth of a level."""
        return self.rules.level(job, cutter)

    def width(self, job: Job, cutter: Cutter, level: float) -> float:
        """Greatest width of cut at that depth, the margin kept."""
        return self.share * self.rules.width(job, cutter, level)

    def face_width(self, job: Job, cutter: Cutter, level: float, widest: float) -> float:
        """Greatest width of a face pass, the margin kept."""
        return self.share * self.rules.face_width(job, cutter, level, widest)

    def drilled_entry(self, job: Job) -> bool:
        """Whether a closed pocket in the job's material is entered through a drilled hole."""
        return self.rules.drilled_entry(job)


@dataclass(frozen=True, slots=True)
class FeatureTerms:
    """How one cutter takes one feature.

    ``wall``, ``floor`` are the stock roughing leaves; ``wall_skims``, ``floor_skims`` how many
    cuts take it off; ``floor_z`` the finished floor, ``rough_z`` the rough one.
    """

    index: int
    name: str
    floor_z: float
    rough_z: float
    wall: float
    floor: float
    wall_skims: int
    floor_skims: int
    to_size: bool
