"""Laws every plan obeys: mirror, turn, scale, say it in the other unit, say it twice."""

from collections.abc import Callable
from pathlib import Path

import pytest
from outside.bench import Outcome, sheet
from outside.printed import MM_PER_INCH
from outside.spec import CutterSpec, Shape, Spec, Spot, box, mirrored, scaled, turned

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


LAWS = pytest.mark.parametrize(
    ("law", "move"),
    [
        (mirrored, lambda p: (3.0 - p[0], p[1])),
        (turned, lambda p: (2.0 - p[1], p[0])),
    ],
    ids=["mirrored job climbs", "turned job"],
)


def strokes(outcome: Outcome, move: Callable[[Spot], Spot]) -> list[tuple]:
    """Cut rows as strokes without a sense, moved; in order of place."""
    return sorted(
        (stage, *sorted(tuple(round(v, 4) + 0.0 for v in move(p)) for p in (start, end)), z)
        for stage, _, start, end, z in lines_of(outcome)
    )


@pytest.mark.parametrize("name", ["ledges", "way"])
@LAWS
def test_a_moved_job_has_the_moved_passes(
    tmp_path: Path, name: str, law: Callable[[Spec], Spec], move: Callable[[Spot], Spot]
) -> None:
    spec = spec_of(name)
    moved = law(spec)
    first, second = planned(spec, tmp_path / "a"), planned(moved, tmp_path / "b")
    x, y, _ = moved.origin()
    assert strokes(second, lambda p: (p[0] + x, p[1] + y)) == strokes(first, move)
    for key in ("conventional_share", "unreached_area", "climb_length"):
        shares = [outcome.plan()["proof"][key] for outcome in (first, second)]
        assert shares[0] == pytest.approx(shares[1], abs=0.01)


@pytest.mark.parametrize("name", ["elbow", "island", "lug"])
@LAWS
def test_a_moved_ring_is_no_more_work(
    tmp_path: Path, name: str, law: Callable[[Spec], Spec], move: Callable[[Spot], Spot]
) -> None:
    """Where rings start may depend on the side; how much is cut, and how, may not."""
    spec = spec_of(name)
    first, second = planned(spec, tmp_path / "a"), planned(law(spec), tmp_path / "b")
    assert length_of(second) == pytest.approx(length_of(first), rel=0.05)
    proofs = [outcome.plan()["proof"] for outcome in (first, second)]
    assert proofs[0]["unreached_area"] == pytest.approx(proofs[1]["unreached_area"], abs=1e-4)
    assert proofs[0]["conventional_share"] == pytest.approx(
        proofs[1]["conventional_share"], abs=0.05
    )
    assert [proof["climb_length"] for proof in proofs] == pytest.approx([0, 0], abs=0.01)


@pytest.mark.parametrize("name", sorted(SHAPES))
def test_a_job_twice_as_large_takes_the_same_passes_twice_as_long(
    tmp_path: Path, name: str
) -> None:
    first = planned(spec_of(name), tmp_path / "a")
    second = planned(scaled(spec_of(name), 2.0), tmp_path / "b")
    # the readout's step is twice as fine here: a jog between two rings may come or go
    assert len(lines_of(second)) == pytest.approx(len(lines_of(first)), rel=0.08)
    assert length_of(second) == pytest.approx(2 * length_of(first), rel=0.05)
    areas = [outcome.plan()["proof"]["unreached_area"] for outcome in (first, second)]
    assert areas[1] == pytest.approx(4 * areas[0], rel=0.02, abs=1e-4)


def walls_skimmed(outcome: Outcome, spec: Spec, factor: float) -> set[tuple[str, float]]:
    """Fed axis and setting (in the spec's unit) at which a finish pass makes a wall to size."""
    radius, (length, width, _) = spec.cutters[0].diameter / 2, spec.stock
    edges: dict[str, set[float]] = {"X": set(), "Y": set()}
    for shape in spec.shapes:
        for x, y in (*shape.outline, *(p for island in shape.islands for p in island)):
            edges["Y"].add(x)
            edges["X"].add(y)
        if shape.kind == "slot":
            edges["X"] |= {shape.center - shape.width / 2, shape.center + shape.width / 2}
        if shape.side in {"left", "right"}:
            edges["Y"].add(shape.width if shape.side == "left" else length - shape.width)
        elif shape.side:
            edges["X"].add(shape.width if shape.side == "front" else width - shape.width)
    found = set()
    for stage, axis, start, end, _ in lines_of(outcome):
        at = (start[1] if axis == "X" else start[0]) / factor
        for edge in edges[axis]:
            if stage == "finish" and start != end and abs(abs(at - edge) - radius) < 0.00051:
                found.add((axis, edge + radius * (1 if at > edge else -1)))
    return found


@pytest.mark.parametrize("name", sorted(SHAPES))
def test_inch_and_millimetre_twins_agree(tmp_path: Path, name: str) -> None:
    first = planned(spec_of(name), tmp_path / "a")
    second = planned(scaled(spec_of(name), MM_PER_INCH, "mm"), tmp_path / "b")
    # round settings are 0.005 in here and 0.1 mm there, so that a jog may come or go
    assert len(lines_of(second)) == pytest.approx(len(lines_of(first)), rel=0.08)
    assert length_of(second) == pytest.approx(MM_PER_INCH * length_of(first), rel=0.08)
    # the last skims stand within a step of either readout: 0.0005 in, 0.01 mm
    walls = walls_skimmed(first, spec_of(name), 1.0)
    assert walls == walls_skimmed(second, spec_of(name), MM_PER_INCH)
    assert walls


@pytest.mark.parametrize("name", sorted(SHAPES))
def test_the_same_job_gives_the_same_bytes(tmp_path: Path, name: str) -> None:
    job_file = spec_of(name).write(tmp_path)
    first, second = (sheet(job_file, tmp_path / folder, pages=True) for folder in "ab")
    names = sorted(path.name for path in first.folder.iterdir())
    assert {"job-moves.csv", "job-plan.json", "job.svg"} <= set(names)
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
