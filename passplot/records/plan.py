"""A plan: hand movements row by row, and the passes they make up. Job units throughout."""

from __future__ import annotations

from itertools import pairwise
from math import radians
from typing import TYPE_CHECKING

from passplot.frozen import dataclass
from passplot.records.fillet import Fillet
from passplot.records.job import Job
from passplot.records.shapes import Point
from passplot.records.shop import Cutter
from passplot.records.times import PassTime

if TYPE_CHECKING:
    from passplot.records.set_over import SetOver

# Names of the moves table; the contract of the file with other people's programs.
POSITION, PLUNGE, CUT, RETURN, RETRACT = "position", "plunge", "cut", "return", "retract"
ROUGH, FINISH, HOLES = "rough", "finish", "holes"


@dataclass(frozen=True, slots=True)
class Move:
    """One row: a movement of one axis by hand.

    ``x``, ``y``, ``z`` are where the cutter's axis and tip stand after the row, rounded to the
    readout. ``axis`` is empty in the first row of a cutter, which only states where it stands.
    ``number`` is the pass it belongs to, None for moves that belong to none. ``turns`` and
    ``dial`` are whole turns of the handwheel and the reading it ends at, in the dial's own unit,
    where the plan is made for dials. ``angle`` is that of a rotary table after a row of axis
    ``C``, else None (see ``Turn``).
    """

    row: int
    setup: str
    feature: str
    cutter: str
    stage: str
    move: str
    x: float
    y: float
    z: float
    axis: str = ""
    both_ways: float = 0.0
    width_of_cut: float = 0.0
    depth_of_cut: float = 0.0
    feed: float | None = None
    number: int | None = None
    drill_diameter: float | None = None
    crank: str = ""
    turns: int | None = None
    dial: float | None = None
    angle: float | None = None


@dataclass(frozen=True, slots=True)
class Steps:
    """A wall stepped off: settings of the axis along it, in the order they are reached.

    Attributes
    ----------
    points : tuple of Point
        Where the cutter's axis stops; the first is reached before the pass begins to cut.
    first_axes : tuple of str
        For each point after the first, the axis that is moved first: ``"X"`` or ``"Y"`` (the
        only one where the other does not change).
    scallops : tuple of (str, float)
        The true scallop left, greatest of each form of wall: ``"straight"``, ``"convex"`` (the
        part bulges towards the cutter), ``"concave"``.
    """

    points: tuple[Point, ...]
    first_axes: tuple[str, ...]
    scallops: tuple[tuple[str, float], ...]

    @property
    def settings(self) -> int:
        """How often a handwheel is set on the way from the first point to the last."""
        return sum((a.x != b.x) + (a.y != b.y) for a, b in pairwise(self.points))

    @property
    def scallop(self) -> float:
        """Greatest scallop left."""
        return max((height for _, height in self.scallops), default=0.0)


@dataclass(frozen=True, slots=True)
class Turn:
    """An arc cut by turning a rotary table whose axis stands on the arc's centre.

    Angles are degrees of the cutter about the work, counter-clockwise seen from above, 0 where the
    cutter's axis lies in +X of the centre (the sense of +C; ISO 841, from memory). The table turns
    the other way. They run on past a whole turn.

    Attributes
    ----------
    center : Point
        Of the arc, job coordinates.
    reading : Point
        What the readout is set to with the table's axis under the spindle: the nearest it shows.
    setting : Point
        Where the cutter's axis is set at angle 0 (or whole turns), as the readout shows it.
    start, end : float
        Angle before and after the cut.
    settings : int
        How often a handwheel would be set to step the arc off instead.
    """

    center: Point
    reading: Point
    setting: Point
    start: float
    end: float
    settings: int

    @property
    def radius(self) -> float:
        """Distance of the cutter's axis from the table's, as set along X."""
        return self.setting.x - self.center.x

    @property
    def swing(self) -> float:
        """Degrees turned, positive where the cutter goes counter-clockwise round the work."""
        return self.end - self.start

    @property
    def whole(self) -> bool:
        """Whether it goes once round."""
        return abs(self.swing) >= WHOLE_TURN


WHOLE_TURN = 360.0
"""Degrees."""


@dataclass(frozen=True, slots=True)
class Pass:
    """One straight line of cutting, or one stepped wall, as numbered on the diagram.

    Attributes
    ----------
    number : int
        1, 2, 3, … in order.
    purpose : str
        ``"slot"`` (into the full), ``"width"`` (an ordinary roughing pass), ``"floor"``,
        ``"wall"`` (a finish skim), ``"spring"`` (a skim repeated without moving in).
    start, end : Point
        Where the cutter's axis starts and stops; both lie on one line along X or Y.
    start_clear, end_clear : bool
        Whether the cutter is off the stock there ("until clear").
    z : float
        Tip height. ``level``/``levels``: which depth level of the feature, from 1, of how many.
    row : int
        The ``cut`` row of the moves table; the first one of a stepped wall.
    steps : Steps or None
        The points of a stepped wall; then ``start`` and ``end`` need not lie on a line.
    turn : Turn or None
        The arc of a pass on a rotary table; likewise.
    """

    number: int
    feature: str
    cutter: str
    stage: str
    purpose: str
    start: Point
    end: Point
    start_clear: bool
    end_clear: bool
    z: float
    level: int
    levels: int
    width_of_cut: float
    depth_of_cut: float
    both_ways: float
    row: int
    steps: Steps | None = None
    turn: Turn | None = None

    @property
    def axis(self) -> str:
        """The axis that is fed."""
        if self.turn is not None:
            return "C"
        return "X" if self.start.y == self.end.y else "Y"

    @property
    def straight(self) -> bool:
        """Whether it is one line along X or Y."""
        return self.steps is None and self.turn is None

    @property
    def length(self) -> float:
        """Length fed, along X and Y or round an arc."""
        if self.turn is not None:
            return abs(radians(self.turn.swing)) * self.turn.radius
        if self.steps is not None:
            points = self.steps.points
            return sum(abs(b.x - a.x) + abs(b.y - a.y) for a, b in pairwise(points))
        return abs(self.end.x - self.start.x) + abs(self.end.y - self.start.y)


@dataclass(frozen=True, slots=True)
class UncutCorner:
    """An inside corner that keeps the cutter's radius: where, its radius, the area left."""

    feature: str
    at: Point
    radius: float
    area: float


@dataclass(frozen=True, slots=True)
class CutterUse:
    """A cutter of the plan with what was decided for it.

    ``speed_rpm`` (the spindle step to set), ``feed`` (job units a minute). ``wall``, ``floor``
    are the stock left by roughing; ``width_limit``, ``depth_limit``, ``slot_depth_limit``
    what a rough pass may take. ``feed`` is that of rough passes; ``finish_feed`` and
    ``slot_feed`` (into the full) are 0 where they are no other. ``power_hp`` at the cutter and
    ``motor_hp``, ``deflection`` of the tip, ``wall_error`` (positive into the part) and
    ``torque_lbf_in`` are those of the widest rough pass. ``fluid`` is what the cut wants,
    ``advice`` sentences for the operator.
    """

    cutter: Cutter
    speed_rpm: float
    cutting_speed: float
    feed: float
    wall: float
    floor: float
    width_limit: float
    depth_limit: float
    slot_depth_limit: float
    sources: tuple[str, ...] = ()
    finish_feed: float = 0.0
    slot_feed: float = 0.0
    power_hp: float | None = None
    motor_hp: float | None = None
    deflection: float | None = None
    wall_error: float | None = None
    torque_lbf_in: float | None = None
    fluid: str = ""
    advice: tuple[str, ...] = ()

    def feed_of(self, stage: str, purpose: str) -> float:
        """Feed of a cut: finish passes and cuts into the full have their own."""
        slot = self.slot_feed if purpose == "slot" else 0.0
        return (self.finish_feed if stage == FINISH else slot) or self.feed


@dataclass(frozen=True, slots=True)
class FeatureStock:
    """What roughing leaves on a feature: wall and floor stock, 0 where it is cut to size.

    ``wall_left``, ``floor_left`` are what stays on for good (skims = 0). ``width_limit`` is the
    width of cut its rough passes were planned with; ``to_size`` says that there was no room for
    wall stock, ``to_size_by`` which cutters found none (a smaller one after a larger may).
    """

    feature: str
    wall: float
    floor: float
    wall_left: float = 0.0
    floor_left: float = 0.0
    width_limit: float = 0.0
    to_size: bool = False
    to_size_by: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class EntryHole:
    """A hole to drill before a closed pocket is entered.

    ``depth`` counts from the top of the work to the drill's point, which stays above the floor.
    """

    feature: str
    at: Point
    diameter: float
    point_z: float


@dataclass(frozen=True, slots=True)
class Hole:
    """A hole of a pattern: ``number`` in the order gone to, ``printed`` in that of the print.

    ``at`` is what the readout shows there; ``row`` the row that ends there.
    """

    number: int
    printed: int
    at: Point
    row: int


@dataclass(frozen=True, slots=True)
class PatternUse:
    """A pattern of holes in the order it is gone over with a cutter.

    ``cranked`` is the way from hole to hole, X and Y together, from where the spindle stands
    before; ``as_printed`` what it would be in the order of the print.
    """

    feature: str
    cutter: str
    holes: tuple[Hole, ...]
    cranked: float
    as_printed: float


@dataclass(frozen=True, slots=True)
class Plan:
    """A whole plan.

    ``cross_over_z`` is the height at which moves over the work go. ``lower_bound`` is the area to
    clear ÷ width of cut summed over levels, the least cutting length any rough plan could have.
    ``unreached_area`` is the plan-view area inside the features that no cutter of the plan could
    sweep. ``notes`` are sentences for the sheet; ``patterns`` the patterns of holes in order.
    ``approach`` is the sense of the cutter's movement, 1 or -1, in which positions that matter are
    reached along X, Y and Z, where the plan is made for dials. ``over`` are the settings with the
    work set over, in order; ``moves`` and ``passes`` hold theirs too, after the straight work.
    ``times`` are those of the passes.
    """

    job: Job
    cutters: tuple[CutterUse, ...]
    moves: tuple[Move, ...]
    passes: tuple[Pass, ...]
    stocks: tuple[FeatureStock, ...]
    corners: tuple[UncutCorner, ...]
    holes: tuple[EntryHole, ...]
    cross_over_z: float
    stand_off: float
    lower_bound: float
    unreached_area: float
    notes: tuple[str, ...]
    patterns: tuple[PatternUse, ...] = ()
    fillets: tuple[Fillet, ...] = ()
    approach: tuple[int, int, int] | None = None
    over: tuple[SetOver, ...] = ()
    times: tuple[PassTime, ...] = ()

    def use(self, cutter: str) -> CutterUse:
        """The use of the cutter with that id."""
        return next(use for use in self.cutters if use.cutter.id == cutter)
