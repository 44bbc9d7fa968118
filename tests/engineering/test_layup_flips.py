"""Turning laminations end for end."""

import math
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from records.engineering import layup_flips
from records.engineering.layup_flips import least_signed_sum, signed_sum

MOMENTS = st.floats(-10_000, 10_000)
FEW = st.lists(MOMENTS, max_size=8)
MANY = st.lists(MOMENTS, min_size=13, max_size=25)


def size(moments, flips):
    return abs(signed_sum(moments, flips))


def rounding(moments):
    return 1e-9 * sum(map(abs, moments))


@given(FEW)
def test_no_choice_of_signs_is_better(moments):
    result = size(moments, least_signed_sum(moments, 12))
    # Brute force: every choice, added up plainly.
    brute = min(
        abs(sum(sign * m for sign, m in zip(signs, moments, strict=True)))
        for signs in product((1, -1), repeat=len(moments))
    )
    assert result <= brute + 2 * rounding(moments)


@given(MANY)
def test_the_bounded_search_is_never_worse_than_leaving_all_as_they_lie(moments):
    flips = least_signed_sum(moments, 12)
    assert len(flips) == len(moments)
    assert size(moments, flips) <= abs(math.fsum(moments)) + rounding(moments)
    assert flips == least_signed_sum(moments, 12)


@given(MANY)
def test_the_bounded_search_stops_where_one_or_two_reversals_no_longer_help(moments):
    flips = least_signed_sum(moments, 12)
    result = size(moments, flips)
    for one in range(len(moments)):
        for two in range(one, len(moments)):
            other = list(flips)
            for index in {one, two}:
                other[index] = not other[index]
            assert size(moments, other) >= result - 4 * rounding(moments)


@given(st.lists(MOMENTS, min_size=1, max_size=8))
def test_the_bounded_search_never_beats_the_exact_one(moments):
    exact = size(moments, least_signed_sum(moments, 12))
    bounded = size(moments, least_signed_sum(moments, 0))
    assert bounded >= exact - 2 * rounding(moments)


def test_the_bounded_search_makes_fourteen_moments_cancel_but_for_one():
    # The sum of 17 to 30 is odd, so 1 is the least there can be.
    moments = list(range(17, 31))
    assert size(moments, least_signed_sum(moments, 12)) == 1


def scattered(count):
    return [float(i * i * 37 % 101 * (-1) ** i + i) for i in range(3, count + 3)]


@pytest.mark.parametrize("count", [13, 20, 31])
def test_from_any_start_the_search_goes_down_to_where_no_two_reversals_help(count):
    moments = scattered(count)
    for start in ((False,) * count, (True, False, False) * count):
        flips = layup_flips._improved(moments, start[:count])
        result = size(moments, flips)
        assert result < size(moments, start[:count])
        for one in range(count):
            for two in range(one, count):
                other = [f ^ (i in {one, two}) for i, f in enumerate(flips)]
                assert size(moments, other) >= result


def test_largest_first_sets_each_against_the_sum_so_far():
    # 8 - 7 = 1, 1 - 6 = -5, -5 + 5 = 0, then 4 and -3 the other way round.
    flips = layup_flips._largest_first([4.0, 8.0, -3.0, 5.0, 7.0, 6.0])
    assert flips == (False, False, False, False, True, True)
    small = layup_flips._largest_first([0.25, 0.5, -0.1875, 0.3125, 0.4375, 0.375])
    assert small == flips


def test_the_bounded_search_leaves_balanced_moments_alone():
    assert least_signed_sum([3.0] * 7 + [-3.0] * 7, 12) == (False,) * 14


def test_the_bounded_search_is_bounded(monkeypatch):
    monkeypatch.setattr(layup_flips, "_MOST_ROUNDS", 1)
    moments = [1.0] * 20
    # One round from the stack as given reverses two; largest first reverses ten.
    assert layup_flips._improved(moments, (False,) * 20).count(True) == 2
    assert size(moments, least_signed_sum(moments, 12)) == 0


@given(FEW, st.floats(0.001, 1000))
def test_the_unit_of_the_moments_does_not_matter(moments, factor):
    plain = size(moments, least_signed_sum(moments, 12))
    scaled = [factor * m for m in moments]
    result = size(scaled, least_signed_sum(scaled, 12))
    assert result == pytest.approx(factor * plain, abs=4 * rounding(scaled) + 1e-300)


@pytest.mark.parametrize(
    ("moments", "flips"),
    [
        ([], ()),
        ([7.0], (False,)),
        ([0.0, 0.0], (False, False)),
        ([5.0, -5.0], (False, False)),
        ([5.0, 5.0], (False, True)),
        ([1.0, 1.0, 1.0], (False, False, True)),
        ([2.0, 1.0, 1.0], (True, False, False)),
        # 0.1 + 0.2 - 0.3 is not quite zero: rounding is no reason to turn more.
        ([0.3, -0.1, -0.2], (False, False, False)),
    ],
)
def test_of_equally_good_choices_the_fewest_turns_win(moments, flips):
    assert least_signed_sum(moments, 12) == flips


@pytest.mark.parametrize(("most_exact", "expected"), [(6, 3.0), (5, 19.0)])
def test_the_number_tried_exactly_is_a_closed_limit(most_exact, expected):
    # Six moments on which the bounded search gets stuck.
    moments = [73.0, 51.0, 200.0, 30.0, 138.0, 29.0]
    assert size(moments, least_signed_sum(moments, most_exact)) == expected


@pytest.mark.parametrize("most_exact", [0, 12])
@pytest.mark.parametrize("bad", [math.nan, math.inf])
def test_moments_that_are_not_finite_are_refused(bad, most_exact):
    with pytest.raises(ValueError, match=f"moment {bad} is not a finite number"):
        least_signed_sum([1.0, bad], most_exact)


def test_signed_sum_reverses_what_is_marked():
    assert signed_sum([5.0, 4.0, 3.0], [False, True, False]) == 4.0
    with pytest.raises(ValueError, match="shorter"):
        signed_sum([5.0, 4.0], [True])
