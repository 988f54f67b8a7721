"""What each kind of feature comes to in the job's coordinates, worked by hand."""

import pytest

from passplot.records.job import Feature
from passplot.records.shapes import Loop

from .texts import faults, feature, job, one, read

Corners = list[tuple[float, float]]


def _only(kind: str, **keys: object) -> Feature:
    (only,) = read(one(kind, **keys)).features
    return only


def _corners(loop: Loop) -> Corners:
    return [(corner.x, corner.y) for corner in loop.corners]


def _walls(found: Feature) -> list[tuple[str, float, float, float]]:
    return [(limit.axis, limit.at, limit.low, limit.high) for limit in found.limits]


def _counter_clockwise(loop: Loop) -> bool:
    return sum(e.start.x * e.end.y - e.end.x * e.start.y for e in loop.edges) > 0


# The stock is 4 x 3 x 1.
@pytest.mark.parametrize(
    ("zero", "x", "y", "bottom", "top"),
    [
        ("left front top", (0, 4), (0, 3), -1, 0),
        ("Right  BACK top", (-4, 0), (-3, 0), -1, 0),
        ("center front top", (-2, 2), (0, 3), -1, 0),
        ("left center top", (0, 4), (-1.5, 1.5), -1, 0),
        ("centre centre bottom", (-2, 2), (-1.5, 1.5), 0, 1),
    ],
)
def test_zero_places_the_stock(
    zero: str, x: tuple[float, float], y: tuple[float, float], bottom: float, top: float
) -> None:
    values = {"size": [4, 3, 1], "material": "1018", "zero": zero}
    ledge = feature("step", side="left", width=1)
    stock = read(job(stock=values, feature=[ledge], dimension=None)).stock
    assert (stock.x, stock.y, stock.bottom, stock.top, stock.raw_top) == (x, y, bottom, top, top)


@pytest.mark.parametrize(("zero", "top"), [("left front top", 0), ("left front bottom", 1)])
def test_a_face_raises_the_raw_top_and_comes_first(zero: str, top: float) -> None:
    ledge = feature("step", name="ledge", side="left", width=1)
    face = feature("face", name="top", depth=0.05)
    stock = {"size": [4, 3, 1], "material": "1018", "zero": zero}
    found = read(job(stock=stock, feature=[ledge, face], dimension=None))
    assert (found.stock.top, found.stock.raw_top) == (top, top + 0.05)
    assert [each.name for each in found.features] == ["top", "ledge"]
    assert [each.floor for each in found.features] == [top, top - 0.25]
    assert _corners(found.features[0].area[0]) == [(0, 0), (4, 0), (4, 3), (0, 3)]


@pytest.mark.parametrize(
    ("side", "corners", "wall"),
    [
        ("left", [(0, 0), (1.001, 0), (1.001, 3), (0, 3)], ("x", 1.001, 1, 1.002)),
        ("right", [(2.999, 0), (4, 0), (4, 3), (2.999, 3)], ("x", 2.999, 2.998, 3)),
        ("front", [(0, 0), (4, 0), (4, 1.001), (0, 1.001)], ("y", 1.001, 1, 1.002)),
        ("back", [(0, 1.999), (4, 1.999), (4, 3), (0, 3)], ("y", 1.999, 1.998, 2)),
    ],
)
def test_a_step_runs_its_whole_side(
    side: str, corners: Corners, wall: tuple[str, float, float, float]
) -> None:
    found = _only("step", side=side, width="1 +0.002 -0", depth="1/4")
    assert _corners(found.area[0]) == corners
    assert _walls(found) == [wall]
    assert (found.floor, found.through, found.keep) == (-0.25, False, ())


def test_a_slot_runs_from_edge_to_edge() -> None:
    found = _only("slot", along="x", center=1, width=0.5, start=-1, end=4)
    assert _corners(found.area[0]) == [(0, 0.75), (4, 0.75), (4, 1.25), (0, 1.25)]
    found = _only("slot", along="y", center=1, width=0.5)
    assert _corners(found.area[0]) == [(0.75, 0), (1.25, 0), (1.25, 3), (0.75, 3)]
    assert found.limits == ()


def test_the_tolerance_of_a_slot_is_shared_by_its_walls() -> None:
    # 0.5 +0.004 -0 is 0.502 ±0.002: each wall may move by 0.001.
    found = _only("slot", along="x", center=1, width="0.5 +0.004 -0")
    assert _walls(found) == [("y", 0.749, 0.748, 0.75), ("y", 1.251, 1.25, 1.252)]
    # The centre allows less than that here, and all there is where the width has no limits.
    found = _only("slot", along="x", center="1 ±0.0005", width="0.5 +0.004 -0")
    assert _walls(found) == [("y", 0.749, 0.7485, 0.7495), ("y", 1.251, 1.2505, 1.2515)]
    found = _only("slot", along="x", center="1 ±0.003", width=0.5)
    assert _walls(found) == [("y", 0.75, 0.747, 0.753), ("y", 1.25, 1.247, 1.253)]


def test_a_pocket_keeps_open_edges_where_the_file_puts_them() -> None:
    found = _only("pocket", x=[-1, "2 ±0.01"], y=["0 ±0.01", "3 mm to 2"], depth=1)
    assert _corners(found.area[0])[0] == (-1, 0)
    assert found.area[0].corners[2].x == 2
    assert [limit[0:2] for limit in _walls(found)] == [
        ("x", 2),
        ("y", found.area[0].corners[2].y),
    ]  # open edges have no limits
    assert (found.floor, found.through) == (-1, True)


def test_an_edge_written_in_the_other_unit_lies_exactly_on_the_stock() -> None:
    found = _only("pocket", x=["76.2 mm", "101.6 mm"], y=["25.4 mm", 2.9999999])
    assert _corners(found.area[0])[0:3] == [(3, 1), (4, 1), (4, 3)]


def test_islands_are_kept_and_have_limits_of_their_own() -> None:
    found = _only(
        "pocket",
        x=[1, 3],
        y=[1, 2.5],
        corner_radius="0.25 ±0.01",
        islands=[{"x": ["1.5 ±0.01", 2], "y": [1.5, 2]}],
    )
    assert [_corners(loop) for loop in found.keep] == [[(1.5, 1.5), (2, 1.5), (2, 2), (1.5, 2)]]
    assert _walls(found) == [("x", 1.5, 1.49, 1.51)]
    assert found.corner_radius is not None
    assert (found.corner_radius.low, found.corner_radius.high) == (0.24, 0.26)


def test_the_general_tolerance_is_for_walls_and_not_for_radii() -> None:
    values = one("pocket", x=[1, 3], y=[1, 2], corner_radius=0.25)
    (found,) = read(values | {"general_tolerance": 0.01}).features
    assert len(found.limits) == 4
    assert found.depth.toleranced
    assert found.corner_radius is not None
    assert not found.corner_radius.toleranced


def test_one_boss_does_not_clear_another() -> None:
    first = feature("boss", name="a", x=[0, 1], y=[0, 1])
    second = feature("boss", name="b", shape={"x": [2, 3], "y": [2, 2.5]}, depth=0.5)
    third = feature("boss", name="c", x=[2, 3], y=[1, 1.5], within={"x": [1, 5], "y": [0, 2]})
    a, b, c = read(job(feature=[first, second, third], dimension=None)).features
    whole = [(0, 0), (4, 0), (4, 3), (0, 3)]
    assert _corners(a.area[0]) == _corners(b.area[0]) == whole
    assert _corners(c.area[0]) == [(1, 0), (5, 0), (5, 2), (1, 2)]
    assert [len(each.keep) for each in (a, b, c)] == [3, 3, 3]
    assert [each.keep[0] for each in (a, b, c)] == [a.keep[0], a.keep[2 - 1], a.keep[2]]


_ELL = [[0, 0], [4, 0], [4, 1], [1, 1], [1, 3], [0, 3]]


@pytest.mark.parametrize("turned", [False, True])
@pytest.mark.parametrize("first", range(6))
@pytest.mark.parametrize("closed", [False, True])
def test_loops_are_counter_clockwise_however_written(
    turned: bool, first: int, closed: bool
) -> None:
    points = _ELL[first:] + _ELL[:first]
    points = points[::-1] if turned else points
    points = points + points[:1] if closed else points
    loop = _only("outline", clear="inside", points=points).area[0]
    assert loop.rectilinear
    assert _counter_clockwise(loop)
    assert sorted(_corners(loop)) == sorted((x, y) for x, y in _ELL)
    ends = [
        (edge.end, after.start) for edge, after in zip(loop.edges, loop.edges[1:], strict=False)
    ]
    assert all(end == start for end, start in ends)


def test_outlines_clear_inside_or_outside() -> None:
    inside = _only("outline", clear="inside", points=_ELL)
    outside = _only("outline", clear="outside", points=_ELL)
    assert inside.keep == ()
    assert outside.keep == inside.area
    assert _corners(outside.area[0]) == [(0, 0), (4, 0), (4, 3), (0, 3)]


def test_points_in_one_line_make_one_edge() -> None:
    points = [[0, 0], [1, 0], [2, 0], [2, 1], [2, 2], [0, 2], [0, 1]]
    loop = _only("outline", clear="inside", points=points).area[0]
    assert sorted(_corners(loop)) == [(0, 0), (0, 2), (2, 0), (2, 2)]


def test_both_points_of_a_wall_take_the_limits_that_one_of_them_has() -> None:
    points = [[0, 0], ["1.5 +0.004 -0", 0], [1.5, "1 ±0.002"], [4, 1], ["4", 3], [0, 3]]
    found = _only("outline", clear="inside", points=points)
    assert found.area[0].rectilinear
    assert _walls(found) == [("x", 1.502, 1.5, 1.504), ("y", 1, 0.998, 1.002)]


def test_a_corner_radius_may_be_written_at_inside_corners() -> None:
    radius = {"x": 1, "y": 1, "radius": "1/4"}
    cleared = [[0, 0], [4, 0], [4, 1], radius, [1, 3], [0, 3]]
    found = _only("outline", clear="outside", points=cleared)  # the notch of the L
    assert found.corner_radius is not None
    assert found.corner_radius.nominal == 0.25
    corner = {"x": 2, "y": 2, "radius": 0.25}
    found = _only("outline", clear="inside", points=[[0, 0], [2, 0], corner, [0, 2]])
    assert found.corner_radius is not None
    assert len(found.area[0].edges) == 4  # the loop itself is sharp


def test_a_feature_at_the_rim_may_reach_past_the_stock() -> None:
    found = _only("outline", clear="inside", points=[[-1, -1], [1, -1], [1, 1], [-1, 1]])
    assert _corners(found.area[0]) == [(-1, -1), (1, -1), (1, 1), (-1, 1)]


def test_walls_are_called_by_side_and_number() -> None:
    tray = feature("pocket", name="tray", x=[1, 5], y=[1, 2], islands=[{"x": [2, 3], "y": [1, 2]}])
    ledge = feature("outline", name="L", clear="inside", depth=0.5, points=_ELL)
    slot = feature("slot", name="slot", along="x", center=2.5, width=0.5)
    rows = [
        ("left edge", "tray left wall", 1),
        ("tray front wall", "back edge", 2),
        ("tray island 1 left wall", "right edge", 2),
        ("Front Edge", "L wall 3", 1),
        ("L wall 4", "left edge", 1),
        ("L back wall", "front edge", 1),
        ("slot front wall", "slot back wall", 0.5),
        ("bottom face", "L floor", 0.5),
        ("top face", "tray floor", 0.25),
    ]
    callouts = [
        {"name": f"{number}", "from": start, "to": end, "size": size}
        for number, (start, end, size) in enumerate(rows)
    ]
    values = job(feature=[tray, ledge, slot], dimension=callouts)
    assert faults(values) == ()
    callouts[0]["to"] = "tray right wall"  # open: there is none
    assert [fault.key for fault in faults(values)] == ["dimension.to"]


def test_callouts_compare_nominals_and_not_middles() -> None:
    ledge = feature("step", name="ledge", side="right", width="0.700 +0.002 -0.000")
    callout = {"name": "d", "from": "ledge wall", "to": "right edge", "size": "0.7 +0.002 -0"}
    assert faults(job(feature=[ledge], dimension=[callout])) == ()
    callout["size"] = "0.701 ±0.001"  # the same limits, another nominal
    (fault,) = faults(job(feature=[ledge], dimension=[callout]))
    assert "0.701" in fault.wrong
    assert "0.7 " in fault.right


def test_callouts_of_a_feature_at_fault_add_no_faults() -> None:
    ledge = feature("step", name="ledge", side="right", width=-1)
    callout = {"name": "d", "from": "ledge wall", "to": "right edge", "size": 0.7}
    assert [fault.key for fault in faults(job(feature=[ledge], dimension=[callout]))] == [
        "feature.width"
    ]


def test_two_bosses_at_one_depth_are_no_fault() -> None:
    first = feature("boss", name="a", x=[0, 1], y=[0, 1])
    second = feature("boss", name="b", x=[2, 3], y=[2, 3])
    assert faults(job(feature=[first, second], dimension=None)) == ()
    pocket = feature("pocket", name="c", x=[1.5, 3.5], y=[0.2, 0.8])
    (fault,) = faults(job(feature=[first, second, pocket], dimension=None))
    assert "c" in fault.wrong
