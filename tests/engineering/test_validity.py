"""What the calculations refuse, and the sentence they give."""

import math
from decimal import Decimal
from fractions import Fraction

import pytest

from records.engineering import validity


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf, 10**400])
def test_what_is_not_finite_is_refused(value):
    with pytest.raises(ValueError, match=r"^mass (nan|-?inf) is not a finite number"):
        validity.finite("mass", value)


@pytest.mark.parametrize("value", [3, 3.0, Decimal("3"), Fraction(3)])
def test_any_kind_of_number_comes_back_as_float(value):
    assert type(validity.finite("mass", value)) is float
    assert validity.finite("mass", value) == 3.0


@pytest.mark.parametrize("value", [0, 100])
def test_both_edges_are_inside(value):
    assert validity.within("relative humidity", value, 0, 100, "%") == value


@pytest.mark.parametrize(
    ("value", "spelled"), [(-0.1, "-0.1"), (100.1, "100.1"), (105, "105")]
)
def test_outside_names_value_and_range(value, spelled):
    with pytest.raises(ValueError, match=f"^h {spelled} % is outside 0 to 100 %$"):
        validity.within("h", value, 0, 100, "%")


def test_one_float_past_the_edge_is_still_told_apart():
    past = math.nextafter(100.0, math.inf)
    with pytest.raises(ValueError, match=r"100\.00000000000001 % is outside"):
        validity.within("h", past, 0, 100, "%")


def test_repeating_limits_are_shortened_in_the_sentence():
    with pytest.raises(
        ValueError, match=r"^t 200 degC is outside -1\.11111 to 132\.222 degC$"
    ):
        validity.within("t", 200, (30 - 32) / 1.8, (270 - 32) / 1.8, "degC")


def test_nan_is_never_within():
    with pytest.raises(ValueError, match="not a finite number"):
        validity.within("h", math.nan, 0, 100, "%")


@pytest.mark.parametrize("value", [0, -1])
def test_positive_refuses_zero_and_below(value):
    with pytest.raises(ValueError, match=f"^area {value} m2 must be above 0 m2$"):
        validity.positive("area", value, "m2")
    assert validity.positive("area", 5e-324, "m2") == 5e-324


def test_not_negative_allows_zero():
    assert validity.not_negative("mass", 0, "g") == 0
    with pytest.raises(ValueError, match=r"^mass -0\.1 g must not be negative$"):
        validity.not_negative("mass", -0.1, "g")


@pytest.mark.parametrize("check", [validity.positive, validity.not_negative])
def test_signs_refuse_nan(check):
    with pytest.raises(ValueError, match="not a finite number"):
        check("mass", math.nan, "g")


@pytest.mark.parametrize("unit", ["-", "1", ""])
def test_a_bare_number_has_no_unit(unit):
    assert validity.spelled(2.0, unit) == "2"


def test_at_least_counts():
    validity.at_least("readings", [1, 2], 2)
    with pytest.raises(ValueError, match=r"^readings: 1 given, at least 2 needed$"):
        validity.at_least("readings", [1], 2)


@pytest.mark.parametrize("values", [[], [1], [1, 2, 3]])
def test_rising_lists_pass(values):
    validity.increasing("times", values, "s")


@pytest.mark.parametrize("values", [[1, 1], [1, 3, 2]])
def test_level_or_falling_lists_are_refused(values):
    with pytest.raises(ValueError, match=r"^times must rise: \d s follows \d s$"):
        validity.increasing("times", values, "s")


def test_a_rising_list_with_nan_is_refused():
    with pytest.raises(ValueError, match=r"^times nan is not a finite number"):
        validity.increasing("times", [1, math.nan], "s")
