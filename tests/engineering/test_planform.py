"""Planform area and activity factor, by a stated rule."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from records.engineering.planform import activity_factor, planform_area
from records.engineering.quadrature import Quadrature

TRAPEZOID, SIMPSON = Quadrature
CHORDS = st.lists(st.floats(0, 300), min_size=3, max_size=3)


@pytest.mark.parametrize(
    ("rule", "printed"), [(TRAPEZOID, 78.01), (SIMPSON, 82.39)], ids=str
)
def test_activity_factor_of_a_published_table_under_each_rule(rule, printed):
    # Worked table at askfilo: c/D in % at x = .2(.1)1.0. The two rules differ by
    # more than 5 %, so the rule belongs to the number.
    diameter = 2000
    radii = [100 * i for i in range(2, 11)]
    percents = [10, 9.3, 8.6, 7.9, 7.3, 6.6, 5.9, 5.2, 0]
    chords = [pct / 100 * diameter for pct in percents]
    result = activity_factor(radii, chords, diameter, rule)
    assert result.value == pytest.approx(printed, abs=0.005)
    assert result.rule is rule


@pytest.mark.parametrize(
    ("inner", "expected"), [(0.15, 124.937), (0.20, 124.800), (0.0, 125.0)]
)
def test_activity_factor_of_a_constant_chord(inner, expected):
    # c/D .08, closed form 6250 (c/D) (1 - x^4) / 4 (formula: heli-air.net).
    radii = [1000 * x for x in (inner, (inner + 1) / 2, 1.0)]
    result = activity_factor(radii, [160] * 3, 2000, SIMPSON)
    assert result.value == pytest.approx(expected, abs=0.0005)
    closed_form = 6250 * 0.08 * (1 - inner**4) / 4
    assert result.value == pytest.approx(closed_form, rel=1e-12)
    assert (result.inner, result.outer) == pytest.approx((inner, 1))


@given(CHORDS, st.floats(0.01, 100))
def test_activity_factor_has_no_unit_of_length(chords, factor):
    radii = [150, 575, 1000]
    result = activity_factor(radii, chords, 2000, SIMPSON).value
    scaled = activity_factor(
        [r * factor for r in radii],
        [c * factor for c in chords],
        2000 * factor,
        SIMPSON,
    ).value
    assert scaled == pytest.approx(result, rel=1e-9, abs=1e-9)


def test_area_of_a_straight_taper_is_the_same_under_both_rules():
    for rule in Quadrature:
        result = planform_area([100, 350, 600], [100, 70, 40], rule)
        assert result.area_mm2 == pytest.approx(35_000, rel=1e-12)
        assert result.mean_chord_mm == pytest.approx(70, rel=1e-12)
        assert (result.inner_mm, result.outer_mm, result.rule) == (100, 600, rule)


def test_area_of_half_an_ellipse_is_neared_by_both_rules():
    # Outline of semi-axes 800 and 120 mm: area pi/2 a b on the outer half.
    radii = [i * 8 for i in range(101)]
    chords = [2 * 120 * math.sqrt(1 - (r / 800) ** 2) for r in radii]
    expected = math.pi / 2 * 800 * 120
    for rule, tolerance in ((TRAPEZOID, 1e-3), (SIMPSON, 5e-4)):
        result = planform_area(radii, chords, rule).area_mm2
        assert result == pytest.approx(expected, rel=tolerance)


@given(CHORDS, CHORDS, st.sampled_from(Quadrature))
def test_areas_add(chords, others, rule):
    radii = [100, 400, 900]
    both = [a + b for a, b in zip(chords, others, strict=True)]
    parts = [planform_area(radii, c, rule).area_mm2 for c in (chords, others)]
    assert planform_area(radii, both, rule).area_mm2 == pytest.approx(
        sum(parts), rel=1e-9, abs=1e-6
    )


def test_the_tip_is_the_last_radius_allowed():
    assert activity_factor([500, 1000], [100, 100], 2000, TRAPEZOID).outer == 1
    with pytest.raises(ValueError, match=r"1000\.1 mm lies beyond the tip at 1000 mm"):
        activity_factor([500, 900, 1000.1], [100, 100, 100], 2000, TRAPEZOID)
    with pytest.raises(ValueError, match="diameter 0 mm must be above 0 mm"):
        activity_factor([500, 1000], [100, 100], 0, TRAPEZOID)


def areas(radii, chords):
    return planform_area(radii, chords, TRAPEZOID)


def factors(radii, chords):
    return activity_factor(radii, chords, 2000, TRAPEZOID)


@pytest.mark.parametrize("function", [areas, factors])
def test_an_outline_that_cannot_be_is_refused(function):
    with pytest.raises(ValueError, match="stations: 1 given, at least 2 needed"):
        function([500], [100])
    with pytest.raises(
        ValueError, match="2 stations but 3 chords: give one chord for each"
    ):
        function([500, 900], [100, 90, 80])
    with pytest.raises(ValueError, match="station radius -1 mm must not be negative"):
        function([-1, 900], [100, 90])
    with pytest.raises(
        ValueError, match="station radii must rise: 400 mm follows 500 mm"
    ):
        function([500, 400], [100, 90])
    with pytest.raises(ValueError, match="chord -1 mm must not be negative"):
        function([500, 900], [100, -1])
    with pytest.raises(ValueError, match="chord nan is not a finite number"):
        function([500, 900], [100, math.nan])


def test_a_blade_may_begin_at_the_axis_and_end_in_a_point():
    assert areas([0, 900], [100, 0]).area_mm2 == pytest.approx(45_000)


def test_simpsons_rule_refuses_an_even_number_of_stations():
    with pytest.raises(ValueError, match="odd number of stations, 2 given"):
        planform_area([100, 900], [100, 50], SIMPSON)
