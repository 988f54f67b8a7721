"""Features with slanted or curved walls: rings in their square core, passes, then the walk.

At each level the square core is cleared by rings, the rest by passes side by side clipped to
where the axis may stand, and the wall is then stepped off at its distance.
"""

import shapely
from shapely import Point
from shapely.geometry.base import BaseGeometry

from passplot.frozen import dataclass
from passplot.plan.entry import approach
from passplot.plan.finishing import (
    final_floors,
    floor_left,
    floor_width,
    wall_heights,
)
from passplot.plan.ground import Ground
from passplot.plan.legs import Purpose
from passplot.plan.metal import thick
from passplot.plan.rings import whole
from passplot.plan.rotary import ToSwing, parted, swing_all
from passplot.plan.rough import Levels, level_area, plan_levels, rough_floors
from passplot.plan.round_limits import finish_cusp
from passplot.plan.stage import Cutting, clear_area, feature_area
from passplot.plan.stepping import Wall, begun, sharp_corners, snapped, step_off
from passplot.plan.sweeps import sweep_pieces, thick_pieces
from passplot.plan.terms import FeatureTerms, Rules
from passplot.plan.walk import Way, follow, widest_ahead
from passplot.plan.walker import Task, Walker
from passplot.plan.zones import SLACK, solid
from passplot.records import plan as names
from passplot.records.shapes import Arc

Floors = tuple[float, ...]

_LEAST, _MOST = 0.3, 0.8
"""Shares of the width of cut between which what is left for the walk is kept."""


@dataclass(frozen=True, slots=True)
class Curved:
    """One feature with slanted or curved walls, worked by one cutter."""

    walker: Walker
    ground: Ground
    all_terms: tuple[FeatureTerms, ...]
    terms: FeatureTerms

    @property
    def target(self) -> BaseGeometry:
        """What the feature clears."""
        return self.ground.area(self.terms.index)

    def rough(self, rules: Rules) -> Levels:
        """Rough level by level; returns the levels and the width of cut."""
        walker, terms = self.walker, self.terms
        floors = rough_floors(self.all_terms)
        walker.floors = floors
        top = walker.metal.highest(self.target)
        if top is None or top <= terms.rough_z + walker.bench.thin:
            return Levels((terms.rough_z,), 0.0)
        levels = plan_levels(walker, rules, top, terms.rough_z)
        width = levels.width or walker.bench.use.width_limit
        if self._roughed_before():
            return levels
        count = len(levels.heights)
        above = top
        for number, z in enumerate(levels.heights, 1):
            walker.task = Task(terms.name, names.ROUGH, number, count)
            self._clear(floors, z, "width", "slot", width, terms.wall)
            self._walk_down(floors, above, z, width)
            above = z
        return levels

    def _roughed_before(self) -> bool:
        """Whether a cutter before this one has left no more than its stock and a scallop on it."""
        walker, terms, bench = self.walker, self.terms, self.walker.bench
        zone = self._zone(walker.floors, terms.rough_z, bench.radius + terms.wall)
        short = bench.job.finish.cusp + 2 * bench.grid.resolution
        reach = zone.buffer(bench.radius - short, quad_segs=24)
        return not thick(
            walker.metal.at(terms.rough_z).intersection(self.target).intersection(reach), bench.thin
        )

    def finish_floor(self) -> None:
        """Take the floor stock off, all but what the wall's skims take along."""
        walker, terms = self.walker, self.terms
        floors = final_floors(self.all_terms)
        for skim in range(1, terms.floor_skims + 1):
            share = terms.floor * (1 - skim / terms.floor_skims)
            z = walker.bench.grid.up(terms.floor_z + share)
            walker.floors = floors
            walker.task = Task(terms.name, names.FINISH, skim, terms.floor_skims)
            width = floor_width(walker, terms, closed=True)
            self._clear(floors, z, "floor", "floor", width, terms.wall)
            if not terms.wall_skims:
                self._walk(floors, z, "floor", terms.wall)

    def finish_wall(self) -> None:
        """Skim the wall in equal shares."""
        walker, terms = self.walker, self.terms
        floors = final_floors(self.all_terms)
        walker.floors = floors
        z = floor_left(terms)
        swung: list[ToSwing] = []
        for skim in range(1, terms.wall_skims + 1):
            top = walker.metal.highest(self.target)
            if top is None or top <= z + walker.bench.thin:
                break
            heights = wall_heights(walker, z, top)
            for number, height in enumerate(heights, 1):
                walker.task = Task(terms.name, names.FINISH, number, len(heights))
                stock = terms.wall * (1 - skim / terms.wall_skims)
                swung += self._walk(floors, height, "wall", stock, later=True)
        swing_all(walker, swung)

    def left(self, z: float, width: float) -> list[BaseGeometry]:
        """Metal still there that the cutter could sweep."""
        walker = self.walker
        zone = self.ground.zone(walker.floors, z, walker.bench.radius + self.terms.wall)
        return thick_pieces(walker, self.target, zone, z, width)

    def _clear(
        self, floors: Floors, z: float, name: str, slot_name: str, width: float, wall: float
    ) -> None:
        """Rings in the square core, then passes clipped to the zone."""
        walker, terms = self.walker, self.terms
        bench = walker.bench
        cells, base = bench.cells, bench.radius + wall
        core: BaseGeometry = shapely.Polygon()
        if cells.clears[terms.index].any():
            how = Cutting(name, slot_name, width, base, wall == 0.0, ())
            area = level_area(walker, self.all_terms, terms, floors, z)
            core = feature_area(walker, terms.index)
            clear_area(walker, area, solid(core.intersection(self.target)), z, how)
        zone = self._zone(floors, z, base)
        purpose = Purpose(name, slot_name, width, zone, self.target)
        share = self._left_for_walk(floors, z, base)
        # rings leave the wall stock, and what rounding adds, round the core
        cleared = core.buffer(-wall - 2 * bench.grid.setting, join_style="mitre")
        sweep_pieces(walker, self.target, zone, z, purpose, share, cleared)

    def _left_for_walk(self, floors: Floors, z: float, by: float) -> float:
        """Share of the width of cut that may be left for the walk.

        On an inside curve of radius R the cutter runs at R less its distance from the wall, and
        cuts wider than the metal is thick by the ratio of the two.
        """
        ratios = [
            (edge.radius - by) / edge.radius
            for chain in self.ground.chains(floors, z)
            for edge in chain.edges
            if isinstance(edge, Arc) and not edge.ccw and edge.radius > by
        ]
        return min(_MOST, max(_LEAST, 0.9 * min(ratios, default=1.0)))

    def _zone(self, floors: Floors, z: float, base: float) -> BaseGeometry:
        return self.walker.bench.clear_of_obstacles(self.ground.zone(floors, z, base), z)

    def _walk_down(self, floors: Floors, above: float, z: float, width: float) -> None:
        """Walk at a level; at once, or in levels of a slot where a narrow place is still full."""
        walker, terms = self.walker, self.terms
        zone = self._zone(floors, z, walker.bench.radius + terms.wall)
        heights = [z]
        if thick_pieces(walker, self.target, zone, z, width):
            count = max(1, whole((above - z) / walker.bench.use.slot_depth_limit))
            up = walker.bench.grid.up
            heights = [up(above - (above - z) * level / count) for level in range(1, count)] + [z]
        for height in heights:
            self._into_corners(floors, height, zone)
            for more in self._before(floors, height, width):
                self._walk(floors, height, "width", terms.wall + more)
            self._walk(floors, height, "width", terms.wall)

    def _before(self, floors: Floors, z: float, width: float) -> list[float]:
        """How much farther off walks are needed first, where a single one would cut too wide."""
        walker, terms = self.walker, self.terms
        if walker.bench.job.features[terms.index].rotary:
            return []
        wall = self._wall(floors, z, walker.bench.radius + terms.wall)
        widest = max(
            (
                widest_ahead(walker, stretch, z)
                for chain in self.ground.offsets(floors, z, wall.by)
                for stretch in step_off(chain, wall, walker.bench.left, apart=True)
            ),
            default=0.0,
        )
        count = whole(widest / width)
        if widest <= width + walker.bench.grid.resolution or count < 2:
            return []
        return [widest * share / count for share in range(count - 1, 0, -1)]

    def _into_corners(self, floors: Floors, z: float, zone: BaseGeometry) -> None:
        """Open sharp corners first: a walk into one meets the metal of the other wall too."""
        walker = self.walker
        by = walker.bench.radius + self.terms.wall
        wall = self._wall(floors, z, by)
        allowed = zone.buffer(5 * SLACK)
        for at in sharp_corners(self.ground.offsets(floors, z, by)):
            spot = snapped(at, wall)
            if allowed.covers(Point(spot)) and not walker.stands_free(spot, z):
                approach(walker, spot, z, (0, 0), allowed)

    def _wall(self, floors: Floors, z: float, by: float) -> Wall:
        bench = self.walker.bench
        cusp = bench.job.finish.cusp
        if by <= bench.radius + SLACK:  # the wall comes out here
            cusp = finish_cusp(bench.job.features[self.terms.index], cusp, bench.grid)
        return Wall(self.ground.distances(floors, z), by, bench.radius, cusp, bench.grid)

    def _walk(
        self, floors: Floors, z: float, purpose: str, stock: float, later: bool = False
    ) -> list[ToSwing]:
        """Step along every wall of the feature at a distance; returns arcs to be swung ``later``.

        Skims of one arc are swung one after the other: the work is set on the table once for all.
        """
        walker = self.walker
        bench = walker.bench
        by = bench.radius + stock
        zone = self._zone(floors, z, by).buffer(5 * SLACK)
        wall, way = self._wall(floors, z, by), Way(zone, self.target)
        chains = self.ground.offsets(floors, z, by)
        stepped, swung = parted(bench.job.features[self.terms.index], chains, by)
        for chain in stepped:
            stretches = step_off(chain, wall, bench.left, apart=purpose == "width")
            if len(stretches) > 1:
                # each wall before the one that runs into its start: there is no metal of the
                # next wall left to meet then; of the first, the start only
                opening = begun(stretches[0], 2 * bench.radius)
                stretches = [*opening, *reversed(stretches)]
            for stretch in stretches:
                follow(walker, stretch, z, purpose, way)
        arcs = [ToSwing(arc, wall, z, purpose, way, walker.task) for arc in swung]
        if not later:
            swing_all(walker, arcs)
        return arcs if later else []
