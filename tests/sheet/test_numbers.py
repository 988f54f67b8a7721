"""Numbers as ASME Y14.5 section 1.6 writes them (values from the standards' own examples)."""

import pytest

from passplot.sheet.numbers import fraction, places_of, plain, plain_feed, printed


@pytest.mark.parametrize(
    ("text", "paper"),
    [("0.500", ".500"), ("2.000", "2.000"), ("-0.1000", "−.1000"), ("12.5", "12.5"), ("0", "0")],
)
def test_inch_has_no_zero_before_the_point_and_keeps_its_decimals(text: str, paper: str) -> None:
    assert printed(text, inch=True) == paper


@pytest.mark.parametrize(
    ("text", "paper"),
    [("0.50", "0.5"), ("12.00", "12"), ("12.50", "12.5"), ("20500.00", "20500"), ("-3.00", "−3")],
)
def test_metric_keeps_the_zero_and_drops_trailing_ones(text: str, paper: str) -> None:
    assert printed(text, inch=False) == paper


@pytest.mark.parametrize(
    ("resolution", "places"),
    [(0.0005, 4), (0.01, 2), (0.005, 3), (0.001, 3), (1.0, 0), (0.02, 2), (0.00005, 5)],
)
def test_decimals_write_every_step_of_the_readout(resolution: float, places: int) -> None:
    assert places_of(resolution) == places
    for steps in (1, 3, 7, 1234):
        assert float(plain(steps * resolution, places)) == pytest.approx(steps * resolution)


def test_nothing_is_ever_minus_zero() -> None:
    assert plain(-0.00001, 4) == "0.0000"


def test_a_feed_never_comes_out_above_what_was_decided() -> None:
    for feed, inch in ((10.08, True), (9.99, True), (0.537, True), (102.9, False), (7.77, False)):
        assert float(plain_feed(feed, inch)) <= feed
        assert float(plain_feed(feed, inch)) > 0.98 * feed


@pytest.mark.parametrize(
    ("size", "text"), [(0.5, "1/2"), (1.25, "1 1/4"), (0.4375, "7/16"), (2.0, "2"), (0.31, ".3100")]
)
def test_inch_cutters_go_by_their_fraction(size: float, text: str) -> None:
    assert fraction(size) == text
