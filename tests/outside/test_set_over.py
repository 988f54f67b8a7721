"""Work set over, judged from the files alone: rows turned back and drawn on pixels of the block."""

import csv
import json
import tomllib
from collections.abc import Callable
from functools import cache
from io import StringIO
from pathlib import Path

import numpy as np
import pytest

from passplot.flow import run

SHOP = """
units = "inch"
[machine]
name = "training mill"
spindle_speeds = [80, 135, 210, 325, 660, 1115, 1750, 2720]
power = "2 hp"
resolution = 0.0005
edge_finder = 0.2
[[cutter]]
id = "half"
form = "square end"
material = "carbide"
diameter = 0.5
flutes = 4
flute_length = 1.25
center_cutting = true
"""

JOBS = {
    "chamfer": ("inch", "conventional", [4, 3, 0.75], "left front top", "outside", 0.4,
                [[-1, -1], [5, -1], [5, 4], [1.2, 4], [0, 2.2], [-1, 2.2]], [33.690068]),
    "wedge": ("inch", "conventional", [4, 3, 0.75], "left front top", "outside", 0.4,
              [[0.6, 0.6], [3.2, 0.6], [3.2, 1.8], [1.6, 2.4], [0.6, 2.4]], [20.556045]),
    "tray": ("inch", "conventional", [4, 4, 0.75], "center center top", "inside", 0.3,
             [[-0.5, -1.2], [1.2, -0.5], [0.5, 1.2], [-1.2, 0.5]], [-22.380135]),
    "diamond": ("mm", "climb", [54, 46, 25], "right back top", "outside", 8,
                [[-27, -43], [-3, -23], [-27, -3], [-51, -23]], [-39.805571, 39.805571]),
}  # fmt: skip


Judged = tuple[dict, list[dict[str, str]], dict]
EXAMPLES = Path(__file__).parents[2] / "shop_examples"
ANGLES = {name: job[-1] for name, job in JOBS.items()} | {"wedge-gib": [3.576334]}  # atan(1/16)


def written(folder: Path, name: str) -> Judged:
    """The job file, rows and plan of one of the jobs above, or of an example of the shop."""
    if name not in JOBS:
        return judged(EXAMPLES / f"{name}.toml", folder)
    units, direction, size, zero, clear, depth, points, _ = JOBS[name]
    (folder / "shop.toml").write_text(SHOP, encoding="utf-8")
    job = folder / f"{name}.toml"
    job.write_text(
        f'units = "{units}"\nshop = "shop.toml"\ncutter = "half"\ndirection = "{direction}"\n'
        f'[stock]\nsize = {size}\nmaterial = "6061"\nzero = "{zero}"\n[[feature]]\n'
        f'name = "shape"\nkind = "outline"\nclear = "{clear}"\ndepth = {depth}\n'
        f"set_over = true\npoints = {points}\n",
        encoding="utf-8",
    )
    return judged(job, folder)


def judged(job: Path, folder: Path) -> Judged:
    """What is written for a job file, and what it says itself."""
    run(job, folder, formats={"csv", "json"})
    text = (folder / f"{job.stem}-moves.csv").read_text(encoding="utf-8")
    rows = list(csv.DictReader(StringIO(text)))
    plan = json.loads((folder / f"{job.stem}-plan.json").read_text(encoding="utf-8"))
    return tomllib.loads(job.read_text(encoding="utf-8")), rows, plan


def off_polygon(x: np.ndarray, y: np.ndarray, points: list) -> np.ndarray:
    """Distance from a polygon's edges, negative inside."""
    near, inside = np.full(x.shape, np.inf), np.zeros(x.shape, bool)
    for (ax, ay), (bx, by) in zip(points, points[1:] + points[:1], strict=True):
        t = ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / ((bx - ax) ** 2 + (by - ay) ** 2)
        t = np.clip(t, 0, 1)
        near = np.minimum(near, np.hypot(x - ax - t * (bx - ax), y - ay - t * (by - ay)))
        if ay != by:
            inside ^= ((ay > y) != (by > y)) & (x < ax + (y - ay) * (bx - ax) / (by - ay))
    return np.where(inside, -near, near)


@pytest.fixture(scope="module")
def job_named(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], Judged]:
    """Each job, planned once."""
    return cache(lambda name: written(tmp_path_factory.mktemp(name), name))


def complaints(job: dict, rows: list[dict[str, str]], plan: dict) -> list[str]:
    """What is wrong with the block after the rows, each turned back by the angle of its setting."""
    turns = {each["setup"]: np.deg2rad(each["angle"]) for each in plan["set_over"]}
    (x0, x1), (y0, y1) = plan["stock"]["x"], plan["stock"]["y"]
    radius = plan["cutters"][0]["diameter"] / 2
    cell = radius / 25
    x, y = np.meshgrid(np.arange(x0 + cell / 2, x1, cell), np.arange(y0 + cell / 2, y1, cell))
    height = milled(x, y, rows, turns, radius)
    feature = job["feature"][0]
    points, deep = [(float(u), float(v)) for u, v in feature["points"]], float(feature["depth"])
    off = off_polygon(x, y, points)
    off = -off if feature["clear"] == "inside" else off  # positive in what is cleared
    step = 0.0005 if plan["units"] == "inch" else 0.01
    # a right-angled corner keeps a fillet whose ends lie a radius off it along both walls
    left = (height > -deep + 1e-9) & (off > 2 * step)
    if feature["clear"] == "inside":
        corners = np.array(points)
        near = np.min(np.hypot(x[..., None] - corners[:, 0], y[..., None] - corners[:, 1]), axis=-1)
        left &= near > radius
    found = {
        "the part is cut": (height[off < -step] < 0).any(),
        "too deep": height.min() < -deep - 1e-9,
        "metal is left": left.any(),
    }
    return [what for what, is_so in found.items() if is_so]


def milled(
    x: np.ndarray, y: np.ndarray, rows: list[dict[str, str]], turns: dict[str, float], radius: float
) -> np.ndarray:
    """Heights of the block in its own system after the rows."""
    height = np.zeros(x.shape)
    at, setup = None, ""
    for row in rows:
        assert row["axis"] in ("", "X", "Y", "Z")
        turn = turns.get(row["setup"], 0.0)
        u, v = float(row["x"]), float(row["y"])
        # a point of the work turned by the angle shows (u, v): turn it back
        spot = (u * np.cos(turn) + v * np.sin(turn), v * np.cos(turn) - u * np.sin(turn))
        if row["move"] in ("cut", "plunge") and at is not None and setup == row["setup"]:
            (ax, ay), (bx, by) = at, spot
            long = max((bx - ax) ** 2 + (by - ay) ** 2, 1e-30)
            t = np.clip(((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / long, 0, 1)
            swept = np.hypot(x - ax - t * (bx - ax), y - ay - t * (by - ay)) < radius
            height[swept] = np.minimum(height[swept], float(row["z"]))
        at, setup = spot, row["setup"]
    return height


@pytest.mark.parametrize("name", ANGLES)
def test_rows_turned_back_leave_the_shape_and_nothing_else(
    job_named: Callable[[str], Judged], name: str
) -> None:
    job, rows, plan = job_named(name)
    said = [each["angle"] for each in plan["set_over"]]
    assert said == pytest.approx(ANGLES[name], abs=1e-5)
    assert complaints(job, rows, plan) == []


def shifted(rows: list[dict[str, str]], key: str, by: float) -> list[dict[str, str]]:
    """The rows with every coordinate of a turned setting off; Z only below the top."""
    return [
        row | {key: str(float(row[key]) + by)}
        if "set over" in row["setup"] and (key != "z" or float(row["z"]) < 0)
        else row
        for row in rows
    ]


@pytest.mark.parametrize(
    ("key", "by", "complaint"),
    [
        ("angle", 0.5, "the part is cut"),
        ("angle", -0.5, "metal is left"),
        ("x", 0.01, "the part is cut"),
        ("x", -0.01, "metal is left"),
        ("z", -0.001, "too deep"),
        ("z", 0.001, "metal is left"),
    ],
)
def test_planted_faults_are_seen_on_the_pixels(
    job_named: Callable[[str], Judged], key: str, by: float, complaint: str
) -> None:
    """Angle half a degree off, zero of the turned setting 0.01 off, its rows too deep or high."""
    job, rows, plan = job_named("chamfer")
    if key == "angle":
        over = [each | {"angle": each["angle"] + by} for each in plan["set_over"]]
        plan = plan | {"set_over": over}
    else:
        rows = shifted(rows, key, by)
    assert complaint in complaints(job, rows, plan)


@pytest.mark.parametrize("name", ["wedge", "diamond"])
def test_settings_stand_in_order_and_rough_before_they_finish(
    job_named: Callable[[str], Judged], name: str
) -> None:
    _, rows, plan = job_named(name)
    order = list(dict.fromkeys(row["setup"] for row in rows))
    assert order == ["setup 1", *(each["setup"] for each in plan["set_over"])]
    for each in order:
        stages = [row["stage"] for row in rows if row["setup"] == each]
        assert stages == sorted(stages, key=("rough", "finish").index)
    for each in plan["set_over"]:
        assert each["settings"] < each["settings_stepped"] / 5
