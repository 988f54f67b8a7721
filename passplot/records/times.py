"""How long things take."""

from passplot.frozen import dataclass


@dataclass(frozen=True, slots=True)
class PassTime:
    """Seconds of a pass: ``cutting``, and ``handling`` on the way to it."""

    number: int
    cutting: float
    handling: float
