"""Turns and dial readings of a moves table cranked through worn screws, from the file format alone.

Each axis is a screw in a nut with play. The cutter stands against one flank of the thread when it
was last moved one way, against the other when it was moved back; in between the screw turns and
nothing moves. A dial is engraved in the shop file's unit.
"""

import json
import tomllib
from dataclasses import dataclass, field
from pathlib import Path

from .measures import Row, read_rows
from .printed import convert, size

# what a table movement is to the cutter
CUTTER_GOES = {
    "table left": 1, "table right": -1, "table out": 1, "table in": -1,
    "knee down": 1, "knee up": -1,
}  # fmt: skip


@dataclass(slots=True)
class Axis:
    """One axis of the machine, in the shop file's unit; ``worn`` is the play it really has."""

    lead: float
    line: float
    backlash: float
    clockwise: int
    rises_clockwise: bool
    approach: int
    worn: float
    thread: float = 0.0
    cutter: float = 0.0
    shown: float = 0.0
    came: int = 0

    def stand(self, place: float) -> None:
        """Stand at a place, arrived in the approach direction."""
        self.thread = self.cutter = place
        self.shown = self._numbers(place)
        self.came = self.approach

    def _numbers(self, thread: float) -> float:
        grows = self.clockwise if self.rises_clockwise else -self.clockwise
        return (thread * grows) % self.lead

    def turn(self, way: str, whole: int, reading: float) -> float:
        """Turn, and how far the wheel was turned, as travel."""
        clockwise = way == "cw"
        up = clockwise == self.rises_clockwise
        part = (reading - self.shown if up else self.shown - reading) % self.lead
        if self.lead - part < 1e-5 * self.lead:
            part = 0.0
        travel = whole * self.lead + part
        sense = self.clockwise if clockwise else -self.clockwise
        self.thread += sense * travel
        self.shown, self.came = reading, sense
        if self.approach > 0:  # the flank behind drives when the cutter moves on, else the other
            self.cutter = min(max(self.cutter, self.thread), self.thread + self.worn)
        else:
            self.cutter = max(min(self.cutter, self.thread), self.thread - self.worn)
        return travel


@dataclass(slots=True)
class Cranked:
    """What a machine did: faults, where the cutter ended after each row (job units), turns."""

    faults: list[str] = field(default_factory=list)
    places: list[tuple[float, float, float]] = field(default_factory=list)
    turns: float = 0.0


def machine(job_file: Path, plan_file: Path, worn: float) -> dict[str, Axis]:
    """The axes of the job's machine, each with the share ``worn`` of its backlash as play."""
    job = tomllib.loads(job_file.read_text(encoding="utf-8"))
    shop = tomllib.loads((job_file.parent / job["shop"]).read_text(encoding="utf-8"))
    approach = json.loads(plan_file.read_text(encoding="utf-8"))["approach"]
    axes = {}
    for name, dial in shop["machine"]["dial"].items():
        backlash = size(dial["backlash"], shop["units"])
        axes[name.upper()] = Axis(
            size(dial["per_turn"], shop["units"]),
            size(dial["graduation"], shop["units"]),
            backlash,
            CUTTER_GOES[dial["clockwise"]],
            dial.get("numbers_rise", "clockwise") == "clockwise",
            1 if approach[name] == "+" else -1,
            worn * backlash,
        )
    return axes


def crank(job_file: Path, moves: Path, plan_file: Path, worn: float) -> Cranked:
    """Crank a whole table and note every place that counts and was not reached."""
    job = tomllib.loads(job_file.read_text(encoding="utf-8"))
    shop = tomllib.loads((job_file.parent / job["shop"]).read_text(encoding="utf-8"))
    axes = machine(job_file, plan_file, worn)
    unit = convert(1.0, shop["units"], job["units"])
    done = Cranked()
    for row in read_rows(moves):
        where = {"X": row.x / unit, "Y": row.y / unit, "Z": row.z / unit}
        if not row.axis:
            for name, axis in axes.items():
                axis.stand(where[name])
        else:
            axis, line = axes[row.axis], row.line
            travel = axis.turn(line["crank"], int(line["turns"]), float(line["dial"]))
            done.turns += travel / axis.lead
            if not 0 <= float(line["dial"]) < axis.lead:
                done.faults.append(f"row {row.number}: no dial reads {line['dial']}")
        done.faults += _judged(row, axes, where, half=unit * 0.5e-6)
        place = {name: axis.cutter * unit for name, axis in axes.items()}
        done.places.append((place["X"], place["Y"], place["Z"]))
    return done


def _judged(row: Row, axes: dict[str, Axis], where: dict[str, float], half: float) -> list[str]:
    """An axis held in a cut stands where it is meant to; the others are off by the play at most."""
    faults = []
    for name, axis in axes.items():
        off = abs(axis.cutter - where[name])
        held = row.move == "cut" and name != row.axis
        if off > axis.line / 2 + half + (0.0 if held else axis.backlash):
            faults.append(f"row {row.number}: {name} stands {off:.4f} off its place")
        if held and axis.came != axis.approach:
            faults.append(f"row {row.number}: {name} is held and came the wrong way")
    return faults
