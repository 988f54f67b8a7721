"""Stepped walls: good tables proven in every orientation, and each planted fault found."""

from dataclasses import replace
from functools import cache
from itertools import pairwise
from math import acos, asin, atan2, ceil, cos, hypot, pi, sqrt

import pytest

from passplot.proof import prove
from passplot.records.plan import Plan
from passplot.records.shapes import Arc, Edge, Line, Loop, Point

from .hand import Table, names
from .walks import BOSS, INCH, MM, Spoilt, Unit, bore, boss, proven, slanted, told, turn_for

UNITS = pytest.mark.parametrize("unit", [INCH, MM], ids=["inch", "mm"])
PIECES = {"boss": boss, "bore": bore, "slanted": slanted}


def mirrored(promise: Plan, table: Table, x: bool, y: bool) -> tuple[Plan, Table]:
    """The same work seen in a mirror left to right, front to back, or both."""
    stock = promise.job.stock
    wide, deep = stock.x[1], stock.y[1]

    def point(at: Point) -> Point:
        return Point(wide - at.x if x else at.x, deep - at.y if y else at.y)

    def edge(one: Edge) -> Edge:
        # one mirror turns a loop round: its edges are run backwards to keep it counter-clockwise
        ends = [point(one.start), point(one.end)]
        if x != y:
            ends.reverse()
        if isinstance(one, Line):
            return Line(*ends)
        return Arc(*ends, point(one.center), one.radius, one.ccw)

    def loop(one: Loop) -> Loop:
        edges = tuple(edge(each) for each in one.edges)
        return Loop(edges[::-1] if x != y else edges)

    features = tuple(
        replace(f, area=tuple(map(loop, f.area)), keep=tuple(map(loop, f.keep)))
        for f in promise.job.features
    )
    rows = [dict(row) for row in table.rows]
    for row in rows:
        at = point(Point(float(row["x"]), float(row["y"])))
        row.update(x=f"{at.x:.5f}", y=f"{at.y:.5f}")
    climb = promise.job.climb != (x != y)
    work = replace(promise.job, features=features, climb=climb)
    return replace(promise, job=work), Table(rows=rows)


@cache
def good(piece: str, unit: Unit) -> tuple[Plan, Table]:
    promise, table = PIECES[piece](unit)
    told(promise, table)
    return promise, table


@UNITS
@pytest.mark.parametrize(("x", "y"), [(False, False), (True, False), (False, True), (True, True)])
@pytest.mark.parametrize("piece", PIECES)
def test_good_stepped_tables_are_proven(piece, x, y, unit):
    promise, table = mirrored(*good(piece, unit), x, y)
    found = prove(promise, table.text)
    assert found.findings == ()
    assert found.gouge == 0.0
    assert 0.8 * unit.cusp < found.left_uncut < unit.cusp + sqrt(2) * unit.step
    assert found.wall_stock.low == pytest.approx(unit.wall, abs=unit.step)
    assert found.wall_stock.high < unit.wall + unit.cusp + sqrt(2) * unit.step
    assert found.climb_length == 0.0


@UNITS
@pytest.mark.parametrize("piece", ["boss", "bore"])
def test_round_walls_walked_in_climb(piece, unit):
    promise, table = PIECES[piece](unit, climb=True)
    assert proven(promise, table).findings == ()
    conventional = replace(promise, job=replace(promise.job, climb=False))
    assert "direction" in names(proven(conventional, table))


FAULTS = [
    ("spaced too wide", Spoilt(spacing=1.3), {"left uncut"}),
    ("corner on the wrong side", Spoilt(wrong_corner=9), {"gouge"}),
    ("no stock left by roughing", Spoilt(rough_wall=0.0), {"wall stock entered", "finish stock"}),
    ("too much stock left", Spoilt(rough_wall=0.036), {"finish stock"}),
    ("skims not equal", Spoilt(skim=0.7), {"skim"}),
    ("walked the wrong way", Spoilt(reverse=True), {"direction"}),
]


@pytest.mark.parametrize("fault", FAULTS, ids=[fault[0] for fault in FAULTS])
@pytest.mark.parametrize("piece", PIECES)
def test_spoilt_walks(piece, fault):
    promise, table = PIECES[piece](INCH, spoilt=fault[1])
    assert names(proven(promise, table)) == fault[2]


def test_chords_round_a_boss_gouge_by_their_sagitta():
    """Halfway between two points of the offset, straight, ρ (1 - cos δ/2) is missing."""
    promise, table = boss(INCH, spoilt=Spoilt(midpoints=True))
    found = proven(promise, table)
    assert names(found) == {"gouge"}
    path = (BOSS + 1) * INCH.r
    turn = turn_for(0.98 * INCH.cusp, BOSS * INCH.r, path, INCH.r)
    turn = pi / 2 / ceil(pi / 2 / turn)
    assert found.gouge == pytest.approx(path * (1 - cos(turn / 2)), abs=INCH.step)


@pytest.mark.parametrize("piece", PIECES)
def test_a_part_of_the_wall_left_out(piece):
    missing = (1.0, 1.4) if piece == "slanted" else (0.4, 1.2)
    promise, table = PIECES[piece](INCH, spoilt=Spoilt(missing=missing))
    found = proven(promise, table)
    assert "left uncut" in names(found)
    assert names(found) <= {"left uncut", "gouge"}


def test_scallops_of_a_slanted_wall_are_as_high_as_the_formula_says():
    """r - √(r² - s²/4) for points s apart, and what rounding adds."""
    promise, table = slanted(INCH)
    found = proven(promise, table)
    rows = [row for row in table.rows if row["stage"] == "finish" and row["move"] == "cut"]
    last = [row for row in rows if row["pass"] == rows[-1]["pass"]][1::2]
    points = [(float(row["x"]), float(row["y"])) for row in last]
    widest = max(sqrt((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2) for a, b in pairwise(points))
    scallop = 0.25 - sqrt(0.25**2 - widest**2 / 4)
    assert scallop <= found.left_uncut + 1e-6
    assert found.left_uncut <= scallop + sqrt(2) * INCH.step


def both_by_angles(start: tuple[float, float], end: tuple[float, float], outer: float) -> float:
    """Length of a row round a boss about zero over which both sides of its line meet metal.

    The boss's stock ends ``outer`` from its center. A cutter whose axis stands ρ from there meets
    it within acos((ρ² + r² - outer²) / 2 ρ r) of the direction of the center; the line of feed
    (with the band of 0.01 D beside it, asin 0.02) must lie between.
    """
    r, parts, length = INCH.r, 200, hypot(end[0] - start[0], end[1] - start[1])
    feed = atan2(end[1] - start[1], end[0] - start[0])
    met = 0
    for part in range(parts):
        share = (part + 0.5) / parts
        x = start[0] + share * (end[0] - start[0])
        y = start[1] + share * (end[1] - start[1])
        path = hypot(x, y)
        cosine = (path**2 + r**2 - outer**2) / (2 * path * r)
        if cosine < 1:
            off = abs((atan2(-y, -x) - feed + pi) % (2 * pi) - pi)
            met += acos(cosine) > off + asin(0.02)
    return length * met / parts


def test_steps_into_a_wall_are_cut_both_ways():
    """All rows of the last walk against angles alone."""
    promise, table = boss(INCH)
    found = proven(promise, table)
    middle = 1.1 * BOSS * INCH.r
    outer = BOSS * INCH.r + INCH.wall / 2
    expected, measured = 0.0, 0.0
    both = dict(found.row_both_ways)
    places = [(float(row["x"]) - middle, float(row["y"]) - middle) for row in table.rows]
    for number, row in enumerate(table.rows, start=1):
        if row["stage"] == "finish" and row.get("pass") == "5":
            expected += both_by_angles(places[number - 2], places[number - 1], outer)
            measured += both[number]
    assert expected > 0.03
    assert measured == pytest.approx(expected, rel=0.2)


def test_rows_say_their_both_ways_and_the_wall_adds_them_up():
    promise, table = boss(INCH)
    told(promise, table)
    for row in table.rows:
        if row.get("pass") == "3":
            row["both_ways"] = "0"
    assert names(prove(promise, table.text)) == {"both ways"}


def test_a_stepped_wall_has_one_number():
    promise, table = slanted(INCH)
    told(promise, table)
    last = [row for row in table.rows if row["move"] == "cut"][-1]
    last["pass"] = "2"
    assert "pass number" in names(prove(promise, table.text))


def test_a_wide_ring_is_too_wide():
    """Rings 0.4 r apart round a boss meet a little less than 0.4 r, as it bulges away from them."""
    promise, table = boss(INCH)
    narrow = replace(promise.cutters[0], width_limit=0.2 * INCH.r)
    found = proven(replace(promise, cutters=(narrow,)), table)
    assert "width of cut" in names(found)
    assert found.max_width_of_cut == pytest.approx(0.35 * INCH.r, rel=0.15)


@pytest.mark.parametrize(("deepest", "expected"), [(0.13, set()), (0.12, {"depth of cut"})])
def test_the_first_rings_of_a_bore_are_a_slot(deepest, expected):
    promise, table = bore(INCH)
    use = replace(promise.cutters[0], slot_depth_limit=deepest)
    assert names(proven(replace(promise, cutters=(use,)), table)) == expected


@pytest.mark.parametrize(("steps", "expected"), [(8, False), (40, True)])
def test_short_rows_that_run_into_full_metal_add_up_to_a_slot(steps, expected):
    """A staircase of 0.01 by 0.01 into the block: 0.25 in and a little of it is a bite."""
    promise, _ = slanted(INCH)
    use = replace(promise.cutters[0], slot_depth_limit=0.1)
    table = Table("ledge")
    table.start(1.5, -0.3, 0.1).go("position", z=-0.25).go("position", x=0.8)
    table.go("position", y=-0.25)
    for number in range(1, steps + 1):
        table.cut(0.5, 0.25, x=round(0.8 + 0.01 * number, 4))
        table.cut(0.5, 0.25, y=round(-0.25 + 0.01 * number, 4))
    for row in table.rows[4:]:
        row["pass"] = "1"
    found = proven(replace(promise, cutters=(use,)), table)
    assert ("depth of cut" in names(found)) == expected
    assert found.climb_length == 0.0
