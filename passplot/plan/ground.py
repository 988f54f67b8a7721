"""The finished part in plan view with its true walls, for work that has walls off X and Y."""

import shapely
from shapely import box
from shapely.geometry.base import BaseGeometry

from passplot.plan.distance import Distances
from passplot.plan.loops import area_of
from passplot.plan.offsets import offset_chains, zone_of
from passplot.plan.walls import NEAR, Chain, make_walls
from passplot.plan.zones import SLACK, solid
from passplot.records.job import Job

Floors = tuple[float, ...]

_HAIRLINE = SLACK / 100
"""What is no wider is no part but rounding (job units)."""


class Ground:
    """Walls, zones and offsets at any height; what was asked once is kept.

    Parameters
    ----------
    job : Job
        With the loops that are really cut.
    pad : float
        How far beyond the stock the axis may go, job units.
    run : float
        How far walls are carried on past the stock's edge.
    """

    def __init__(self, job: Job, pad: float, run: float) -> None:
        self.job = job
        self.run = run
        self.sagitta = job.shop.machine.resolution / 5
        (x0, x1), (y0, y1) = job.stock.x, job.stock.y
        self.stock = box(x0, y0, x1, y1)
        self.domain = box(x0 - pad, y0 - pad, x1 + pad, y1 + pad)
        self._walls = make_walls(job)
        self._areas = [
            solid(area_of(feature, self.sagitta, grow=False).intersection(self.stock))
            for feature in job.features
        ]
        self._chains: dict[tuple[Floors, float], tuple[Chain, ...]] = {}
        self._zones: dict[tuple[Floors, float, float], BaseGeometry] = {}
        self._offsets: dict[tuple[Floors, float, float], list[Chain]] = {}
        self._distances: dict[tuple[Floors, float], Distances] = {}

    def area(self, index: int) -> BaseGeometry:
        """What a feature clears of the stock (chords inside it)."""
        return self._areas[index]

    def chains(self, floors: Floors, z: float) -> tuple[Chain, ...]:
        """Walls at height ``z``, the part on their left."""
        key = (floors, z)
        if key not in self._chains:
            self._chains[key] = self._walls.at(floors, z, self.run)
        return self._chains[key]

    def part(self, floors: Floors, z: float) -> BaseGeometry:
        """The finished part at height ``z``, never smaller than it is."""
        open_areas = [
            area for area, floor in zip(self._areas, floors, strict=True) if floor <= z + NEAR
        ]
        # turned coordinates would leave hairlines where nothing stands, and keep the cutter off
        opened = shapely.union_all(open_areas)
        return solid(shapely.difference(self.stock, opened, grid_size=_HAIRLINE))

    def zone(self, floors: Floors, z: float, by: float) -> BaseGeometry:
        """Where the axis may stand at height ``z``, ``by`` or more from every wall."""
        key = (floors, z, by)
        if key not in self._zones:
            chains, part = self.chains(floors, z), self.part(floors, z)
            self._zones[key] = zone_of(self.domain, self.stock, part, chains, by, self.sagitta)
        return self._zones[key]

    def offsets(self, floors: Floors, z: float, by: float) -> list[Chain]:
        """Where the axis runs along the walls at height ``z``, ``by`` from them."""
        key = (floors, z, by)
        if key not in self._offsets:
            self._offsets[key] = offset_chains(self.chains(floors, z), by)
        return self._offsets[key]

    def distances(self, floors: Floors, z: float) -> Distances:
        """Distances from the walls at height ``z``."""
        key = (floors, z)
        if key not in self._distances:
            edges = [edge for chain in self.chains(floors, z) for edge in chain.edges]
            self._distances[key] = Distances(edges)
        return self._distances[key]


def covers_gap(zone: BaseGeometry, inner: BaseGeometry, wall: float) -> bool:
    """Whether stock of ``wall`` leaves room everywhere the cutter fits at all.

    ``inner`` is the zone with that much more from the walls. Corners draw back further than
    ``wall``; a gap without room is longer than that.
    """
    return bool(zone.difference(inner.buffer(3 * wall)).area <= wall * wall)
