"""The next interval between calibrations goes up and down a staircase.

ILAC-G24/OIML D 10, method 1: longer when found within 80 % of the permissible error,
shorter when found outside it (from memory; rules-and-standards, section 7, [M]). How
much longer or shorter: common practice, no source. Ten years at most: NIST GMP 11.
"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from records.engineering.calibration import LONGEST_DAYS, staircase_interval

DAYS = st.integers(1, LONGEST_DAYS)
ERRORS = st.floats(-1, 1, allow_nan=False)


@pytest.mark.parametrize(
    ("error", "days"),
    [
        (0.0, 450),
        (0.0399, 450),
        (0.04, 450),
        (0.0401, 360),
        (0.05, 360),
        (0.0501, 180),
        (-0.06, 180),
        (-0.01, 450),
    ],
)
def test_steps_at_80_percent_and_at_the_permissible_error(error, days):
    assert staircase_interval(360, error, 0.05) == days


def test_ten_years_at_most_and_a_day_at_least():
    assert staircase_interval(3600, 0, 1) == LONGEST_DAYS
    assert staircase_interval(1, 2, 1) == 1


def test_nothing_allowed_means_any_error_is_outside():
    assert staircase_interval(100, 0.001, 0) == 50
    assert staircase_interval(100, 0, 0) == 125


@given(days=DAYS, error=ERRORS, other=ERRORS, allowed=st.floats(0, 1))
def test_a_greater_error_never_gives_more_time(days, error, other, allowed):
    small, large = sorted((abs(error), abs(other)))
    near = staircase_interval(days, small, allowed)
    assert staircase_interval(days, large, allowed) <= near


@given(days=DAYS, error=ERRORS, allowed=st.floats(0, 1))
def test_sign_of_the_error_does_not_matter(days, error, allowed):
    one = staircase_interval(days, error, allowed)
    assert one == staircase_interval(days, -error, allowed)


@pytest.mark.parametrize(
    ("arguments", "word"),
    [
        ((0, 0, 1), "interval"),
        ((-5, 0, 1), "interval"),
        ((math.nan, 0, 1), "interval"),
        ((360, math.inf, 1), "error as found"),
        ((360, 0, -0.1), "permissible error"),
        ((360, 0, math.nan), "permissible error"),
    ],
)
def test_what_can_not_be_is_refused_by_name(arguments, word):
    with pytest.raises(ValueError, match=word):
        staircase_interval(*arguments)
