"""Whatever a file says, reading answers with a job or with an error of passplot's own."""

import copy
import math
import tomllib
from datetime import date

from hypothesis import given, settings
from hypothesis import strategies as st

from passplot.errors import InputFaults, PassplotError
from passplot.read import parse_job
from passplot.read.lines import locate

from .texts import FULL, JOB, SHAFT, SHOP
from .toml_text import dump

# fmt: off
_WORDS = st.sampled_from(
    [
    "x", "left", "step", "pocket", "outline", "boss", "0.5±0.1", "1/0", "inch", "mm", "holes",
    "bore", "keyseat", "cw", "inside", "face", "half", "ball", "bottom", "nan", "3/4", "1-1/2",
    "seven"
]
)
# fmt: on
_NUMBERS = st.sampled_from([0, -1, 1, 2, 0.5, 1e-9, 1e300, 10**30, math.inf, -math.inf, math.nan])
_VALUES = st.recursive(
    st.one_of(
        _WORDS,
        _NUMBERS,
        st.booleans(),
        st.text(max_size=8),
        st.floats(),
        st.integers(),
        st.just(date(2024, 2, 29)),
    ),
    lambda inner: st.one_of(
        st.lists(inner, max_size=4),
        st.dictionaries(
            st.sampled_from(["x", "y", "radius", "center", "turn", "points", "name", "diameter"]),
            inner,
            max_size=3,
        ),
    ),
    max_leaves=8,
)
# fmt: off
_KEYS = st.sampled_from(
    [
    "name", "kind", "depth", "x", "y", "points", "clear", "islands", "corner_radius", "within",
    "shape", "side", "width", "along", "center", "start", "end", "diameter", "circle", "row",
    "shaft", "standard", "grid", "pitch", "angle", "count", "radius", "turn", "set_over", "rotary",
    "setup", "cutter", "top", "up", "right", "zero", "size", "material", "wall", "units",
    "finish", "limits", "keep_out", "dimension", "from", "to", "general_tolerance", "shop",
    "machine", "dial", "power", "hand", "form", "flutes", "spindle_speeds", "resolution"
]
)
# fmt: on


def _places(value: object, path: tuple[object, ...] = ()) -> list[tuple[object, ...]]:
    entries = (
        value.items()
        if isinstance(value, dict)
        else enumerate(value)
        if isinstance(value, list)
        else ()
    )
    return [path, *(place for key, entry in entries for place in _places(entry, (*path, key)))]


@st.composite
def _spoilt(draw: st.DrawFn, good: dict[str, object]) -> dict[str, object]:
    """``good`` with one to three values replaced, taken out or added."""
    spoilt = copy.deepcopy(good)
    for _ in range(draw(st.integers(1, 3))):
        places = [place for place in _places(spoilt) if place]
        *path, last = draw(st.sampled_from(places)) if places else [draw(_KEYS)]
        holder: object = spoilt
        for key in path:
            holder = holder[key]  # type: ignore[index]
        if isinstance(holder, list):
            holder[last] = draw(_VALUES)  # type: ignore[call-overload]
        elif isinstance(holder, dict):
            change = draw(st.sampled_from(["replace", "remove", "add"]))
            if change == "remove":
                del holder[last]
            else:
                holder[last if change == "replace" else draw(_KEYS)] = draw(_VALUES)
    return spoilt


def _answers(job_text: str, shop_text: str) -> None:
    """Read two texts; what passplot itself says about them is one line a fault, in the file."""
    error: PassplotError | None = None
    try:
        parse_job(job_text, shop_text)
    except PassplotError as raised:
        error = raised
    if error is not None:
        assert error.lines()
        assert all(line.isprintable() for line in error.lines())
    if isinstance(error, InputFaults):
        last = max(job_text.count("\n"), shop_text.count("\n")) + 1
        assert all(1 <= fault.line <= last for fault in error.faults)


@settings(max_examples=100, deadline=None)
@given(_spoilt(JOB), _spoilt(FULL), _spoilt(SHAFT), _spoilt(SHOP))
def test_spoilt_files_are_answered_with_faults(
    job: dict[str, object],
    full: dict[str, object],
    shaft: dict[str, object],
    shop: dict[str, object],
) -> None:
    for values in (job, full, shaft):
        _answers(dump(values), dump(SHOP))
    _answers(dump(JOB), dump(shop))


@settings(max_examples=60, deadline=None)
@given(st.text(max_size=60))
def test_arbitrary_text_is_answered_with_faults(text: str) -> None:
    _answers(text, dump(SHOP))
    _answers(dump(JOB), text)


@settings(max_examples=60, deadline=None)
@given(st.dictionaries(st.one_of(_KEYS, st.text(max_size=5)), _VALUES, max_size=6))
def test_every_value_of_a_file_has_a_line(values: dict[str, object]) -> None:
    text = dump(values)
    lines = locate(text)
    for place in _places(tomllib.loads(text)):
        assert not place or place in lines


def test_brackets_nested_too_deep_are_a_fault() -> None:
    _answers("x = " + "[" * 5000 + "]" * 5000 + "\n", dump(SHOP))


def test_numbers_too_long_to_read_are_a_fault() -> None:
    _answers("quantity = " + "1" * 5000 + "\n", dump(SHOP))
    _answers("quantity = 0x" + "f" * 5000 + "\n[stock]\nsize=[0x" + "f" * 5000 + "]\n", dump(SHOP))
