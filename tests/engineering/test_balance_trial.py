"""Unbalance from the indications without and with a trial mass."""

import cmath
import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from records.engineering.balance import PointMass, Unbalance, blade_angles, unbalance_of
from records.engineering.balance_trial import Indication, unbalance_from_trial_mass

COMPONENTS = st.floats(-5000, 5000)
VECTORS = st.builds(Unbalance, COMPONENTS, COMPONENTS)


def indicate(vector, sensitivity, lag_deg):
    """Play a balancer whose answer is in proportion, lagging by a fixed angle."""
    shown = complex(vector.along_g_mm, vector.across_g_mm) * cmath.rect(
        sensitivity, math.radians(lag_deg)
    )
    return Indication(abs(shown), math.degrees(cmath.phase(shown)))


def same(result, expected, tolerance):
    pair = (result.along_g_mm, result.across_g_mm)
    return pair == pytest.approx(
        (expected.along_g_mm, expected.across_g_mm), abs=tolerance
    )


def test_a_right_angle_done_by_hand():
    # V0 = 2 at 0 deg; with 5 g at 40 mm on blade 1 the indication is 2 at 90 deg.
    # U = T V0 / (V1 - V0) = 200 * 2 / (2i - 2) = -100 - 100i.
    result = unbalance_from_trial_mass(
        Indication(2, 0), Indication(2, 90), PointMass(5, 40, 0)
    )
    assert same(result, Unbalance(-100, -100), 1e-9)


@given(
    VECTORS,
    st.floats(1e-4, 10),
    st.floats(0, 360),
    st.integers(2, 4).flatmap(lambda n: st.sampled_from(blade_angles(n))),
)
def test_the_unbalance_comes_back_whatever_the_balancer(vector, scale, lag, angle):
    trial = PointMass(20, 150, angle)
    both = vector + unbalance_of(trial)
    result = unbalance_from_trial_mass(
        indicate(vector, scale, lag), indicate(both, scale, lag), trial
    )
    assert same(result, vector, 1e-6)


@given(VECTORS, st.floats(0.001, 1000))
def test_the_unit_of_the_indication_does_not_matter(vector, factor):
    assume(vector.amount_g_mm > 1)
    trial = PointMass(20, 150, 120)
    both = vector + unbalance_of(trial)
    plain, scaled = (
        unbalance_from_trial_mass(indicate(vector, k, 30), indicate(both, k, 30), trial)
        for k in (1, factor)
    )
    assert same(scaled, plain, 1e-6)


def test_a_still_balancer_means_no_unbalance():
    result = unbalance_from_trial_mass(
        Indication(0, 0), Indication(0.3, 10), PointMass(5, 100, 0)
    )
    assert result.amount_g_mm == 0


def test_a_trial_mass_may_cancel_the_indication():
    result = unbalance_from_trial_mass(
        Indication(0.3, 10), Indication(0, 0), PointMass(5, 100, 0)
    )
    assert same(result, Unbalance(-500, 0), 1e-9)


@pytest.mark.parametrize(
    ("without", "with_trial"),
    [
        (1.0, 1.0),
        (1.0, 0.9901),
        (0.9901, 1.0),
        (0, 0),
        (0.99, 1.0),  # exactly 1 % of the larger is still too little
    ],
)
def test_a_trial_mass_that_changes_too_little_is_refused(without, with_trial):
    with pytest.raises(ValueError, match=r"changed the indication by .* only: fit a"):
        unbalance_from_trial_mass(
            Indication(without, 40), Indication(with_trial, 40), PointMass(5, 100, 0)
        )


def test_a_change_just_above_one_percent_is_used():
    result = unbalance_from_trial_mass(
        Indication(1.0, 40), Indication(0.9899, 40), PointMass(5, 100, 180)
    )
    assert same(result, Unbalance(500 / 0.0101, 0), 1e-6)


def with_values(amplitude=1.0, phase=0.0, mass=5.0, radius=100.0):
    return unbalance_from_trial_mass(
        Indication(amplitude, phase), Indication(3, 90), PointMass(mass, radius, 0)
    )


def test_what_is_out_of_range_is_refused():
    with pytest.raises(ValueError, match="indication -1 must not be negative"):
        with_values(amplitude=-1)
    with pytest.raises(ValueError, match="trial mass 0 g must be above 0 g"):
        with_values(mass=0)
    with pytest.raises(ValueError, match="of the trial mass 0 mm must be above 0 mm"):
        with_values(radius=0)


@pytest.mark.parametrize(
    ("part", "name"),
    [
        ("amplitude", "indication"),
        ("phase", "phase of the indication"),
        ("mass", "trial mass"),
        ("radius", "radius of the trial mass"),
    ],
)
@pytest.mark.parametrize("bad", [math.nan, math.inf])
def test_what_is_not_finite_is_refused(part, name, bad):
    with pytest.raises(ValueError, match=f"^{name} {bad} is not a finite number"):
        with_values(**{part: bad})
