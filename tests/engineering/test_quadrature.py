"""Integrating over stations: trapezoid and Simpson."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import simpson, trapezoid

from records.engineering.quadrature import Quadrature, integrate

TRAPEZOID, SIMPSON = Quadrature
STEPS = st.lists(st.floats(0.5, 5), min_size=1, max_size=12)


def stations_of(steps):
    return [sum(steps[:i]) for i in range(len(steps) + 1)]


def ordinates_for(stations):
    return [math.sin(x) + x / 3 for x in stations]


@given(STEPS)
def test_trapezoid_agrees_with_scipy(steps):
    x = stations_of(steps)
    y = ordinates_for(x)
    assert integrate(x, y, TRAPEZOID) == pytest.approx(trapezoid(y, x=x), rel=1e-12)


@given(STEPS.filter(lambda steps: len(steps) % 2 == 0))
def test_simpson_agrees_with_scipy_at_unequal_steps(steps):
    x = stations_of(steps)
    y = ordinates_for(x)
    assert integrate(x, y, SIMPSON) == pytest.approx(simpson(y, x=x), rel=1e-11)


def test_simpson_is_exact_for_a_parabola_at_unequal_steps():
    x = [0, 1, 3, 3.5, 4]
    assert integrate(x, [v**2 for v in x], SIMPSON) == pytest.approx(64 / 3, rel=1e-14)


def test_simpson_is_exact_for_a_cubic_at_equal_steps():
    x = [0, 1, 2, 3, 4]
    assert integrate(x, [v**3 for v in x], SIMPSON) == pytest.approx(64, rel=1e-14)


def test_both_rules_are_exact_for_a_straight_line():
    for rule in Quadrature:
        assert integrate([1, 2, 5], [2, 4, 10], rule) == pytest.approx(24, rel=1e-14)


@given(st.floats(0.01, 100), st.sampled_from(Quadrature))
def test_scaling_the_ordinates_scales_the_integral(factor, rule):
    x, y = [0, 1, 3], [2, 5, 1]
    scaled = integrate(x, [factor * v for v in y], rule)
    assert scaled == pytest.approx(factor * integrate(x, y, rule), rel=1e-12)


def test_a_rule_may_be_given_by_its_name():
    assert integrate([0, 1], [1, 1], "trapezoid") == 1
    with pytest.raises(ValueError, match="midpoint"):
        integrate([0, 1], [1, 1], "midpoint")


def test_trapezoid_takes_two_stations_and_no_fewer():
    assert integrate([0, 2], [1, 3], TRAPEZOID) == 4
    for few in ([], [1]):
        with pytest.raises(ValueError, match=f"stations: {len(few)} given, at least 2"):
            integrate(few, few, TRAPEZOID)


@pytest.mark.parametrize("count", [2, 4, 6])
def test_simpson_refuses_an_even_number_of_stations(count):
    x = list(range(count))
    with pytest.raises(
        ValueError, match=f"odd number of stations, {count} given: add or"
    ):
        integrate(x, x, SIMPSON)


def test_each_station_needs_its_ordinate():
    with pytest.raises(
        ValueError, match="3 stations but 2 ordinates: give one ordinate for"
    ):
        integrate([0, 1, 2], [1, 1], TRAPEZOID)


def test_stations_that_do_not_rise_are_refused():
    with pytest.raises(ValueError, match="stations must rise: 1 follows 1"):
        integrate([0, 1, 1], [1, 1, 1], SIMPSON)


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
def test_values_that_are_not_finite_are_refused(bad):
    with pytest.raises(ValueError, match=r"stations .* is not a finite number"):
        integrate([0, bad], [1, 1], TRAPEZOID)
    with pytest.raises(ValueError, match=r"ordinate .* is not a finite number"):
        integrate([0, 1], [1, bad], TRAPEZOID)
