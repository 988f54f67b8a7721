"""Stocks of awkward proportions: whatever is proven gets its sheets."""

from pathlib import Path

import pytest

from passplot.flow import run

SHOP = """
units = "{units}"
[machine]
name = "mill"
spindle_speeds = [100, 500, 1000, 2000, 4000]
readout = "dro"
[[cutter]]
id = "c"
form = "square end"
material = "carbide"
diameter = {diameter}
flutes = 2
flute_length = {length}
center_cutting = true
"""
JOB = """
units = "{units}"
shop = "shop.toml"
cutter = "c"
[stock]
size = [{x}, {y}, {z}]
material = "aluminium"
[[feature]]
name = "shoulder"
kind = "step"
side = "left"
width = {width}
depth = {depth}
"""


@pytest.mark.parametrize(("paper", "portrait"), [("a4", False), ("letter", True)])
@pytest.mark.parametrize(
    ("units", "size", "diameter"),
    [
        ("inch", (30.0, 0.6, 0.5), 0.25),  # long and thin
        ("inch", (0.6, 20.0, 0.5), 0.25),
        ("inch", (0.5, 0.4, 0.3), 0.0625),  # small
        ("mm", (8.0, 6.0, 5.0), 1.5),
        ("inch", (36.0, 18.0, 4.0), 1.0),  # large
        ("mm", (20.0, 400.0, 150.0), 10.0),  # tall
    ],
)
def test_a_proven_plan_always_gets_its_sheets(
    tmp_path: Path,
    units: str,
    size: tuple[float, float, float],
    diameter: float,
    paper: str,
    portrait: bool,
) -> None:
    x, y, z = size
    shop = SHOP.format(units=units, diameter=diameter, length=4 * diameter)
    (tmp_path / "shop.toml").write_text(shop, encoding="utf-8")
    depth = min(0.3 * z, 2 * diameter)
    text = JOB.format(units=units, x=x, y=y, z=z, width=0.2 * x, depth=depth)
    (tmp_path / "job.toml").write_text(text, encoding="utf-8")
    out = tmp_path / "out"
    run(tmp_path / "job.toml", out, paper=paper, portrait=portrait, formats=("svg",))
    assert (out / "job.svg").read_text(encoding="utf-8").startswith("<?xml")
