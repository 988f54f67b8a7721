"""Which cutters go into the spindle for a whole job: one if it can be, two where that saves time.

Each change of cutter costs a stop, a collet, a new touch-off of Z. One cutter that does the whole
job comes first, then; another joins it only where it saves far more time than the change takes: a
larger one, or a roughing cutter, that roughs ahead of the one that finishes; a face mill for faces.
"""

from collections.abc import Iterable
from math import inf

from passplot.frozen import dataclass
from passplot.records.choice import NO, Crew, FeatureChoice, Judged

# Common practice, no source: to change a cutter and touch it off, and what must be saved besides.
CHANGE_MINUTES, WORTH_MINUTES = 5.0, 5.0
_CORNERS = 0.15
"""Share of its roughing left to a cutter that another has roughed for: the corners."""


@dataclass(frozen=True, slots=True)
class _Costed:
    """Cutters for a job with the minutes of roughing and changing they come to."""

    features: tuple[tuple[str, tuple[str, ...]], ...]
    minutes: float

    @property
    def crew(self) -> Crew:
        return Crew(self.features)


def crews(choices: tuple[FeatureChoice, ...]) -> tuple[Crew, ...]:
    """The cutters that might do a whole job, those to try first at the front.

    Parameters
    ----------
    choices : tuple of FeatureChoice
        The features that name no cutter themselves, each with the crib judged for it.

    Returns
    -------
    tuple of Crew
        Two cutters where they are worth the change, then every one that does all alone, the best
        first; where none does, two that do together, or each feature's own choice. Empty where
        some feature has no cutter at all.
    """
    if not choices or any(each.chosen is None for each in choices):
        return ()
    singles = [_costed(choices, (name,)) for name in _alone(choices)]
    alone = [found for found in singles if found is not None]
    if not alone:
        return _together(choices)
    first = alone[0]
    pair = _best(_costed(choices, (other, first.crew.cutters[0])) for other in _ids(choices))
    found = [each.crew for each in alone]
    if pair is not None and first.minutes - pair.minutes >= WORTH_MINUTES:
        saved = first.minutes - pair.minutes
        why = f"it saves about {saved:.0f} min, the change counted"
        found.insert(0, Crew(pair.features, why))
    return tuple(found)


def _together(choices: tuple[FeatureChoice, ...]) -> tuple[Crew, ...]:
    """Where no cutter does all: the two that do it together quickest, then each its own."""
    why = "no one cutter does it all"
    ids = _ids(choices)
    pair = _best(_costed(choices, (a, b)) for a in ids for b in ids if a != b)
    own = Crew(tuple((each.needs.feature, (each.chosen or "",)) for each in choices), why)
    if pair is None or pair.features == own.features:
        return (own,)
    return (Crew(pair.features, why), own)


def _costed(choices: tuple[FeatureChoice, ...], names: tuple[str, ...]) -> _Costed | None:
    """The quickest way to share a job among some cutters; None where they do not do it all.

    The last finishes what an earlier one roughs.
    """
    features = []
    total = 0.0
    for each in choices:
        minutes, mine = _quickest(each, names)
        if minutes == inf:
            return None
        total += minutes
        features.append((each.needs.feature, mine))
    used = {name for _, mine in features for name in mine}
    if len(used) < len(names):
        return None  # the same job with fewer is another entry
    return _Costed(tuple(features), total + CHANGE_MINUTES * (len(used) - 1))


def _quickest(choice: FeatureChoice, names: tuple[str, ...]) -> tuple[float, tuple[str, ...]]:
    """Minutes of roughing a feature with those of some cutters that do it quickest."""
    judged = [choice.of(name) for name in names]
    ways: list[tuple[float, tuple[str, ...]]]
    ways = [(one.minutes, (one.cutter,)) for one in judged if one.verdict != NO]
    *ahead, last = judged
    if last.verdict != NO:
        ways += [
            (one.minutes + _CORNERS * last.minutes, (one.cutter, last.cutter))
            for one in ahead
            if one.verdict != NO or one.roughs
        ]
    return min(ways, key=lambda way: way[0], default=(inf, ()))


def _alone(choices: tuple[FeatureChoice, ...]) -> list[str]:
    """Cutters that do every feature, each standing where its worst feature puts it."""
    worst: dict[str, tuple[float, ...]] = {}
    for name in _ids(choices):
        mine: list[Judged] = [each.of(name) for each in choices]
        if all(one.verdict != NO for one in mine):
            worst[name] = tuple(max(row) for row in zip(*(m.grades for m in mine), strict=True))
    return sorted(worst, key=lambda name: (worst[name], name))


def _ids(choices: tuple[FeatureChoice, ...]) -> list[str]:
    return sorted(one.cutter for one in choices[0].cutters)


def _best(costed: Iterable[_Costed | None]) -> _Costed | None:
    found = [each for each in costed if each is not None]
    return min(found, key=lambda each: each.minutes, default=None)
