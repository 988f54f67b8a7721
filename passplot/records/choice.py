"""What a feature needs of a cutter, and how the cutters of a crib are judged for it."""

from math import inf

from passplot.frozen import dataclass

CHOSEN, WOULD_DO, NO = "chosen", "would do", "no"


@dataclass(frozen=True, slots=True)
class Needs:
    """What a feature asks of a cutter, job units.

    ``narrowest`` is the narrowest gap between walls along X or Y, None where there is none or the
    walls are curved; ``inside_radius`` the tightest written; ``misfits`` say, by cutter, what
    keeps it out.
    """

    feature: str
    kind: str
    depth: float
    area: float
    narrowest: float | None
    inside_radius: float | None
    misfits: tuple[tuple[str, tuple[str, ...]], ...]

    def misfit(self, cutter: str) -> tuple[str, ...]:
        """What keeps that cutter out; empty where it fits."""
        return next((why for name, why in self.misfits if name == cutter), ())


@dataclass(frozen=True, slots=True)
class Judged:
    """A cutter judged for a feature; the numbers are those of its widest rough pass.

    ``seconds_per_turn`` by axis; ``deflection`` in job units, ``power_hp`` at the cutter,
    ``motor_hp`` at the motor. ``grades`` sort: smaller is better. ``minutes`` are those of
    roughing, infinite where the motor drives nothing; ``roughs`` whether it can rough ahead of
    another that finishes.
    """

    cutter: str
    verdict: str
    reasons: tuple[str, ...]
    spindle_speed: float
    feed: float
    seconds_per_turn: tuple[tuple[str, float | None], ...]
    width: float
    depth: float
    deflection: float
    power_hp: float
    motor_hp: float
    grades: tuple[float, ...]
    minutes: float = inf
    roughs: bool = False


@dataclass(frozen=True, slots=True)
class FeatureChoice:
    """A feature with every cutter of the crib, the one to pick up first."""

    needs: Needs
    cutters: tuple[Judged, ...]

    @property
    def chosen(self) -> str | None:
        """The cutter chosen; None where none will do."""
        return next((one.cutter for one in self.cutters if one.verdict == CHOSEN), None)

    def of(self, cutter: str) -> Judged:
        """That cutter as judged."""
        return next(one for one in self.cutters if one.cutter == cutter)


@dataclass(frozen=True, slots=True)
class Crew:
    """The cutters for a whole job: for each feature those that cut it, the first to rough.

    ``features`` are names with ids; ``why`` is why there is more than one, else empty.
    """

    features: tuple[tuple[str, tuple[str, ...]], ...]
    why: str = ""

    @property
    def cutters(self) -> tuple[str, ...]:
        """All of them once, in the order of their first use."""
        return tuple(dict.fromkeys(name for _, mine in self.features for name in mine))

    @property
    def alike(self) -> bool:
        """Whether all features are cut with the same."""
        return len({mine for _, mine in self.features}) <= 1
