"""Every example job of the shop passes the pixel replay."""

import shutil
import tomllib
from pathlib import Path

import pytest

from .bench import complaints, sheet

EXAMPLES = Path(__file__).parents[2] / "shop_examples"
FILES = {
    path: tomllib.loads(path.read_text(encoding="utf-8"))
    for path in sorted(EXAMPLES.glob("*.toml"))
}
# work set over has rows in turned positions: test_set_over.py replays that
JOBS = [
    path
    for path, file in FILES.items()
    if "shop" in file and not any("set_over" in feature for feature in file["feature"])
]


@pytest.mark.parametrize("example", JOBS, ids=lambda path: path.stem)
def test_an_example_passes_the_pixel_replay(tmp_path: Path, example: Path) -> None:
    for file in EXAMPLES.glob("*.toml"):
        shutil.copy(file, tmp_path)
    outcome = sheet(tmp_path / example.name)
    assert outcome.code == 0, outcome.text
    assert complaints(outcome.job_file, outcome) == []
