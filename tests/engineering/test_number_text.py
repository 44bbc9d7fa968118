"""What people type is read digit for digit, or refused with a sentence."""

import re
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from records.engineering.number_text import parse_number


@pytest.mark.parametrize(
    ("typed", "digits"),
    [
        ("10.3", "10.3"),
        ("10,3", "10.3"),
        ("  10.30\t", "10.30"),
        ("\N{NO-BREAK SPACE}7\N{NO-BREAK SPACE}", "7"),
        ("+0.25", "0.25"),
        ("-0,25", "-0.25"),
        ("\N{MINUS SIGN}3", "-3"),
        (".5", "0.5"),
        (",5", "0.5"),
        ("5.", "5"),
        ("007", "7"),
        ("0,125", "0.125"),
        ("12,1250", "12.1250"),
        ("1250,125", "1250.125"),
        ("12.125", "12.125"),
        ("1e3", "1E+3"),
        ("2.5E-3", "0.0025"),
        ("1/16", "0.0625"),
        ("2 3/8", "2.375"),
        ("2  3 / 8", "2.375"),
        ("-2 3/8", "-2.375"),
        ("+1/2", "0.5"),
        ("0/4", "0"),
        ("0 1/2", "0.5"),
        ("9/8", "1.125"),
        ("1/64", "0.015625"),
    ],
)
def test_is_read(typed, digits):
    assert str(parse_number(typed)) == digits


@pytest.mark.parametrize(
    "typed",
    [
        "nan",
        "inf",
        "-Infinity",
        "1.2.3",
        "1,2,3",
        "1,250.5",
        "1.250,5",
        "ten",
        "10 mm",
        "1 250",
        "0x10",
        "1_000",
        "--3",
        "- 3",
        "\N{ARABIC-INDIC DIGIT THREE}",
        "1.5/16",
        "1/2/3",
        "1//2",
        "2 3",
        "e5",
        ".",
        ",",
        "+",
        "1e",
        "1e5.5",
        "\N{SUPERSCRIPT TWO}",
        "10.3\n11.4",
    ],
)
def test_is_not_a_number(typed):
    with pytest.raises(ValueError, match=r"is not a number; enter it as 10\.3, 10,3"):
        parse_number(typed)


@pytest.mark.parametrize("typed", ["", "   ", "\t\n"])
def test_nothing_is_refused(typed):
    with pytest.raises(ValueError, match=r"^nothing was entered; enter a number"):
        parse_number(typed)


@pytest.mark.parametrize(
    ("typed", "point", "plain"),
    [("12,125", "12.125", "12125"), ("-1,000", "-1.000", "-1000")],
)
def test_a_comma_that_may_separate_thousands_is_not_guessed(typed, point, plain):
    sentence = (
        f"{typed} could be read as {point} or as {plain}; write it as {point} or "
        f"{typed}0, or without the comma"
    )
    with pytest.raises(ValueError, match=f"^{re.escape(sentence)}$"):
        parse_number(typed)
    assert parse_number(f"{typed}0") == Decimal(point)


@pytest.mark.parametrize(
    "typed",
    [
        "9" * 12 + "." + "9" * 12,
        "9" * 24,
        "0." + "1" * 23 + "0",
        "1e23",
        "1e-24",
        "." + "0" * 23 + "1",
    ],
)
def test_24_digits_are_the_edge(typed):
    assert parse_number(typed) == Decimal(typed)


@pytest.mark.parametrize(
    "typed",
    [
        "9" * 13 + "." + "9" * 12,
        "9" * 25,
        "." + "1" * 25,
        "1e24",
        "1e-25",
        "1e400",
        "1e-999999999",
    ],
)
def test_one_digit_more_is_refused(typed):
    with pytest.raises(
        ValueError, match=f"^{re.escape(typed)} has more than 24 digits$"
    ):
        parse_number(typed)


def test_a_very_long_text_is_cut_in_the_sentence():
    assert parse_number("0" * 60) == 0
    with pytest.raises(ValueError, match=r"^000000000000\.\.\. is too long for a num"):
        parse_number("0" * 61)


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ("1/0", "divides by zero"),
        ("2 0/0", "divides by zero"),
        ("1/3", "has no exact decimal"),
        ("123456789012345678901234 1/2", "has no exact decimal"),
        ("2 8/8", "is not a mixed number: 8/8 is 1 or more"),
        ("2 9/8", "is not a mixed number: 9/8 is 1 or more"),
    ],
)
def test_fractions_that_say_nothing_exact_are_refused(typed, why):
    with pytest.raises(ValueError, match=f"^{typed} {why}"):
        parse_number(typed)


@given(st.decimals(allow_nan=False, allow_infinity=False, places=6, max_value=10**9))
def test_written_plainly_it_comes_back(value):
    if len(value.as_tuple().digits) <= 24:
        assert str(parse_number(f"{value:f}")) == f"{value:f}"


@given(st.integers(0, 99), st.integers(0, 127), st.sampled_from([2, 4, 8, 16, 32, 64]))
def test_workshop_fractions_are_exact(whole, top, bottom):
    top %= bottom
    exact = whole + Fraction(top, bottom)
    assert Fraction(parse_number(f"{whole} {top}/{bottom}")) == exact
    assert Fraction(parse_number(f"-{whole} {top}/{bottom}")) == -exact


@given(st.text(max_size=30))
def test_any_text_is_read_or_refused_with_a_sentence(typed):
    try:
        number = parse_number(typed)
    except ValueError as refusal:
        number = None
        sentence = str(refusal)
    assert number.is_finite() if number is not None else len(sentence) > 20


def test_a_fraction_of_too_many_digits_is_named():
    with pytest.raises(ValueError, match=r"^1/4294967296 has more than 24 digits$"):
        parse_number("1/4294967296")
