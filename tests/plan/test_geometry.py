"""Zones, contacts and rounding against arithmetic."""

from math import hypot, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import Point, Polygon, box

from passplot.errors import CannotCut
from passplot.plan.grid import Grid, make_grid, wall_position
from passplot.plan.metal import Metal, stadium
from passplot.plan.rings import Course, Middle, Steps
from passplot.plan.snap import Snapping
from passplot.plan.spans import meet, merged, without
from passplot.plan.zones import Growth, outlines, rect_union, round_zone, square_zone
from passplot.records.job import WallLimit

DOMAIN = (-3.0, 3.0, -3.0, 3.0)
WALL = (-0.5, 0.5, -0.25, 0.25)


@given(st.floats(0.05, 1.5))
def test_the_round_zone_never_comes_nearer_to_a_corner_than_the_radius(radius: float) -> None:
    """Chords of the rounded corner are laid outside the arc: inside they would gouge."""
    zone = round_zone(DOMAIN, [WALL], radius)
    for ring in zone.interiors:
        for x, y in ring.coords:
            assert Point(x, y).distance(box(-0.5, -0.25, 0.5, 0.25)) >= radius - 3e-6
    assert box(-0.5, -0.25, 0.5, 0.25).distance(zone) >= radius - 3e-6


def test_chords_inside_the_arc_would_gouge() -> None:
    plain = rect_union([WALL]).buffer(0.5, quad_segs=24)
    edge = min(
        hypot((a[0] + b[0]) / 2 - 0.5, (a[1] + b[1]) / 2 - 0.25)
        for a, b in zip(plain.exterior.coords[:-1], plain.exterior.coords[1:], strict=True)
        if a[0] > 0.5 and a[1] > 0.25 and b[0] > 0.5 and b[1] > 0.25
    )
    assert edge < 0.5 - 1e-4


def test_the_square_zone_grows_each_side_by_its_own_width() -> None:
    zone = square_zone(DOMAIN, [WALL], Growth(0.1, 0.2, 0.3, 0.4))
    (hole,) = zone.interiors
    x0, y0, x1, y1 = hole.bounds
    assert (x0, y0, x1, y1) == pytest.approx((-0.7, -0.65, 0.6, 0.55), abs=2e-6)


def test_outlines_keep_the_wall_on_the_left() -> None:
    """Inside a pocket clockwise, round an island counter-clockwise."""
    ring, island = outlines(box(0, 0, 4, 4).difference(box(1, 1, 2, 2)))
    assert _turning(ring) < 0
    assert _turning(island) > 0


def _turning(spots: list[tuple[float, float]]) -> float:
    """Twice the signed area: positive counter-clockwise."""
    pairs = zip(spots, spots[1:] + spots[:1], strict=True)
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in pairs)


def test_contact_of_a_straight_shoulder_pass() -> None:
    # metal 0 <= x <= 2, 0 <= y <= 1; a 0.5 cutter 0.2 into its lower edge, fed to the right
    metal = Metal(box(0, 0, 2, 1), -1.0, 0.0, 0.001, 0.0005)
    met = metal.contact((-0.3, -0.05), (2.3, -0.05), -0.4, 0.25, left=True)
    assert met.width == pytest.approx(0.2, abs=2e-3)
    assert met.depth == 0.4
    assert met.both_ways == 0
    # first touched where the front at y = 0 reaches the corner: u - sqrt(r² - v²)
    assert met.first == pytest.approx(0.3 - sqrt(0.25**2 - 0.05**2), abs=2e-3)


def test_contact_of_a_slot_is_on_both_sides() -> None:
    metal = Metal(box(0, 0, 2, 1), -1.0, 0.0, 0.001, 0.0005)
    met = metal.contact((-0.3, 0.5), (2.3, 0.5), -0.2, 0.25, left=True)
    assert met.both_ways == pytest.approx(2.25, abs=0.01)
    assert not met.climbing


def test_the_same_cut_backwards_climbs() -> None:
    metal = Metal(box(0, 0, 2, 1), -1.0, 0.0, 0.001, 0.0005)
    met = metal.contact((2.3, -0.05), (-0.3, -0.05), -0.4, 0.25, left=True)
    assert met.climbing
    assert not met.right


def test_metal_above_a_deeper_cut_goes_too() -> None:
    metal = Metal(box(0, 0, 2, 1), -1.0, 0.0, 0.001, 0.0005)
    metal.remove(stadium((0, 0.5), (2, 0.5), 0.25), -0.5)
    assert metal.highest(box(0.5, 0.4, 1.5, 0.6)) == -0.5
    assert metal.highest(box(0.5, 0.9, 1.5, 1.0)) == 0.0
    assert metal.at(-0.25).area < metal.at(-0.75).area


def test_spans() -> None:
    assert meet(((0, 2), (3, 4)), ((1, 3.5),)) == ((1, 2), (3, 3.5))
    assert without(((0, 4),), ((1, 2), (3, 5))) == ((0, 1), (2, 3))
    assert merged([(0, 1), (1.05, 2), (3, 4)], 0.1) == ((0, 2), (3, 4))


@given(st.floats(-50, 50), st.sampled_from([0.0005, 0.001, 0.005, 0.01]))
def test_rounding_away_moves_less_than_a_step_and_never_back(value: float, step: float) -> None:
    grid = make_grid(step, inch=True)
    assert value - 6e-6 <= grid.up(value) < value + step
    assert value - step < grid.down(value) <= value + 6e-6
    assert grid.round_out(value, 1) >= value - step - 1e-5


def test_a_wall_goes_to_the_other_side_when_only_that_is_inside_its_limits() -> None:
    grid = make_grid(0.001, inch=True)
    limit = WallLimit("x", 0.7004, 0.6999, 0.7009, "0.7004 ±0.0005")
    # radius 0.25: the axis belongs at 0.4504; away from the wall is 0.450, which makes 0.700
    assert wall_position(grid, 0.4504, -1, 0.25, [limit], "X", "ledge") == 0.450
    tight = WallLimit("x", 0.7007, 0.7005, 0.7011, "0.7005 to 0.7011")
    assert wall_position(grid, 0.4507, -1, 0.25, [tight], "X", "ledge") == 0.451


def test_limits_finer_than_the_readout_are_refused() -> None:
    grid = make_grid(0.001, inch=True)
    limit = WallLimit("x", 0.7005, 0.7004, 0.7006, "0.7005 ±0.0001")
    with pytest.raises(CannotCut, match="no reading of the readout"):
        wall_position(grid, 0.4505, -1, 0.25, [limit], "X", "ledge")


@pytest.mark.parametrize(
    ("room", "middle"),
    [
        (0.0044, 0.672),  # 0.670 would leave 0.0024 towards one wall, which only rubs
        (0.0064, 0.670),
    ],
)
def test_the_middle_of_a_gap_is_rounded_where_both_sides_stay_worth_a_cut(
    room: float, middle: float
) -> None:
    steps = Steps(Growth.even(0.1), 0, Growth.even(0.1))
    snapping = Snapping(Grid(0.0005, 0.005), steps, 0.1, None, (), "slot")
    line = Middle((0.0, 0.672), (2.0, 0.672), room)
    ((start, end),) = snapping.middles(Course((), (line,), 0, Polygon()))
    assert start[1] == end[1] == pytest.approx(middle)
