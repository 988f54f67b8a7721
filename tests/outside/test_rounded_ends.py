"""Cutters with a rounded end: the printed plan held against the job file by the pixel replay."""

from pathlib import Path

import pytest

from tests.rounded_ends import BORE, WEDGE, job_text, shop_text

from .bench import sheet
from .measures import read_rows
from .round_job import read
from .round_pixels import RoundReplay
from .round_verdict import round_faults


def written(folder: Path, feature: str, corner: float | None, cusp: float = 0.008) -> Path:
    """The job and shop files of one feature."""
    (folder / "shop.toml").write_text(shop_text(corner))
    (folder / "job.toml").write_text(job_text(feature, cusp))
    return folder / "job.toml"


@pytest.mark.parametrize("feature", [BORE, WEDGE], ids=["bore", "wedge"])
def test_rounded_corners_along_curved_and_slanted_walls(tmp_path: Path, feature: str) -> None:
    job_file = written(tmp_path, feature, 0.06)
    outcome = sheet(job_file)
    assert outcome.code == 0, outcome.text
    job, rows = read(job_file), read_rows(outcome.moves_file)
    replay = RoundReplay(job, rows)
    found = replay.run()
    assert round_faults(job, rows, found) == []
    # past the fillet's foot the floor is flat: the passes lie within the flat of the end
    foot = 0.06 + job.cusp + job.resolution
    ground = next(each for each in replay.grounds if each.level > -0.29)
    walls = ground.clearance(replay.block.x[None, :], replay.block.y[:, None])
    floor = (replay.block.target < -0.29) & (walls > foot)
    assert floor.any()
    assert replay.block.height[floor].max() < -0.3 + 1e-6
