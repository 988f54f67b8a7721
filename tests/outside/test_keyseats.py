"""Keyseats through the moves table: width, depth from the right datum, and ends."""

from math import sqrt
from pathlib import Path

import pytest

from .bench import sheet
from .round_jobs import RoundSpec, feature
from .spec import CutterSpec

# Shaft diameter, key width, S of a square key (from the floor to the far side of the shaft), inch:
# Machinery's Handbook, 31st ed., p. 2552, table 2, ANSI/ASME B17.1-1967 (R2013).
INCH = [
    (0.5, 0.125, 0.430),
    (0.625, 0.1875, 0.517),
    (0.75, 0.1875, 0.644),
    (0.875, 0.1875, 0.771),
    (1.0, 0.25, 0.859),
    (1.25, 0.25, 1.112),
    (1.5, 0.375, 1.289),
    (2.0, 0.5, 1.718),
    (2.5, 0.625, 2.148),
]
# Shaft diameter, key width, depth t1 from the crown, mm: table of DIN 6885 sheet 1 (coupling
# catalogue extract); check dimensions d - t1 of 16.5 at 20, 26 at 30, 39 at 44.
METRIC = [(12, 4, 2.5), (16, 5, 3.0), (20, 6, 3.5), (30, 8, 4.0), (38, 10, 5.0), (44, 12, 5.0)]


def spec(units: str, shaft: float, standard: str, cutter: float, length: float) -> RoundSpec:
    """A keyseat in the middle of a bar; the bar is as wide and as high as the shaft."""
    table = feature("key", "keyseat", 1, 'along = "x"', "center = 0",
                    f"start = {length * 0.25}", f"end = {length * 0.75}",
                    f"shaft = {shaft}", f'standard = "{standard}"')  # fmt: skip
    table = "\n".join(line for line in table.splitlines() if not line.startswith("depth"))
    mill = CutterSpec("mill", cutter, None, 2 * cutter + length / 10)
    return RoundSpec((length, shaft, shaft), (table,), (mill,), units, zero="left center top")


def check(tmp_path: Path, job: RoundSpec, width: float, depth: float, step: float) -> None:
    """Floor, walls and ends of the seat, each to a step of the readout."""
    outcome = sheet(job.write(tmp_path))
    assert outcome.code == 0, outcome.text
    cuts = [line for line in outcome.table() if line["move"] == "cut"]
    lowest = min(float(line["z"]) for line in cuts)
    # S may come out up to 0.015 in smaller, the width 0.004 larger (limits from memory): the plan
    # may aim anywhere between
    assert depth - step <= -lowest + 1e-9 <= depth + 0.015 + step
    radius = job.cutters[0].diameter / 2
    ys = [float(line["y"]) for line in cuts]
    for wall in (max(ys) + radius, radius - min(ys)):
        assert width / 2 - step <= wall + 1e-9 <= width / 2 + 0.002 + step
    xs = [float(line["x"]) for line in outcome.table() if float(line["z"]) < 0]
    assert min(xs) - radius == pytest.approx(job.stock[0] * 0.25, abs=step + 1e-9)
    assert max(xs) + radius == pytest.approx(job.stock[0] * 0.75, abs=step + 1e-9)


@pytest.mark.parametrize("under", [1.0, 0.8], ids=["cutter of the key's width", "undersize"])
@pytest.mark.parametrize(("shaft", "width", "far"), INCH)
def test_inch_keyseats_count_from_the_side_wall(
    tmp_path: Path, shaft: float, width: float, far: float, under: float
) -> None:
    # total depth from the crown: H/2 + Y, Y = (D - sqrt(D^2 - W^2)) / 2, which is D - S
    drop = (shaft - sqrt(shaft**2 - width**2)) / 2
    assert width / 2 + drop == pytest.approx(shaft - far, abs=0.0006)
    job = spec("inch", shaft, "ASME B17.1", width * under, 8 * width)
    check(tmp_path, job, width, width / 2 + drop, 0.0005)


@pytest.mark.parametrize(("shaft", "width", "depth"), METRIC)
def test_metric_keyseats_count_from_the_crown(
    tmp_path: Path, shaft: float, width: float, depth: float
) -> None:
    # the middle of t1 +0.1/0 (to 22 mm shafts), +0.2/0 above: the plan aims there or at t1
    job = spec("mm", shaft, "DIN 6885", width, 8 * width)
    outcome = sheet(job.write(tmp_path))
    assert outcome.code == 0, outcome.text
    lowest = min(float(line["z"]) for line in outcome.table() if line["move"] == "cut")
    assert depth - 0.01 <= -lowest <= depth + (0.1 if shaft <= 22 else 0.2) + 0.01
