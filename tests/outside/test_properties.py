"""Random jobs: the program either plans what the pixel replay accepts, or refuses with reason.

``PASSPLOT_EXAMPLES=200 pytest tests/outside/test_properties.py`` draws that many fresh jobs of
each family; without it a few fixed ones are run.
"""

import os
import tempfile
from pathlib import Path

import pytest
from hypothesis import HealthCheck, Phase, assume, given, note, settings
from hypothesis import strategies as st

from .bench import complaints, sheet
from .jobs import specs
from .judge import takes_metal
from .printed import read
from .spec import Spec

EXAMPLES = int(os.environ.get("PASSPLOT_EXAMPLES", "0"))
SHRINK = bool(os.environ.get("PASSPLOT_SHRINK"))
FAMILIES = {
    "shoulders": ("step",),
    "slots": ("slot", "step"),
    "pockets": ("pocket",),
    "bosses": ("boss",),
    "outlines": ("outline",),
    "faces": ("face", "step", "pocket"),
    "anything": (),
}


@pytest.mark.parametrize("family", sorted(FAMILIES))
@settings(
    max_examples=EXAMPLES or 5,
    derandomize=not EXAMPLES,
    deadline=None,
    database=None,
    phases=[Phase.generate] if not SHRINK else [Phase.generate, Phase.shrink],
    suppress_health_check=list(HealthCheck),
)
@given(st.data())
def test_a_random_job_is_planned_well_or_refused_with_reason(
    family: str, data: st.DataObject
) -> None:
    check(data.draw(specs(FAMILIES[family])))


def check(spec: Spec) -> None:
    """Plan one job and let the replay judge it."""
    with tempfile.TemporaryDirectory() as folder:
        job_file = spec.write(Path(folder))
        assume(takes_metal(read(job_file)))
        note(spec.job_text() + spec.shop_text())
        report = complaints(job_file, sheet(job_file, pages=True))
        assert not report, "\n".join(report)
