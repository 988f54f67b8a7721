"""What one diagram shows: which metal is gone, which goes now, and by which passes."""

from dataclasses import replace

from passplot.frozen import dataclass
from passplot.records.job import Feature, Job
from passplot.records.plan import CutterUse, EntryHole, Pass, Plan, UncutCorner
from passplot.sheet.groups import Row, Run
from passplot.sheet.tables import Style, style_of

MM_PER_INCH = 25.4


@dataclass(frozen=True, slots=True)
class Scene:
    """The runs of one sheet with the state of the work when they begin.

    ``now`` are the features its passes cut, ``gone`` those roughed on earlier sheets; ``before``
    the earlier passes of the features in ``now`` in the same stage; ``passes`` are those of the
    runs, run by run.
    """

    plan: Plan
    runs: tuple[Run, ...]
    gone: tuple[Feature, ...]
    now: tuple[Feature, ...]
    before: tuple[Pass, ...]
    passes: tuple[Pass, ...]

    @property
    def job(self) -> Job:
        """The job."""
        return self.plan.job

    @property
    def style(self) -> Style:
        """How its numbers are written."""
        return style_of(self.plan.job)

    @property
    def use(self) -> CutterUse:
        """The cutter of its passes, with their feed."""
        use = self.plan.use(self.runs[0].cutter)
        return replace(use, feed=use.finish_feed or use.feed) if self.finishing else use

    @property
    def finishing(self) -> bool:
        """Whether its passes are finish cuts."""
        return bool(self.runs) and self.runs[0].finishing

    @property
    def rows(self) -> tuple[Row, ...]:
        """The rows of all its runs."""
        return tuple(row for run in self.runs for row in run.rows)

    @property
    def mm(self) -> float:
        """Millimetres to a job unit."""
        return MM_PER_INCH if self.job.inch else 1.0

    @property
    def third_angle(self) -> bool:
        """Third-angle projection on inch sheets, first-angle on metric ones."""
        return self.job.inch

    @property
    def lowest(self) -> float:
        """Z of the deepest floor cut here."""
        return min(feature.floor for feature in self.now)

    @property
    def corners(self) -> tuple[UncutCorner, ...]:
        """Corners of its features that keep the cutter's radius."""
        names = {feature.name for feature in self.now}
        return tuple(corner for corner in self.plan.corners if corner.feature in names)

    @property
    def holes(self) -> tuple[EntryHole, ...]:
        """Entry holes of its features, where they are roughed here."""
        if self.finishing:
            return ()
        names = {feature.name for feature in self.now}
        return tuple(hole for hole in self.plan.holes if hole.feature in names)

    def wall_stock(self, feature: str) -> float:
        """Stock that roughing leaves on the walls of a feature."""
        return next((item.wall for item in self.plan.stocks if item.feature == feature), 0.0)


def scenes_of(plan: Plan, sheets: tuple[tuple[Run, ...], ...]) -> tuple[Scene, ...]:
    """The scene of each sheet of passes, in order."""
    features = {feature.name: feature for feature in plan.job.features}
    scenes: list[Scene] = []
    started: list[str] = []
    for runs in sheets:
        names = list(dict.fromkeys(run.feature for run in runs))
        gone = tuple(features[name] for name in started if name not in names)
        first = min(each.number for run in runs for each in run.passes)
        before = tuple(
            each
            for each in plan.passes
            if each.number < first and each.feature in names and each.stage == runs[0].stage
        )
        now = tuple(features[name] for name in names)
        passes = tuple(each for run in runs for each in run.passes)
        scenes.append(Scene(plan, runs, gone, now, before, passes))
        started += [name for name in names if name not in started]
    return tuple(scenes)
