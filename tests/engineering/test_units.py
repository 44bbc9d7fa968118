"""Conversion is exact, so a reading on a limit stays on it."""

import math
from decimal import Decimal
from fractions import Fraction

import pytest
import scipy.constants
from hypothesis import given
from hypothesis import strategies as st

from records.engineering import units
from records.engineering.unit_table import UNITS
from records.engineering.units import compare, convert, convert_difference, to_si

READINGS = st.decimals(
    min_value=-(10**6), max_value=10**6, allow_nan=False, allow_infinity=False, places=6
)
SAME_DIMENSION = st.sampled_from(
    [
        (a.symbol, b.symbol)
        for a in UNITS.values()
        for b in UNITS.values()
        if a.dimension == b.dimension and a.dimension != "temperature"
    ]
)
PI_IS_NOT_EXACT = {("rad", "deg"), ("deg", "rad")}


# Definitions: 1 in = 25.4 mm, 0 degC = 273.15 K, 32 degF = 0 degC (NIST SP 811).
@pytest.mark.parametrize(
    ("value", "source", "target", "expected"),
    [
        ("0.0625", "in", "mm", "1.5875"),
        ("1.5875", "mm", "in", "0.0625"),
        ("1", "in", "thou", "1000"),
        ("0.5", "oz.in", "g.mm", "360.0389436875"),
        ("68", "degF", "degC", "20"),
        ("-40", "degC", "degF", "-40"),
        ("0", "K", "degC", "-273.15"),
        ("24", "lbf.ft", "lbf.in", "288"),
        ("14", "h", "s", "50400"),
        ("10.3", "%", "1", "0.103"),
        ("2400", "rpm", "r/s", "40"),
        ("0.55158", "MPa", "kPa", "551.58"),
        ("0", "in", "mm", "0"),
        ("-2.5", "mm", "um", "-2500"),
    ],
)
def test_exact_conversion(value, source, target, expected):
    result = convert(Decimal(value), source, target)
    assert result == Decimal(expected)
    assert str(result) == expected


def test_eighty_psi():
    # Common practice, no source: 80 psi is 0.5516 MPa; digits by the definitions.
    megapascal = convert(Decimal(80), "psi", "MPa")
    assert round(megapascal, 4) == Decimal("0.5516")
    assert len(megapascal.as_tuple().digits) == 34
    exact = Fraction(80) * UNITS["psi"].factor / 10**6
    assert abs(Fraction(megapascal) / exact - 1) < Fraction(1, 10**33)


def test_same_unit_keeps_every_digit():
    assert str(convert(Decimal("10.300"), "%", "%")) == "10.300"
    assert str(convert_difference(Decimal("0.50"), "degC", "degC")) == "0.50"


def test_half_a_degree_of_angle():
    assert to_si(Decimal(180), "deg") == math.pi


@given(READINGS, SAME_DIMENSION)
def test_there_and_back(value, pair):
    source, target = pair
    back = convert(convert(value, source, target), target, source)
    if pair in PI_IS_NOT_EXACT:
        assert back == pytest.approx(value, rel=Decimal("1e-30"))
    else:
        assert back == pytest.approx(value, rel=Decimal("1e-32"))


@given(READINGS)
def test_inch_and_millimetre_return_exactly(value):
    assert convert(convert(value, "in", "mm"), "mm", "in") == value


@given(READINGS, SAME_DIMENSION)
def test_conversion_is_linear_and_agrees_with_the_factors(value, pair):
    source, target = pair
    exact = Fraction(value) * UNITS[source].factor / UNITS[target].factor
    result = Fraction(convert(value, source, target))
    assert abs(result - exact) <= abs(exact) / 10**33
    assert convert_difference(value, source, target) == convert(value, source, target)


@given(READINGS, READINGS, SAME_DIMENSION)
def test_comparing_does_not_depend_on_units(a, b, pair):
    unit, other = pair
    assert compare(a, unit, b, unit) == (a > b) - (a < b)
    assert compare(a, unit, b, other) == -compare(b, other, a, unit)


@pytest.mark.parametrize(("b", "order"), [("1.5874", 1), ("1.5875", 0), ("1.5876", -1)])
def test_on_the_limit_and_one_digit_off_it(b, order):
    assert compare(Decimal("0.0625"), "in", Decimal(b), "mm") == order


@given(st.floats(min_value=-200, max_value=200))
def test_temperature_agrees_with_scipy(celsius):
    for source, name in (("degC", "Celsius"), ("degF", "Fahrenheit")):
        assert to_si(celsius, source) == pytest.approx(
            scipy.constants.convert_temperature(celsius, name, "Kelvin"), abs=1e-10
        )


@given(st.floats(min_value=-1e9, max_value=1e9), st.sampled_from(sorted(UNITS)))
def test_si_and_back(value, unit):
    if UNITS[unit].dimension == "temperature":
        value = abs(value)
    assert units.from_si(to_si(value, unit), unit) == pytest.approx(value, rel=1e-12)


def test_decimal_and_float_give_the_same_si_value():
    assert to_si(Decimal("152"), "mm") == to_si(152.0, "mm") == 0.152


def test_a_difference_of_temperature_has_no_zero_shift():
    assert convert_difference(Decimal("-5"), "degC", "degF") == Decimal(-9)
    assert convert_difference(Decimal("-300"), "K", "degC") == Decimal(-300)


# Absolute zero: -273.15 degC = -459.67 degF, exact (NIST SP 811, B.1).
@pytest.mark.parametrize(
    ("edge", "past", "unit"),
    [
        ("-273.15", "-273.16", "degC"),
        ("-459.67", "-459.68", "degF"),
        ("0", "-0.01", "K"),
    ],
)
def test_absolute_zero_is_the_edge(edge, past, unit):
    assert to_si(Decimal(edge), unit) == 0
    for refuse in (
        lambda: to_si(Decimal(past), unit),
        lambda: convert(Decimal(past), unit, "degC"),
    ):
        with pytest.raises(ValueError, match=f"{past} {unit} is below absolute zero"):
            refuse()


def test_from_si_shifts_the_zero():
    assert units.from_si(300.0, "degC") == pytest.approx(26.85, abs=1e-12)
    assert units.from_si(273.15, "degF") == pytest.approx(32, abs=1e-12)


def test_from_si_refuses_below_absolute_zero():
    with pytest.raises(ValueError, match="-1 K is below absolute zero"):
        units.from_si(-1, "degC")


@pytest.mark.parametrize("function", [convert, convert_difference])
def test_mismatched_dimensions_are_refused(function):
    with pytest.raises(
        ValueError,
        match=r"^lbf.ft measures torque and oz.in measures unbalance; "
        r"choose a unit of torque$",
    ):
        function(Decimal(24), "lbf.ft", "oz.in")
    with pytest.raises(ValueError, match="measures"):
        compare(Decimal(1), "mm", Decimal(1), "g")


@pytest.mark.parametrize("pair", [("furlong", "mm"), ("mm", "furlong")])
def test_unknown_units_are_refused(pair):
    with pytest.raises(ValueError, match="unit 'furlong' is not known here"):
        convert(Decimal(1), *pair)


@pytest.mark.parametrize("value", [Decimal("NaN"), Decimal("Infinity"), math.nan])
def test_what_is_not_finite_is_refused(value):
    with pytest.raises(ValueError, match="is not a finite number"):
        to_si(value, "mm")
    with pytest.raises(ValueError, match="is not a finite number"):
        convert_difference(value, "mm", "mm")


@pytest.mark.parametrize("text", ["1e60", "1e-60", "9" * 60])
def test_sixty_digits_are_the_edge(text):
    assert convert(Decimal(text), "mm", "mm") == Decimal(text)


@pytest.mark.parametrize("text", ["1e61", "1e-61", "9" * 61, "1e999999"])
def test_one_digit_more_is_refused(text):
    with pytest.raises(ValueError, match="a value has at most 60 digits"):
        convert(Decimal(text), "mm", "mm")


def test_a_result_past_sixty_digits_is_rounded_to_34():
    long = Decimal("1" * 60)
    rounded = convert(long, "in", "m")
    assert len(rounded.as_tuple().digits) == 34
    assert rounded == pytest.approx(long * Decimal("0.0254"), rel=Decimal("1e-27"))


def test_an_exact_result_of_more_than_34_digits_is_kept_whole():
    long = Decimal("0." + "123456789" * 4 + "7")
    result = convert(long, "in", "mm")
    assert len(result.as_tuple().digits) > 34
    assert Fraction(result) == Fraction(long) * Fraction("25.4")


@pytest.mark.parametrize(("ones", "digits"), [(59, 60), (60, 34)])
def test_sixty_digits_are_the_longest_result(ones, digits):
    result = convert(Decimal("1" * ones), "cm", "mm")
    assert len(result.as_tuple().digits) == digits


def test_what_is_not_finite_is_called_a_value():
    with pytest.raises(ValueError, match=r"^value nan is not a finite number"):
        to_si(math.nan, "mm")
