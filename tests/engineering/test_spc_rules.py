"""Each run rule at the exact point where its pattern becomes complete."""

import itertools
import math
from functools import partial
from statistics import NormalDist

import pytest
from hypothesis import given
from hypothesis import strategies as st

from records.engineering.spc_rules import Signal, nelson, western_electric

THREE = "one beyond 3 sigma"
TWO_OF_THREE = "2 of 3 beyond 2 sigma on one side"
FOUR_OF_FIVE = "4 of 5 beyond 1 sigma on one side"
EIGHT = "8 in a row on one side"
NINE = "9 in a row on one side"
SIX = "6 in a row rising or falling"
FOURTEEN = "14 in a row alternating"
FIFTEEN = "15 in a row within 1 sigma"
BOTH_SIDES = "8 in a row beyond 1 sigma, on both sides"

western = partial(western_electric, centre=0, sigma=1)
nelsons = partial(nelson, centre=0, sigma=1)
SERIES = st.lists(st.integers(-40, 40).map(lambda n: n / 10), min_size=1, max_size=40)

# Series that complete one pattern at their last reading and none before. Rules as in
# NIST/SEMATECH e-Handbook 6.3.2 (Western Electric) and Nelson (1984), as listed on
# public pages. Both sets share the first three.
SHARED = [
    ([0, 3.01], THREE),
    ([2.01, 0, 2.01], TWO_OF_THREE),
    ([2.01, 2.5], TWO_OF_THREE),
    ([0, 2.01, 2.5], TWO_OF_THREE),
    ([1.01, 1.2, 0, 1.3, 1.1], FOUR_OF_FIVE),
    ([1.01, -2.9, 1.2, 1.3, 1.1], FOUR_OF_FIVE),
    ([1.4, 1.2, 1.3, 1.1], FOUR_OF_FIVE),
]
WESTERN = [([0.5] * 8, EIGHT), ([-1.5] + [0.3, 0.9] * 4, EIGHT)]
NELSON = [
    ([0.5] * 9, NINE),
    ([0.5, 0.9, 2.5] + [0.2, 0.4] * 3, NINE),
    ([-1.5, -0.9, -0.3, 0.3, 0.9, 1.5], SIX),
    ([0, -0.1, -0.09, -0.08, 0.5, 0.8, 1.2], SIX),
    ([0.2, -1.1] * 7, FOURTEEN),
    ([1.2, 0.1] * 3 + [1.2, -1.1] + [0.2, -1.1] * 3, FOURTEEN),
    ([1.5] + [0.9, 0.9, -0.9, -0.9, 0] * 3, FIFTEEN),
    ([1.5, 1.5, -1.5, -1.5] * 2, BOTH_SIDES),
    ([0, 1.1, 1.2, 1.1, -1.1, -1.2, -1.1, 1.5, 1.5], BOTH_SIDES),
]


def mirrored(series):
    return [-x for x in series]


def test_the_four_western_electric_rules_by_their_series():
    for series, rule in SHARED + WESTERN:
        for readings in (series, mirrored(series)):
            assert western(readings[:-1]) == (), readings
            assert western(readings) == (Signal(len(series) - 1, rule),), readings


@pytest.mark.parametrize(("series", "rule"), SHARED + NELSON)
@pytest.mark.parametrize("turn", [list, mirrored], ids=["upper", "lower"])
def test_nelson_rule_signals_at_the_last_reading_only(series, rule, turn):
    readings = turn(series)
    assert nelsons(readings[:-1]) == ()
    assert nelsons(readings) == (Signal(len(series) - 1, rule),)


# What looks like a pattern but is none: points on the line, the other side, a tie.
@pytest.mark.parametrize(
    "series",
    [
        [3],
        [2, 2.5],
        [2.5, 2],
        [2.5, -2.5],
        [2.5, 0, 0, 2.5],
        [1, 1.2, 1.3, 1.1],
        [1.2, 1.3, 1.1, 1],
        [1.2, 1.3, -1.1, 0, 1.1, 1.1],
        [0.5] * 4 + [0] + [0.5] * 4,
        [0.5] * 7 + [-0.5] + [0.5],
        [0.5] * 3 + [-0.5] + [0.5] * 6,
        [-1, -0.5, 0, 0, 0.5, 0.9],
        [-0.5, -0.2, 0.1, 0.4, 0.7, 0.6],
        [0.2, -1.1] * 6 + [0.2, 0.2],
        [1.5] + [0.9, -0.9] * 3 + [1] + [-0.9, -0.9, 0.9, 0.9] * 2,
        [1.5, -1.5, -1.5, 1.5, 1, -1.5, -1.5, 1.5],
        [-1.5, -1.5, 0.9, 1.5, 1.5, -1.5, -1.5, 1.5],
    ],
)
@pytest.mark.parametrize("turn", [list, mirrored], ids=["upper", "lower"])
def test_a_broken_pattern_is_no_signal(series, turn):
    assert nelsons(turn(series)) == ()
    assert western(turn(series)) == ()


def test_a_run_beyond_one_sigma_on_one_side_is_not_the_both_sides_rule():
    rules = {signal.rule for signal in nelsons([1.5] * 8)}
    assert rules == {FOUR_OF_FIVE}


def test_a_pattern_that_goes_on_signals_at_each_further_reading():
    assert western([0.5] * 10) == tuple(Signal(i, EIGHT) for i in (7, 8, 9))
    assert nelsons([0.1 * i for i in range(-3, 4)]) == (Signal(5, SIX), Signal(6, SIX))


def test_a_reading_may_complete_two_patterns():
    assert western([2.5, 3.5]) == (Signal(1, THREE), Signal(1, TWO_OF_THREE))


def test_a_pattern_is_signalled_by_its_own_point_not_by_one_after_it():
    assert western([2.5, 2.5, 0]) == (Signal(1, TWO_OF_THREE),)
    assert western([2.5, 2.5, 0.5]) == (Signal(1, TWO_OF_THREE),)


def test_a_reading_on_a_line_is_not_beyond_it_for_float_noise():
    # (10.3 - 10) / 0.1 is 3.0000000000000071 in floating point.
    assert western_electric([10.3], centre=10, sigma=0.1) == ()
    assert western_electric([10.3001], centre=10, sigma=0.1) == (Signal(0, THREE),)
    # 0.1 + 0.2 and 0.3 differ in the last bit and are a tie.
    tied = [-0.2, -0.1, 0, 0.3, 0.1 + 0.2, 0.4]
    assert nelsons(tied) == ()


def test_one_reading_can_complete_the_first_rule_only():
    assert western([9]) == nelsons([9]) == (Signal(0, THREE),)
    assert western([0]) == nelsons([0]) == ()


# Published chances, two-sided: a run of 8 0.0078, a run of 9 0.0039; one beyond three
# sigma once in 370.4 readings (NIST/SEMATECH e-Handbook 6.3.2).
@pytest.mark.parametrize(
    ("signals", "length", "chance"), [(western, 8, 0.0078), (nelsons, 9, 0.0039)]
)
def test_chance_of_a_run_is_found_over_all_sequences_of_sides(signals, length, chance):
    sides = itertools.product([0.1, -0.1], repeat=length)
    runs = [signal for series in sides for signal in signals(series)]
    result = [run for run in runs if run.rule in {EIGHT, NINE}]
    assert len(result) / 2**length == pytest.approx(chance, abs=5e-5)


def test_one_reading_in_370_lies_beyond_three_sigma():
    normal = [NormalDist().inv_cdf((i + 0.5) / 20_000) for i in range(20_000)]
    beyond = [s for s in western(normal) if s.rule == THREE]
    assert 20_000 / len(beyond) == pytest.approx(370.4, abs=0.5)


@given(SERIES)
def test_a_mirrored_series_signals_alike(series):
    assert nelsons(mirrored(series)) == nelsons(series)
    assert western(mirrored(series)) == western(series)


@given(SERIES, st.sampled_from([0.001, 25.4, 1000.0]), st.integers(-500, 500))
def test_signals_do_not_depend_on_the_unit(series, scale, shift):
    moved = [scale * x + shift for x in series]
    assert nelson(moved, centre=shift, sigma=scale) == nelsons(series)


@given(SERIES, SERIES)
def test_later_readings_never_change_earlier_signals(series, later):
    before = nelsons(series)
    assert nelsons(series + later)[: len(before)] == before


@pytest.mark.parametrize("judge", [western_electric, nelson])
@pytest.mark.parametrize(
    ("readings", "centre", "sigma", "sentence"),
    [
        ([], 0, 1, "readings: 0 given, at least 1 needed"),
        ([math.nan], 0, 1, "reading nan is not a finite number"),
        ([math.inf], 0, 1, "reading inf is not a finite number"),
        ([1], math.nan, 1, "centre nan is not a finite number"),
        ([1], 0, 0, "sigma 0 must be above 0"),
        ([1], 0, -1, "sigma -1 must be above 0"),
        ([1], 0, math.inf, "sigma inf is not a finite number"),
    ],
)
def test_input_that_gives_no_answer_is_refused(
    judge, readings, centre, sigma, sentence
):
    with pytest.raises(ValueError, match=f"^{sentence}"):
        judge(readings, centre=centre, sigma=sigma)
