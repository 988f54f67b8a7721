"""Work by dials alone: random plans, leads, lines, play and dial directions, cranked to the end.

The screw is modelled from the description of the file alone: tests/outside/screws.py.
"""

import csv
import os
import tempfile
from dataclasses import dataclass
from pathlib import Path

import pytest
from hypothesis import HealthCheck, Phase, assume, given, note, settings
from hypothesis import strategies as st

from .bench import Outcome, complaints, sheet
from .jobs import specs
from .judge import takes_metal
from .printed import MM_PER_INCH, read
from .screws import crank
from .spec import CutterSpec, Shape, Spec, box

EXAMPLES = int(os.environ.get("PASSPLOT_EXAMPLES", "0"))
WORN = (0.0, 0.4, 1.0)

# lead, line; inch dials and metric ones (common practice, from memory); the last of each is odd
DIALS = {
    "inch": ((0.200, 0.001), (0.100, 0.001), (0.125, 0.001), (0.0625, 0.0005)),
    "mm": ((5.0, 0.02), (2.5, 0.02), (4.0, 0.02), (3.0, 0.02)),
}
TABLE_MOVES = {
    "x": ("table left", "table right"),
    "y": ("table in", "table out"),
    "z": ("knee up", "knee down"),
}


@dataclass(frozen=True, slots=True)
class DialShop:
    """The dials of a machine: for each axis lead, line, backlash, clockwise, numbers_rise."""

    units: str
    dials: dict[str, tuple[float, float, float, str, str]]

    def text(self, spec: Spec) -> str:
        """The shop file of ``spec`` with these dials and no readout, in the dials' unit."""
        same = self.units == spec.units
        factor = 1.0 if same else (MM_PER_INCH if self.units == "mm" else 1 / MM_PER_INCH)
        lines = []
        for line in spec.shop_text().splitlines():
            key, _, value = line.partition(" = ")
            if key in ("diameter", "actual", "flute_length"):
                lines.append(f"{key} = {float(value) * factor:.8f}")
            elif key == "units":
                lines.append(f'units = "{self.units}"')
            elif key == "readout":
                lines.append('readout = "dials"')
            elif key == "resolution":
                lines += [f"resolution_{spec.units} = {self.step(spec.units)!r}", *self._tables()]
                if self.units == spec.units:
                    lines.append(f"resolution = {self.step(spec.units)!r}")
            else:
                lines.append(line)
        return "\n".join(lines) + "\n"

    def step(self, units: str) -> float:
        """The coarsest line, in ``units``: what the pixel replay takes for the readout's step."""
        line = max(dial[1] for dial in self.dials.values())
        if units == self.units:
            return line
        return line * MM_PER_INCH if units == "mm" else line / MM_PER_INCH

    def _tables(self) -> list[str]:
        lines = []
        for axis, (lead, line, lost, clockwise, rise) in self.dials.items():
            lines.append(f"dial.{axis}.per_turn = {lead}")
            lines.append(f"dial.{axis}.graduation = {line}")
            lines.append(f"dial.{axis}.backlash = {lost}")
            lines.append(f'dial.{axis}.clockwise = "{clockwise}"')
            lines.append(f'dial.{axis}.numbers_rise = "{rise}"')
        return lines


@st.composite
def dial_shops(draw: st.DrawFn, units: str) -> DialShop:
    """Dials of any lead and direction; now and then in the job's other unit."""
    own = units if draw(st.integers(0, 3)) else {"inch": "mm", "mm": "inch"}[units]
    inch = 1.0 if own == "inch" else MM_PER_INCH
    dials = {}
    for axis, moves in TABLE_MOVES.items():
        lead, line = draw(st.sampled_from(DIALS[own]))
        lost = round(draw(st.sampled_from((0.0, 0.003, 0.008, 0.012))) * inch, 3)
        clockwise = draw(st.sampled_from(moves))
        rise = draw(st.sampled_from(("clockwise", "counter-clockwise")))
        dials[axis] = lead, line, lost, clockwise, rise
    return DialShop(own, dials)


def planned(
    spec: Spec, dials: DialShop, folder: Path, readout: str = "dials"
) -> tuple[Path, Outcome]:
    """Plan a job on a machine with such dials, or with a readout of their step beside them."""
    job_file = spec.write(folder)
    text = dials.text(spec).replace('readout = "dials"', f'readout = "{readout}"')
    (folder / "shop.toml").write_text(text, encoding="utf-8")
    return job_file, sheet(job_file)


def cranked_faults(outcome: Outcome) -> list[str]:
    """What goes wrong when the table is cranked through screws more and less worn."""
    plan = outcome.folder / f"{outcome.job_file.stem}-plan.json"
    found = []
    for worn in WORN:
        done = crank(outcome.job_file, outcome.moves_file, plan, worn)
        found += [f"play {worn:.0%}: {fault}" for fault in done.faults]
    return found


@settings(
    max_examples=EXAMPLES or 12,
    derandomize=not EXAMPLES,
    deadline=None,
    database=None,
    phases=[Phase.generate],
    suppress_health_check=list(HealthCheck),
)
@given(st.data())
def test_random_plans_land_where_they_say_however_worn_the_screws(data: st.DataObject) -> None:
    spec = data.draw(specs(most=2))
    dials = data.draw(dial_shops(spec.units))
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        job_file = spec.write(folder)
        assume(takes_metal(read(job_file)))
        # what can be planned at all is judged by the random jobs for a readout of the same step
        assume(planned(spec, dials, folder, "dro")[1].code == 0)
        job_file, outcome = planned(spec, dials, folder)
        note(spec.job_text() + dials.text(spec))
        report = complaints(job_file, outcome)
        if outcome.code == 0:
            report += cranked_faults(outcome)
        assert not report, "\n".join(report)


POCKET = Spec(
    units="inch",
    stock=(3.0, 2.0, 1.0),
    shapes=(Shape("recess", "pocket", 0.25, outline=box((0.5, 2.5), (0.5, 1.5))),),
    cutters=(CutterSpec("mill", 0.375, flute_length=1.0),),
)
KNEE_MILL = DialShop(
    "inch",
    {
        "x": (0.200, 0.001, 0.008, "table left", "clockwise"),
        "y": (0.200, 0.001, 0.006, "table in", "clockwise"),
        "z": (0.100, 0.001, 0.004, "knee up", "clockwise"),
    },
)


@pytest.fixture(scope="module")
def pocket(tmp_path_factory: pytest.TempPathFactory) -> Outcome:
    """A closed pocket, two of whose walls lie against the approach direction."""
    _, outcome = planned(POCKET, KNEE_MILL, tmp_path_factory.mktemp("dials"))
    assert outcome.code == 0, outcome.text
    return outcome


def test_a_closed_pocket_lifts_goes_past_comes_back_and_lowers(pocket: Outcome) -> None:
    table, approach = pocket.table(), pocket.plan()["approach"]
    lifted = 0
    for before, up, past, back, down in zip(*(table[k:] for k in range(5)), strict=False):
        axis = past["axis"].lower()
        moves = [line["axis"] for line in (up, past, back, down)]
        if before["move"] != "cut" or moves not in (["Z", "X", "X", "Z"], ["Z", "Y", "Y", "Z"]):
            continue
        lost = KNEE_MILL.dials[axis][2]
        if abs(float(back[axis]) - float(before[axis])) > lost + 1e-9:
            continue  # it goes somewhere else
        came = float(back[axis]) - float(past[axis])
        assert came * (1 if approach[axis] == "+" else -1) > lost
        assert up["move"] == "retract"
        assert float(down["z"]) == float(before["z"])
        lifted += 1
    assert lifted


def test_no_stop_at_the_finished_part_passes_the_wall_with_less_play(pocket: Outcome) -> None:
    plan = pocket.folder / "job-plan.json"
    radius = 0.375 / 2
    for worn in WORN:
        places = crank(pocket.job_file, pocket.moves_file, plan, worn).places
        low = [(x, y) for x, y, z in places if z < -1e-9]
        assert min(x for x, _ in low) >= 0.5 + radius - 1e-6
        assert max(x for x, _ in low) <= 2.5 - radius + 1e-6
        assert min(y for _, y in low) >= 0.5 + radius - 1e-6
        assert max(y for _, y in low) <= 1.5 - radius + 1e-6


def changed(outcome: Outcome, folder: Path, row: int, **cells: str) -> Path:
    """The moves table with one row changed; the row counts from 0."""
    table = outcome.table()
    table[row] = table[row] | cells
    path = folder / "changed.csv"
    with path.open("w", encoding="utf-8", newline="") as stream:
        writer = csv.DictWriter(stream, list(table[0]))
        writer.writeheader()
        writer.writerows(table)
    return path


@pytest.mark.parametrize("planted", ["reversed crank", "one turn too few", "missed take-up"])
def test_a_planted_fault_is_found(pocket: Outcome, tmp_path: Path, planted: str) -> None:
    table = pocket.table()
    plan = pocket.folder / "job-plan.json"
    long = next(k for k, line in enumerate(table) if int(line["turns"] or 0) > 3)
    if planted == "reversed crank":
        other = {"cw": "ccw", "ccw": "cw"}[table[long]["crank"]]
        path = changed(pocket, tmp_path, long, crank=other)
    elif planted == "one turn too few":
        path = changed(pocket, tmp_path, long, turns=str(int(table[long]["turns"]) - 1))
    else:
        # stops where it would have come back to, without having gone past
        past = next(
            k
            for k, line in enumerate(table[:-1])
            if line["move"] == "position" == table[k + 1]["move"]
            and line["axis"] == table[k + 1]["axis"] != ""
            and line["crank"] != table[k + 1]["crank"]
        )
        back = table[past + 1]["dial"]
        path = changed(pocket, tmp_path, past, dial=back)
    assert crank(pocket.job_file, path, plan, 1.0).faults
