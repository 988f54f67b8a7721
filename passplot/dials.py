"""Handwheels: which way to turn, how many whole turns, and what the dial then reads.

A screw drives the table through a nut with play. Arriving from the side that the play is always
taken up on (the approach direction), the cutter's axis stands where the screw says; arriving from
the other side it lags by the backlash, and the reading allows for that. Dials read 0 at the zero of
the work, reached in the approach direction. Common practice, no source.
"""

from math import floor

from passplot.frozen import dataclass
from passplot.records.shop import Dial, Machine

HAIR = 1e-6
"""Graduations that a quotient may be off and still be a whole number of them."""


@dataclass(frozen=True, slots=True)
class Mark:
    """Where a dial stands: whole turns since its zero, and the reading, in the dial's own unit.

    ``reading`` is at least 0 and less than a turn.
    """

    turns: int
    reading: float


@dataclass(frozen=True, slots=True)
class Turn:
    """What to do at a handwheel: turn ``cw`` or ``ccw``, whole turns, and on to ``reading``."""

    crank: str
    turns: int
    reading: float


@dataclass(frozen=True, slots=True)
class Wheel:
    """A handwheel as it is read.

    Attributes
    ----------
    axis : str
        ``"X"``, ``"Y"`` or ``"Z"``.
    approach : int
        Sense of the cutter's movement, 1 or -1, in which positions that matter are reached.
    lead, backlash : float
        Travel a turn and lost motion at a reversal, in the dial's own unit.
    step : float
        What the dial is read to: a graduation, or half of one; in the dial's own unit.
    scale : float
        Job units to one of the dial's.
    rises : int
        Sense of the cutter's movement, 1 or -1, in which the dial's numbers grow.
    rising_crank : str
        Which way the wheel is turned then: ``"cw"`` or ``"ccw"``.
    """

    axis: str
    approach: int
    lead: float
    backlash: float
    step: float
    scale: float
    rises: int
    rising_crank: str

    def mark(self, position: float, arrived: int) -> Mark:
        """What the dial shows with the cutter at ``position`` (job units), arrived in that sense.

        Readings are rounded to the dial's step; those of positions on the step are exact.
        """
        screw = position / self.scale
        if arrived != self.approach:
            screw -= self.approach * self.backlash
        count = self.rises * screw
        turns = floor(count / self.lead + HAIR)
        reading = round((count - turns * self.lead) / self.step) * self.step
        if reading >= self.lead - HAIR * self.step:
            turns, reading = turns + 1, 0.0
        return Mark(turns, max(reading, 0.0) + 0.0)

    def turn(self, start: Mark, end: Mark, sense: int) -> Turn:
        """How to go from one mark to the next; ``sense`` is that of the cutter's movement."""
        travel = (end.turns - start.turns) * self.lead + end.reading - start.reading
        rising = self.rises * sense > 0 if abs(travel) < HAIR * self.step else travel > 0
        other = "ccw" if self.rising_crank == "cw" else "cw"
        whole = floor(abs(travel) / self.lead + HAIR)
        return Turn(self.rising_crank if rising else other, whole, end.reading)


def wheel_of(machine: Machine, axis: str, approach: int) -> Wheel | None:
    """The handwheel of an axis of ``machine``; None where the shop file gives no dial for it."""
    dial = machine.dial(axis)
    if dial is None:
        return None
    scale = machine.dial_scale
    plus = dial.crank(1.0, axis)
    rising = "cw" if dial.numbers_rise == "clockwise" else "ccw"
    return Wheel(
        axis=axis,
        approach=approach,
        lead=_clean(dial.per_turn / scale),
        backlash=_clean(dial.backlash / scale),
        step=_clean(reading_step(machine, dial) / scale),
        scale=scale,
        rises=1 if plus == rising else -1,
        rising_crank=rising,
    )


def reading_step(machine: Machine, dial: Dial) -> float:
    """What a dial is read to, job units: a line, or half of one where the shop file says so."""
    return dial.graduation / 2 if machine.half_graduations else dial.graduation


def _clean(value: float) -> float:
    """A length of the shop file, rid of what converting it there and back has left."""
    return round(value, 9)
