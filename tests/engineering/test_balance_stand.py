"""Unbalance from levelling masses and from a scale, two to four blades."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from records.engineering.balance import PointMass, Unbalance, blade_angles, unbalance_of
from records.engineering.balance_correction import residual_after
from records.engineering.balance_stand import (
    unbalance_from_levelling,
    unbalance_from_scale,
)

COMPONENTS = st.floats(-5000, 5000)
VECTORS = st.builds(Unbalance, COMPONENTS, COMPONENTS)
ARMS = [(0.0, 90.0), blade_angles(3), blade_angles(4), (30.0, 100.0, 250.0)]


def moment_about(vector, angle_deg):
    direction = math.radians(angle_deg)
    return vector.along_g_mm * math.cos(direction) + vector.across_g_mm * math.sin(
        direction
    )


def scale_readings(vector, angles, radius=500.0):
    return [PointMass(moment_about(vector, a) / radius, radius, a) for a in angles]


def same(result, expected, tolerance=1e-6):
    pair = (result.along_g_mm, result.across_g_mm)
    return pair == pytest.approx(
        (expected.along_g_mm, expected.across_g_mm), abs=tolerance
    )


def test_two_blades_horizontal_and_vertical():
    # Computed: 3 g at 850 mm on the light blade and 12 g at 60 mm on the light side
    # of the hub: 2649.698 g.mm at 15.767 deg.
    result = unbalance_from_levelling([PointMass(3, 850, 180), PointMass(12, 60, 270)])
    assert same(result.unbalance, Unbalance(2550, 720))
    assert result.unbalance.amount_g_mm == pytest.approx(2649.698, abs=0.0005)
    assert result.unbalance.angle_deg == pytest.approx(15.767, abs=0.0005)
    assert result.misfit_g_mm == pytest.approx(0, abs=1e-9)


def test_levelling_masses_left_in_place_balance_the_propeller():
    added = [PointMass(3, 850, 180), PointMass(12, 60, 270)]
    result = unbalance_from_levelling(added).unbalance
    assert residual_after(result, added).amount_g_mm == pytest.approx(0, abs=1e-9)


@given(VECTORS, st.sampled_from(ARMS))
def test_the_scale_gives_the_unbalance_back(vector, angles):
    result = unbalance_from_scale(scale_readings(vector, angles))
    assert same(result.unbalance, vector)
    assert result.misfit_g_mm == pytest.approx(0, abs=1e-6)


@given(VECTORS, st.sampled_from(ARMS))
def test_levelling_is_the_scale_with_the_opposite_sign(vector, angles):
    readings = scale_readings(vector, angles)
    level = unbalance_from_levelling(readings)
    weighed = unbalance_from_scale(readings)
    assert same(level.unbalance, -weighed.unbalance, 1e-9)
    assert level.misfit_g_mm == weighed.misfit_g_mm


@given(st.lists(st.floats(-20, 20), min_size=3, max_size=3))
def test_the_fit_agrees_with_numpy(grams):
    angles = (10.0, 130.0, 200.0)
    readings = [PointMass(g, 400, a) for g, a in zip(grams, angles, strict=True)]
    radians = np.radians(angles)
    matrix = np.column_stack([np.cos(radians), np.sin(radians)])
    moments = 400 * np.array(grams)
    expected, *_ = np.linalg.lstsq(matrix, moments, rcond=None)
    result = unbalance_from_scale(readings)
    assert same(result.unbalance, Unbalance(*expected))
    misfit = np.abs(moments - matrix @ expected).max()
    assert result.misfit_g_mm == pytest.approx(misfit, abs=1e-6)


@pytest.mark.parametrize("blades", [3, 4])
def test_a_preload_that_was_not_taken_off_cancels_but_shows_as_misfit(blades):
    vector = Unbalance(300, -200)
    readings = [
        PointMass(m.mass_g + 2, m.radius_mm, m.angle_deg)
        for m in scale_readings(vector, blade_angles(blades))
    ]
    result = unbalance_from_scale(readings)
    assert same(result.unbalance, vector)
    assert result.misfit_g_mm == pytest.approx(2 * 500, rel=1e-9)


def test_a_wrong_reading_shows_as_misfit():
    readings = scale_readings(Unbalance(300, 200), blade_angles(4))
    wrong = PointMass(readings[0].mass_g + 1, 500, 0)
    result = unbalance_from_scale([wrong, *readings[1:]])
    # Half of 500 g.mm stays on the line of blades 1 and 3.
    assert result.misfit_g_mm == pytest.approx(250, rel=1e-9)


def test_both_ends_of_two_blades_do_not_tell_what_lies_across():
    with pytest.raises(ValueError, match=r"^all arms lie nearly in one line"):
        unbalance_from_scale(scale_readings(Unbalance(300, 200), blade_angles(2)))


@pytest.mark.parametrize("angle", [10.001, 90, 169.999, 190.001])
def test_arms_ten_degrees_from_one_line_are_enough(angle):
    vector = Unbalance(300, 200)
    result = unbalance_from_scale(scale_readings(vector, (0.0, angle)))
    assert same(result.unbalance, vector)


@pytest.mark.parametrize("angle", [0, 9.999, 170.001, 189.999])
def test_arms_nearer_to_one_line_are_refused(angle):
    with pytest.raises(ValueError, match="another arm horizontal, best at a right"):
        unbalance_from_levelling(scale_readings(Unbalance(300, 200), (0.0, angle)))


@pytest.mark.parametrize("method", [unbalance_from_scale, unbalance_from_levelling])
def test_readings_that_cannot_be_used(method):
    good = PointMass(3, 850, 0)
    for few in ([], [good]):
        with pytest.raises(ValueError, match=f"readings: {len(few)} given, at least 2"):
            method(few)
    with pytest.raises(ValueError, match="radius of the arm 0 mm must be above 0 mm"):
        method([good, PointMass(3, 0, 90)])
    with pytest.raises(ValueError, match="mass nan is not a finite number"):
        method([good, PointMass(math.nan, 60, 90)])
    with pytest.raises(ValueError, match="angle inf is not a finite number"):
        method([good, PointMass(3, 60, math.inf)])


def test_a_propeller_that_stays_level_by_itself_has_no_unbalance():
    level = [PointMass(0, 850, 0), PointMass(0, 60, 90)]
    assert unbalance_from_levelling(level).unbalance.amount_g_mm == 0
    assert unbalance_of(level[0]).amount_g_mm == 0
