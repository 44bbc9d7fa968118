"""Between two samples the worse is taken."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from records.engineering.histories import (
    Dip,
    checked_history,
    dips,
    time_at_or_above,
)

HISTORIES = st.lists(
    st.tuples(st.integers(0, 10_000), st.integers(0, 20)), min_size=1, max_size=40
).map(lambda samples: sorted(samples, key=lambda sample: sample[0]))


def test_a_value_that_holds_has_no_dip():
    assert dips([(0, 9), (60, 8), (120, 9)], 8) == ()
    assert dips([(5, 9)], 8) == ()


def test_a_dip_runs_from_the_last_good_to_the_next_good_sample():
    history = [(0, 9), (60, 9), (120, 5), (180, 7), (240, 9), (300, 9)]
    (dip,) = dips(history, 8)
    assert dip == Dip(start_s=60, end_s=240, lowest=5, ended=True)
    assert dip.duration_s == 180


def test_a_good_sample_between_two_dips_parts_them():
    result = dips([(0, 9), (60, 5), (120, 8), (180, 6), (240, 9)], 8)
    assert result == (Dip(0, 120, 5, ended=True), Dip(120, 240, 6, ended=True))


def test_a_history_may_begin_and_end_in_a_dip():
    result = dips([(10, 5), (60, 9), (120, 9), (180, 7), (240, 6)], 8)
    assert result == (Dip(10, 60, 5, ended=True), Dip(120, 240, 6, ended=False))


def test_one_low_sample_is_a_dip_of_no_length_that_has_not_ended():
    (dip,) = dips([(30, 5)], 8)
    assert dip == Dip(30, 30, 5, ended=False)
    assert dip.duration_s == 0


def test_a_step_at_one_time_begins_its_dip_there():
    # Power cut at 100 s, back at 400 s, both marked by two samples.
    history = [(0, 9), (100, 9), (100, 2), (400, 2), (400, 9), (500, 9)]
    assert dips(history, 8) == (Dip(100, 400, 2, ended=True),)
    assert time_at_or_above(history, 8) == 200


def test_a_minimum_below_zero_is_a_value_like_any_other():
    assert dips([(0, -5), (60, -15), (120, -5)], -10) == (Dip(0, 120, -15, ended=True),)


def test_time_counts_only_between_two_good_samples():
    assert time_at_or_above([(0, 9), (60, 9), (120, 5), (180, 9), (200, 8)], 8) == 80
    assert time_at_or_above([(7, 9)], 8) == 0
    assert isinstance(time_at_or_above([(7, 9)], 8), float)


@given(HISTORIES, st.integers(0, 20))
def test_time_in_dips_and_out_of_them_is_the_whole(history, minimum):
    inside = sum(dip.duration_s for dip in dips(history, minimum))
    whole = history[-1][0] - history[0][0]
    assert inside + time_at_or_above(history, minimum) == whole


@given(HISTORIES, st.integers(0, 20))
def test_every_low_sample_lies_in_a_dip_of_its_depth(history, minimum):
    result = dips(history, minimum)
    low = [(at, value) for at, value in history if value < minimum]
    assert bool(low) == bool(result)
    for at, value in low:
        assert any(d.start_s <= at <= d.end_s and d.lowest <= value for d in result)
    assert all(dip.lowest < minimum for dip in result)


@given(HISTORIES, st.integers(0, 19))
def test_a_higher_minimum_never_counts_more_time(history, minimum):
    assert time_at_or_above(history, minimum + 1) <= time_at_or_above(history, minimum)


@given(HISTORIES, st.integers(0, 20), st.integers(-(10**9), 10**9))
def test_the_zero_of_the_clock_does_not_matter(history, minimum, shift):
    moved = [(at + shift, value) for at, value in history]
    assert time_at_or_above(moved, minimum) == time_at_or_above(history, minimum)


@pytest.mark.parametrize("function", [dips, time_at_or_above])
@pytest.mark.parametrize(
    ("samples", "why"),
    [
        ([], r"^samples of value: 0 given, at least 1 needed$"),
        (
            [(0, 9), (60, 9), (59, 9)],
            r"^sample 3 of value at 59 s is earlier than the one before it at 60 s; so",
        ),
        ([(0, math.nan)], r"^value nan is not a finite number"),
        ([(math.inf, 9)], r"^time inf is not a finite number"),
    ],
)
def test_a_bad_history_is_refused(function, samples, why):
    with pytest.raises(ValueError, match=why):
        function(samples, 8)


@pytest.mark.parametrize("function", [dips, time_at_or_above])
def test_a_minimum_is_a_number(function):
    with pytest.raises(ValueError, match=r"^minimum nan is not a finite number"):
        function([(0, 9)], math.nan)


def test_samples_come_back_as_floats():
    (sample,) = checked_history([(0, 9)], "pressure")
    assert sample == (0.0, 9.0)
    assert all(type(number) is float for number in sample)
    with pytest.raises(ValueError, match=r"^samples of pressure: 0 given"):
        checked_history([], "pressure")
