"""How carefully a job is planned."""

from passplot.frozen import dataclass


@dataclass(frozen=True, slots=True)
class Care:
    """How carefully a job is planned. More of it costs passes and time, so least comes first.

    Attributes
    ----------
    width_share : float
        Share of the greatest width of cut that is made use of.
    fine : bool
        Whether round ends of cuts are followed in shorter chords.
    alike : bool
        Whether features that run into one cut to size at once are cut to size with it.
    backwards : bool
        Whether features are taken in the reverse of the job's order.
    """

    width_share: float = 1.0
    fine: bool = False
    alike: bool = False
    backwards: bool = False
