"""The judge of reach, and the moving of specs, tried on cases with known answers."""

from pathlib import Path

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings

from .block import Block
from .jobs import specs
from .judge import NO, OPEN, YES, reachable, takes_metal
from .printed import Polygon, read
from .spec import CutterSpec, Shape, Spec, box, mirrored, scaled, turned

HALF = CutterSpec("half", 0.5, None, 1.25)
FEW = settings(
    max_examples=15,
    derandomize=True,
    deadline=None,
    database=None,
    suppress_health_check=list(HealthCheck),
)
STAIR = ((0.3, 0.3), (2.0, 0.3), (2.0, 1.0), (1.9, 1.0), (1.9, 1.6), (0.3, 1.6))
NOTCHED = (
    (0.3, 0.3), (2.5, 0.3), (2.5, 1.2), (1.6, 1.2), (1.6, 1.6), (1.2, 1.6), (1.2, 1.2), (0.3, 1.2),
)  # fmt: skip
NECK = (
    (0.2, 0.2), (1.0, 0.2), (1.0, 0.4), (1.6, 0.4), (1.6, 0.2), (2.4, 0.2),
    (2.4, 1.0), (1.6, 1.0), (1.6, 0.85), (1.0, 0.85), (1.0, 1.0), (0.2, 1.0),
)  # fmt: skip


def outline(points: Polygon) -> Shape:
    return Shape("cut-out", "outline", 0.2, outline=points, clear="inside")


@pytest.mark.parametrize(
    ("shapes", "answer"),
    [
        ((outline(box((0.5, 2.0), (0.4, 1.4))),), YES),
        ((outline(box((0.5, 0.9), (0.4, 1.4))),), NO),  # 0.4 wide
        ((outline(box((0.5, 1.0), (0.4, 1.4))),), OPEN),  # the cutter's own width
        ((outline(STAIR),), OPEN),  # a jog of 0.1 between an inside and an outside corner
        ((outline(NOTCHED),), NO),  # the end of a recess 0.4 wide
        ((outline(NECK),), NO),  # a neck 0.45 wide
        ((Shape("ledge", "step", 0.2, side="left", width=0.1),), YES),  # open: any width
        (
            tuple(
                Shape(name, "boss", 0.2, outline=box((x, x + 0.3), (0.5, 1.0)))
                for name, x in (("a", 0.6), ("b", 1.3))
            ),
            NO,  # the two stand 0.4 apart
        ),
    ],
)
def test_reach_of_known_shapes(tmp_path: Path, shapes: tuple[Shape, ...], answer: str) -> None:
    spec = Spec("inch", (3.0, 2.0, 1.0), shapes, (HALF,), ("half",))
    assert reachable(read(spec.write(tmp_path)), {"half"}) == answer


def test_a_feature_inside_a_deeper_one_takes_nothing(tmp_path: Path) -> None:
    deep = Shape("deep", "pocket", 0.5, outline=box((0.5, 2.5), (0.4, 1.6)))
    shallow = Shape("shallow", "pocket", 0.2, outline=box((1.0, 2.0), (0.6, 1.4)))
    job = Spec("inch", (3.0, 2.0, 1.0), (deep, shallow), (HALF,), ("half",)).write(tmp_path)
    assert not takes_metal(read(job))


def target(spec: Spec, folder: Path) -> np.ndarray:
    """Depth of the finished part below the top, on the samples."""
    job = read(spec.write(folder))
    return Block(job).target - job.top


@FEW
@given(spec=specs())
def test_moved_specs_describe_the_moved_part(
    tmp_path_factory: pytest.TempPathFactory, spec: Spec
) -> None:
    folder = tmp_path_factory.mktemp("spec")
    plain = target(spec, folder)
    # array rows run from front to back: a turn counter-clockwise seen from above is rot90 by -1
    for moved, wanted in (
        (target(mirrored(spec), folder), plain[:, ::-1]),
        (target(turned(spec), folder), np.rot90(plain, -1)),
    ):
        # a sample that lies on a wall may fall to either side
        assert np.mean(np.abs(moved - wanted) > 1e-6) < 0.02
    assert mirrored(mirrored(spec)).job_text() == spec.job_text()
    large = read(scaled(spec, 2.0).write(folder))
    small = read(spec.write(folder))
    assert large.blocks() == pytest.approx(2 * small.blocks(), abs=1e-5)
