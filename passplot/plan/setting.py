"""One setting of the work on the table: what is cut in it, and where it takes over."""

from shapely import Polygon, affinity
from shapely.geometry.base import BaseGeometry

from passplot.frozen import dataclass
from passplot.plan.bench import stock_area
from passplot.plan.metal import Metal
from passplot.records.care import Care
from passplot.records.job import Job

PLAIN = Care()
"""No more care than most jobs need."""

BESIDE = "beside the stock"
"""Kind and name of what stands for the air round a turned stock within its bounds."""


@dataclass(frozen=True, slots=True)
class Setting:
    """What is cut in one setting, and what earlier ones left.

    Attributes
    ----------
    worked : frozenset of str or None
        Names of the features that are cut; None cuts all.
    level : frozenset of str
        Features of which only walls along X and Y are cut, slanted ones left for other settings.
    turned : bool
        Whether the work is set over.
    metal : Metal or None
        The block as earlier settings left it, in the coordinates of this one.
    outline : Polygon or None
        The stock, where it is turned.
    row, number : int
        First row and first pass.
    care : Care
        How carefully it is planned.
    """

    worked: frozenset[str] | None = None
    level: frozenset[str] = frozenset()
    turned: bool = False
    metal: Metal | None = None
    outline: Polygon | None = None
    row: int = 1
    number: int = 1
    care: Care = PLAIN

    def works(self, name: str) -> bool:
        """Whether a feature is cut in this setting."""
        return name != BESIDE and (self.worked is None or name in self.worked)

    def block(self, job: Job, thin: float, fine: float, quarter: int) -> Metal:
        """The block when the setting begins."""
        if self.metal is not None:
            return self.metal
        return self.whole(job, thin, fine, quarter)

    def whole(self, job: Job, thin: float, fine: float, quarter: int) -> Metal:
        """The block with nothing cut of it."""
        stock = job.stock
        return Metal(self.stock(job), stock.bottom, stock.raw_top, thin, fine, quarter)

    def stock(self, job: Job) -> Polygon:
        """The stock in plan view."""
        return stock_area(job) if self.outline is None else self.outline


def turned_area(area: BaseGeometry, angle: float) -> BaseGeometry:
    """An area turned about X0 Y0 by ``angle`` degrees."""
    return affinity.rotate(area, angle, origin=(0.0, 0.0))
