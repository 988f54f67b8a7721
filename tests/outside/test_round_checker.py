"""The replay of round walls tried on tables stepped by hand: good ones pass, spoiled do not."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from math import pi, sqrt
from pathlib import Path

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings

from .curves import Bow, Seg, Spot, bow, circle, distance, inside, polygon
from .jobs import specs
from .measures import read_rows
from .printed import read as read_straight
from .round_job import read
from .round_jobs import cut_out
from .round_pixels import RoundMeasures, RoundReplay, end_height, replay
from .round_verdict import (
    most_points,
    offset_faults,
    round_faults,
    stepped_walls,
)
from .round_walls import Ground
from .smooth import backwards, blob
from .spec import Spec
from .steps import Line, follow, off, ring, slant, walk, write

SHOP = """
units = "inch"
[machine]
name = "bench mill"
spindle_speeds = [500, 1000]
resolution = 0.0005
[[cutter]]
id = "half"
form = "{form}"
material = "high-speed steel"
diameter = 0.5
flutes = 4
flute_length = 1.25
center_cutting = true
{corner}
"""
JOB = """
units = "inch"
shop = "shop.toml"
cutter = "half"
[stock]
size = {stock}
material = "mild steel"
{feature}
"""
BORE = '[[feature]]\nname = "eye"\nkind = "bore"\ncenter = [1, 0.8]\ndiameter = 0.9\ndepth = 0.25\n'
BOSS = (
    '[[feature]]\nname = "pin"\nkind = "boss"\ncenter = [0.65, 0.65]\ndiameter = 0.9\n'
    "depth = 0.25\n"
)
SLANT = (
    '[[feature]]\nname = "bevel"\nkind = "outline"\nclear = "inside"\ndepth = 0.25\n'
    "points = [[1.2, -0.5], [2.5, -0.5], [2.5, 0.8]]\n"
)
SLOT = (
    '[[feature]]\nname = "way"\nkind = "slot"\nalong = "x"\ncenter = 0.8\nwidth = 0.5\n'
    "depth = 0.25\nstart = 0.3\nend = 1.7\n"
)
TRAY = (
    '[[feature]]\nname = "tray"\nkind = "pocket"\nx = [0.5, 1.4]\ny = [0.3, 1.2]\n'
    "corner_radius = 0.4\ndepth = 0.25\n"
)
Z = -0.25


@dataclass(frozen=True, slots=True)
class Desk:
    """A job in a folder, and the table made for it."""

    folder: Path
    feature: str
    stock: tuple[float, float, float]
    form: str = "square end"
    corner: str = ""

    def run(self, lines: list[Line]) -> tuple[RoundMeasures, list[str]]:
        """Measures and complaints; both-ways lengths are those of a first replay."""
        (self.folder / "shop.toml").write_text(SHOP.format(form=self.form, corner=self.corner))
        job_file = self.folder / "job.toml"
        job_file.write_text(JOB.format(stock=list(self.stock), feature=self.feature))
        name, job = self.feature.split('"')[1], read(job_file)
        first = replay(job, read_rows(write(self.folder, name, lines, {})))
        both = {cut.row.number: cut.both for cut in first.cuts}
        rows = read_rows(write(self.folder, name, lines, both))
        found = replay(job, rows, with_reach=True)
        return found, round_faults(job, rows, found)


def above(x: float, y: float, move: str = "position") -> Line:
    return Line(move, x, y, 0.1, "Z" if move == "retract" else "")


def bore_lines(
    count: int = 40, path: float = 0.2, clockwise: bool = True, free: float = 1.0
) -> list[Line]:
    """Plunge in the middle, out to the wall, once round."""
    spots = ring((1, 0.8), path, count, clockwise)
    freer = off((1, 0.8))
    return [
        above(1, 0.8),
        Line("plunge", 1, 0.8, Z, "Z"),
        Line("cut", spots[0][0], 0.8, Z, "X", "1"),
        *walk(spots, lambda spot: -free * freer(spot), Z),
        above(*spots[-1], "retract"),
    ]


def boss_lines(
    count: int = -60, path: float = 0.7, clockwise: bool = False, free: float = 1.0
) -> list[Line]:
    """From the front along the right of the pin, once round, and out at the back."""
    spots, sign = ring((0.65, 0.65), path, count, clockwise), -1 if clockwise else 1
    (x, y), freer = spots[0], off((0.65, 0.65))
    return [
        above(x, y - sign * 1.2),
        Line("position", x, y - sign * 1.2, Z, "Z"),
        Line("cut", x, y, Z, "Y", "1"),
        *walk(spots, lambda spot: free * freer(spot), Z),
        Line("cut", spots[-1][0], y + sign * 1.2, Z, "Y", "1"),
        above(spots[-1][0], y + sign * 1.2, "retract"),
    ]


def slant_lines(count: int = 18, free: float = 1.0) -> list[Line]:
    spots = slant(count)
    return [
        above(*spots[0]),
        Line("position", *spots[0], Z, "Z"),
        *walk(spots, lambda spot: free * (spot[0] - spot[1]), Z),
        above(*spots[-1], "retract"),
    ]


Maker = Callable[..., list[Line]]
DESKS: dict[str, tuple[str, tuple[float, float, float], Maker]] = {
    "bore": (BORE, (2, 1.6, 1), bore_lines),
    "boss": (BOSS, (1.3, 1.3, 1), boss_lines),
    "slant": (SLANT, (2, 1.3, 1), slant_lines),
}


def desk(folder: Path, name: str) -> Desk:
    return Desk(folder, *DESKS[name][:2])


@pytest.mark.parametrize("name", sorted(DESKS))
def test_a_wall_stepped_by_hand_passes(tmp_path: Path, name: str) -> None:
    found, report = desk(tmp_path, name).run(DESKS[name][2]())
    assert report == []
    assert found.gouge == 0
    assert found.scallop <= 0.004
    (wall,) = stepped_walls(read(tmp_path / "job.toml"), read_rows(tmp_path / "job-moves.csv"))
    assert min(wall.clear) >= -1e-9
    near = [wall.clear[k] for k in wall.settings]
    assert sorted(near)[len(near) // 2] <= 0.0005


@pytest.mark.parametrize(
    ("name", "lines", "scallop"),
    [
        # 20 points on a path of radius 0.2 inside a wall of 0.45: delta = 0.3142,
        # 0.45 - 0.2 cos(0.1571) - sqrt(0.25^2 - 0.2^2 sin(0.1571)^2) = 0.00443
        ("bore", bore_lines(20), 0.00443),
        # 40 points on 0.7 outside a wall of 0.45: delta = 0.1571,
        # 0.7 cos(0.0785) - 0.45 - sqrt(0.25^2 - 0.7^2 sin(0.0785)^2) = 0.00393
        ("boss", boss_lines(-40), 0.00393),
        ("boss", boss_lines(-30), 0.00710),
        # 0.9 sqrt(2) / 9 = 0.1414 apart: 0.25 - sqrt(0.25^2 - 0.0707^2) = 0.0102
        ("slant", slant_lines(9), 0.0102),
    ],
)
def test_the_scallop_is_measured(
    tmp_path: Path, name: str, lines: list[Line], scallop: float
) -> None:
    found, report = desk(tmp_path, name).run(lines)
    # the highest sample of a scallop lies at most a cell below its top; settings are rounded
    assert scallop - 0.002 < found.scallop < scallop + 0.0008
    assert any("scallop" in text for text in report) == (found.scallop > 0.004)


def test_a_setting_inside_the_offset_gouges(tmp_path: Path) -> None:
    for k in (8, 9):
        _, report = desk(tmp_path, "slant").run(
            [replace(n, y=n.y + 0.001) if n.axis == "Y" and i == 2 * k + 1 else n
             for i, n in enumerate(slant_lines())]
        )  # fmt: skip
        assert any("gouge 0.000" in text for text in report), report
        assert any("inside the wall's offset" in text for text in report), report


def test_a_setting_too_far_out_is_found(tmp_path: Path) -> None:
    lines = slant_lines()
    moved = [replace(n, y=n.y - 0.0015) if i in (17, 18) else n for i, n in enumerate(lines)]
    assert lines[17].axis == "Y"
    _, report = desk(tmp_path, "slant").run(moved)
    assert any("off the wall, more than a step" in text for text in report), report


@pytest.mark.parametrize("name", ["bore", "boss", "slant"])
def test_corners_on_the_walls_side_gouge(tmp_path: Path, name: str) -> None:
    found, report = desk(tmp_path, name).run(DESKS[name][2](free=-1.0))
    assert found.gouge > 0.001
    assert any("gouge" in text for text in report)


@pytest.mark.parametrize(
    ("name", "lines"),
    [("bore", bore_lines(40, clockwise=False)), ("boss", boss_lines(-60, clockwise=True))],
)
def test_going_round_the_other_way_climbs(tmp_path: Path, name: str, lines: list[Line]) -> None:
    found, _ = desk(tmp_path, name).run(lines)
    good, _ = desk(tmp_path, name).run(DESKS[name][2]())
    # once the middle is cleared; the way out to the bore's wall and steps into it have no side
    assert (
        found.climb_length > 5 * good.climb_length + 0.5 * found.cutting_length - found.both_length
    )


def test_two_axes_in_one_row_are_found(tmp_path: Path) -> None:
    lines = slant_lines()
    del lines[10]
    found, _ = desk(tmp_path, "slant").run(lines)
    assert found.slanted


def test_a_whole_bore_left_out_is_found(tmp_path: Path) -> None:
    found, report = desk(tmp_path, "bore").run(bore_lines(40, path=0.15))
    assert found.left
    assert any("samples left" in text for text in report)


def test_a_bore_cut_too_large_is_found(tmp_path: Path) -> None:
    found, report = desk(tmp_path, "bore").run(bore_lines(40, path=0.203))
    assert found.gouge == pytest.approx(0.003, abs=0.0006)
    assert any("inside the wall's offset" in text for text in report)


def test_blind_ends_are_half_circles(tmp_path: Path) -> None:
    def lines(end: float) -> list[Line]:
        return [
            above(0.55, 0.8),
            Line("plunge", 0.55, 0.8, Z, "Z"),
            Line("cut", end, 0.8, Z, "X", "1"),
            above(end, 0.8, "retract"),
        ]

    place = Desk(tmp_path, SLOT, (2, 1.6, 1))
    found, report = place.run(lines(1.45))
    assert report == []
    # a line of samples along the walls; square ends would be 4 (1 - pi / 4) 0.25^2 = 0.054
    assert found.unreached < 0.03
    assert place.run(lines(1.452))[0].gouge == pytest.approx(0.002, abs=2e-6)
    assert any("samples left" in text for text in place.run(lines(1.43))[1])


def test_a_sharp_corner_cuts_into_a_rounded_one(tmp_path: Path) -> None:
    low, high, front, back = 0.75, 1.15, 0.55, 0.95
    lines = [
        above(0.95, 0.75),
        Line("plunge", 0.95, 0.75, Z, "Z"),
        *(
            Line("cut", x, y, Z, axis, "1")
            for x, y, axis in (
                (high, 0.75, "X"), (high, front, "Y"), (low, front, "X"), (low, back, "Y"),
                (high, back, "X"), (high, 0.75, "Y"),
            )
        ),
        above(high, 0.75, "retract"),
    ]  # fmt: skip
    found, _ = Desk(tmp_path, TRAY, (2, 1.6, 1)).run(lines)
    # axis at 0.25 from both walls, the corner's centre at 0.4: 0.15 sqrt(2) + 0.25 - 0.4
    assert found.gouge == pytest.approx(0.15 * sqrt(2) - 0.15, abs=2e-6)


@pytest.mark.parametrize(("form", "corner"), [("corner radius", 0.06), ("ball", 0.25)])
def test_a_round_end_leaves_its_fillet_and_no_more(
    tmp_path: Path, form: str, corner: float
) -> None:
    line = f"corner_radius = {corner}" if form == "corner radius" else ""
    place = Desk(tmp_path, SLOT, (2, 1.6, 1), form, line)
    lines = [
        above(0.55, 0.8),
        Line("plunge", 0.55, 0.8, Z, "Z"),
        Line("cut", 1.45, 0.8, Z, "X", "1"),
        above(1.45, 0.8, "retract"),
    ]
    found, report = place.run(lines)
    assert report == []
    assert found.gouge == 0
    deeper = [replace(n, z=Z - 0.002) if n.z == Z else n for n in lines]
    assert place.run([*deeper[:-1], lines[-1]])[0].gouge == pytest.approx(0.002, abs=2e-6)


def test_the_end_of_a_cutter() -> None:
    away = np.array([0.0, 0.19, 0.22, 0.2499, 0.26])
    bull = end_height(0.25, 0.06, away)
    assert bull[:2] == pytest.approx([0, 0])
    assert bull[2] == pytest.approx(0.06 - sqrt(0.06**2 - 0.03**2))
    assert bull[3] == pytest.approx(0.06, abs=0.005)
    assert bull[4] == np.inf
    assert end_height(0.25, 0.25, away)[1] == pytest.approx(0.25 - sqrt(0.25**2 - 0.19**2))


def test_insides_and_distances_by_formula() -> None:
    rounded = polygon([(0, 0), (2, 0), (2, 1), (0, 1)], [0.25] * 4)
    assert sum(edge.length for edge in rounded) == pytest.approx(6 - 8 * 0.25 + 2 * pi * 0.25)
    x, y = np.array([0.05, 0.08, 1.0, 2.1, 1.0]), np.array([0.05, 0.08, 0.5, 0.5, 0.999])
    assert inside(rounded, x, y).tolist() == [False, True, True, False, True]
    # the corner's arc is 0.25 from (0.25, 0.25)
    assert distance(list(rounded), x[:1], y[:1])[0] == pytest.approx(0.2 * sqrt(2) - 0.25)
    # a slot's round end: two quarter circles meet where a row runs
    ended = polygon([(0, -0.7), (4, -0.7), (4, 0.7), (0, 0.7)], [0.7] * 4)
    assert inside(ended, np.linspace(0.1, 3.9, 20), np.zeros(20)).all()
    hole = circle((1, 1), 1.0)
    grid = np.linspace(0.3, 1.7, 41)
    xx, yy = np.meshgrid(grid, grid)
    away = np.hypot(xx - 1, yy - 1)
    assert (inside(hole, xx, yy) == (away < 0.5)).all()
    assert distance(list(hole), xx, yy) == pytest.approx(np.abs(away - 0.5))
    whole = bow((1, 0), (1, 0), (0, 0), ccw=False)
    assert whole.sweep == -2 * pi
    quarter = Bow((1, 0), (0, 1), (0, 0), 1.0, pi / 2)
    assert distance([quarter], np.array([-1.0, 0.0]), np.array([0.0, 0.0])) == pytest.approx(
        [sqrt(2), 1]
    )
    assert distance([Seg((0, 0), (1, 0))], np.array([2.0]), np.array([1.0])) == pytest.approx(
        sqrt(2)
    )


def test_walls_are_only_where_metal_stands(tmp_path: Path) -> None:
    # the bore breaks out over the step: of its circle only what lies right of X0.8 is a wall
    step = '[[feature]]\nname = "ledge"\nkind = "step"\nside = "left"\nwidth = 0.8\ndepth = 0.25\n'
    place = Desk(tmp_path, BORE + step, (2, 1.6, 1))
    (tmp_path / "shop.toml").write_text(SHOP.format(form="square end", corner=""))
    (tmp_path / "job.toml").write_text(JOB.format(stock=list(place.stock), feature=place.feature))
    ground = Ground(read(tmp_path / "job.toml"), 0.0)
    arcs = [wall for wall in ground.walls if isinstance(wall, Bow)]
    # cos(angle) = -0.2 / 0.45
    assert sum(wall.length for wall in arcs) == pytest.approx(
        2 * 0.45 * np.arccos(-0.2 / 0.45), abs=1e-5
    )
    straight = sum(wall.length for wall in ground.walls if isinstance(wall, Seg))
    # right side, front and back from X0.8 on, the ledge's wall less the chord of the bore
    assert straight == pytest.approx(1.6 + 2 * 1.2 + 1.6 - 2 * sqrt(0.45**2 - 0.2**2), abs=1e-5)


def test_points_a_circle_may_take(tmp_path: Path) -> None:
    place = desk(tmp_path, "bore")
    place.run(bore_lines())
    job = read(tmp_path / "job.toml")
    # delta = sqrt(8 * 0.004 * 0.25 / (0.2 * 0.45)) = 0.2981: ceil(21.07) + 4
    assert most_points(job, 0.45, job.tools["half"], convex=False) == 26


def stepped_bend(folder: Path, clear: str, cusp: float) -> tuple[RoundMeasures, list[str]]:
    """A chain of arcs of both turns, stepped by hand; all but a rim beside it is gone already."""
    outline = blob(10, (1.6, 1.4), 1.05, 7, 0.5)
    (folder / "shop.toml").write_text(SHOP.format(form="square end", corner=""))
    cut = cut_out("cam", 0.25, outline, clear)
    (folder / "job.toml").write_text(JOB.format(stock=[3.2, 2.8, 1], feature=f"[[feature]]\n{cut}"))
    shop = (folder / "shop.toml").read_text().replace("diameter = 0.5", "diameter = 0.25")
    (folder / "shop.toml").write_text(shop)
    job = read(folder / "job.toml")
    ground, inner = Ground(job, 0.0), clear == "inside"
    edges = tuple(backwards(e) for e in reversed(outline)) if inner else outline
    spots = follow(ground, edges, 0.125, cusp, -1.0)

    def freer(spot: Spot) -> float:
        return float(ground.clearance(np.array([spot[0]]), np.array([spot[1]]))[0])

    lines = [above(*spots[0]), Line("plunge", *spots[0], Z, "Z"), *walk(spots, freer, Z)]
    rows = read_rows(write(folder, "cam", [*lines, above(*spots[-1], "retract")], {}))
    machine = RoundReplay(job, rows)
    block = machine.block
    away = ground.clearance(block.x[None, :], block.y[:, None])
    block.height[away > 0.1] = Z
    walls = stepped_walls(job, rows)
    return machine.run(), offset_faults(job, walls)


@pytest.mark.parametrize("clear", ["inside", "outside"])
def test_bends_of_both_turns_stepped_by_hand(tmp_path: Path, clear: str) -> None:
    found, report = stepped_bend(tmp_path, clear, 0.003)
    assert report == []
    assert found.gouge == 0
    assert found.left == 0
    assert 0.001 < found.scallop <= 0.004
    assert found.climb_length < 0.1 * found.cutting_length
    assert stepped_bend(tmp_path, clear, 0.007)[0].scallop > 0.004


@settings(
    max_examples=25,
    derandomize=True,
    deadline=None,
    database=None,
    suppress_health_check=list(HealthCheck),
)
@given(spec=specs())
def test_both_readers_see_the_same_straight_part(
    tmp_path_factory: pytest.TempPathFactory, spec: Spec
) -> None:
    job_file = spec.write(tmp_path_factory.mktemp("straight"))
    plain, curved = read_straight(job_file), read(job_file)
    x = np.linspace(*plain.x, 83)[None, 1:-1] + 1e-5
    y = np.linspace(*plain.y, 59)[1:-1, None] + 1e-5
    assert curved.finished(x, y) == pytest.approx(plain.finished(x, y), abs=1e-9)
