"""What callouts of a print may name besides straight walls: circles, ends, points, holes."""

import pytest

from .texts import faults, job

STOCK = {"size": [5, 3, 1], "material": "1018", "zero": "left front top"}
EYE = {"name": "eye", "kind": "bore", "center": [1.5, 1], "diameter": "1.250", "depth": 0.25}
SLOT = {
    "name": "slot", "kind": "slot", "along": "x", "center": 2.25, "width": 0.5, "start": 3,
    "end": 4.5, "depth": 0.25,
}  # fmt: skip
ROOF = {
    "name": "roof", "kind": "outline", "clear": "outside", "depth": 0.25,
    "points": [
        [1, 1], [3, 1], {"x": 4, "y": 2, "center": [3, 2], "turn": "ccw"}, {"x": 2, "y": 2.5},
    ],
}  # fmt: skip
CIRCLE = {"center": [2.5, 1.5], "diameter": 2, "count": 4, "start_angle": 0}
BOLTS = {"name": "bolts", "kind": "holes", "circle": CIRCLE, "cutter": "seven", "depth": 0.1}
CHAMBER = {
    "name": "chamber", "kind": "pocket", "x": [0.5, 4.5], "y": [0.5, 2.5], "depth": 0.25,
    "islands": [{"center": [2, 1.5], "diameter": 0.75}],
}  # fmt: skip
SEAT = {
    "name": "seat", "kind": "keyseat", "along": "x", "center": 0, "start": 1, "end": 2.5,
    "shaft": 1.5, "standard": "ASME B17.1",
}  # fmt: skip


def said(
    feature: dict[str, object], start: str, end: str, size: object, stock: object = STOCK
) -> list[str]:
    """The faults of a job with one feature and one callout."""
    callout = {"name": "d", "from": start, "to": end, "size": size}
    values = job(stock=stock, feature=[feature], dimension=[callout])
    return [f"{fault.key}: {fault.wrong}, {fault.right}" for fault in faults(values)]


@pytest.mark.parametrize(
    ("feature", "start", "end", "size"),
    [
        (EYE, "left edge", "eye center", "1.500 ±0.005"),
        (EYE, "front edge", "eye center", "1.000"),
        (EYE, "eye left wall", "eye right wall", "1.250 +0.005 -0.000"),
        (EYE, "eye back wall", "back edge", 1.375),
        (SLOT, "slot left end", "slot right end", 1.5),
        (SLOT, "slot left end center", "slot right end center", 1),
        (SLOT, "front edge", "slot centre line", 2.25),
        (SLOT, "slot right end", "right edge", 0.5),
        (ROOF, "left edge", "roof point 3", 4),
        (ROOF, "front edge", "roof point 4", 2.5),
        (ROOF, "left edge", "roof wall 2 center", 3),
        (ROOF, "front edge", "roof wall 2 center", 2),
        (BOLTS, "bolts hole 1", "bolts hole 3", 2),
        (BOLTS, "left edge", "bolts center", 2.5),
        (BOLTS, "front edge", "bolts hole 2", 2.5),
        (CHAMBER, "chamber left wall", "chamber island 1 left wall", 1.125),
        (CHAMBER, "chamber island 1 center", "chamber right wall", 2.5),
    ],
)
def test_a_callout_reads_as_a_print_has_it(
    feature: dict[str, object], start: str, end: str, size: object
) -> None:
    assert said(feature, start, end, size) == []


def test_a_keyseat_is_measured_over_the_far_side_of_the_shaft() -> None:
    # S of a 1-1/2 in shaft with a square key: 1.289 (Machinery's Handbook, 31st ed., p. 2552).
    stock = {"size": [4, 1.5, 1.5], "material": "1045", "zero": "left center top"}
    assert said(SEAT, "left edge", "seat right end", 2.5, stock) == []
    assert said(SEAT, "seat front wall", "seat back wall", "0.375 +0.002 -0", stock) == []
    (fault,) = said(SEAT, "bottom face", "seat floor", "1.289 +0 -0.015", stock)
    assert "they put 1.28868 between" in fault


def test_a_size_between_two_points_says_both_distances() -> None:
    (fault,) = said(BOLTS, "bolts hole 1", "bolts hole 2", 1.2)
    assert fault == (
        "dimension.size: 1.2 does not agree with the features, "
        'they put 1 along X and 1 along Y between "bolts hole 1" and "bolts hole 2"'
    )


def test_a_name_that_is_wrong_brings_those_of_its_feature() -> None:
    (fault,) = said(EYE, "left edge", "eye q", 1.5)
    names = [f'"eye {word}"' for word in ("center", "left wall", "right wall", "front wall")]
    assert all(name in fault for name in names)
    assert "edge" not in fault.partition("it is one of")[2]
    (fault,) = said(EYE, "left edge", "eye middle wal", 1.5)
    assert "did you mean" in fault


def test_a_callout_from_an_edge_to_a_place_across_it_is_refused() -> None:
    (fault,) = said(SLOT, "left edge", "slot center line", 1)
    assert fault == (
        'dimension.to: "left edge" lies along X, "slot center line" along Y, '
        "a callout runs along one axis"
    )
