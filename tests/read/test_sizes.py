"""Sizes as prints write them."""

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from passplot.read.general import General, iso_2768_mm
from passplot.read.sizes import Least, Units, Unreadable, read_size

INCH = Units("inch", "inch")
MM = Units("mm", "mm")


@pytest.mark.parametrize(
    ("written", "nominal", "low", "high"),
    [
        (0.75, 0.75, 0.75, 0.75),
        (3, 3, 3, 3),
        ("0.75", 0.75, 0.75, 0.75),
        (".75", 0.75, 0.75, 0.75),
        ("3/4", 0.75, 0.75, 0.75),
        ("1 1/2", 1.5, 1.5, 1.5),
        ("1-1/2", 1.5, 1.5, 1.5),
        ("  1  1 / 2 ", 1.5, 1.5, 1.5),
        ("25.4 mm", 1, 1, 1),
        ("12.7mm", 0.5, 0.5, 0.5),
        ("0.5 in", 0.5, 0.5, 0.5),
        ('1/2"', 0.5, 0.5, 0.5),
        ("0.750 ±0.002", 0.75, 0.748, 0.752),
        ("0.750 +-0.002", 0.75, 0.748, 0.752),
        ("0.750 +/-0.002", 0.75, 0.748, 0.752),
        ("0.750±.002", 0.75, 0.748, 0.752),
        ("3/4 ±1/64", 0.75, 0.734375, 0.765625),
        ("0.700 +0.002 -0.000", 0.7, 0.7, 0.702),
        ("0.700 -0.000 +0.002", 0.7, 0.7, 0.702),
        ("0.700 +0.002 0", 0.7, 0.7, 0.702),
        ("0.700 +0.004 +0.002", 0.7, 0.702, 0.704),
        ("0.700 +0.002/-0.001", 0.7, 0.699, 0.702),
        ("0.700 +0.002 −0.001", 0.7, 0.699, 0.702),  # a minus sign, not a hyphen
        ("1 -1/64 +1/64", 1, 0.984375, 1.015625),
        ("0.748 to 0.752", 0.75, 0.748, 0.752),
        ("0.752 to 0.748", 0.75, 0.748, 0.752),
        ("25.4 mm ±0.254", 1, 0.99, 1.01),
        ("25.4 ±0.254 mm", 1, 0.99, 1.01),
        ("25.4 mm ±0.01 in", 1, 0.99, 1.01),
        ("25.4 +0.254 -0 mm", 1, 1, 1.01),
        ("25.146 to 25.654 mm", 1, 0.99, 1.01),
    ],
)
def test_a_size_is_read_as_a_print_means_it(
    written: object, nominal: float, low: float, high: float
) -> None:
    size = read_size(written, INCH)
    assert (size.nominal, size.low, size.high) == (nominal, low, high)
    assert size.toleranced == any(mark in str(written) for mark in ("±", "+", "to"))


def test_the_plan_aims_at_the_middle_of_the_limits() -> None:
    assert read_size("0.700 +0.002 -0.000", INCH).middle == 0.701
    assert read_size("0.748 to 0.752", INCH).middle == 0.75
    assert read_size(0.7, INCH).middle == 0.7


_UNREADABLE = ("", "x", "nan", "inf", "1e3", "0,75", "1 2", "1/0", "1/2/3", "5 in mm", "0.7 +0.002")
_MORE_UNREADABLE = ("±0.1", "0.700 0.002 0.001", "1 +- -1", "0.5 to", "..", "1" * 5000, "0x10", "٣")
_NO_SIZES = (True, False, None, [1], {"x": 1}, float("nan"), float("inf"), -float("inf"))
_NO_LENGTHS = (10**400, 100_001, 0.00009)


@pytest.mark.parametrize("written", [*_UNREADABLE, *_MORE_UNREADABLE, *_NO_SIZES, *_NO_LENGTHS])
@pytest.mark.parametrize("least", list(Least))
def test_what_is_no_size_is_refused(written: object, least: Least) -> None:
    if written == 0.00009 and least is Least.ANY:
        assert read_size(written, INCH, least).nominal == written  # a coordinate may be small
        return
    with pytest.raises(Unreadable):
        read_size(written, INCH, least)


@pytest.mark.parametrize("written", [-1, "-1/2", "-0.5 ±0.1", "-3 mm"])
def test_only_coordinates_may_be_negative(written: object) -> None:
    assert read_size(written, INCH, Least.ANY).nominal < 0
    for least in (Least.POSITIVE, Least.ZERO):
        with pytest.raises(Unreadable, match="negative"):
            read_size(written, INCH, least)


@pytest.mark.parametrize("written", [0, 0.0, -0.0, "0", "0.000", "0/4", "0 mm"])
def test_zero_will_do_only_where_it_is_allowed(written: object) -> None:
    assert read_size(written, INCH, Least.ZERO).nominal == 0
    with pytest.raises(Unreadable, match="zero"):
        read_size(written, INCH, Least.POSITIVE)


_NUMERATORS = st.integers(0, 3000)


@settings(deadline=None)
@given(_NUMERATORS, st.sampled_from([1, 2, 4, 8, 16, 32, 64]), st.sampled_from(["inch", "mm"]))
def test_a_fraction_is_the_same_in_every_spelling(
    numerator: int, denominator: int, job: str
) -> None:
    value = Fraction(numerator, denominator) + Fraction(1, 64)
    whole, part = divmod(value, 1)
    units = Units(job, job)
    unit, scale = (" in", Fraction(1)) if job == "inch" else (" mm", Fraction(254, 10))
    spellings = [f"{value.numerator}/{value.denominator}", float(value), f"{float(value):.6f}"]
    spellings += [f"{whole} {part.numerator}/{part.denominator}{unit}"]
    spellings += [f"{float(value):.6f}{unit}", f"{float(value):.6f} ± 0{unit}"]
    assert {read_size(spelling, units).nominal for spelling in spellings} == {float(value)}
    in_inches = read_size(f"{value.numerator}/{value.denominator} in", units).nominal
    assert in_inches == float(value * scale)


@settings(deadline=None)
@given(st.integers(1, 99_999_999), st.integers(0, 4), st.integers(0, 4))
def test_a_tolerance_is_laid_off_both_ways(digits: int, up: int, down: int) -> None:
    nominal = Fraction(digits, 1000)
    text = f"{float(nominal):.3f} +0.00{up} -0.00{down}"
    if nominal <= Fraction(down, 1000):
        with pytest.raises(Unreadable):
            read_size(text, MM)
        return
    size = read_size(text, MM)
    assert size.low == float(nominal - Fraction(down, 1000))
    assert size.high == float(nominal + Fraction(up, 1000))
    assert size.low <= size.middle <= size.high


# ISO 2768-1:1989 table 1: the ends of its steps, which belong to the step below.
@pytest.mark.parametrize(
    ("letter", "nominal", "spread"),
    [
        ("f", "0.5", "0.05"),
        ("m", "3", "0.1"),
        ("m", "6", "0.1"),
        ("m", "30", "0.2"),
        ("m", "30.1", "0.3"),
        ("m", "120", "0.3"),
        ("m", "120.01", "0.5"),
        ("c", "3.0", "0.2"),
        ("c", "3.1", "0.3"),
        ("c", "400.5", "2"),
        ("v", "6", "0.5"),
        ("v", "4000", "8"),
    ],
)
def test_general_tolerances_are_those_of_iso_2768(letter: str, nominal: str, spread: str) -> None:
    assert iso_2768_mm(letter, Fraction(nominal)) == Fraction(spread)


@pytest.mark.parametrize(
    ("letter", "nominal"), [("m", "0.4"), ("v", "2.5"), ("f", "2500"), ("c", "4001")]
)
def test_iso_2768_states_none_outside_its_table(letter: str, nominal: str) -> None:
    assert iso_2768_mm(letter, Fraction(nominal)) is None


def test_an_iso_class_holds_for_bare_numbers_and_in_inch_jobs() -> None:
    general = General("ISO 2768-m", iso_class="m")
    assert read_size(30, Units("mm", "mm", general)).high == 30.2
    size = read_size(1, Units("inch", "inch", general))  # 25.4 mm: ±0.2 mm
    assert size.high == pytest.approx(1 + 0.2 / 25.4, abs=1e-15)
    assert size.toleranced
    assert size.nominal == 1


def test_a_size_keeps_its_own_tolerance() -> None:
    general = General("±0.01", equal=Fraction(1, 100))
    assert read_size("2 ±0.002", Units("inch", "inch", general)).high == 2.002
    assert read_size("2", Units("inch", "inch", general)).high == 2.01
    assert read_size(-2, Units("inch", "inch", general), Least.ANY).low == -2.01


def test_decimal_places_count_in_quotes_only() -> None:
    places = ((2, Fraction(1, 100)), (3, Fraction(5, 1000)))
    units = Units("inch", "inch", General(".xx ±0.01", places=places))
    assert read_size("0.75", units).high == 0.76
    assert read_size("0.750", units).high == 0.755
    assert read_size("0.50 in", units).low == 0.49
    for written in (0.75, 0.75000, "0.7", "0.7500", "3/4", "2"):
        assert not read_size(written, units).toleranced
