"""Tolerances of the proof and the wording of lengths, in the job's own unit."""

import numpy as np
from numpy.typing import NDArray

from passplot.frozen import dataclass
from passplot.records.job import Job

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Mask = NDArray[np.bool_]

ONE_MILLIONTH = 1e-6  # inch; what a formula may be out by after the rows were printed
RETURN_CLEARANCE_INCH = 0.010  # least side clearance of the way back (common practice, no source)
RETURN_CLEARANCE_MM = 0.25


@dataclass(frozen=True, slots=True)
class Gauge:
    """What counts as nothing in the job's unit, and how a length is said.

    Attributes
    ----------
    inch : bool
        Whether the job is in inches.
    resolution : float
        Step of the readout, job units.
    """

    inch: bool
    resolution: float

    @property
    def hair(self) -> float:
        """Tolerance of everything found by formula: a millionth of an inch, in job units."""
        return ONE_MILLIONTH if self.inch else ONE_MILLIONTH * 25.4

    @property
    def step(self) -> float:
        """A step of the readout with the hair on it: what rounding away may leave."""
        return self.resolution + self.hair

    @property
    def clearance(self) -> float:
        """Least distance of the way back from metal, job units."""
        return RETURN_CLEARANCE_INCH if self.inch else RETURN_CLEARANCE_MM

    def say(self, length: float) -> str:
        """A length as a report has it: ``0.0310 in``, ``0.787 mm``."""
        return f"{length:.4f} in" if self.inch else f"{length:.3f} mm"


def gauge_of(job: Job) -> Gauge:
    """The gauge of a job: its unit and the readout's step."""
    return Gauge(job.inch, job.shop.machine.resolution)
