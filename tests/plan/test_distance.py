"""Distances of straight ways from walls, against points sampled along the way."""

from math import cos, pi, sin

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from passplot.plan.distance import Distances
from passplot.records.shapes import Arc, Line, Point

# settings of a readout
COORDINATE = st.integers(-3000, 3000).map(lambda steps: steps / 1000)
PLACE = st.tuples(COORDINATE, COORDINATE)


def arc(first: float, turn: float, radius: float, ccw: bool) -> Arc:
    angles = (first, first + turn if ccw else first - turn)
    start, end = (Point(radius * cos(a), radius * sin(a)) for a in angles)
    return Arc(start, end, Point(0.0, 0.0), radius, ccw)


@given(
    a=PLACE,
    b=PLACE,
    first=st.floats(-pi, pi),
    turn=st.floats(0.3, 6.0),
    radius=st.floats(0.2, 2.0),
    ccw=st.booleans(),
)
def test_a_way_is_as_near_a_wall_as_its_nearest_point(
    a: tuple[float, float],
    b: tuple[float, float],
    first: float,
    turn: float,
    radius: float,
    ccw: bool,
) -> None:
    walls = Distances([arc(first, turn, radius, ccw), Line(Point(-1.0, 2.5), Point(2.0, 2.8))])
    share = np.linspace(0.0, 1.0, 2001)[:, None]
    sampled = float(walls.near(np.array(a) * (1 - share) + np.array(b) * share).min())
    step = float(np.hypot(b[0] - a[0], b[1] - a[1])) / 2000
    assert sampled - step <= walls.beside(a, b) <= sampled + 1e-9


@pytest.mark.parametrize("end", [(0.281, -0.679), (0.214, -0.703)])
def test_a_way_that_ends_before_the_circle_does_not_cross_it(end: tuple[float, float]) -> None:
    bore = Distances([arc(0.0, pi, 1.0, True), arc(pi, pi, 1.0, True)])
    corner = (0.214, -0.679)
    farther = max(np.hypot(*corner), np.hypot(*end))
    assert bore.beside(corner, end) == pytest.approx(1 - farther)
