"""What is to be proven: the job's finished part and what the plan says it leaves and uses."""

from collections.abc import Collection, Iterable
from math import sqrt

import numpy as np

from passplot.frozen import dataclass
from passplot.proof.curves import Curves, curves
from passplot.proof.forms import corner_of, scallop_of_rings
from passplot.proof.gauge import Floats, Gauge, Mask, gauge_of
from passplot.proof.limits import floor_least, floor_spread
from passplot.proof.part import Part, ground
from passplot.proof.raster import points_inside
from passplot.proof.rows import Row
from passplot.records.job import Feature, Job, KeepOut
from passplot.records.plan import CutterUse, Plan

SQRT2 = 2**0.5


@dataclass(frozen=True, slots=True)
class Block:
    """A keep-out with its outline as curves."""

    keep_out: KeepOut
    outline: Curves

    def clear_of(self, points: Floats, radius: float) -> Mask:
        """Whether a cutter standing at each point is clear of it, in plan view."""
        off = self.outline.to_points(points).min(axis=1)
        clear: Mask = (off >= radius) & ~points_inside(self.keep_out.loop, points)
        return clear


@dataclass(frozen=True, slots=True)
class Here:
    """One setting of several.

    Attributes
    ----------
    walls : ndarray of bool
        Which boundary pieces are finished in it.
    over : frozenset of str
        Features of which other settings cut a part.
    carried : tuple of Row
        What was done before, in the coordinates of this setting.
    start : ndarray or None
        Heights of the map when it begins, None where nothing was done before.
    last : bool
        Whether no other setting follows.
    block : ndarray
        Corners of the raw block, counter-clockwise: shape (4, 2).
    """

    walls: Mask
    over: frozenset[str]
    carried: tuple[Row, ...]
    start: Floats | None
    last: bool
    block: Floats

    def thickness(self, points: Floats, ways: Floats) -> Floats:
        """How far from each point, along its unit vector, the raw block's edge is."""
        run = np.roll(self.block, -1, axis=0) - self.block
        out = np.stack([run[:, 1], -run[:, 0]], axis=1)
        toward = ways @ out.T
        room = ((self.block[None] - points[:, None]) * out[None]).sum(-1)
        ahead = toward > 1e-12 * np.hypot(*out.T)
        some: Floats = np.where(ahead, room / np.where(ahead, toward, 1.0), np.inf).min(axis=1)
        return some


@dataclass(frozen=True, slots=True)
class Case:
    """A job with the promises of its plan.

    Attributes
    ----------
    uses : dict
        Cutters of the plan by id.
    cross_over, stand_off : float
        Z of moves over the work; how far the cutter backs off sideways.
    part, rough, limit : Part
        The part as aimed at; with the floor stock of roughing on it; as small as the limits let
        it be (with the floor stock of roughing where there is any, for ``rough``).
    wall, floor : ndarray
        Stock left by roughing on each feature, in job order.
    wall_left, floor_left : ndarray
        Stock left for good (no skims).
    to_size : dict
        Features that a cutter found no room to leave wall stock on, by cutter, in job order.
    approach : tuple of int or None
        Sense in which positions that matter are reached along X, Y and Z, on dials.
    here : Here or None
        Which setting of several is proven, None where there is one only.
    """

    job: Job
    gauge: Gauge
    uses: dict[str, CutterUse]
    cross_over: float
    stand_off: float
    part: Part
    rough: Part
    limit: Part
    wall: Floats
    floor: Floats
    wall_left: Floats
    floor_left: Floats
    blocks: tuple[Block, ...]
    to_size: dict[str, Mask]
    approach: tuple[int, int, int] | None = None
    here: Here | None = None

    def wall_by(self, cutter: str) -> Floats:
        """Wall stock that a cutter leaves on each feature when it roughs."""
        return np.where(self.to_size[cutter], 0.0, self.wall)

    @property
    def rounding(self) -> float:
        """How far from where it is meant to be rounding both X and Y may leave a point."""
        return SQRT2 * self.gauge.resolution + self.gauge.hair

    @property
    def play(self) -> float:
        """Greatest backlash of the table's screws, where dials are all there is to go by."""
        machine = self.job.shop.machine
        lost = [dial.backlash for axis, dial in machine.dials if axis != "Z"]
        return max(lost, default=0.0) if machine.readout == "dials" else 0.0

    def widest(self, cutter: str) -> float:
        """Width limit of a rough cut: the cutter's own, or less where the job asks for less."""
        own, asked = self.uses[cutter].width_limit, self.job.limits.width_of_cut
        return own if asked is None else min(own, asked)

    def rounded_end(
        self, feature: Feature, cutters: Collection[str], *, rough: bool = False
    ) -> tuple[float, float]:
        """What the form of the cutters of a feature does to its floor.

        Returns
        -------
        float
            Scallop that may stay on it: none where one of them has a square end. Rough passes may
            leave that of rings as far apart as their width of cut, if it is higher.
        float
            How much less than the radius of a cutter its axis must come near a place to leave no
            more than that there: nearer the wall is the fillet, which is unreached. A stepped
            wall's own scallop keeps the axis off it, and the fillet with it.
        """
        mills = [self.uses[name].cutter for name in cutters]
        corner = min(corner_of(mill) for mill in mills)
        if corner == 0:
            return 0.0, 0.0
        cusp = self.job.finish.cusp
        if rough:
            cusp = max(cusp, *(scallop_of_rings(mill, self.widest(mill.id)) for mill in mills))
        cusp = min(cusp, corner)
        short = corner - sqrt(2 * corner * cusp - cusp**2)
        if feature.curved:
            short += self.job.finish.cusp + self.rounding
        return cusp, short

    def sizes(self, cutters: Iterable[str]) -> dict[float, list[str]]:
        """Cutters by radius, the smallest first, each reaching what those before it do not.

        A smaller one gets everywhere that a larger one does; only what leaves less of a fillet
        than every smaller one counts beside it.
        """
        mills = [(self.uses[name].cutter, name) for name in cutters]
        found: dict[float, list[str]] = {}
        least = np.inf
        for mill, name in sorted(mills, key=lambda each: (each[0].radius, corner_of(each[0]))):
            if mill.radius in found or corner_of(mill) < least:
                found.setdefault(mill.radius, []).append(name)
                least = min(least, corner_of(mill))
        return found

    def number(self, feature: str) -> int:
        """Place of a feature in the job."""
        return next(n for n, one in enumerate(self.job.features) if one.name == feature)

    def on_pieces(self, stock: Floats) -> Floats:
        """Wall stock of each boundary piece; of pieces that lie on each other the least."""
        pieces = self.part.ground.pieces
        own = np.where(pieces.owner < 0, 0.0, stock[pieces.owner])
        apart = pieces.middle[:, None, :] - pieces.middle[None, :, :]
        same = (apart**2).sum(-1) < (2 * self.gauge.hair) ** 2
        least: Floats = np.where(same, own[None, :], np.inf).min(axis=1)
        return least

    def floor_slack(self) -> Floats:
        """How far above its middle each floor may end: within its limits, else a step."""
        gauge = self.gauge
        return np.array(
            [
                floor_spread(feature) + gauge.hair
                if feature.depth.toleranced or feature.keyseat is not None
                else gauge.step
                for feature in self.job.features
            ]
        )


def case_of(plan: Plan) -> Case:
    """Gather what the proof may know of a plan: never its moves."""
    job, gauge = plan.job, gauge_of(plan.job)
    stocks = {stock.feature: stock for stock in plan.stocks}
    wall = np.array([stocks[f.name].wall if f.name in stocks else 0.0 for f in job.features])
    floor = np.array([stocks[f.name].floor if f.name in stocks else 0.0 for f in job.features])
    aimed = ground(job, gauge.hair, at_limits=False)
    spread = any(limit.high > limit.low for f in job.features for limit in f.limits)
    most = ground(job, gauge.hair, at_limits=True) if spread else aimed
    floors = np.array([feature.floor for feature in job.features])
    least = np.array([floor_least(feature) for feature in job.features])
    nothing = np.zeros(len(job.features))
    return Case(
        job=job,
        gauge=gauge,
        uses={use.cutter.id: use for use in plan.cutters},
        cross_over=plan.cross_over_z,
        stand_off=plan.stand_off,
        part=Part(aimed, floors),
        rough=Part(most, np.where(floor > 0, floors + floor, least)),
        limit=Part(most, least),
        wall=wall,
        floor=floor,
        wall_left=nothing if job.finish.skims else wall,
        floor_left=nothing if job.finish.floor_skims else floor,
        to_size={
            use.cutter.id: np.array(
                [
                    f.name in stocks and use.cutter.id in stocks[f.name].to_size_by
                    for f in job.features
                ]
            )
            for use in plan.cutters
        },
        blocks=tuple(Block(k, curves(k.loop.edges)) for k in job.keep_outs),
    )
