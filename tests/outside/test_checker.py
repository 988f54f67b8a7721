"""The pixel replay tried on tables written by hand: good ones pass, spoiled ones are found out."""

import csv
from math import pi
from pathlib import Path

import pytest

from .block import Block, flank_slack, reach
from .measures import Measures
from .pixels import replay_files
from .printed import read, size
from .verdict import faults, uneven_faults

HEADER = (
    "row,setup,feature,cutter,stage,move,x,y,z,axis,both_ways,width_of_cut,depth_of_cut,feed,"
    "crank,turns,dial,pass,drill_diameter,c\n"
)
SHOP = """
units = "inch"
[machine]
name = "bench mill"
spindle_speeds = [500, 1000]
spindle = "{spindle}"
resolution = 0.0005
[[cutter]]
id = "half"
form = "square end"
material = "high-speed steel"
hand = "{hand}"
diameter = 0.5
flutes = 4
flute_length = 1.25
center_cutting = true
"""
JOB = """
units = "inch"
shop = "shop.toml"
cutter = "half"
direction = "{direction}"
[stock]
size = [3, 2, 1]
material = "mild steel"
[finish]
wall = 0.03
floor = 0
"""
STEP = '[[feature]]\nname = "ledge"\nkind = "step"\nside = "left"\nwidth = "3/4"\ndepth = 0.25\n'
POCKET = (
    '[[feature]]\nname = "tray"\nkind = "pocket"\nx = [1, 2]\ny = [0.5, 1.5]\ndepth = 0.25\n'
    "islands = [{ x = [1.9, 2], y = [0.5, 0.6] }]\n"
)
SLOT = (
    '[[feature]]\nname = "way"\nkind = "slot"\nalong = "x"\ncenter = 1\nwidth = 0.5\ndepth = 0.2\n'
)
Rows = list[tuple]


class Desk:
    """Writes a job, a shop and a hand-written table; replays them."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def run(
        self,
        feature: str,
        rows: Rows,
        direction: str = "conventional",
        spindle: str = "clockwise",
        hand: str = "right",
    ) -> Measures:
        (self.folder / "shop.toml").write_text(SHOP.format(spindle=spindle, hand=hand))
        job = self.folder / "job.toml"
        job.write_text(JOB.format(direction=direction) + feature)
        lines = [HEADER]
        for number, (stage, move, x, y, z, axis, both, wide, deep, drill) in enumerate(rows, 1):
            feed = "5" if move in {"cut", "plunge"} else ""
            lines.append(
                f"{number},setup 1,f,half,{stage},{move},{x},{y},{z},{axis},{both},{wide},{deep},"
                f"{feed},,,,,{drill},\n"
            )
        table = self.folder / "job-moves.csv"
        table.write_text("".join(lines).replace(",f,", f",{feature.split(chr(34))[1]},"))
        return replay_files(job, table)

    def verdict(self, *args: object, **more: str) -> list[str]:
        found = self.run(*args, **more)  # type: ignore[arg-type]
        return faults(read(self.folder / "job.toml"), found)


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return Desk(tmp_path)


def step_rows(
    lines: tuple[float, ...] = (-0.01, 0.23, 0.47),
    skims: tuple[float, ...] = (0.485, 0.5),
    back_off: float = 0.05,
    z: float = -0.25,
) -> Rows:
    """The ledge on the left: wall at X0.75, fed toward the operator so that metal is on the left.

    (0.75 - 0.03) / 0.25 = 2.88, three passes of 0.24; the edge stands at 0.24, 0.48, 0.72, its
    axis a radius of 0.25 to the left; two skims of 0.015. Run on and off: 0.25 + 0.05.
    """
    rows: Rows = [("rough", "position", lines[0], 2.3, 0.1, "", 0, 0, 0, "")]
    rows.append(("rough", "position", lines[0], 2.3, z, "Z", 0, 0, 0, ""))
    before = lines[0]
    for x in lines:
        if x != before:
            rows.append(("rough", "position", x, 2.3, z, "X", 0, 0, 0, ""))
        rows.append(("rough", "cut", x, -0.3, z, "Y", 0, 0.24, 0.25, ""))
        rows.append(("rough", "return", x - back_off, -0.3, z, "X", 0, 0, 0, ""))
        rows.append(("rough", "return", x - back_off, 2.3, z, "Y", 0, 0, 0, ""))
        before = x - back_off
    for x in skims:
        rows.append(("finish", "position", x, 2.3, z, "X", 0, 0, 0, ""))
        rows.append(("finish", "cut", x, -0.3, z, "Y", 0, 0.015, 0.25, ""))
        rows.append(("finish", "return", x, 2.3, z, "Y", 0, 0, 0, ""))
    last = skims[-1] if skims else before
    rows.append(("finish" if skims else "rough", "retract", last, 2.3, 0.1, "Z", 0, 0, 0, ""))
    return rows


def test_a_shoulder_worked_by_hand_passes(desk: Desk) -> None:
    found = desk.run(STEP, step_rows())
    assert faults(read(desk.folder / "job.toml"), found) == []
    assert found.gouge == 0
    assert found.unreached == 0
    # the edge and the lead of the disc at its back end (see the next test):
    # 3 (2 + 0.2498) + 2 (2 + 0.0853) = 10.920
    slack = sum(flank_slack(cut.radius, found.cell) for cut in found.cuts)
    assert found.cutting_length == pytest.approx(10.920, abs=slack)
    assert found.wanted_share == pytest.approx(1)
    widths = [0.24, 0.24, 0.24, 0.015, 0.015]
    assert [cut.width for cut in found.cuts] == pytest.approx(widths, abs=found.cell)
    assert [cut.depth for cut in found.cuts] == [0.25] * 5
    left = found.stock_left["ledge"]
    assert left.wall[0] == pytest.approx(0.03, abs=found.cell)
    assert left.wall[1] == pytest.approx(0.03, abs=2 * found.cell)
    assert left.floor == (0, 0)


@pytest.mark.parametrize(("thin", "found"), [(0.181, 0), (0.15, 1)])
def test_a_pass_thinner_than_three_quarters_of_the_others_is_found(
    desk: Desk, thin: float, found: int
) -> None:
    """The second of three rough passes as printed; three quarters of 0.24 are 0.18."""
    rows, cuts = step_rows(), 0
    for number, row in enumerate(rows):
        if row[1] == "cut":
            cuts += 1
            if cuts == 2:
                rows[number] = (*row[:7], thin, *row[8:])
    desk.run(STEP, rows)
    with (desk.folder / "job-moves.csv").open(encoding="utf-8", newline="") as stream:
        table = list(csv.DictReader(stream))
    assert len(uneven_faults(read(desk.folder / "job.toml"), table)) == found


def test_cutting_length_of_one_pass_is_the_edge_plus_the_lead_of_the_disc(desk: Desk) -> None:
    # a disc of radius r that cuts w wide meets the back edge when its axis is still
    # sqrt(r^2 - (r - w)^2) behind it, and is through when its widest point leaves the front edge:
    # 2 + sqrt(0.25^2 - 0.01^2) = 2.2498
    found = desk.run(STEP, step_rows(lines=(-0.01,), skims=()))
    slack = flank_slack(found.cuts[0].radius, found.cell)
    assert found.cuts[0].engaged == pytest.approx(2.2498, abs=slack)


@pytest.mark.parametrize(
    ("wrong", "expected"),
    [
        (step_rows(skims=(0.485, 0.506)), "gouge 0.006"),
        (step_rows(z=-0.251), "gouge 0.001"),
        (step_rows(skims=(0.485,)), "samples left"),
        (step_rows(z=-0.249), "samples left"),
        (step_rows(lines=(-0.02, 0.23, 0.47)), "wide, printed 0.2400"),
        (step_rows(back_off=0.0), "rub"),
        (step_rows(back_off=0.005), "rub"),
    ],
    ids=["wall", "floor", "no last skim", "too high", "too wide", "no backing off", "too little"],
)
def test_a_spoiled_shoulder_is_found_out(desk: Desk, wrong: Rows, expected: str) -> None:
    report = desk.verdict(STEP, wrong)
    assert any(expected in text for text in report), report


def test_enough_backing_off_does_not_rub(desk: Desk) -> None:
    assert desk.verdict(STEP, step_rows(back_off=0.0105)) == []


def test_a_reversed_pass_climbs(desk: Desk) -> None:
    rows = step_rows()
    y = {2.3: -0.3, -0.3: 2.3}
    mirrored = [(*row[:3], y[row[3]], *row[4:]) for row in rows]
    assert any("wrong side" in text for text in desk.verdict(STEP, mirrored))
    assert desk.verdict(STEP, mirrored, direction="climb") == []
    # a left-hand cutter turning the other way swaps the side
    turned = {"spindle": "counter-clockwise", "hand": "left"}
    assert desk.verdict(STEP, mirrored, **turned) == []
    assert desk.verdict(STEP, rows, **turned) != []


def test_a_row_in_metal_that_is_no_cut_is_found(desk: Desk) -> None:
    rows = step_rows()
    rows[4] = ("rough", "return", -0.06, 2.3, -0.25, "Y", 0, 0, 0, "")
    rows[2] = ("rough", "position", -0.01, -0.3, -0.25, "Y", 0, 0, 0, "")
    found = desk.run(STEP, rows)
    assert found.touched == [3]


def test_a_slanted_row_is_found(desk: Desk) -> None:
    rows = step_rows()
    del rows[3]
    found = desk.run(STEP, rows)
    assert found.slanted == [4]


def test_a_low_start_is_found(desk: Desk) -> None:
    rows = step_rows()
    rows[0] = ("rough", "position", -0.01, 2.3, 0.099, "", 0, 0, 0, "")
    assert desk.run(STEP, rows).low_starts == [1]


def test_a_clamp_in_the_way_is_found(desk: Desk) -> None:
    clamp = '[[keep_out]]\nname = "strap"\nx = [-1, -0.3]\ny = [0.8, 1.2]\ntop = {}\n'
    # the way back of the first pass runs at, its edge at
    assert desk.run(STEP + clamp.format("0.5"), step_rows()).clamped == [5]
    assert desk.run(STEP + clamp.format("-0.25"), step_rows()).clamped == []


def slot_rows(both: float) -> Rows:
    return [
        ("rough", "position", -0.3, 1, 0.1, "", 0, 0, 0, ""),
        ("rough", "position", -0.3, 1, -0.2, "Z", 0, 0, 0, ""),
        ("rough", "cut", 3.3, 1, -0.2, "X", both, 0.5, 0.2, ""),
        ("rough", "retract", 3.3, 1, 0.1, "Z", 0, 0, 0, ""),
    ]


def test_a_slot_as_wide_as_the_cutter_cuts_both_ways(desk: Desk) -> None:
    # in metal from to X3, where the last of the slot's middle goes; beyond, its sides
    # (both of them) until the disc's widest points are through at X3
    found = desk.run(SLOT, slot_rows(3.25))
    assert found.cuts[0].both == pytest.approx(
        3.25, abs=flank_slack(found.cuts[0].radius, found.cell)
    )
    assert found.cuts[0].wanted == pytest.approx(0, abs=2 * found.cell)
    assert desk.verdict(SLOT, slot_rows(3.25)) == []
    assert any("both ways" in text for text in desk.verdict(SLOT, slot_rows(0)))


def test_a_slot_row_that_is_off_by_a_thou_gouges(desk: Desk) -> None:
    rows = [(*row[:3], 1.001, *row[4:]) for row in slot_rows(3.25)]
    assert any("gouge 0.00100" in text for text in desk.verdict(SLOT, rows))


def pocket_rows(drill: str = "", inner: float = 0.25) -> Rows:
    """Plunge in the middle, a slot to the right, then once round clockwise, metal on the left."""
    low, high, wide, tall = 1 + inner, 2 - inner, 0.5 + inner, 1.5 - inner
    z = -0.25
    return [
        ("rough", "position", 1.5, 1, 0.1, "", 0, 0, 0, ""),
        ("rough", "plunge", 1.5, 1, z, "Z", 0, 0, 0, drill),
        ("rough", "cut", high, 1, z, "X", 0.25, 0.5, 0.25, ""),
        ("rough", "cut", high, wide, z, "Y", 0.25, 0.5, 0.25, ""),
        ("rough", "cut", low, wide, z, "X", 0.5, 0.5, 0.25, ""),
        ("rough", "cut", low, tall, z, "Y", 0.5, 0.5, 0.25, ""),
        ("rough", "cut", high, tall, z, "X", 0.5, 0.5, 0.25, ""),
        ("rough", "cut", high, 1, z, "Y", 0, 0.5, 0.25, ""),
        ("rough", "retract", high, 1, 0.1, "Z", 0, 0, 0, ""),
    ]


def test_a_pocket_twice_the_cutters_width(desk: Desk) -> None:
    plain = POCKET.rsplit("islands", 1)[0]
    found = desk.run(plain, pocket_rows())
    assert found.gouge == 0
    assert found.left == 0
    assert found.plunges == [(2, 0.25)]
    # four sharp corners stay round: 4 (1 - pi/4) r^2
    corner = (1 - pi / 4) * 0.25**2
    assert found.unreached == pytest.approx(4 * corner, rel=0.05)
    # the slot, the corner and two bites into the full; from the fourth corner on the half that
    # lies inside the ring is already gone
    assert [cut.both > 0.2 for cut in found.cuts] == [True] * 4 + [False] * 2


def test_an_island_in_a_corner_is_seen(desk: Desk) -> None:
    found = desk.run(POCKET, pocket_rows())
    # the island's corner (1.9, 0.6) is sqrt(0.15^2 + 0.15^2) = 0.2121 from the axis at (1.75, 0.75)
    assert found.gouge == pytest.approx(0.25 - 0.2121, abs=1e-4)
    assert found.gouge_rows == [4, 5]
    assert found.gouged > 0


def test_metal_left_in_the_middle_is_seen(desk: Desk) -> None:
    plain = POCKET.rsplit("islands", 1)[0].replace("[1, 2]", "[0.5, 2]")
    assert any("samples left" in text for text in desk.verdict(plain, pocket_rows()))


def test_a_drilled_hole_spares_the_plunge_but_not_the_floor(desk: Desk) -> None:
    plain = POCKET.rsplit("islands", 1)[0]
    assert desk.run(plain, pocket_rows(drill="0.4")).plunges == [(2, 0)]
    rows = pocket_rows(drill="1.1")
    assert desk.run(plain, rows).gouge == pytest.approx(0.05, abs=1e-4)


def test_reach_of_a_neck(tmp_path: Path) -> None:
    # two rooms 0.8 square, joined by a neck 0.45 wide: a half-inch cutter has no business there
    points = "[[0.2, 0.2], [1.0, 0.2], [1.0, 0.4], [1.6, 0.4], [1.6, 0.2], [2.4, 0.2], [2.4, 1.0], "
    points += "[1.6, 1.0], [1.6, 0.85], [1.0, 0.85], [1.0, 1.0], [0.2, 1.0]]"
    feature = '[[feature]]\nname = "dumb-bell"\nkind = "outline"\nclear = "inside"\ndepth = 0.2\n'
    feature += f"points = {points}\n"
    (tmp_path / "shop.toml").write_text(SHOP.format(spindle="clockwise", hand="right"))
    (tmp_path / "job.toml").write_text(JOB.format(direction="conventional") + feature)
    block = Block(read(tmp_path / "job.toml"))
    swept = reach(block, -0.2, 0.25)

    def at(x: float, y: float) -> bool:
        return bool(swept[int(y / block.pitch_y), int(x / block.pitch_x)])

    assert at(0.6, 0.6)
    assert at(2.0, 0.6)
    assert not at(1.3, 0.6)
    assert at(0.202, 0.6)
    assert not at(0.21, 0.21)
    # the disc bulges into the neck: its axis can stand where corner (1.0, 0.85) and (1.0, 0.4)
    # are both 0.25 away, at x = 1.0 - sqrt(0.25^2 - 0.225^2) = 0.891, and reaches x = 1.141
    assert at(1.13, 0.625)
    assert not at(1.15, 0.625)


@pytest.mark.parametrize(
    ("text", "units", "value"),
    [
        ("3/4", "inch", 0.75),
        ("1 1/2", "inch", 1.5),
        ("12.7 mm", "inch", 0.5),
        ("0.5 in", "mm", 12.7),
        ('1/2"', "mm", 12.7),
        ("0.750 ±0.002", "inch", 0.75),
        ("0.700 +0.002 -0.000", "inch", 0.701),
        ("0.748 to 0.752", "inch", 0.75),
        (-2, "mm", -2.0),
    ],
)
def test_sizes_of_the_test_reader(text: str, units: str, value: float) -> None:
    assert size(text, units) == pytest.approx(value)
