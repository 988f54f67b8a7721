"""A setting with the work set over, as a plan of its own. Job units throughout."""

from passplot.frozen import dataclass
from passplot.records.plan import Plan


@dataclass(frozen=True, slots=True)
class TurnedWall:
    """A wall of a feature in the turned system: it stands at ``at`` of ``axis``, X or Y."""

    feature: str
    axis: str
    at: float


@dataclass(frozen=True, slots=True)
class SetOver:
    """A setting with the work turned, so that slanted walls lie along X or Y.

    The turned system has the job's own X0 Y0 Z0, turned about it with the work.

    Attributes
    ----------
    setup : str
        As the moves table names it.
    angle : float
        Degrees the work is turned, counter-clockwise positive seen from above, -45 to 45.
    features : tuple of str
        Features whose slanted walls are cut here.
    plan : Plan
        What is done in the setting: its job, moves and passes, all in the turned system.
    settings : int
        How often a handwheel is set for the passes along the slanted walls.
    stepping : int
        About how many settings of a handwheel stepping these walls off would take.
    bar, stack : float
        Length of the sine bar between its rolls, and what is stacked under one of them for the
        angle (job units).
    walls : tuple of TurnedWall
        Where the slanted walls stand now.
    """

    setup: str
    angle: float
    features: tuple[str, ...]
    plan: Plan
    settings: int
    stepping: int
    bar: float = 0.0
    stack: float = 0.0
    walls: tuple[TurnedWall, ...] = ()
