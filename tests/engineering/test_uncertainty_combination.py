"""Combined and expanded uncertainty against JCGM 100 and independent packages."""

import math
from importlib import import_module

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from records.engineering.uncertainty import Component, type_a
from records.engineering.uncertainty_combination import (
    combined,
    combined_correlated,
    expanded,
)

SIZES = st.just(0.0) | st.floats(1e-9, 1000)
weightstats = import_module("statsmodels.stats.weightstats")
COMPONENTS = st.builds(Component, SIZES, st.floats(1, 1e6))
# JCGM 100:2008 table H.1 (inputs from memory), nm and degrees of freedom.
COMPARISON = [Component(5.8, 24), Component(3.9, 5), Component(6.7, 8)]
END_GAUGE = [
    Component(25, 18),
    combined(COMPARISON),
    Component(2.9, 50),
    Component(16.6, 2),
]


def square(size, off_diagonal):
    return [[1.0 if i == j else off_diagonal for j in range(size)] for i in range(size)]


def test_end_gauge_of_jcgm_100():
    # JCGM 100:2008 H.1: printed uc 32 nm, 16 degrees of freedom, k 2.92, U99 93 nm;
    # 9.7 nm and 25.6 for the comparison (25.6 is worked out from the rounded 9.7;
    # unrounded it is 25.45). GTC 1.5.1 gives 31.66 nm and 16.75.
    comparison = combined(COMPARISON)
    assert comparison.standard_uncertainty == pytest.approx(9.7, abs=0.05)
    assert comparison.degrees_of_freedom == pytest.approx(25.6, abs=0.2)
    gauge = combined(END_GAUGE)
    assert gauge.standard_uncertainty == pytest.approx(32, abs=0.5)
    assert gauge.standard_uncertainty == pytest.approx(31.66, abs=0.01)
    assert gauge.degrees_of_freedom == pytest.approx(16.75, abs=0.02)
    interval = expanded(gauge, confidence=0.99)
    assert interval.coverage_factor == pytest.approx(2.92, abs=0.005)
    assert interval.uncertainty == pytest.approx(93, abs=1)


@pytest.mark.parametrize(
    ("freedom", "confidence", "printed"),
    [(5, 0.95, 2.57), (5, 0.9545, 2.65), (10, 0.95, 2.23), (10, 0.9545, 2.28)],
)
def test_coverage_factors_of_jcgm_100_table_g_2(freedom, confidence, printed):
    result = expanded(Component(2.0, freedom), confidence=confidence)
    assert result.coverage_factor == pytest.approx(printed, abs=0.005)
    assert result.uncertainty == pytest.approx(2 * result.coverage_factor)


@pytest.mark.parametrize("freedom", [1, 2, 7.99, 16.75, 1000])
def test_coverage_factor_agrees_with_scipy_after_rounding_down(freedom):
    result = expanded(Component(1, freedom), confidence=0.99)
    exact = stats.t(math.floor(freedom)).ppf(0.995)
    assert result.coverage_factor == pytest.approx(exact, rel=1e-9)


def test_exact_uncertainty_expands_by_the_normal_factor():
    # JCGM 100:2008 table G.1: 1.960 at 95 %, 2.576 at 99 %, 2 at 95.45 %.
    assert expanded(Component(1)).coverage_factor == pytest.approx(1.960, abs=5e-4)
    at_99 = expanded(Component(1), confidence=0.99)
    assert at_99.coverage_factor == pytest.approx(2.576, abs=5e-4)
    at_95_45 = expanded(Component(3), confidence=0.9545)
    assert at_95_45.uncertainty == pytest.approx(6, abs=0.001)


def test_interval_of_a_mean_agrees_with_statsmodels():
    repeats = [10.2, 10.4, 10.1, 10.6, 10.3, 10.2]
    low, high = weightstats.DescrStatsW(repeats).tconfint_mean(alpha=0.05)
    result = expanded(type_a(repeats))
    assert 2 * result.uncertainty == pytest.approx(high - low, rel=1e-9)


def test_degrees_of_freedom_agree_with_statsmodels_for_two_means():
    # Welch's test of two means combines two Type A components in the same way.
    one, two = [10.2, 10.4, 10.1, 10.6], [9.8, 10.9, 10.0, 10.8, 9.1, 10.2]
    result = combined([type_a(one), type_a(two)])
    means = weightstats.CompareMeans(
        weightstats.DescrStatsW(one), weightstats.DescrStatsW(two)
    )
    assert result.degrees_of_freedom == pytest.approx(means.dof_satt(), rel=1e-9)
    assert result.standard_uncertainty == pytest.approx(
        means.std_meandiff_separatevar, rel=1e-9
    )


def test_one_component_is_its_own_combination():
    for freedom in range(1, 400):
        result = combined([Component(0.3, freedom)])
        assert result.standard_uncertainty == pytest.approx(0.3)
        exact = stats.t(freedom).ppf(0.975)
        assert expanded(result).coverage_factor == pytest.approx(exact, rel=1e-9)


def test_exact_components_stay_exact():
    assert combined([Component(3), Component(4)]) == Component(5.0, math.inf)


def test_no_uncertainty_at_all_is_exact():
    assert combined([Component(0, 3), Component(0, 5)]) == Component(0, math.inf)
    assert expanded(combined([Component(0, 3)])).uncertainty == 0


@given(st.lists(COMPONENTS, min_size=1, max_size=6), st.randoms(use_true_random=False))
def test_order_does_not_matter(components, random):
    shuffled = random.sample(components, len(components))
    here, there = combined(components), combined(shuffled)
    assert there.standard_uncertainty == pytest.approx(here.standard_uncertainty)
    assert there.degrees_of_freedom == pytest.approx(here.degrees_of_freedom)


@given(st.lists(COMPONENTS, min_size=2, max_size=6))
def test_combining_in_steps_gives_the_same(components):
    steps = combined([combined(components[:-1]), components[-1]])
    once = combined(components)
    assert steps.standard_uncertainty == pytest.approx(once.standard_uncertainty)
    assert steps.degrees_of_freedom == pytest.approx(once.degrees_of_freedom)


@given(st.lists(COMPONENTS, min_size=1, max_size=6))
def test_combination_is_at_least_the_largest_and_at_most_the_sum(components):
    result = combined(components).standard_uncertainty
    sizes = [component.standard_uncertainty for component in components]
    assert max(sizes) * (1 - 1e-12) <= result <= sum(sizes) * (1 + 1e-12)


@given(st.lists(COMPONENTS, min_size=1, max_size=6))
def test_effective_freedom_lies_between_the_least_and_the_sum(components):
    result = combined(components).degrees_of_freedom
    freedoms = [component.degrees_of_freedom for component in components]
    if result != math.inf:
        assert min(freedoms) * (1 - 1e-9) <= result <= sum(freedoms) * (1 + 1e-9)


@given(st.lists(COMPONENTS, min_size=1, max_size=4), st.sampled_from([1e-6, 25.4]))
def test_combination_follows_a_change_of_unit(components, scale):
    here = combined(components)
    there = combined(component.times(scale) for component in components)
    assert there.standard_uncertainty == pytest.approx(
        scale * here.standard_uncertainty
    )
    assert there.degrees_of_freedom == pytest.approx(here.degrees_of_freedom, rel=1e-6)


def test_resistors_calibrated_against_one_standard():
    # JCGM 100:2008 5.2.2, example: ten of 0.1 ohm, fully correlated, 1 ohm; and
    # 0.32 ohm if they were independent.
    assert combined_correlated([0.1] * 10, square(10, 1)) == pytest.approx(1.0)
    independent = combined_correlated([0.1] * 10, square(10, 0))
    assert independent == pytest.approx(0.32, abs=0.005)


def test_resistance_and_reactance_of_jcgm_100():
    # JCGM 100:2008 H.2, printed R 127.732 (0.071), X 219.847 (0.295) and Z 254.260
    # (0.236) ohm; its five observations of V, mA and rad from memory.
    observed = np.array(
        [
            [5.007, 4.994, 5.005, 4.990, 4.999],
            [19.663, 19.639, 19.640, 19.685, 19.678],
            [1.0456, 1.0438, 1.0468, 1.0428, 1.0433],
        ]
    )
    observed[1] /= 1000
    volt, amp, phase = observed.mean(axis=1).tolist()
    u_volt, u_amp, u_phase = (type_a(row).standard_uncertainty for row in observed)
    correlations = np.corrcoef(observed).round(12).tolist()
    z = volt / amp
    r, x = z * math.cos(phase), z * math.sin(phase)
    assert (r, x, z) == pytest.approx((127.732, 219.847, 254.260), abs=0.002)
    u_r = [r / volt * u_volt, -r / amp * u_amp, -x * u_phase]
    u_x = [x / volt * u_volt, -x / amp * u_amp, r * u_phase]
    u_z = [z / volt * u_volt, -z / amp * u_amp, 0]
    for contributions, printed in ((u_r, 0.071), (u_x, 0.295), (u_z, 0.236)):
        result = combined_correlated(contributions, correlations)
        assert result == pytest.approx(printed, abs=0.001)


def test_difference_of_two_readings_of_one_gauge_loses_the_shared_error():
    assert combined_correlated([0.2, -0.2], square(2, 1)) == 0
    assert combined_correlated([0.1, 0.2, -0.3], square(3, 1)) == pytest.approx(
        0, abs=1e-8
    )


@given(st.lists(st.floats(-100, 100), min_size=1, max_size=6))
def test_no_correlation_is_the_root_sum_of_squares(contributions):
    result = combined_correlated(contributions, square(len(contributions), 0))
    parts = combined(Component(abs(part)) for part in contributions)
    assert result == pytest.approx(parts.standard_uncertainty, rel=1e-9, abs=1e-150)


@given(st.lists(st.floats(-100, 100), min_size=2, max_size=2), st.floats(-1, 1))
def test_correlated_variance_agrees_with_the_matrix_product(contributions, r):
    result = combined_correlated(contributions, [[1, r], [r, 1]])
    u = np.array(contributions)
    variance = u @ np.array([[1, r], [r, 1]]) @ u
    assert result**2 == pytest.approx(variance, abs=1e-9)


@pytest.mark.parametrize(
    ("correlations", "sentence"),
    [
        ([], "correlations must be a square of 2 by 2"),
        ([[1, 0]], "correlations must be a square of 2 by 2"),
        ([[1, 0], [0]], "correlations must be a square of 2 by 2"),
        ([[1, 0.5], [0.4, 1]], "correlations of 0 and 1 differ by direction"),
        ([[1, 0], [0, 0.9]], "correlation of 1 with itself is 0.9, not 1"),
        ([[1, 1.001], [1.001, 1]], "correlation 1.001 is outside -1 to 1"),
        ([[1, -1.001], [-1.001, 1]], "correlation -1.001 is outside -1 to 1"),
        ([[1, math.nan], [0, 1]], "correlation nan is not a finite number"),
    ],
)
def test_correlations_that_make_no_sense_are_refused(correlations, sentence):
    with pytest.raises(ValueError, match=f"^{sentence}"):
        combined_correlated([1, 2], correlations)


def test_correlations_that_conflict_are_refused():
    # Three causes cannot each be the opposite of both others.
    with pytest.raises(ValueError, match=r"^variance -3\.0 is negative"):
        combined_correlated([1, 1, 1], square(3, -1))


@pytest.mark.parametrize(
    ("make", "sentence"),
    [
        (lambda: combined([]), "components: 0 given, at least 1 needed"),
        (lambda: combined_correlated([], []), "contributions: 0 given, at least 1"),
        (lambda: combined_correlated([math.inf], [[1]]), "contribution inf is not"),
        (
            lambda: expanded(Component(1, 0.94)),
            "0.94 degrees of freedom are fewer than 1: repeat the reading more often$",
        ),
        (lambda: expanded(Component(1), confidence=0.49), "confidence 0.49 is outside"),
        (lambda: expanded(Component(1), confidence=1), "confidence 1 is outside 0.5"),
        (lambda: expanded(Component(1), confidence=95), "confidence 95 is outside"),
    ],
)
def test_input_that_gives_no_answer_is_refused(make, sentence):
    with pytest.raises(ValueError, match=f"^{sentence}"):
        make()


@pytest.mark.parametrize("confidence", [0.5, 0.9999])
def test_both_ends_of_the_confidence_range_are_allowed(confidence):
    result = expanded(Component(1, 9), confidence=confidence)
    exact = stats.t(9).ppf((1 + confidence) / 2)
    assert result.coverage_factor == pytest.approx(exact, rel=1e-9)
