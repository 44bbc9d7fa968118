"""Numbers: digits kept, no exponent, a true minus."""

from decimal import Decimal

import pytest

from records.spelling.numbers import plain, rounded, true_minus


@pytest.mark.parametrize(
    ("value", "spelled"),
    [
        (Decimal("12.700000"), "12.7"),
        (Decimal("1E+3"), "1000"),
        (Decimal("100"), "100"),
        (Decimal("0.000"), "0"),
        (Decimal("-4.50"), "\N{MINUS SIGN}4.5"),
        (0.1, "0.1"),
        (None, "\N{EN DASH}"),
    ],
)
def test_plain_says_no_more_than_was_read(value, spelled):
    assert plain(value) == spelled


def test_a_computed_zero_has_no_sign():
    assert rounded(-0.0001, 2) == "0.00"
    assert rounded(-0.006, 2) == "\N{MINUS SIGN}0.01"


@pytest.mark.parametrize("text", ["yes", "-", "--", "G-12", "12-3", ""])
def test_only_a_number_gets_a_minus(text):
    assert true_minus(text) == text


def test_a_typed_minus_becomes_a_true_one():
    assert true_minus("-1.70") == "\N{MINUS SIGN}1.70"
