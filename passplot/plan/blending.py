"""Feet of walls taken square: what is left to do where a rounded end has finished a feature."""

from dataclasses import replace

from shapely.geometry.base import BaseGeometry

from passplot.frozen import dataclass
from passplot.plan.areas import leftover, standing
from passplot.plan.bench import Bench
from passplot.plan.fillets import walls_on_floor
from passplot.plan.finishing import final_floors, floor_left
from passplot.plan.metal import Metal, thick
from passplot.plan.stage import feature_area
from passplot.plan.terms import FeatureTerms
from passplot.plan.walker import Walker
from passplot.plan.zones import reachable, solid


@dataclass(frozen=True, slots=True)
class Feet:
    """Numbers of the features of which a square end takes nothing but what stands at the feet.

    Their walls are true above that, so one pass along each does; ``floors`` are those on whose
    floors more stands than that pass takes.
    """

    features: frozenset[int] = frozenset()
    floors: frozenset[int] = frozenset()

    def terms(self, term: FeatureTerms) -> FeatureTerms:
        """How such a feature is finished: at once."""
        return replace(term, wall_skims=1) if term.index in self.features else term

    def roughs(self, term: FeatureTerms) -> bool:
        """Whether a feature is roughed at all."""
        return term.index not in self.features

    def has_floor(self, term: FeatureTerms) -> bool:
        """Whether the floor of a feature is finished for itself."""
        return term.index not in self.features or term.index in self.floors


def feet_of(
    walker: Walker, full: Metal, all_terms: tuple[FeatureTerms, ...], mine: set[int]
) -> Feet:
    """What a square end finds at the feet of walls.

    Parameters
    ----------
    full : Metal
        The block as told by full diameters; the walker's own has the fillets on it.
    """
    feet = [
        term
        for term in all_terms
        if term.index in mine and term.wall_skims and not _wall_left(walker, full, all_terms, term)
    ]
    return Feet(
        frozenset(term.index for term in feet),
        frozenset(term.index for term in feet if _beyond_feet(walker, term)),
    )


def _target(walker: Walker, term: FeatureTerms) -> BaseGeometry:
    ground = walker.bench.ground
    if ground is not None and walker.bench.job.features[term.index].curved:
        return ground.area(term.index)
    return feature_area(walker, term.index)


def _wall_left(
    walker: Walker, full: Metal, all_terms: tuple[FeatureTerms, ...], term: FeatureTerms
) -> bool:
    """Whether full diameters have left more than a scallop that the cutter could take."""
    bench: Bench = walker.bench
    z, floors = floor_left(term), final_floors(all_terms)
    target, thin = _target(walker, term), 2.5 * bench.thin
    if bench.ground is not None and bench.job.features[term.index].curved:
        zone = bench.ground.zone(floors, z, bench.radius)
        short = bench.job.finish.cusp + 2 * bench.grid.resolution
        reach = reachable(zone, bench.radius - short)
        return thick(full.at(z).intersection(target).intersection(reach), bench.thin)
    cells = bench.cells
    walls = cells.rectangles(cells.inner(standing(cells, bench.job, floors, z)))
    return bool(leftover(cells, walls, target, full, z, bench.radius, bench.radius, thin))


def _beyond_feet(walker: Walker, term: FeatureTerms) -> bool:
    """Whether metal stands on a floor farther from its walls than one pass along them takes."""
    bench = walker.bench
    feature = bench.job.features[term.index]
    near = walls_on_floor(bench.job, feature).buffer(bench.use.width_limit)
    rest = walker.metal.at(floor_left(term)).intersection(_target(walker, term))
    return thick(solid(rest.difference(near)), bench.thin)
