"""Cutters with a rounded end: the printed plan held against the job file by the pixel replay."""

from pathlib import Path

import pytest

from tests.rounded_ends import BORE, POCKET, WEDGE, job_text, shop_text

from .bench import sheet
from .measures import read_rows
from .printed import Grid
from .round_job import read
from .round_pixels import RoundReplay
from .round_verdict import round_faults


def written(folder: Path, feature: str, corner: float | None, cusp: float = 0.008) -> Path:
    """The job and shop files of one feature."""
    (folder / "shop.toml").write_text(shop_text(corner))
    (folder / "job.toml").write_text(job_text(feature, cusp))
    return folder / "job.toml"


def replayed(folder: Path, feature: str, corner: float | None) -> RoundReplay:
    """The job planned by the program and replayed, without any complaint."""
    job_file = written(folder, feature, corner)
    outcome = sheet(job_file)
    assert outcome.code == 0, outcome.text
    job, rows = read(job_file), read_rows(outcome.moves_file)
    replay = RoundReplay(job, rows)
    found = replay.run()
    assert round_faults(job, rows, found) == []
    return replay


def floor_heights(replay: RoundReplay, foot: float) -> Grid:
    """Heights over the finished floor of samples farther than ``foot`` from every wall."""
    ground = next(each for each in replay.grounds if each.level > -0.29)
    walls = ground.clearance(replay.block.x[None, :], replay.block.y[:, None])
    floor = (replay.block.target < -0.29) & (walls > foot)
    assert floor.any()
    return replay.block.height[floor] - replay.block.target[floor]


@pytest.mark.parametrize("feature", [BORE, WEDGE], ids=["bore", "wedge"])
def test_rounded_corners_along_curved_and_slanted_walls(tmp_path: Path, feature: str) -> None:
    replay = replayed(tmp_path, feature, 0.06)
    # past the fillet's foot the floor is flat: the passes lie within the flat of the end
    heights = floor_heights(replay, 0.06 + replay.job.cusp + replay.job.resolution)
    assert heights.max() < 1e-6


@pytest.mark.parametrize("feature", [POCKET, WEDGE], ids=["pocket", "wedge"])
def test_a_ball_leaves_no_scallop_above_the_cusp(tmp_path: Path, feature: str) -> None:
    replay = replayed(tmp_path, feature, None)
    # along the walls stands the fillet of the ball, its foot a radius off
    heights = floor_heights(replay, 0.25 + 2 * replay.job.resolution)
    cusp = replay.job.cusp
    assert cusp / 3 < heights.max() <= cusp + 1e-6
