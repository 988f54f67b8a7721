"""Laws every plan obeys: mirror, turn, scale, say it in the other unit, say it twice."""

from pathlib import Path

import pytest
from outside.bench import Outcome, sheet
from outside.printed import MM_PER_INCH
from outside.spec import CutterSpec, Shape, Spec, box, mirrored, scaled, turned

MILL = CutterSpec("half", 0.5, None, 1.25)
FINISH = {"wall": 0.03, "floor": 0.01, "skims": 2, "floor_skims": 1}
LIMITS = {"width_of_cut": 0.125, "stand_off": 0.05, "cross_over": 0.1, "feed": 4.0}
ELBOW = ((0.5, 0.3), (2.5, 0.3), (2.5, 1.1), (1.5, 1.1), (1.5, 1.7), (0.5, 1.7))
SHAPES = {
    "ledges": (
        Shape("left ledge", "step", 0.25, side="left", width=0.7),
        Shape("back ledge", "step", 0.4, side="back", width=0.5),
    ),
    "way": (Shape("way", "slot", 0.2, along="x", center=0.8, width=0.75),),
    "lug": (Shape("lug", "boss", 0.25, outline=box((0.7, 1.9), (0.6, 1.5))),),
    "elbow": (Shape("elbow", "outline", 0.25, outline=ELBOW, clear="inside"),),
    "island": (
        Shape(
            "tray",
            "pocket",
            0.25,
            outline=box((0.2, 2.8), (0.2, 1.8)),
            islands=(box((1.1, 1.6), (0.9, 1.2)),),
        ),
    ),
}


def spec_of(name: str) -> Spec:
    return Spec(
        "inch", (3.0, 2.0, 1.0), SHAPES[name], (MILL,), ("half",), finish=FINISH, limits=LIMITS
    )


def planned(spec: Spec, folder: Path) -> Outcome:
    folder.mkdir()
    outcome = sheet(spec.write(folder))
    assert outcome.code == 0, outcome.text
    return outcome


def lines_of(outcome: Outcome) -> list[tuple]:
    """Cut rows: stage, axis, start and end, height."""
    found, before = [], (0.0, 0.0)
    for row in outcome.table():
        here = (float(row["x"]), float(row["y"]))
        if row["move"] == "cut":
            found.append((row["stage"], row["axis"], before, here, float(row["z"])))
        before = here
    return found


def length_of(outcome: Outcome) -> float:
    return sum(abs(b[0] - a[0]) + abs(b[1] - a[1]) for _, _, a, b, _ in lines_of(outcome))


@pytest.mark.parametrize("name", sorted(SHAPES))
@pytest.mark.parametrize(
    ("law", "move", "axes"),
    [
        (mirrored, lambda p: (3.0 - p[0], p[1]), {"X": "X", "Y": "Y"}),
        (turned, lambda p: (2.0 - p[1], p[0]), {"X": "Y", "Y": "X"}),
    ],
    ids=["mirrored job climbs", "turned job"],
)
def test_a_moved_job_has_the_moved_passes(tmp_path: Path, name: str, law, move, axes) -> None:
    """Same passes in the moved places; the written zero moves along, so coordinates are local."""
    spec = spec_of(name)
    moved = law(spec)
    first, second = planned(spec, tmp_path / "a"), planned(moved, tmp_path / "b")
    zero = moved.origin()
    there = sorted(
        (stage, axes[axis], *map(_key, (move(start), move(end))), z)
        for stage, axis, start, end, z in lines_of(first)
    )
    here = sorted(
        (stage, axis, *(_key((x + zero[0], y + zero[1])) for x, y in (start, end)), z)
        for stage, axis, start, end, z in lines_of(second)
    )
    assert here == there
    for share in ("conventional_share", "unreached_area", "climb_length"):
        assert first.plan()["proof"][share] == pytest.approx(
            second.plan()["proof"][share], abs=0.01
        )


def _key(point: tuple[float, float]) -> tuple[float, float]:
    return round(point[0], 4) + 0.0, round(point[1], 4) + 0.0


@pytest.mark.parametrize("name", sorted(SHAPES))
def test_a_job_twice_as_large_takes_the_same_passes_twice_as_long(
    tmp_path: Path, name: str
) -> None:
    first = planned(spec_of(name), tmp_path / "a")
    second = planned(scaled(spec_of(name), 2.0), tmp_path / "b")
    assert len(lines_of(second)) == len(lines_of(first))
    assert length_of(second) == pytest.approx(2 * length_of(first), rel=0.01)
    areas = [outcome.plan()["proof"]["unreached_area"] for outcome in (first, second)]
    assert areas[1] == pytest.approx(4 * areas[0], rel=0.02, abs=1e-4)


@pytest.mark.parametrize("name", sorted(SHAPES))
def test_inch_and_millimetre_twins_agree(tmp_path: Path, name: str) -> None:
    first = planned(spec_of(name), tmp_path / "a")
    second = planned(scaled(spec_of(name), MM_PER_INCH, "mm"), tmp_path / "b")
    assert len(lines_of(second)) == len(lines_of(first))
    assert length_of(second) == pytest.approx(MM_PER_INCH * length_of(first), rel=0.01)
    # finish passes stand within a step of either readout and its rounding
    ends = [
        [end for stage, _, _, end, _ in lines_of(outcome) if stage == "finish"]
        for outcome in (first, second)
    ]
    for (x, y), (u, v) in zip(*ends, strict=True):
        assert (u, v) == pytest.approx((x * MM_PER_INCH, y * MM_PER_INCH), abs=0.15)


@pytest.mark.parametrize("name", sorted(SHAPES))
def test_the_same_job_gives_the_same_bytes(tmp_path: Path, name: str) -> None:
    job_file = spec_of(name).write(tmp_path)
    first, second = (sheet(job_file, tmp_path / folder) for folder in "ab")
    names = sorted(path.name for path in first.folder.iterdir())
    assert names == ["job-moves.csv", "job-plan.json"]
    for file in names:
        assert (first.folder / file).read_bytes() == (second.folder / file).read_bytes()


@pytest.mark.parametrize("zero", ["right back bottom", "center center top", "left back top"])
def test_another_zero_moves_nothing_but_the_numbers(tmp_path: Path, zero: str) -> None:
    spec = spec_of("elbow")
    other = Spec(
        "inch", spec.stock, spec.shapes, spec.cutters, spec.use, zero, finish=FINISH, limits=LIMITS
    )
    x, y, z = other.origin()
    first = lines_of(planned(spec, tmp_path / "a"))
    second = [
        (stage, axis, (a[0] + x, a[1] + y), (b[0] + x, b[1] + y), height + z)
        for stage, axis, a, b, height in lines_of(planned(other, tmp_path / "b"))
    ]
    for one, two in zip(first, second, strict=True):
        assert one[:2] == two[:2]
        assert one[2] == pytest.approx(two[2], abs=1e-9)
        assert one[3] == pytest.approx(two[3], abs=1e-9)
        assert one[4] == pytest.approx(two[4], abs=1e-9)
