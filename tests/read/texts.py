"""A good job and a good shop to spoil, and what reading says of a spoilt one."""

import copy

from passplot.errors import Fault, InputFaults
from passplot.read import parse_job
from passplot.records.job import Job

from .toml_text import dump

SHOP: dict[str, object] = {
    "units": "inch",
    "machine": {
        "name": "Training mill",
        "spindle_speeds": [80, 200, 500, 1250],
        "power": "2 hp",
        "travel": [24, 12, 14],
        "spindle": "clockwise",
        "edge_finder": 0.2,
        "readout": "dro",
        "resolution": 0.001,
        "dial": {
            "x": {
                "per_turn": 0.2,
                "graduation": 0.001,
                "backlash": 0.01,
                "clockwise": "table left",
            },
        },
    },
    "cutter": [
        {
            "id": "half",
            "form": "square end",
            "material": "carbide",
            "diameter": 0.5,
            "flutes": 4,
            "flute_length": 1.25,
            "center_cutting": True,
        },
        {
            "id": "ball",
            "form": "ball",
            "material": "high-speed steel",
            "diameter": 0.25,
            "flutes": 2,
            "flute_length": 0.75,
        },
        {
            "id": "seven",
            "form": "drill",
            "material": "high-speed steel",
            "diameter": 0.4375,
            "flutes": 2,
            "flute_length": 4,
        },
    ],
}

JOB: dict[str, object] = {
    "title": "Trial block",
    "units": "inch",
    "shop": "shop.toml",
    "cutter": "half",
    "stock": {"size": [4, 3, 1], "material": "1018"},
    "feature": [
        {"name": "ledge", "kind": "step", "side": "left", "width": "1.000 ±0.002", "depth": 0.25},
        {
            "name": "tray",
            "kind": "pocket",
            "x": [1.5, 3.5],
            "y": [0.5, 2.5],
            "depth": 0.5,
            "islands": [{"x": [2, 2.5], "y": [1, 1.5]}],
        },
    ],
    "dimension": [
        {"name": "ledge width", "from": "left edge", "to": "ledge wall", "size": "1 ±0.002"}
    ],
}

# Every table and kind of the job file, what is not planned yet included.
FULL: dict[str, object] = {
    "title": "Everything",
    "part_number": "TW-1",
    "quantity": 2,
    "units": "inch",
    "shop": "shop.toml",
    "cutter": ["half", "ball"],
    "direction": "climb",
    "general_tolerance": {".xx": 0.01, ".xxx": "0.005"},
    "stock": {"size": ["4.00", 3, 1], "material": "6061", "zero": "center back bottom"},
    "finish": {"wall": 0.02, "floor": 0, "skims": 1, "floor_skims": 0, "cusp": "0.1 mm"},
    "limits": {"width_of_cut": 0.1, "depth_of_cut": 0.25, "spindle_speed": 900, "feed": 5}
    | {"stand_off": 0.06, "cross_over": 0.2},
    "setup": [
        {"name": "first", "hold": "vise", "jaw_height": 1.5, "jaw_opening": 4, "parallels": [1]},
        {"name": "second", "up": "bottom", "right": "left", "zero": "left front top"},
    ],
    "feature": [
        {"name": "top", "kind": "face", "depth": 0.05},
        {"name": "slot", "kind": "slot", "along": "y", "center": "1/2", "width": "0.550 ±0.002"}
        | {"depth": "1/4", "end": -1},
        {"name": "pad", "kind": "boss", "center": [-1, -1], "diameter": 1, "depth": 0.1}
        | {"within": {"x": [-2, 0], "y": [-2, 0], "corner_radius": 0.25}},
        {"name": "pad 2", "kind": "boss", "depth": 0.1, "cutter": "half"}
        | {"shape": {"points": [[1, -1], [1.5, -1], [1.5, -0.5]]}},
        {"name": "cam", "kind": "outline", "clear": "outside", "depth": 0.2, "setup": "second"}
        | {
            "points": [
                [0.5, 0.5],
                {"x": 2, "y": 0.5, "radius": 0.2},
                [2, 1.5],
                {"x": 1, "y": 1.5, "center": [1.5, 1.5], "turn": "ccw"},
                [0.5, 1.5],
            ]
        },
        {"name": "hole", "kind": "bore", "center": [0, -1], "diameter": 0.75, "depth": 1},
        {"name": "ring", "kind": "holes", "cutter": "seven"}
        | {"circle": {"center": [0, -1.5], "diameter": 2, "count": 6, "start_angle": 30}},
    ],
    "keep_out": [{"name": "clamp", "x": [-3, -1.5], "y": [-2, -1], "top": 1.5}],
    "dimension": [{"name": "d", "from": "left edge", "to": "slot left wall", "size": "2.225"}],
}


# A shaft with a keyseat, and rows of holes.
SHAFT: dict[str, object] = {
    "units": "mm",
    "shop": "shop.toml",
    "cutter": "half",
    "stock": {"size": [120, 30, 30], "material": "1045", "zero": "left center top"},
    "feature": [
        {"name": "seat", "kind": "keyseat", "along": "x", "center": 0, "start": 20, "end": 60}
        | {"shaft": 30, "standard": "DIN 6885", "depth": "4 +0.2 -0", "width": "8 +0 -0.036"},
        {"name": "pins", "kind": "holes", "depth": 10}
        | {"row": {"start": [70, 0], "count": 3, "pitch": 10, "angle": 15}},
        {"name": "plate", "kind": "holes"}
        | {"grid": {"start": [80, -10], "columns": 3, "rows": 2, "pitch": [10, "5 ±0.1"]}},
        {"name": "end", "kind": "outline", "clear": "inside", "depth": 3, "set_over": True}
        | {"points": [[100, -15], [120, -15], [120, 15], {"x": 110, "y": 15, "radius": 5}]},
        {"name": "eye", "kind": "bore", "center": [10, 0], "diameter": "20 +0.021 -0"}
        | {"depth": 5, "rotary": True},
    ],
}


def job(**changes: object) -> dict[str, object]:
    """The good job, with keys at its top replaced; None takes a key out."""
    return _changed(JOB, changes)


def shop(**changes: object) -> dict[str, object]:
    """The good shop, with keys at its top replaced; None takes a key out."""
    return _changed(SHOP, changes)


def cutter(**changes: object) -> dict[str, object]:
    """A good cutter with keys replaced."""
    crib = SHOP["cutter"]
    assert isinstance(crib, list)
    return _changed(crib[0], changes)


def machine(**changes: object) -> dict[str, object]:
    """The good machine with keys replaced."""
    good = SHOP["machine"]
    assert isinstance(good, dict)
    return _changed(good, changes)


def feature(kind: str, **keys: object) -> dict[str, object]:
    """A feature ``"f"``, 0.25 deep."""
    return _changed({"name": "f", "kind": kind, "depth": 0.25}, keys)


def one(kind: str, **keys: object) -> dict[str, object]:
    """The good job with only that feature in it."""
    return job(feature=[feature(kind, **keys)], dimension=None)


def read(job_values: dict[str, object], shop_values: dict[str, object] | None = None) -> Job:
    """The job of those values."""
    return parse_job(dump(job_values), dump(SHOP if shop_values is None else shop_values))


def faults(
    job_values: dict[str, object], shop_values: dict[str, object] | None = None
) -> tuple[Fault, ...]:
    """The faults reading finds; none if it finds none."""
    try:
        read(job_values, shop_values)
    except InputFaults as found:
        return found.faults
    return ()


def _changed(good: dict[str, object], changes: dict[str, object]) -> dict[str, object]:
    values = copy.deepcopy(good) | changes
    return {key: value for key, value in values.items() if value is not None}
