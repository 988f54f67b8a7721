"""The printed turns and readings cranked through screws with play, and where the cutter ends up.

A screw drives the table through a nut with play: the table follows once the play is gone. The
play differs along a worn screw, so every amount from none to the shop file's is taken. Where a
position matters the cutter must stand where the table says whatever the play; elsewhere it may lag
by it, and even then it must not enter the finished part.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import inf

from passplot.proof.case import Case
from passplot.proof.clear import gouges
from passplot.proof.rows import Row
from passplot.records.plan import CUT, HOLES, PLUNGE, POSITION
from passplot.records.proof import Finding
from passplot.records.shop import Dial, Machine

CRANK, DIAL, LANDING, TAKE_UP, PLAY_GOUGE = "crank", "dial", "landing", "take-up", "gouge with play"

SHARES = (0.0, 0.5, 1.0)
"""Of the shop file's backlash: how much play the screws are given."""

CUTTER_PLUS = {"table left", "table out", "knee down"}
"""What the table does when the cutter moves to +X, +Y, +Z of the work (ISO 841)."""

HAIR_LINES = 1e-3  # of a line of the dial: what reading back decimal text may be out by


class Screw:
    """A screw, its nut and its dial, all in job units.

    ``screw`` is how far it has been turned, as travel of the cutter; the nut stands between it
    and a play's width behind it. ``sense`` is that of the last movement.
    """

    def __init__(
        self, axis: int, dial: Dial, approach: int, machine: Machine, share: float
    ) -> None:
        self.axis = axis
        self.dial = dial
        self.approach = approach
        self.line = dial.graduation / (2 if machine.half_graduations else 1)
        self.scale = machine.dial_scale
        self.play = share * dial.backlash
        self.screw = self.nut = self.reading = 0.0
        self.sense = approach

    @property
    def rising(self) -> int:
        """Sense of the cutter in which the numbers grow."""
        clockwise = 1 if self.dial.clockwise in CUTTER_PLUS else -1
        return clockwise if self.dial.numbers_rise == "clockwise" else -clockwise

    def set_at(self, position: float) -> None:
        """Stand at a position that was arrived at in the approach direction."""
        self.screw = self.nut = position
        self.reading = (self.rising * position) % self.dial.per_turn
        self.sense = self.approach

    def crank(self, way: str, turns: int, reading: float) -> None:
        """Turn whole turns and on to a reading of the dial (in the dial's own unit)."""
        lead = self.dial.per_turn
        clockwise = 1 if self.dial.clockwise in CUTTER_PLUS else -1
        sense = clockwise if way == "cw" else -clockwise
        shown = reading * self.scale
        part = (sense * self.rising * (shown - self.reading)) % lead
        if lead - part < HAIR_LINES * self.line:
            part = 0.0  # the same reading, but for the decimals it was written with
        self.screw += sense * (turns * lead + part)
        self.reading, self.sense = shown, sense
        low, high = sorted((self.screw, self.screw + self.approach * self.play))
        self.nut = min(max(self.nut, low), high)


def screws(case: Case, rows: Sequence[Row]) -> list[Finding]:
    """Everything that the turns and readings of a table get wrong."""
    if case.approach is None:
        return []
    found = list(_written(case, rows))
    if found:
        return found
    for share in SHARES:
        played = _Played(case, rows, share)
        found += played.findings
        slack = played.slack
        limit = case.gauge.hair + slack
        worst, gouged = gouges(case, played.rows)
        if worst > limit:
            found += [
                Finding(PLAY_GOUGE, one.row, f"with {share:.0%} of the backlash {one.text}")
                for one in gouged
            ]
    return list({(one.name, one.row): one for one in reversed(found)}.values())


def _written(case: Case, rows: Sequence[Row]) -> Iterator[Finding]:
    """Cells that do not say what to turn, or that no dial can show."""
    for row in rows:
        if row.first:
            continue
        dial = case.job.shop.machine.dial(row.axis)
        if dial is None:
            continue
        if row.crank not in ("cw", "ccw") or row.turns is None or row.dial is None:
            yield Finding(CRANK, row.index, "the row does not say what to turn and how far")
        elif not 0 <= row.dial < dial.per_turn / case.job.shop.machine.dial_scale:
            yield Finding(DIAL, row.index, f"no dial reads {row.dial:g}")


class _Played:
    """A table cranked through screws that all have a share of their backlash as play."""

    def __init__(self, case: Case, rows: Sequence[Row], share: float) -> None:
        machine = case.job.shop.machine
        assert case.approach is not None
        self.case = case
        self.share = share
        self.slack = 0.0
        self.findings: list[Finding] = []
        self.screws = [
            Screw(number, dial, approach, machine, share)
            for number, (axis, approach) in enumerate(zip("XYZ", case.approach, strict=True))
            if (dial := machine.dial(axis)) is not None
        ]
        self.rows = tuple(self._done(list(rows)))
        self.findings += self._held(rows)

    def _done(self, rows: list[Row]) -> Iterator[Row]:
        """The rows with the places where the cutter really went."""
        start = rows[0].end
        for row in rows:
            if row.first:
                for screw in self.screws:
                    screw.set_at(row.end[screw.axis])
                start = row.end
            else:
                self._crank(row)
            self._check(row)
            end = self._place(row.end)
            yield replace(row, start=end if row.first else start, end=end)
            start = end

    def _crank(self, row: Row) -> None:
        for screw in self.screws:
            if "XYZ"[screw.axis] == row.axis:
                assert row.turns is not None
                assert row.dial is not None
                screw.crank(row.crank, row.turns, row.dial)

    def _place(self, planned: tuple[float, float, float]) -> tuple[float, float, float]:
        place = list(planned)
        for screw in self.screws:
            place[screw.axis] = screw.nut
        return place[0], place[1], place[2]

    def _check(self, row: Row) -> None:
        """Where the row says, within half a line, and within the play where that may be left."""
        if row.first:
            return
        for screw in self.screws:
            name = "XYZ"[screw.axis]
            off = abs(screw.nut - row.end[screw.axis])
            half = screw.line / 2 + self.case.gauge.hair
            held = self._matters(row, name)
            if off > half + (0.0 if held else screw.dial.backlash):
                self.findings.append(
                    Finding(
                        LANDING,
                        row.index,
                        f"with {self.share:.0%} of the backlash {name} comes to "
                        f"{screw.nut:.4f}, the row says {row.end[screw.axis]:.4f}",
                    )
                )
            elif held and screw.sense != screw.approach:
                self.findings.append(
                    Finding(
                        TAKE_UP,
                        row.index,
                        f"{name} is held, but was not reached in its approach direction",
                    )
                )
            elif held:
                self.slack = max(self.slack, off)

    def _matters(self, row: Row, name: str) -> bool:
        """Whether an axis has to stand where it is meant to, whatever the play."""
        return row.move in (CUT, PLUNGE) and row.axis != name

    def _held(self, rows: Sequence[Row]) -> Iterator[Finding]:
        """Holes: whichever row ends over one must have arrived there."""
        half = self.case.gauge.resolution / 2 + self.case.gauge.hair
        for feature in self.case.job.features:
            for point in feature.pattern.points if feature.pattern else ():
                nearest = min(
                    (
                        max(abs(row.end[0] - point.x), abs(row.end[1] - point.y))
                        for row in self.rows
                        if row.stage == HOLES and row.move == POSITION and row.axis != "Z"
                    ),
                    default=inf,
                )
                if nearest > 2 * half:
                    yield Finding(
                        LANDING,
                        0,
                        f"with {self.share:.0%} of the backlash no row of {feature.name!r} ends "
                        f"over the hole at X {point.x:.4f} Y {point.y:.4f}",
                    )
