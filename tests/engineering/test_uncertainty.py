"""Each way a component of uncertainty is found."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from records.engineering.uncertainty import (
    Component,
    Distribution,
    from_expanded,
    from_resolution,
    type_a,
    type_b,
)

REPEATS = st.lists(st.integers(-500, 500).map(lambda n: n / 10), min_size=2)
WIDTHS = st.floats(0, 1e6)


def test_type_a_agrees_with_scipy():
    repeats = [10.2, 10.4, 10.1, 10.6, 10.3]
    result = type_a(repeats)
    assert result.standard_uncertainty == pytest.approx(stats.sem(repeats), rel=1e-12)
    assert result.degrees_of_freedom == 4


def test_type_a_of_a_single_reading_keeps_the_whole_scatter():
    repeats = [10.2, 10.4, 10.1, 10.6, 10.3]
    assert type_a(repeats, averaged=1).standard_uncertainty == pytest.approx(
        stats.tstd(repeats), rel=1e-12
    )
    two = type_a(repeats, averaged=2)
    assert two.standard_uncertainty == pytest.approx(stats.tstd(repeats) / math.sqrt(2))
    assert two.degrees_of_freedom == 4


def test_repeats_that_never_change_have_no_scatter():
    assert type_a([0.1, 0.1, 0.1]) == Component(0, 2)


@given(REPEATS, st.sampled_from([0.001, 25.4, 1000.0]), st.integers(-100, 100))
def test_type_a_follows_a_change_of_unit(repeats, scale, shift):
    here = type_a(repeats)
    there = type_a([scale * value + shift for value in repeats])
    assert there.standard_uncertainty == pytest.approx(
        scale * here.standard_uncertainty, rel=1e-9, abs=1e-9
    )


@pytest.mark.parametrize(
    ("distribution", "independent"),
    [
        ("uniform", stats.uniform(-0.5, 1)),
        ("triangular", stats.triang(0.5, -0.5, 1)),
        ("U-shaped", stats.arcsine(-0.5, 1)),
    ],
)
def test_type_b_is_the_deviation_of_its_distribution(distribution, independent):
    result = type_b(0.5, Distribution(distribution))
    assert result.standard_uncertainty == pytest.approx(independent.std(), rel=1e-9)
    assert result.degrees_of_freedom == math.inf


@pytest.mark.parametrize(
    ("half_width", "distribution", "printed", "tolerance"),
    [
        # JCGM 100:2008 H.1.3 (from memory): the test bed swings by 0.5 degC, 0.35;
        # temperatures differ by up to 0.05 degC, 0.029; expansion 1e-6, 0.58e-6.
        (0.5, Distribution.U_SHAPED, 0.35, 0.005),
        (0.05, Distribution.UNIFORM, 0.029, 0.0005),
        (1.0, Distribution.UNIFORM, 0.58, 0.005),
        # JCGM 100:2008 4.3.9 (from memory): a over root 6 for the triangle.
        (1.0, Distribution.TRIANGULAR, 0.40825, 5e-6),
    ],
)
def test_type_b_of_printed_bounds(half_width, distribution, printed, tolerance):
    result = type_b(half_width, distribution).standard_uncertainty
    assert result == pytest.approx(printed, abs=tolerance)


def test_bounds_may_be_poorly_known():
    assert type_b(1, Distribution.UNIFORM, degrees_of_freedom=2).degrees_of_freedom == 2


@given(WIDTHS)
def test_likelier_middle_means_less_uncertainty(width):
    triangular, uniform, u_shaped = (
        type_b(width, distribution).standard_uncertainty
        for distribution in (
            Distribution.TRIANGULAR,
            Distribution.UNIFORM,
            Distribution.U_SHAPED,
        )
    )
    assert triangular <= uniform <= u_shaped <= width


def test_resolution_of_a_hundredth():
    # 0.01 / sqrt(12) = 0.002887 (JCGM 100:2008 F.2.2.1: 0.29 times the step).
    result = from_resolution(0.01)
    assert result.standard_uncertainty == pytest.approx(0.002887, abs=5e-7)
    assert from_resolution(1).standard_uncertainty == pytest.approx(0.29, abs=0.005)
    assert result.degrees_of_freedom == math.inf
    assert from_resolution(0) == Component(0)


def test_a_certificate_gives_its_standard_uncertainty_back():
    # JCGM 100:2008 H.1.3.1: 0.075 um with a factor of 3, 18 degrees of freedom.
    result = from_expanded(0.075, 3, degrees_of_freedom=18)
    assert result == Component(0.075 / 3, 18)
    assert result.standard_uncertainty == pytest.approx(0.025)
    assert from_expanded(0.2, 2).degrees_of_freedom == math.inf
    assert from_expanded(0, 2) == Component(0)


def test_sensitivity_has_no_sign_in_the_result():
    # JCGM 100:2008 H.1.3.5 (from memory): 0.58e-6 at -0.1 degC on 50 mm is 2.9 nm.
    result = Component(0.58e-6, 50).times(-0.1 * 50e6)
    assert result.standard_uncertainty == pytest.approx(2.9, abs=0.05)
    assert result.degrees_of_freedom == 50
    assert Component(2.0).times(0) == Component(0.0)


@pytest.mark.parametrize(
    ("make", "sentence"),
    [
        (lambda: type_a([]), "repeats: 0 given, at least 2 needed"),
        (lambda: type_a([1.0]), "repeats: 1 given, at least 2 needed"),
        (lambda: type_a([1.0, math.nan]), "reading nan is not a finite number"),
        (lambda: type_a([1.0, math.inf]), "reading inf is not a finite number"),
        (lambda: type_a([1, 2], averaged=0), "number of readings averaged 0 must be"),
        (lambda: type_b(-0.1, Distribution.UNIFORM), "half-width -0.1 must not be neg"),
        (lambda: type_b(math.nan, Distribution.UNIFORM), "half-width nan is not a fin"),
        (lambda: from_resolution(-0.01), "resolution -0.01 must not be negative"),
        (lambda: from_expanded(-1, 2), "expanded uncertainty -1 must not be negative"),
        (lambda: from_expanded(1, 0), "coverage factor 0 must be above 0"),
        (lambda: from_expanded(1, math.inf), "coverage factor inf is not a finite"),
        (lambda: Component(-1), "standard uncertainty -1 must not be negative"),
        (lambda: Component(math.inf), "standard uncertainty inf is not a finite"),
        (lambda: Component(1, 0), "degrees of freedom 0 must be above 0"),
        (lambda: Component(1, -math.inf), "degrees of freedom -inf is not a finite"),
        (lambda: Component(1, math.nan), "degrees of freedom nan is not a finite"),
        (lambda: Component(1).times(math.nan), "sensitivity nan is not a finite"),
    ],
)
def test_input_that_gives_no_answer_is_refused(make, sentence):
    with pytest.raises(ValueError, match=f"^{sentence}"):
        make()
