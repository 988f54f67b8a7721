"""The laws for round and slanted walls: mirror, turn, scale, the other unit, the same bytes."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

import pytest
from outside.bench import Outcome, complaints, sheet
from outside.curves import Edge, Outline, Spot, circle
from outside.measures import read_rows
from outside.printed import MM_PER_INCH
from outside.round_job import read
from outside.round_jobs import RoundSpec, cut_out
from outside.round_verdict import Stepped, stepped_walls
from outside.smooth import blob, link, moved, regular
from outside.spec import CutterSpec

STOCK = (2.6, 2.0, 1.0)


@dataclass(frozen=True, slots=True)
class Part:
    """An outline to clear, and all that a law may change; lengths in ``units``."""

    outline: Outline
    clear: str
    stock: tuple[float, float, float] = STOCK
    factor: float = 1.0
    units: str = "inch"
    climb: bool = False

    def spec(self) -> RoundSpec:
        f = self.factor
        feature = cut_out("part", 0.2 * f, self.outline, self.clear)
        return RoundSpec(
            self.stock,
            (feature,),
            (CutterSpec("mill", 0.375 * f, None, 1.0 * f),),
            self.units,
            {"wall": 0.02 * f, "floor": 0.01 * f, "cusp": 0.004 * f},
            {"width_of_cut": 0.12 * f, "stand_off": 0.05 * f, "cross_over": 0.1 * f},
            climb=self.climb,
        )


PARTS = {
    "cam": Part(link((1.0, 0.9), (1.8, 1.1), 0.5, 0.25), "outside"),
    "eye": Part(circle((1.3, 1.0), 1.2), "inside"),
    "hexagon": Part(regular((1.3, 1.0), 0.7, 6, 10.0), "outside"),
    "bean": Part(blob(10, (1.3, 1.0), 0.8, 7, 0.5), "outside"),
}


def all_edges(part: Part, move: Callable[[Spot], Spot], mirror: bool = False) -> tuple[Edge, ...]:
    return tuple(moved(edge, move, mirror) for edge in part.outline)


def mirrored(part: Part) -> Part:
    outline = all_edges(part, lambda p: (STOCK[0] - p[0], p[1]), mirror=True)
    return replace(part, outline=outline, climb=True)


def quarter_turned(part: Part) -> Part:
    outline = all_edges(part, lambda p: (STOCK[1] - p[1], p[0]))
    return replace(part, outline=outline, stock=(STOCK[1], STOCK[0], STOCK[2]))


def scaled(part: Part, factor: float, units: str = "inch") -> Part:
    outline = all_edges(part, lambda p: (p[0] * factor, p[1] * factor))
    length, width, height = (side * factor for side in part.stock)
    return replace(part, outline=outline, stock=(length, width, height), factor=factor, units=units)


def planned(part: Part, folder: Path) -> Outcome:
    folder.mkdir()
    job_file = part.spec().write(folder)
    outcome = sheet(job_file)
    assert outcome.code == 0, outcome.text
    return outcome


@pytest.fixture(scope="module")
def base(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], Outcome]:
    """Each part as it is, planned once for all the laws."""
    return cache(lambda name: planned(PARTS[name], tmp_path_factory.mktemp(name) / "base"))


def finished(outcome: Outcome) -> list[Stepped]:
    job = read(outcome.job_file)
    rows = read_rows(outcome.moves_file)
    return [wall for wall in stepped_walls(job, rows) if wall.at_size(job.resolution)]


def settings(outcome: Outcome) -> int:
    return sum(len(wall.settings) for wall in finished(outcome))


@pytest.mark.parametrize("name", ["cam", "bean"])
@pytest.mark.parametrize("law", [mirrored, quarter_turned])
def test_a_moved_part_is_no_more_work(
    tmp_path: Path, base: Callable[[str], Outcome], name: str, law: Callable[[Part], Part]
) -> None:
    first, second = base(name), planned(law(PARTS[name]), tmp_path / "b")
    # where a round begins, and what rounds to which step, may differ
    assert settings(second) == pytest.approx(settings(first), rel=0.1, abs=6)
    areas = [outcome.plan()["proof"]["unreached_area"] for outcome in (first, second)]
    assert areas[1] == pytest.approx(areas[0], rel=0.05, abs=2e-4)
    assert complaints(second.job_file, second) == []


@pytest.mark.parametrize("name", sorted(PARTS))
def test_twice_as_large_takes_as_many_settings(
    tmp_path: Path, base: Callable[[str], Outcome], name: str
) -> None:
    first = base(name)
    second = planned(scaled(PARTS[name], 2.0), tmp_path / "b")
    # the readout is twice as fine there: less of the scallop goes to rounding
    assert settings(second) == pytest.approx(settings(first), rel=0.12, abs=6)


@pytest.mark.parametrize("name", sorted(PARTS))
def test_inch_and_millimetre_twins_agree_on_round_walls(
    tmp_path: Path, base: Callable[[str], Outcome], name: str
) -> None:
    first = base(name)
    second = planned(scaled(PARTS[name], MM_PER_INCH, "mm"), tmp_path / "b")
    assert settings(second) == pytest.approx(settings(first), rel=0.1, abs=6)
    for outcome in (first, second):
        job = read(outcome.job_file)
        assert all(min(wall.clear) >= -1e-8 for wall in finished(outcome))
        assert all(min(wall.clear) < job.resolution for wall in finished(outcome))


def test_the_same_round_job_gives_the_same_bytes(tmp_path: Path) -> None:
    job_file = PARTS["cam"].spec().write(tmp_path)
    first, second = (sheet(job_file, tmp_path / folder) for folder in "ab")
    assert first.code == 0, first.text
    for file in sorted(path.name for path in first.folder.iterdir()):
        assert (first.folder / file).read_bytes() == (second.folder / file).read_bytes()
