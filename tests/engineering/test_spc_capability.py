"""Capability indices and their intervals."""

import math
from statistics import NormalDist

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy import stats

from records.engineering.spc_capability import (
    Limits,
    capability_indices,
    fraction_outside,
)

MEANS = st.integers(-1000, 1000).map(lambda n: n / 10)
DEVIATIONS = st.floats(0.01, 100)
NIST = Limits(8, 20, target=14)


def indices(mean, deviation, points, limits, **options):
    return capability_indices(mean, deviation, points, limits, **options)


def test_indices_of_the_nist_example():
    # NIST/SEMATECH e-Handbook 6.1.6: printed Cp 1.0, Cpu 0.6667, Cpl 1.3333,
    # Cpk 0.6667; Cpm 0.7071 computed from its formula.
    result = indices(16, 2, 50, NIST)
    assert result.cp.value == pytest.approx(1.0, abs=5e-5)
    assert result.cpu == pytest.approx(0.6667, abs=5e-5)
    assert result.cpl == pytest.approx(1.3333, abs=5e-5)
    assert result.cpk.value == pytest.approx(0.6667, abs=5e-5)
    assert result.cpm.value == pytest.approx(0.7071, abs=5e-5)


@pytest.mark.parametrize(
    ("points", "low", "high"), [(50, 0.8025, 1.1971), (30, 0.7439, 1.2556)]
)
def test_interval_of_cp(points, low, high):
    # Chi-square interval of Cp 1, computed from Rodriguez's formula (JQT 1992).
    result = indices(14, 2, points, NIST).cp
    assert (result.low, result.high) == pytest.approx((low, high), abs=5e-5)


def test_interval_of_cp_at_the_fewest_readings_for_a_conclusion():
    result = indices(14, 2, 25, NIST).cp
    assert (result.low, result.high) == pytest.approx((0.72, 1.28), abs=0.005)


def test_interval_of_cpk():
    # Cpk 0.6667 of 50: computed from Rodriguez's formula (0.50555 given as 0.5055).
    nist = indices(16, 2, 50, NIST).cpk
    assert (nist.low, nist.high) == pytest.approx((0.5055, 0.8278), abs=6e-5)
    # Montgomery's example, n 20 and Cpk 1.33, prints 0.88 to 1.78 (data from memory).
    one_sided = indices(0, 1, 20, Limits(None, 3.99)).cpk
    assert (one_sided.low, one_sided.high) == pytest.approx((0.88, 1.78), abs=0.005)
    assert (one_sided.low, one_sided.high) == pytest.approx((0.8826, 1.7774), abs=5e-5)


@pytest.mark.parametrize("confidence", [0.5, 0.9, 0.99, 0.9999])
@pytest.mark.parametrize("points", [2, 10, 200])
def test_interval_of_cp_agrees_with_scipy(points, confidence):
    result = indices(16, 2, points, NIST, confidence=confidence).cp
    spread = stats.chi2(points - 1).interval(confidence)
    expected = [math.sqrt(end / (points - 1)) for end in spread]
    assert (result.low, result.high) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize("points", [25, 50, 200])
@pytest.mark.parametrize("upper", [2.0, 4.0, 6.0])
def test_interval_of_cpk_lies_near_the_exact_one_of_a_one_sided_limit(points, upper):
    # Exact: 3 sqrt(n) Cpu follows the noncentral t distribution (scipy.stats.nct).
    result = indices(0, 1, points, Limits(None, upper)).cpk
    root = math.sqrt(points)
    exact_tail = stats.nct.sf(root * upper, points - 1, root * 3 * result.low)
    assert exact_tail == pytest.approx(0.025, abs=0.01)


@pytest.mark.parametrize("offset", [0.0, 1.0, 2.5])
def test_intervals_cover_the_true_index_as_often_as_they_say(offset):
    # 2000 simulated series of 40: a coverage of 0.95 has a standard error of 0.005.
    limits = Limits(-6, 6, target=0)
    drawn = np.random.default_rng(3).normal(offset, 2, (2000, 40))
    result = [
        indices(mean, deviation, 40, limits)
        for mean, deviation in zip(
            drawn.mean(axis=1).tolist(), drawn.std(axis=1, ddof=1).tolist(), strict=True
        )
    ]
    true = {
        "cp": 1.0,
        "cpk": (6 - offset) / 6,
        "cpm": 12 / (6 * math.hypot(2, offset)),
    }
    for name, index in true.items():
        inside = [
            getattr(f, name).low <= index <= getattr(f, name).high for f in result
        ]
        # A centred Cpk is the smaller of two noisy sides, so its interval covers less.
        assert np.mean(inside) == pytest.approx(0.95, abs=0.025), name


def test_one_limit_gives_cpk_only():
    upper = indices(1.0, 0.5, 30, Limits(None, 4.0, target=0))
    assert (upper.cp, upper.cpl, upper.cpm) == (None, None, None)
    assert upper.cpk.value == upper.cpu == pytest.approx(2.0)
    lower = indices(1.0, 0.5, 30, Limits(-2.0, None))
    assert (lower.cp, lower.cpu, lower.cpm) == (None, None, None)
    assert lower.cpk.value == lower.cpl == pytest.approx(2.0)


def test_no_target_gives_no_cpm():
    assert indices(16, 2, 50, Limits(8, 20)).cpm is None


@given(MEANS, DEVIATIONS)
def test_cpk_is_never_above_cp_and_equals_it_on_centre(mean, deviation):
    result = indices(mean, deviation, 30, Limits(-10, 10, target=0))
    assert result.cpk.value <= result.cp.value + 1e-12
    assert result.cpm.value <= result.cp.value + 1e-12
    assert (result.cpl + result.cpu) / 2 == pytest.approx(result.cp.value)
    centred = indices(0, deviation, 30, Limits(-10, 10, target=0))
    assert centred.cpk.value == pytest.approx(centred.cp.value)
    assert centred.cpm.value == pytest.approx(centred.cp.value)


@given(MEANS, DEVIATIONS)
def test_indices_mirror(mean, deviation):
    here = indices(mean, deviation, 30, Limits(-7, 12, target=3))
    there = indices(-mean, deviation, 30, Limits(-12, 7, target=-3))
    assert (here.cpl, here.cpu) == pytest.approx((there.cpu, there.cpl))
    assert here.cpk.low == pytest.approx(there.cpk.low)
    assert here.cpm.high == pytest.approx(there.cpm.high)


@given(MEANS, DEVIATIONS, st.sampled_from([0.001, 25.4, 6894.757]))
def test_indices_do_not_depend_on_the_unit(mean, deviation, scale):
    here = indices(mean, deviation, 30, Limits(-10, 10, target=1))
    there = indices(
        scale * mean,
        scale * deviation,
        30,
        Limits(scale * -10, scale * 10, target=scale),
    )
    for name in ("cp", "cpk", "cpm"):
        one, two = getattr(here, name), getattr(there, name)
        assert (two.value, two.low, two.high) == pytest.approx(
            (one.value, one.low, one.high), rel=1e-9, abs=1e-9
        )


@given(MEANS, DEVIATIONS, st.integers(2, 500))
def test_more_readings_narrow_every_interval(mean, deviation, points):
    few = indices(mean, deviation, points, Limits(-9, 9, target=0))
    many = indices(mean, deviation, points + 10, Limits(-9, 9, target=0))
    for name in ("cp", "cpk", "cpm"):
        wide, narrow = getattr(few, name), getattr(many, name)
        assert wide.low <= wide.value <= wide.high
        assert narrow.high - narrow.low < wide.high - wide.low


def test_parts_outside_at_published_indices():
    # ppm outside at Cpk 1 is 2699.8, at Cpk 1.33 (3.99 sigma) 66.07: computed.
    assert 1e6 * fraction_outside(14, 2, NIST) == pytest.approx(2699.8, abs=0.05)
    tighter = fraction_outside(0, 1, Limits(-3.99, 3.99))
    assert 1e6 * tighter == pytest.approx(66.07, abs=0.005)
    assert 1e6 * fraction_outside(0, 1, Limits(None, 3)) == pytest.approx(
        1e6 * NormalDist().cdf(-3)
    )


@given(MEANS, DEVIATIONS)
def test_parts_outside_agree_with_scipy_and_add_over_the_sides(mean, deviation):
    both = fraction_outside(mean, deviation, Limits(-10, 10))
    process = stats.norm(mean, deviation)
    assert both == pytest.approx(process.cdf(-10) + process.sf(10), abs=1e-14)
    low = fraction_outside(mean, deviation, Limits(-10, None))
    high = fraction_outside(mean, deviation, Limits(None, 10))
    assert both == pytest.approx(low + high, abs=1e-15)


@given(MEANS, DEVIATIONS)
def test_parts_outside_grow_with_spread_on_centre(mean, deviation):
    assume(deviation < 99)
    limits = Limits(mean - 5, mean + 5)
    less = fraction_outside(mean, deviation, limits)
    assert less <= fraction_outside(mean, deviation + 1, limits) < 1


@pytest.mark.parametrize(
    ("given_limits", "sentence"),
    [
        ((None, None), "no limit is given: state a lower, an upper, or both"),
        ((2, 1), "lower limit 2.0 must be below upper limit 1.0"),
        ((1, 1), "lower limit 1.0 must be below upper limit 1.0"),
        ((math.nan, 1), "lower limit nan is not a finite number"),
        ((-math.inf, 1), "lower limit -inf is not a finite number"),
        ((1, math.inf), "upper limit inf is not a finite number"),
        ((8, 20, 7.99), "target 7.99 is outside 8 to 20"),
        ((8, 20, 20.01), "target 20.01 is outside 8 to 20"),
        ((None, 20, 20.01), "target 20.01 is outside -inf to 20"),
        ((8, None, 7.99), "target 7.99 is outside 8 to inf"),
        ((8, 20, math.nan), "target nan is not a finite number"),
    ],
)
def test_limits_that_make_no_sense_are_refused(given_limits, sentence):
    with pytest.raises(ValueError, match=f"^{sentence}"):
        Limits(*given_limits)


@pytest.mark.parametrize("target", [8, 14, 20])
def test_target_may_lie_on_a_limit(target):
    assert indices(14, 2, 30, Limits(8, 20, target)).cpm is not None


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"mean": math.nan}, "mean nan is not a finite number"),
        ({"standard_deviation": 0}, "standard deviation 0 must be above 0"),
        ({"standard_deviation": -1}, "standard deviation -1 must be above 0"),
        ({"standard_deviation": math.inf}, "standard deviation inf is not"),
        ({"standard_deviation": 2e-11}, "standard deviation 2e-11 is too small"),
        ({"mean": 21, "standard_deviation": 2.1e-11}, "standard deviation 2.1e-11 is"),
        ({"points": 1}, "readings: 1 given, at least 2 needed"),
        ({"confidence": 0.499}, "confidence 0.499 is outside 0.5 to 0.9999"),
        ({"confidence": 0.99991}, "confidence 0.99991 is outside 0.5 to 0.9999"),
        ({"confidence": 95}, "confidence 95 is outside 0.5 to 0.9999"),
        ({"confidence": math.nan}, "confidence nan is not a finite number"),
    ],
)
def test_numbers_out_of_range_are_refused(change, sentence):
    numbers = {"mean": 14, "standard_deviation": 2, "points": 30, "limits": NIST}
    with pytest.raises(ValueError, match=f"^{sentence}"):
        capability_indices(**{**numbers, **change})


@pytest.mark.parametrize("limits", [NIST, Limits(8, None), Limits(None, 8)])
def test_the_smallest_spread_gives_finite_intervals(limits):
    result = indices(14, 2.1e-11, 30, limits)
    assert all(map(math.isfinite, (result.cpk.low, result.cpk.high)))


@pytest.mark.parametrize(
    ("limits", "mean", "size"),
    [
        (Limits(-3, 1), 0, 3),
        (Limits(-3, 5), 0, 5),
        (Limits(-3, 5), -7, 7),
        (Limits(None, 0.5), 0, 0.5),
        (Limits(-0.5, None), 0, 0.5),
    ],
)
def test_noise_is_a_share_of_the_largest_number_at_hand(limits, mean, size):
    assert limits.noise(mean) / 1e-12 == pytest.approx(size)


def test_cpm_far_from_its_target_is_finite():
    result = indices(1e6, 1.1e-6, 30, Limits(-1, 1, target=0)).cpm
    assert 0 < result.low <= result.value <= result.high < 1e-6


@pytest.mark.parametrize(
    ("mean", "deviation", "sentence"),
    [
        (math.inf, 1, "mean inf is not a finite number"),
        (0, 0, "standard deviation 0 must be above 0"),
        (0, math.nan, "standard deviation nan is not a finite number"),
    ],
)
def test_parts_outside_need_a_real_process(mean, deviation, sentence):
    with pytest.raises(ValueError, match=f"^{sentence}"):
        fraction_outside(mean, deviation, NIST)
