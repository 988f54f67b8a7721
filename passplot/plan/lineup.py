"""Which cutters work which feature, and in which order they go into the spindle."""

from passplot.frozen import dataclass
from passplot.plan.forms import Shape, finishes, form_notes, ribs_to_finish, with_room, working
from passplot.plan.terms import Rules
from passplot.records.job import Job
from passplot.records.shop import Cutter

PerFeature = tuple[tuple[Cutter, ...], ...]


@dataclass(frozen=True, slots=True)
class Lineup:
    """The cutters of a plan.

    Attributes
    ----------
    per_feature : tuple of tuple of Cutter
        Those that work each feature, in the order of the job.
    used : tuple of Cutter
        All of them in the order they go into the spindle.
    notes : tuple of str
        What there is to say of those that were listed and do less than others would.
    """

    per_feature: PerFeature
    used: tuple[Cutter, ...]
    notes: tuple[str, ...]

    @property
    def ids(self) -> list[set[str]]:
        """Ids of the cutters that work each feature."""
        return [{cutter.id for cutter in mine} for mine in self.per_feature]

    def finished_by(self, cutter: Cutter) -> set[int]:
        """Numbers of the features that a cutter takes finish cuts of."""
        return {
            index
            for index, mine in enumerate(self.per_feature)
            if cutter in mine and finishes(cutter, mine)
        }


def listed(job: Job, cutters: tuple[Cutter, ...]) -> PerFeature:
    """The cutters that take part in each feature, as listed."""
    found = []
    for index, feature in enumerate(job.features):
        own = tuple(job.shop.cutter(name) for name in feature.cutters)
        found.append(working(job, index, own or cutters))
    return tuple(found)


def line_up(
    shape: Shape, rules: Rules, cutters: tuple[Cutter, ...], per_feature: PerFeature
) -> Lineup:
    """Decide who works what, roughing cutters without room for their stock left out."""
    job = shape.job
    ribbed = {cutter for mine in per_feature for cutter in mine if ribs_to_finish(job, cutter)}
    uses = {cutter.id: rules.use(job, cutter) for cutter in ribbed}
    kept = tuple(with_room(shape, index, mine, uses) for index, mine in enumerate(per_feature))
    return Lineup(kept, in_order(cutters, kept), form_notes(job, per_feature, kept, uses))


def in_order(cutters: tuple[Cutter, ...], per_feature: PerFeature) -> tuple[Cutter, ...]:
    """Cutters in the order they go into the spindle."""
    rank: dict[str, int] = {}
    for feature in (cutters, *per_feature):
        for place, cutter in enumerate(feature):
            rank[cutter.id] = max(rank.get(cutter.id, 0), place)
    wanted = {cutter.id: cutter for feature in per_feature for cutter in feature}
    return tuple(sorted(wanted.values(), key=lambda cutter: rank[cutter.id]))
