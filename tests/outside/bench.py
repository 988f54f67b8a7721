"""Runs the program on a job file as a user would, and judges what comes back."""

import csv
import json
from dataclasses import dataclass
from pathlib import Path

from click.testing import CliRunner

from passplot.command.main import main

from .block import flank_slack
from .judge import NO, YES, deep_enough, reachable
from .measures import Measures, read_rows
from .pixels import replay_files
from .printed import PrintedJob, read
from .round_job import kinds, straight
from .round_job import read as read_round
from .round_pixels import replay_files as replay_round
from .round_verdict import round_faults
from .verdict import faults, form_faults, uneven_faults


@dataclass(frozen=True, slots=True)
class Outcome:
    """A run: exit code, everything it said, and the folder it wrote to."""

    job_file: Path
    code: int
    text: str
    folder: Path

    @property
    def moves_file(self) -> Path:
        return self.folder / f"{self.job_file.stem}-moves.csv"

    def table(self) -> list[dict[str, str]]:
        """The moves table, line by line."""
        with self.moves_file.open(encoding="utf-8", newline="") as stream:
            return list(csv.DictReader(stream))

    def plan(self) -> dict:
        """The plan file."""
        text = (self.folder / f"{self.job_file.stem}-plan.json").read_text(encoding="utf-8")
        return json.loads(text)

    def measure(self) -> Measures:
        """What the pixel replay makes of the moves table."""
        return replay_files(self.job_file, self.moves_file)


def sheet(job_file: Path, folder: Path | None = None, *, pages: bool = False) -> Outcome:
    """Run ``passplot sheet`` for the tables alone, or with the pages laid out and drawn."""
    folder = folder or job_file.parent / "out"
    formats = "csv,json,svg" if pages else "csv,json"
    arguments = ["sheet", str(job_file), "--out", str(folder), "--formats", formats]
    result = CliRunner().invoke(main, arguments)
    if result.exception and not isinstance(result.exception, SystemExit):
        raise result.exception
    return Outcome(job_file, result.exit_code, result.output, folder)


def complaints(job_file: Path, outcome: Outcome) -> list[str]:
    """Everything wrong with the way the program dealt with a good job file."""
    if not straight(job_file):
        return round_complaints(job_file, outcome)
    job = read(job_file)
    if outcome.code == 1:
        return _refusal(job, outcome)
    if outcome.code != 0:
        return [f"exit code {outcome.code}: {outcome.text.strip()}"]
    table, found = outcome.table(), outcome.measure()
    report = form_faults(job, table) + uneven_faults(job, table) + faults(job, found)
    if reachable(job, {line["cutter"] for line in table}) == NO:
        report.append("planned although some wall cannot be got at")
    return report + proof_faults(job, outcome.plan()["proof"], found)


def round_complaints(job_file: Path, outcome: Outcome) -> list[str]:
    """Everything wrong with a plan for walls of any form; a refusal is wrong too."""
    if outcome.code != 0:
        return [f"exit code {outcome.code}: {outcome.text.strip()}"]
    job, table = read_round(job_file), outcome.table()
    if "keyseat" in kinds(job_file):  # cut in a shaft, which is no block: it has its own checks
        return form_faults(job, table)
    found, proof = replay_round(job_file, outcome.moves_file), outcome.plan()["proof"]
    report = form_faults(job, table) + round_faults(job, read_rows(outcome.moves_file), found)
    if proof["left_uncut"] > max(job.cusp, 1.5 * job.resolution):
        report.append(f"proof: {proof['left_uncut']:.5f} left, allowed {job.cusp:.5f}")
    return report + proof_faults(job, proof, found)


def _refusal(job: PrintedJob, outcome: Outcome) -> list[str]:
    report = []
    if "not proven" in outcome.text:
        report.append(f"the plan is not proven: {outcome.text.strip()}")
    elif not any(cavity.name in outcome.text for cavity in job.cavities):
        report.append(f"refused without naming a feature: {outcome.text.strip()}")
    elif not job.clamps and deep_enough(job) and reachable(job, set(job.tools)) == YES:
        # a strap may take the room to run on or off that a pass needs: no judgement there
        report.append(f"refused without need: {outcome.text.strip()}")
    return report


def proof_faults(job: PrintedJob, proof: dict, found: Measures) -> list[str]:
    """Where the program's own proof and the pixel replay disagree."""
    report = []
    slack = sum(flank_slack(cut.radius, found.cell) for cut in found.cuts if cut.engaged)
    low, high = (sum(cut.both_range[k] for cut in found.cuts) for k in (0, 1))
    if not low - slack <= proof["both_ways_length"] <= high + slack:
        both = proof["both_ways_length"]
        report.append(f"proof: both ways {both:.4f}, found {found.both_length:.4f}")
    if proof["climb_length"] > slack:
        report.append(f"proof: climb {proof['climb_length']:.4f}, found {found.climb_length:.4f}")
    share = found.wanted_share
    unseen = sum(c.length for c in found.cuts if not c.engaged and float(c.row.line["feed"] or 0))
    unsure = max(0.02, (slack + unseen + high - low) / (found.cutting_length or 1.0))
    if found.cutting_length and abs(proof["conventional_share"] - share) > unsure:
        report.append(
            f"proof says conventional {proof['conventional_share']:.4f}, found {share:.4f}"
        )
    return report
