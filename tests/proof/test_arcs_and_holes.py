"""Arcs that turn either way, full circles, rounded corners, round keep-outs, patterns of holes."""

from dataclasses import replace
from math import asin, cos, hypot, pi, sin, sqrt

import pytest

from passplot.proof import prove
from passplot.records.job import HolePattern, KeepOut
from passplot.records.shapes import Arc, Line, Loop, Point
from passplot.records.sizes import Size, exact

from .hand import POCKET, STEP, Table, feature, job, names, plan, pocket_table, step_table
from .walks import INCH, Walk, bore, boss, circle, promise, proven, told, work

# --- a wall of two arcs, bulging and hollow, on the right of a block -----------------------------

RADIUS, FLARE = 4.0, asin(0.5 / 4.0)
RISE = RADIUS * (1 - cos(FLARE))
BULGE, HOLLOW = Point(1.0 - RADIUS, 0.5), Point(1.0 - 2 * RISE + RADIUS, 1.5)


def wave() -> Loop:
    """Everything right of the wall: x = 1 at y = 0.5, a little less at y = 0, 1 and 2."""
    x = 1.0 - RISE
    low, middle, high = Point(x, 0.0), Point(x, 1.0), Point(x, 2.0)
    ends = [Point(x, 3), Point(x, 2.0)], [Point(x, 0), Point(x, -1)]
    return Loop(
        (
            Line(*ends[0]),
            Arc(high, middle, HOLLOW, RADIUS, True),
            Arc(middle, low, BULGE, RADIUS, False),
            Line(*ends[1]),
            Line(Point(x, -1), Point(3, -1)),
            Line(Point(3, -1), Point(3, 3)),
            Line(Point(3, 3), Point(x, 3)),
        )
    )


def wave_table(cusp: float, bulge_out: float = 0.0) -> Table:
    """One walk up the wall, cut to size at once; the points by the angle on their arc."""
    r = INCH.r
    table = Table("wave")
    table.start(1.6, -0.3, 0.1).go("position", z=-0.25)

    def off(at: tuple[float, float]) -> float:
        if at[1] < 1.0:
            return hypot(at[0] - BULGE.x, at[1] - BULGE.y) - RADIUS
        return RADIUS - hypot(at[0] - HOLLOW.x, at[1] - HOLLOW.y)

    walk = Walk(table, 1, 0.25, off)
    count = 12 if cusp else 4
    out, back = RADIUS + r - bulge_out, RADIUS - r
    ys = [BULGE.y + out * sin(FLARE * k / count) for k in range(-count, count + 1)]
    last = ys[-1]
    ys += [HOLLOW.y + back * sin(FLARE * k / count) for k in range(-count + 1, count + 1)]
    grid = []
    for y in (round(round(y / INCH.step) * INCH.step, 5) for y in ys):
        bulge = BULGE.x + sqrt(out**2 - (y - BULGE.y) ** 2)
        hollow = HOLLOW.x - sqrt(back**2 - (y - HOLLOW.y) ** 2)
        grid.append((INCH.up(bulge if y <= last else hollow), y))
    table.go("position", x=grid[0][0])
    # at the end of the arc, on the back edge, the wall turns straight up
    walk.along([*grid, (INCH.up(1.0 - RISE + r), 2.3)])
    return table.go("retract", z=0.1)


def wave_plan():
    piece = feature("wave", "outline", -0.25, (wave(),))
    whole = promise(INCH, work(INCH, (piece,), (1.0, 2.0), False))
    return replace(whole, stocks=(replace(whole.stocks[0], wall=0.0),))


def test_a_wall_of_two_arcs_is_proven():
    found = proven(wave_plan(), wave_table(0.004))
    assert found.findings == ()
    assert found.both_ways_length < 0.1


def test_too_few_points_on_either_arc_leave_scallops():
    found = proven(wave_plan(), wave_table(0.0))
    assert names(found) == {"left uncut"}


def test_a_bulge_entered_by_a_thousandth_is_a_gouge():
    found = proven(wave_plan(), wave_table(0.004, bulge_out=0.002))
    assert names(found) == {"gouge"}
    assert found.gouge == pytest.approx(0.002, abs=INCH.step)


@pytest.mark.parametrize("piece", [boss, bore])
def test_a_circle_may_be_one_arc_that_ends_where_it_starts(piece):
    plan_, table = piece(INCH)
    told(plan_, table)
    one = plan_.job.features[0]

    def whole(loop: Loop) -> Loop:
        arc = loop.edges[0]
        if not isinstance(arc, Arc):
            return loop
        return Loop((Arc(arc.start, arc.start, arc.center, arc.radius, arc.ccw),))

    single = replace(one, area=tuple(map(whole, one.area)), keep=tuple(map(whole, one.keep)))
    found = prove(replace(plan_, job=replace(plan_.job, features=(single,))), table.text)
    split = prove(plan_, table.text)
    assert found.findings == ()
    assert found.left_uncut == pytest.approx(split.left_uncut, abs=2e-5)


# --- inside corners with a written radius --------------------------------------------------------


def rounded(radius: float) -> Loop:
    """The pocket of the hand-written plans with rounded corners."""
    x0, x1, y0, y1, r = 0.5, 2.5, 0.5, 1.5, radius
    at = Point
    return Loop(
        (
            Line(at(x0 + r, y0), at(x1 - r, y0)),
            Arc(at(x1 - r, y0), at(x1, y0 + r), at(x1 - r, y0 + r), r, True),
            Line(at(x1, y0 + r), at(x1, y1 - r)),
            Arc(at(x1, y1 - r), at(x1 - r, y1), at(x1 - r, y1 - r), r, True),
            Line(at(x1 - r, y1), at(x0 + r, y1)),
            Arc(at(x0 + r, y1), at(x0, y1 - r), at(x0 + r, y1 - r), r, True),
            Line(at(x0, y1 - r), at(x0, y0 + r)),
            Arc(at(x0, y0 + r), at(x0 + r, y0), at(x0 + r, y0 + r), r, True),
        )
    )


@pytest.mark.parametrize(
    ("size", "expected"),
    [
        (exact(0.25), set()),
        (exact(0.258), set()),  # (√2 - 1) 0.008 = 0.0033 is within the scallop
        (exact(0.27), {"gouge"}),
        (Size(0.27, 0.25, 0.29, "0.27 ±0.02", toleranced=True), set()),
    ],
)
def test_a_sharp_path_makes_the_cutter_s_own_corners(size, expected):
    corner = replace(POCKET, corner_radius=size, rounded=((rounded(size.middle),), ()))
    found = prove(plan(job((corner,)), floor=0.0), pocket_table().text)
    assert names(found) == expected


# --- keep-outs -----------------------------------------------------------------------------------


@pytest.mark.parametrize(("x", "expected"), [(-0.44, set()), (-0.36, {"keep-out"})])
def test_a_round_clamp_beside_the_way(x, expected):
    """The first pass reaches to -0.13 - 0.25 = -0.38; the clamp's right edge is at x."""
    clamp = KeepOut("screw", circle(x - 0.3, 1.0, 0.3), 0.2)
    found = prove(plan(job((STEP,), keep_outs=(clamp,))), step_table().text)
    assert names(found) == expected


# --- holes ---------------------------------------------------------------------------------------

CIRCLE = HolePattern(
    tuple(
        Point(1.5 + 0.7 * cos(k * pi / 3 + 0.2), 1 + 0.7 * sin(k * pi / 3 + 0.2)) for k in range(6)
    ),
    Point(1.5, 1.0),
    1.4,
    11.46,
)
BOLTS = replace(feature("bolts", "holes", 0.0, ()), pattern=CIRCLE)


def bolts(order: tuple[int, ...] = (0, 1, 2, 3, 4, 5), z: float = 0.1) -> Table:
    table = Table("bolts", stage="holes")
    table.start(1.5, 1.0, z)
    for number in order:
        point = CIRCLE.points[number]
        table.go("position", x=round(point.x * 2000) / 2000)
        table.go("position", y=round(point.y * 2000) / 2000)
    return table


@pytest.mark.parametrize(
    ("table", "expected"),
    [
        (bolts(), set()),
        (bolts((3, 4, 5, 0, 1, 2)), set()),
        (bolts((0, 1, 2, 4, 5)), {"hole"}),
        (bolts((0, 1, 2, 3, 4, 5, 0)), {"hole"}),
        (bolts(z=0.05), {"hole row", "first row"}),
    ],
    ids=["in order", "another order", "one missed", "one twice", "too low"],
)
def test_a_bolt_circle(table, expected):
    assert names(prove(plan(job((BOLTS,))), table.text)) == expected


def test_a_hole_a_step_off_is_missed():
    table = bolts()
    for row in table.rows[2:4]:
        row["y"] = str(float(row["y"]) + 0.001)
    assert names(prove(plan(job((BOLTS,))), table.text)) == {"hole"}


def test_a_hole_is_not_plunged():
    table = bolts()
    table.plunge(-0.1)
    assert names(prove(plan(job((BOLTS,))), table.text)) == {"hole row", "gouge"}


def test_nothing_else_is_done_in_a_pattern_of_holes():
    table = bolts()
    table.rows[4]["stage"] = "rough"
    assert "hole row" in names(prove(plan(job((BOLTS,))), table.text))
