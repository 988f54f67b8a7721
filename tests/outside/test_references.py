"""Plans held against counts, formulas and libraries from outside the program."""

from dataclasses import dataclass
from math import ceil, pi
from pathlib import Path

import pyclipper
import pytest

from .bench import Outcome, complaints, sheet
from .printed import MM_PER_INCH, Polygon
from .spec import CutterSpec, Shape, Spec, box

HALF = (CutterSpec("half", 0.5, None, 1.25),)
QUARTER = (CutterSpec("quarter", 0.25, None, 1.0),)
STOCK = (3.0, 2.0, 1.0)
RADIUS = 0.25
ELBOW = ((0.5, 0.3), (2.5, 0.3), (2.5, 1.1), (1.5, 1.1), (1.5, 1.7), (0.5, 1.7))


def job(*shapes: Shape, cutters: tuple[CutterSpec, ...] = HALF, **more: object) -> Spec:
    """A small inch job; whatever is not said is left to the program."""
    return Spec("inch", STOCK, shapes, cutters, **more)  # type: ignore[arg-type]


def step(width: float, side: str = "left", depth: float = 0.25) -> Shape:
    return Shape(f"{side} ledge", "step", depth, side=side, width=width)


def pocket(outline: Polygon, *islands: Polygon) -> Shape:
    return Shape("tray", "pocket", 0.25, outline=outline, islands=islands)


def boss(outline: Polygon) -> Shape:
    return Shape("lug", "boss", 0.25, outline=outline)


def outline(points: Polygon, clear: str = "inside") -> Shape:
    return Shape("cut-out", "outline", 0.25, outline=points, clear=clear)


def planned(spec: Spec, folder: Path) -> Outcome:
    """The plan of a job that must be planned."""
    outcome = sheet(spec.write(folder))
    assert outcome.code == 0, outcome.text
    return outcome


@pytest.mark.parametrize("side", ["left", "right", "front", "back"])
@pytest.mark.parametrize(
    ("sizes", "passes"),
    [
        # width, wall stock, width of cut
        ((0.75, 0.03, 0.25), 3),  # 0.72 / 0.25 = 2.88
        ((0.75, 0.0, 0.25), 3),  # a whole number
        ((1.0, 0.03, 0.125), 8),  # 0.97 / 0.125 = 7.76
        ((0.36, 0.03, 0.11), 3),  # 0.33 / 0.11 = 3 but for float noise
        ((0.25, 0.03, 0.25), 1),
        ((1.2, 0.02, 0.2), 6),  # 1.18 / 0.2 = 5.9
    ],
)
def test_number_of_passes_of_a_shoulder(
    tmp_path: Path, side: str, sizes: tuple[float, float, float], passes: int
) -> None:
    width, wall, width_of_cut = sizes
    assert passes == ceil(round((width - wall) / width_of_cut, 6))
    spec = job(
        step(width, side),
        use=("half",),
        finish={"wall": wall, "floor": 0.0},
        limits={"width_of_cut": width_of_cut},
    )
    rough = [
        line
        for line in planned(spec, tmp_path).table()
        if line["move"] == "cut" and line["stage"] == "rough"
    ]
    assert len(rough) == passes
    widths = [float(line["width_of_cut"]) for line in rough]
    # near-equal: none thinner than three quarters of the others
    assert min(widths) >= 0.75 * max(widths) - 1e-9
    assert sum(widths) == pytest.approx(width - wall, abs=0.001)


def test_levels_multiply_the_passes(tmp_path: Path) -> None:
    # 0.5 deep at most 0.2 at a time: 3 levels of ceil(0.72 / 0.25) = 3 passes
    spec = job(
        step(0.75, depth=0.5),
        use=("half",),
        finish={"wall": 0.03, "floor": 0.0},
        limits={"width_of_cut": 0.25, "depth_of_cut": 0.2},
    )
    table = planned(spec, tmp_path).table()
    rough = [line for line in table if line["move"] == "cut" and line["stage"] == "rough"]
    assert len(rough) == 9
    assert len({line["z"] for line in rough}) == 3


@dataclass(frozen=True, slots=True)
class Corner:
    """A job with inside corners that keep the cutter's radius."""

    shape: Shape
    corners: int


CORNERED = {
    "tray": Corner(pocket(box((0.5, 2.5), (0.4, 1.6))), 4),
    "tray open to the front": Corner(pocket(box((0.5, 2.5), (-0.1, 1.2))), 2),
    "elbow": Corner(outline(ELBOW), 5),
    "tray round an island": Corner(
        pocket(box((0.3, 2.7), (0.2, 1.8)), box((1.3, 1.7), (0.9, 1.1))), 4
    ),
    "ledge": Corner(step(0.6), 0),
    "lug": Corner(boss(box((1.0, 2.0), (0.7, 1.3))), 0),
}


@pytest.mark.parametrize("name", sorted(CORNERED))
def test_unreached_area_is_that_of_the_corners(tmp_path: Path, name: str) -> None:
    case = CORNERED[name]
    outcome = planned(job(case.shape, use=("half",)), tmp_path)
    found, area = outcome.measure(), case.corners * (1 - pi / 4) * RADIUS**2
    assert outcome.plan()["proof"]["unreached_area"] == pytest.approx(area, rel=0.02, abs=1e-4)
    # the distance transform counts samples: a cell round each corner's arc and two walls
    rough = 4 * case.corners * RADIUS * found.cell * 0.5
    assert found.unreached == pytest.approx(area, abs=rough + 1e-6)


def test_reach_of_an_elbow_agrees_with_the_distance_transform(tmp_path: Path) -> None:
    # a recess 0.4 wide: a half-inch cutter only bulges into it, so the job names a quarter-inch one
    points = ((0.4, 0.3), (2.6, 0.3), (2.6, 1.2), (1.7, 1.2), (1.7, 1.7), (1.3, 1.7))
    points += ((1.3, 1.2), (0.4, 1.2))
    spec = job(outline(points), cutters=HALF + QUARTER, use=("half", "quarter"))
    outcome = planned(spec, tmp_path)
    area = 6 * (1 - pi / 4) * 0.125**2
    assert outcome.plan()["proof"]["unreached_area"] == pytest.approx(area, rel=0.02)
    assert outcome.measure().unreached == pytest.approx(area, rel=0.25)


def tooth_against_feed(
    travel: tuple[float, float], touch: tuple[float, float], clockwise: bool
) -> bool:
    """Whether a cut is conventional: tooth velocity omega x r against the work's own motion.

    ``touch`` points from the axis to the metal. The work moves opposite to the cutter's travel.
    """
    omega = -1.0 if clockwise else 1.0
    tooth = (-omega * touch[1], omega * touch[0])
    return -(tooth[0] * travel[0] + tooth[1] * travel[1]) < 0


def test_the_vector_rule_on_its_own_example() -> None:
    # travel +Y, metal at -X, clockwise: tooth +Y, work -Y: conventional
    assert tooth_against_feed((0, 1), (-1, 0), clockwise=True)
    assert not tooth_against_feed((0, 1), (1, 0), clockwise=True)
    assert not tooth_against_feed((0, 1), (-1, 0), clockwise=False)


@pytest.mark.parametrize("left_hand", [False, True])
@pytest.mark.parametrize("climb", [False, True])
@pytest.mark.parametrize("clear", ["inside", "outside"])
def test_direction_is_that_of_the_vector_rule(
    tmp_path: Path, clear: str, climb: bool, left_hand: bool
) -> None:
    middle = box((1.0, 2.0), (0.6, 1.4))
    spec = job(outline(middle, clear), use=("half",), climb=climb, left_hand=left_hand)
    outcome = planned(spec, tmp_path)
    checked, before = 0, None
    for line in outcome.table():
        x, y = float(line["x"]), float(line["y"])
        if line["move"] == "cut" and line["stage"] == "finish" and before:
            travel = (x - before[0], y - before[1])
            # the wall followed is the nearest one along the other axis
            if line["axis"] == "X":
                wall = min((0.6, 1.4), key=lambda at: abs(abs(at - y) - RADIUS))
                touch = (0.0, wall - y)
            else:
                wall = min((1.0, 2.0), key=lambda at: abs(abs(at - x) - RADIUS))
                touch = (wall - x, 0.0)
            if abs(abs(touch[0] + touch[1]) - RADIUS) < 0.05 and float(line["depth_of_cut"]) > 0.1:
                assert tooth_against_feed(travel, touch, clockwise=not left_hand) != climb
                checked += 1
        before = (x, y)
    assert checked >= 4


@pytest.mark.parametrize("points", [ELBOW, box((0.5, 2.5), (0.4, 1.6))], ids=["elbow", "tray"])
def test_finish_passes_lie_on_the_offset_outline(tmp_path: Path, points: Polygon) -> None:
    """Every edge of the outline set in by the radius (pyclipper) is followed by a finish pass."""
    scale = 1e6
    offset = pyclipper.PyclipperOffset()
    path = [(round(x * scale), round(y * scale)) for x, y in points]
    offset.AddPath(path, pyclipper.JT_MITER, pyclipper.ET_CLOSEDPOLYGON)
    (inner,) = offset.Execute(-RADIUS * scale)
    inner = [(x / scale, y / scale) for x, y in inner]
    outcome = planned(job(outline(points), use=("half",)), tmp_path)
    runs, before = [], (0.0, 0.0)
    for line in outcome.table():
        here = (float(line["x"]), float(line["y"]))
        if line["move"] == "cut" and line["stage"] == "finish":
            runs.append((line["axis"], before, here))
        before = here
    walls = list(zip(points, points[1:] + points[:1], strict=True))
    for edge in zip(inner, inner[1:] + inner[:1], strict=True):
        axis, along = ("X", 0) if abs(edge[0][1] - edge[1][1]) < 1e-9 else ("Y", 1)
        at = edge[0][1 - along]
        spans = [
            sorted((start[along], end[along]))
            for name, start, end in runs
            if name == axis and abs(start[1 - along] - at) <= 0.0005 + 1e-9
        ]
        # the wall this edge belongs to stands a radius off; past its end nothing needs cutting
        low, high = sorted((edge[0][along], edge[1][along]))
        wall = next(
            w
            for w in walls
            if abs(abs(w[0][1 - along] - at) - RADIUS) < 1e-6
            and abs(w[1][1 - along] - w[0][1 - along]) < 1e-9
            and min(w[0][along], w[1][along]) < high
            and max(w[0][along], w[1][along]) > low
        )
        low = max(low, min(wall[0][along], wall[1][along]))
        high = min(high, max(wall[0][along], wall[1][along]))
        for k in range(21):
            place = low + (high - low) * k / 20
            assert any(s[0] - 0.001 <= place <= s[1] + 0.001 for s in spans), (axis, at, place)


SHARES = {
    "one ledge": (job(step(0.6)), 0.02),
    "four ledges": (job(*(step(0.4, s) for s in ("left", "right", "front", "back"))), 0.02),
    "wide ledge": (job(step(1.5, "right", 0.4)), 0.02),
    "lug": (job(boss(box((1.0, 2.0), (0.7, 1.3)))), 0.10),
    "lug at the edge": (job(boss(box((0.2, 1.4), (0.5, 1.6)))), 0.10),
    "outside of an elbow": (job(outline(ELBOW, "outside")), 0.10),
    "tray": (job(pocket(box((0.3, 2.7), (0.2, 1.8)))), 0.25),
    "small tray": (job(pocket(box((0.8, 2.2), (0.5, 1.5))), cutters=QUARTER), 0.25),
    "elbow": (job(outline(ELBOW), cutters=QUARTER), 0.25),
    "tray round an island": (
        job(pocket(box((0.2, 2.8), (0.2, 1.8)), box((1.2, 1.8), (0.8, 1.2))), cutters=QUARTER),
        0.25,
    ),
}


@pytest.mark.parametrize("name", sorted(SHARES))
def test_ordinary_jobs_cut_both_ways_little_and_pass_the_replay(tmp_path: Path, name: str) -> None:
    spec, most = SHARES[name]
    outcome = planned(spec, tmp_path)
    assert complaints(outcome.job_file, outcome) == []
    found = outcome.measure()
    # shallow floor passes are reported apart
    walls = [c for c in found.cuts if c.row.stage == "rough" or c.depth > 0.05]
    share = sum(c.both for c in walls) / sum(c.engaged for c in walls)
    assert share <= most
    assert found.rubs == []


@pytest.mark.parametrize("width", [0.5, 0.501, 0.7])
@pytest.mark.parametrize("along", ["x", "y"])
def test_slots_from_the_cutters_own_width_up(tmp_path: Path, along: str, width: float) -> None:
    slot = Shape("way", "slot", 0.2, along=along, center=1.0, width=width)
    outcome = planned(job(slot, use=("half",)), tmp_path)
    assert complaints(outcome.job_file, outcome) == []


@pytest.mark.parametrize("units", ["inch", "mm"])
def test_a_reground_cutter_is_taken_at_its_measured_size(tmp_path: Path, units: str) -> None:
    # 0.4965 measured: finished wall at 0.6 means the axis at 0.6 - 0.24825, rounded to the
    # readout away from the wall: 0.3515
    factor = 1.0 if units == "inch" else MM_PER_INCH
    mill = CutterSpec("half", 0.5 * factor, 0.4965 * factor, 1.25 * factor)
    stock = (3 * factor, 2 * factor, factor)
    shape = Shape("ledge", "step", 0.25 * factor, side="left", width=0.6 * factor)
    outcome = planned(Spec(units, stock, (shape,), (mill,), use=("half",)), tmp_path)
    step_size = 0.0005 if units == "inch" else 0.01
    last = [line for line in outcome.table() if line["move"] == "cut"][-1]
    exact = (0.6 - 0.4965 / 2) * factor
    assert exact - step_size < float(last["x"]) <= exact + 1e-9
    assert complaints(outcome.job_file, outcome) == []


@pytest.mark.parametrize(
    ("shape", "cutters"),
    [
        (pocket(box((1.0, 1.4), (0.5, 1.5))), HALF),  # 0.4 wide, cutter 0.5
        (Shape("way", "slot", 0.2, along="x", center=1.0, width=0.45), HALF),
        (step(0.6, depth=0.95), (CutterSpec("short", 0.5, None, 0.75),)),
    ],
    ids=["narrow tray", "narrow slot", "flutes too short"],
)
def test_what_cannot_be_cut_is_refused_by_name(
    tmp_path: Path, shape: Shape, cutters: tuple[CutterSpec, ...]
) -> None:
    outcome = sheet(job(shape, cutters=cutters, use=(cutters[0].id,)).write(tmp_path))
    assert outcome.code == 1
    assert shape.name in outcome.text
    assert not outcome.moves_file.exists()
