"""When a process may be called capable, and when nothing may be said."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from records.engineering.spc_capability import Limits, capability_indices
from records.engineering.spc_conclusion import FEWEST_READINGS, assess_capability

LIMITS = Limits(8, 20, target=14)
READINGS = st.lists(st.floats(-100, 100), max_size=60)


def assess(readings, limits, **options):
    return assess_capability(readings, limits, **options)


def alternating(points, reach):
    """Readings about 14 whose standard deviation is near `reach`."""
    return [14 + reach * (-1) ** i for i in range(points)]


def test_fewer_than_25_readings_are_never_called_capable():
    # Common practice, no source: 25 readings before any conclusion.
    assert FEWEST_READINGS == 25
    findings = assess(alternating(24, 0.01), LIMITS)
    assert findings.conclusion == "too few points"
    assert findings.sentence == "too few points: 24 of the 25 needed to judge a process"
    assert findings.indices.cpk.low > 100


def test_fewer_than_25_readings_are_never_called_not_capable_either():
    assert assess(alternating(24, 9), LIMITS).conclusion == "too few points"


@pytest.mark.parametrize("readings", [[], [14.0], [14.0, 14.0]])
def test_no_spread_gives_no_indices(readings):
    result = assess(readings, LIMITS)
    assert (result.conclusion, result.indices) == ("too few points", None)


def test_two_readings_give_indices_but_no_conclusion():
    result = assess([13.0, 15.0], LIMITS)
    assert result.conclusion == "too few points"
    assert result.indices.cpk.value == pytest.approx(2 / math.sqrt(2))


def test_25_readings_may_be_called_capable():
    findings = assess(alternating(25, 0.5), LIMITS)
    assert findings.conclusion == "capable"
    assert findings.sentence == (
        "capable: the whole 95 % interval of Cpk lies at or above 1.33"
    )


def test_a_poor_process_is_called_not_capable():
    findings = assess(alternating(25, 3), LIMITS, confidence=0.9)
    assert findings.sentence == (
        "not capable: the whole 90 % interval of Cpk lies below 1.33"
    )


def test_an_interval_across_the_wanted_value_shows_nothing():
    findings = assess(alternating(25, 1.5), LIMITS)
    assert findings.indices.cpk.low < 1.33 < findings.indices.cpk.high
    assert findings.sentence == (
        "not shown: 1.33 lies within the 95 % interval of Cpk, "
        "so more readings are needed"
    )


def test_readings_that_never_change_show_nothing():
    findings = assess([14.1] * 25, LIMITS)
    assert findings.indices is None
    assert findings.sentence == (
        "not shown: the readings do not vary, so the gauge is too coarse to tell"
    )


def test_readings_that_differ_by_arithmetic_only_show_nothing():
    # 0.1 + 0.2 and 0.3 differ in the last bit.
    result = assess([0.1 + 0.2, 0.3] * 20, Limits(0, 1))
    assert (result.conclusion, result.indices) == ("not shown", None)


def test_the_ends_of_the_interval_decide():
    readings = alternating(30, 1.0)
    cpk = assess(readings, LIMITS).indices.cpk
    at_low = assess(readings, LIMITS, wanted=cpk.low)
    above_low = assess(readings, LIMITS, wanted=math.nextafter(cpk.low, 9))
    at_high = assess(readings, LIMITS, wanted=cpk.high)
    above_high = assess(readings, LIMITS, wanted=math.nextafter(cpk.high, 9))
    assert at_low.conclusion == "capable"
    assert above_low.conclusion == "not shown"
    assert at_high.conclusion == "not shown"
    assert above_high.conclusion == "not capable"


def test_indices_are_those_of_the_sample_mean_and_deviation():
    # Mean 2.5 and sample standard deviation sqrt(5/3) of 1, 2, 3, 4: definition.
    limits = Limits(0, 6, target=3)
    result = assess([1, 2, 3, 4], limits, confidence=0.8).indices
    expected = capability_indices(2.5, math.sqrt(5 / 3), 4, limits, confidence=0.8)
    assert result == expected


@given(READINGS)
def test_a_capable_process_has_25_readings_and_a_cpk_above_the_wanted(readings):
    findings = assess(readings, LIMITS)
    if findings.conclusion == "capable":
        assert len(readings) >= 25
        assert findings.indices.cpk.value > 1.33
    assert findings.sentence.startswith(f"{findings.conclusion}: ")


@given(READINGS, st.randoms(use_true_random=False))
def test_the_order_of_readings_does_not_matter(readings, random):
    shuffled = random.sample(readings, len(readings))
    assert assess(shuffled, LIMITS).conclusion == assess(readings, LIMITS).conclusion


@pytest.mark.parametrize(
    ("readings", "options", "sentence"),
    [
        ([math.nan], {}, "reading nan is not a finite number"),
        ([1, math.inf], {}, "reading inf is not a finite number"),
        ([], {"wanted": 0}, "wanted Cpk 0 must be above 0"),
        ([], {"wanted": math.nan}, "wanted Cpk nan is not a finite number"),
        ([], {"confidence": 1}, "confidence 1 is outside 0.5 to 0.9999"),
        ([], {"confidence": 0.4}, "confidence 0.4 is outside 0.5 to 0.9999"),
    ],
)
def test_input_that_gives_no_answer_is_refused(readings, options, sentence):
    with pytest.raises(ValueError, match=f"^{sentence}"):
        assess(readings, LIMITS, **options)
