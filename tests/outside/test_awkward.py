"""Jobs that were planned badly, or not at all, until what they have in common was understood.

Each says in its first line what is awkward about it. Numbers as random jobs drew them.
"""

from pathlib import Path

import pytest

from .bench import complaints, sheet

JOBS = sorted((Path(__file__).parent / "awkward").glob("*.toml"))


@pytest.mark.parametrize(
    "job_file", [p for p in JOBS if p.stem[:5] != "shop-"], ids=lambda p: p.stem
)
def test_an_awkward_job_is_planned(tmp_path: Path, job_file: Path) -> None:
    for file in JOBS:
        (tmp_path / file.name).write_text(file.read_text(encoding="utf-8"), encoding="utf-8")
    outcome = sheet(tmp_path / job_file.name)
    assert outcome.code == 0, outcome.text
    assert complaints(outcome.job_file, outcome) == []
