"""A past reading judged again with the error of its gauge taken off.

The need is ISO 9001:2015, 7.1.5.2; the classes are the shop's own. Figures here are
arithmetic: corrected = shown - error, against the limit.
"""

from decimal import Decimal

import pytest

from records.engineering.gauge_error import Effect, rejudge


def effect(value, low, high, error, uncertainty="0.02"):
    low, high = (Decimal(x) if x is not None else None for x in (low, high))
    return rejudge(
        Decimal(value),
        low,
        high,
        error=Decimal(error),
        expanded_uncertainty=Decimal(uncertainty),
    ).effect


@pytest.mark.parametrize(
    ("value", "expected"),
    [
        ("1.00", Effect.UNAFFECTED),  # true 1.20
        ("1.27", Effect.UNAFFECTED),  # true 1.47, 0.03 within
        ("1.28", Effect.MARGINAL),  # true 1.48, 0.02 within: exactly U
        ("1.30", Effect.MARGINAL),  # true 1.50, on the limit
        ("1.31", Effect.WOULD_FAIL),  # true 1.51
        ("1.50", Effect.WOULD_FAIL),  # true 1.70
        ("1.51", Effect.UNAFFECTED),  # was outside as read
    ],
)
def test_gauge_that_read_short_against_an_upper_limit(value, expected):
    assert effect(value, None, "1.5", "-0.20") is expected


def test_gauge_that_read_long_against_a_lower_limit():
    assert effect("10.1", "10", None, "0.2") is Effect.WOULD_FAIL
    assert effect("10.9", "10", None, "0.2") is Effect.UNAFFECTED


def test_both_sides_count():
    assert effect("8.0", "7", "10", "1.5") is Effect.WOULD_FAIL
    assert effect("9.0", "7", "10", "-1.5") is Effect.WOULD_FAIL
    assert effect("8.5", "7", "10", "0.5") is Effect.UNAFFECTED


def test_corrected_value_keeps_its_digits():
    findings = rejudge(
        Decimal("1.40"),
        None,
        Decimal("1.5"),
        error=Decimal("-0.05"),
        expanded_uncertainty=Decimal("0.01"),
    )
    assert str(findings.corrected) == "1.45"


@pytest.mark.parametrize("uncertainty", ["-0.1", "NaN", "Infinity"])
def test_impossible_uncertainty_is_refused(uncertainty):
    with pytest.raises(ValueError, match="uncertainty"):
        effect("1", None, "2", "0.1", uncertainty)


def test_without_a_limit_there_is_nothing_to_judge():
    with pytest.raises(ValueError, match="no limit is given"):
        effect("1", None, None, "0.1")
