"""Curved and slanted walls: the printed plan held against the job file by the replay from outside.

``PASSPLOT_EXAMPLES=20 pytest tests/outside/test_round_jobs.py`` adds that many random outlines.
"""

import os
from math import inf
from pathlib import Path

import pytest

from .bench import complaints, sheet
from .curves import Bow
from .measures import read_rows
from .round_job import read, straight
from .round_jobs import JOBS, RoundSpec, random_outline
from .round_verdict import Stepped, most_points, stepped_walls
from .smooth import biarc, blob, ccw, letter, link, tightest

EXAMPLES = int(os.environ.get("PASSPLOT_EXAMPLES", "0"))


LONG = {"letter K", "letter S"}
"""Jobs of forty sheets: laying them out takes longer than planning them."""


@pytest.mark.parametrize("name", sorted(JOBS))
def test_a_job_with_round_walls_passes_the_replay(tmp_path: Path, name: str) -> None:
    job_file = JOBS[name].write(tmp_path)
    outcome = sheet(job_file, pages=name not in LONG)
    assert outcome.code == 0, outcome.text
    assert complaints(job_file, outcome) == []
    if name not in {"bore little larger than the cutter", "slot with blind ends"}:
        assert finished(job_file, outcome.moves_file)


def finished(job_file: Path, moves: Path) -> list[Stepped]:
    """Stepped walls brought to size."""
    job = read(job_file)
    return [w for w in stepped_walls(job, read_rows(moves)) if w.at_size(job.resolution)]


@pytest.mark.parametrize(
    ("name", "wall_radius", "convex"),
    [
        ("bore", 0.65, False),
        ("round boss", 0.55, True),
    ],
)
def test_a_whole_circle_takes_few_points(
    tmp_path: Path, name: str, wall_radius: float, convex: bool
) -> None:
    job_file = JOBS[name].write(tmp_path)
    outcome = sheet(job_file)
    assert outcome.code == 0, outcome.text
    job = read(job_file)
    most = most_points(job, wall_radius, job.tools["half"], convex)
    walls = finished(job_file, outcome.moves_file)
    assert walls
    # the last setting is the first one again
    assert all(len({wall.stops[k] for k in wall.settings}) <= most for wall in walls)


@pytest.mark.parametrize("clear", ["inside", "outside"])
@pytest.mark.parametrize("seed", range(100, 100 + EXAMPLES))
def test_a_random_outline_passes_the_replay(tmp_path: Path, seed: int, clear: str) -> None:
    spec = random_outline(seed, clear)
    job_file = spec.write(tmp_path)
    if tightest(blob(seed, (1.6, 1.4), 1.05, 7, 0.5), clear == "inside") < 0.14:
        pytest.skip("some bend is tighter than the cutter")
    assert complaints(job_file, sheet(job_file)) == []


@pytest.mark.parametrize("cusp", [0.001, 0.002, 0.008])
def test_a_finer_scallop_takes_more_points(tmp_path: Path, cusp: float) -> None:
    spec = JOBS["bore"]
    job_file = RoundSpec(spec.stock, spec.features, spec.cutters, finish={"cusp": cusp}).write(
        tmp_path
    )
    outcome = sheet(job_file)
    assert complaints(job_file, outcome) == []
    (counts,) = {len(wall.settings) for wall in finished(job_file, outcome.moves_file)}
    # sqrt(8 * cusp * 0.25 / (0.4 * 0.65)) a point
    assert counts == pytest.approx(6.2832 / (8 * cusp * 0.25 / (0.4 * 0.65)) ** 0.5, rel=0.35)


@pytest.mark.parametrize(
    ("name", "features"),
    [
        ("a bore smaller than the cutter", JOBS["bore"].features[0].replace("1.3", "0.45")),
        ("corners tighter than the cutter", 'name = "eye"\nkind = "pocket"\ndepth = 0.2\n'
         "x = [0.4, 1.6]\ny = [0.4, 1.6]\ncorner_radius = 0.2"),
    ],
)  # fmt: skip
def test_what_no_cutter_of_the_job_makes_is_refused(
    tmp_path: Path, name: str, features: str
) -> None:
    outcome = sheet(RoundSpec((2, 2, 1), (features,)).write(tmp_path))
    assert outcome.code == 1, name
    assert "eye" in outcome.text
    assert "not yet planned" not in outcome.text


@pytest.mark.parametrize("name", sorted(JOBS))
def test_the_files_say_what_they_are_meant_to(tmp_path: Path, name: str) -> None:
    """The job files are good ones: refused, if at all, for what they ask, not for how."""
    job_file = JOBS[name].write(tmp_path)
    assert not straight(job_file)
    for cavity in read(job_file).rounds:
        for outline in (*cavity.loops, *cavity.islands):
            for edge, after in zip(outline, outline[1:] + outline[:1], strict=True):
                assert edge.end == pytest.approx(after.start, abs=1e-8)


def test_a_biarc_is_smooth_and_joins_its_ends() -> None:
    first, second = biarc((0, 0), (1, 0), (2, 1), (0, 1))
    assert first.at(1.0) == pytest.approx(second.at(0.0))
    assert second.at(1.0) == pytest.approx((2, 1))
    for one, two, share in ((first, second, 1.0),):
        assert one.normal(share) == pytest.approx(two.normal(0.0), abs=1e-9)
    assert first.normal(0.0) == pytest.approx((0, 1), abs=1e-9)
    assert second.normal(1.0) == pytest.approx((-1, 0), abs=1e-9)


def test_smooth_outlines_are_smooth_and_bend_both_ways() -> None:
    outline = blob(10, (1.6, 1.4), 1.05, 7, 0.5)
    assert ccw(outline)
    for edge, after in zip(outline, outline[1:] + outline[:1], strict=True):
        assert edge.normal(1.0) == pytest.approx(after.normal(0.0), abs=1e-6)
    assert tightest(outline, True) < inf
    assert tightest(outline, False) < inf


def test_a_letter_comes_with_its_curves() -> None:
    outline = letter("S", 2.4, (0.4, 0.4))
    assert sum(isinstance(edge, Bow) for edge in outline) > 20
    ys = [spot[1] for edge in outline for spot in (edge.start, edge.end)]
    assert (min(ys), max(ys)) == pytest.approx((0.4, 2.8), abs=0.01)
    assert sum(isinstance(edge, Bow) for edge in letter("K", 2.4, (0, 0))) == 0


def test_a_link_is_tangent_all_round() -> None:
    outline = link((0, 0), (1.0, 0.2), 0.7, 0.3)
    for edge, after in zip(outline, outline[1:] + outline[:1], strict=True):
        assert edge.end == pytest.approx(after.start)
        assert edge.normal(1.0) == pytest.approx(after.normal(0.0), abs=1e-9)
