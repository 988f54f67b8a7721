"""Views: mapped true to scale, or interrupted where nothing is to be seen."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passplot.sheet.labels import spread
from passplot.sheet.view import GAP_MM, Reach, shortened


def test_a_view_is_true_to_scale_on_either_side_of_a_break() -> None:
    reach = shortened(Reach(0.0, 10.0), (0.0, 1.0, 9.0, 10.0), 120.0, 25.4, 5.0)
    assert reach is not None
    across = reach.mapped(20.0, 25.4, rising=True)
    assert across(1.0) - across(0.0) == pytest.approx(25.4)
    assert across(10.0) - across(9.0) == pytest.approx(25.4)
    assert across.span == pytest.approx(120.0, abs=0.05)
    (first, last), *more = reach.left_out
    assert not more
    assert across(last) - across(first) == pytest.approx(GAP_MM)


def test_nothing_is_left_out_where_something_is_to_be_seen() -> None:
    events = tuple(float(x) for x in range(11))
    assert shortened(Reach(0.0, 10.0), events, 120.0, 25.4, 5.0) is None


@given(
    events=st.lists(st.floats(0.2, 9.8), max_size=5),
    room=st.floats(40.0, 300.0),
)
def test_what_is_shortened_fits_and_keeps_every_event(events: list[float], room: float) -> None:
    reach = shortened(Reach(0.0, 10.0), tuple(events), room, 25.4, 4.0)
    if reach is None:
        return
    assert reach.length_mm(25.4) <= room + 0.02
    across = reach.mapped(0.0, 25.4, rising=False)
    for event in events:
        assert all(not first < event < last for first, last in reach.left_out)
    places = [across(event) for event in sorted(events)]
    assert places == sorted(places, reverse=True)


@given(
    wanted=st.lists(st.floats(0, 100), min_size=1, max_size=9).map(sorted),
    width=st.floats(2, 10),
)
def test_spread_labels_keep_their_order_and_never_overlap(
    wanted: list[float], width: float
) -> None:
    widths = [width] * len(wanted)
    middles = spread(wanted, widths, 0.0, 100.0)
    for left, right in pairwise(middles):
        assert right - left >= width - 1e-6
    assert min(middles) >= width / 2 - 1e-6
    assert max(middles) <= 100.0 - width / 2 + 1e-6


def test_a_label_with_room_stands_where_it_wants() -> None:
    assert spread([10.0, 50.0], [5.0, 5.0], 0.0, 100.0) == [10.0, 50.0]
