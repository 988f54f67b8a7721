"""Rows of a rotary table by the pixel replay: the program's pass, spoiled ones do not."""

import csv
from collections.abc import Callable
from functools import cache
from math import cos, radians, sin
from pathlib import Path
from tempfile import mkdtemp

import pytest

from tests.rotary_jobs import ALL, BORE, END, job_text, shop_text

from .bench import Outcome, sheet
from .round_verdict import judge

Rows = list[dict[str, str]]


@cache
def outcome(feature: str, units: str = "inch", climb: bool = False, skims: int = 2) -> Outcome:
    folder = Path(mkdtemp())
    (folder / "shop.toml").write_text(shop_text(), encoding="utf-8")
    job = folder / "job.toml"
    job.write_text(job_text(feature, units=units, climb=climb, skims=skims), encoding="utf-8")
    return sheet(job)


def spoiled(run: Outcome, folder: Path, spoil: Callable[[Rows], None]) -> list[str]:
    """Complaints about the written table after a change."""
    rows = run.table()
    spoil(rows)
    table = folder / "job-moves.csv"
    with table.open("w", encoding="utf-8", newline="") as stream:
        writer = csv.DictWriter(stream, rows[0].keys())
        writer.writeheader()
        writer.writerows(rows)
    return judge(run.job_file, table)


def arcs(rows: Rows) -> list[int]:
    return [k for k, row in enumerate(rows) if row["axis"] == "C" and row["move"] == "cut"]


@pytest.mark.slow
@pytest.mark.parametrize("name", ALL)
def test_arcs_on_a_rotary_table_pass_the_pixel_replay(name: str) -> None:
    run = outcome(ALL[name])
    assert run.code == 0, run.text
    assert len(arcs(run.table())) >= 3
    assert judge(run.job_file, run.moves_file) == []


@pytest.mark.slow
def test_a_climbing_millimetre_bore_passes_the_pixel_replay() -> None:
    feature = 'kind = "bore"\ncenter = [25.003, 24.996]\ndiameter = "35 +0.1 -0.0"'
    run = outcome(feature, "mm", climb=True)
    assert run.code == 0, run.text
    assert judge(run.job_file, run.moves_file) == []


def test_a_table_turned_the_wrong_way_is_seen(tmp_path: Path) -> None:
    def spoil(rows: Rows) -> None:
        for row in rows:
            if row["c"]:
                row["c"] = f"{-float(row['c']):.4f}"

    assert any("wrong side" in text for text in spoiled(outcome(BORE), tmp_path, spoil))


@pytest.mark.parametrize(("step", "seen"), [(0.01, "gouge"), (-0.01, "left")])
def test_a_wrong_radius_is_seen(tmp_path: Path, step: float, seen: str) -> None:
    def spoil(rows: Rows) -> None:
        last = arcs(rows)[-1]
        for row in rows[last - 1 :]:
            row["x"] = f"{float(row['x']) + step:.4f}"

    assert any(seen in text for text in spoiled(outcome(BORE), tmp_path, spoil))


def test_a_turn_that_stops_short_is_seen(tmp_path: Path) -> None:
    # ten degrees leave .7 - .45 off by 0.0047, hardly more than a scallop may be
    def spoil(rows: Rows) -> None:
        last = rows[arcs(rows)[-1]]
        short, radius = float(last["c"]) + 15, float(last["x"]) - 1
        for row in rows[arcs(rows)[-1] :]:
            row["x"] = f"{1 + radius * cos(radians(short)):.4f}"
            row["y"] = f"{1 + radius * sin(radians(short)):.4f}"
        last["c"] = f"{short:.4f}"

    assert any("left" in text for text in spoiled(outcome(BORE), tmp_path, spoil))


def test_an_angle_that_leads_elsewhere_is_seen(tmp_path: Path) -> None:
    def spoil(rows: Rows) -> None:
        row = rows[arcs(rows)[0]]
        row["c"] = f"{float(row['c']) - 10:.4f}"

    assert any("turned" in text for text in spoiled(outcome(END), tmp_path, spoil))


def test_the_plan_file_tells_centers_settings_and_angles() -> None:
    run = outcome(BORE)
    facts = run.plan()["rotary"]
    assert [fact["angle"] for fact in facts] == [[0, -360], [-360, -720], [-720, -1080]]
    for fact in facts:
        assert fact["center"] == [1, 1]
        assert fact["table"] == "counter-clockwise"
        assert fact["radius_setting"] == pytest.approx(fact["set_x"] - 1)
