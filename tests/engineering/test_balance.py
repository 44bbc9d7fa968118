"""Unbalance as a vector: sums, directions, blades weighed one by one."""

import math
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from records.engineering.balance import (
    PointMass,
    Unbalance,
    blade_angles,
    unbalance_from_blade_moments,
    unbalance_of,
)
from records.engineering.units import convert

COMPONENTS = st.floats(-5000, 5000)
VECTORS = st.builds(Unbalance, COMPONENTS, COMPONENTS)
MOMENTS = st.lists(st.floats(5e4, 2e5), min_size=2, max_size=8)


def near(vector, along, across, tolerance=1e-6):
    result = (vector.along_g_mm, vector.across_g_mm)
    return result == pytest.approx((along, across), abs=tolerance)


def test_resultant_of_two_readings_on_the_knife_edge():
    # Computed: 3 g at 850 mm and 12 g at 60 mm give 2649.698 at 15.767 deg.
    along = unbalance_of(PointMass(3, 850, 0))
    across = unbalance_of(PointMass(12, 60, 90))
    total = along + across
    assert near(total, 2550, 720)
    assert total.amount_g_mm == pytest.approx(2649.698, abs=0.0005)
    assert total.angle_deg == pytest.approx(15.767, abs=0.0005)


def test_three_blades_weighed_one_by_one():
    # Computed: 435.890 g.mm at 23.413 deg.
    result = unbalance_from_blade_moments([100_500, 100_200, 100_000])
    assert result.amount_g_mm == pytest.approx(435.890, abs=0.0005)
    assert result.angle_deg == pytest.approx(23.413, abs=0.0005)
    assert near(result, 400, 100 * math.sqrt(3))


@pytest.mark.parametrize(
    ("moments", "along", "across"),
    [
        ([100_300, 100_000], 300, 0),
        ([100_000, 100_300], -300, 0),
        ([100_300, 100_100, 100_000, 100_000], 300, 100),
    ],
)
def test_two_and_four_blades_weighed_one_by_one(moments, along, across):
    assert near(unbalance_from_blade_moments(moments), along, across)


@given(st.integers(2, 8), st.floats(5e4, 2e5))
def test_equal_blades_balance(blades, moment):
    result = unbalance_from_blade_moments([moment] * blades)
    assert near(result, 0, 0)


@given(MOMENTS)
def test_renumbering_the_blades_turns_the_vector_and_keeps_its_amount(moments):
    result = unbalance_from_blade_moments(moments)
    turned = unbalance_from_blade_moments(moments[1:] + moments[:1])
    assert turned.amount_g_mm == pytest.approx(result.amount_g_mm, abs=1e-6)


@given(st.floats(0.1, 500), st.floats(1, 1000), st.floats(0, 359), st.floats(0, 359))
def test_turning_a_mass_keeps_the_amount(mass, radius, angle, turn):
    before = unbalance_of(PointMass(mass, radius, angle))
    after = unbalance_of(PointMass(mass, radius, angle + turn))
    assert after.amount_g_mm == pytest.approx(before.amount_g_mm, rel=1e-12)
    assert after.amount_g_mm == pytest.approx(mass * radius, rel=1e-12)


@given(st.floats(0.1, 500), st.floats(1, 1000), st.floats(0.001, 359.999))
def test_the_direction_of_a_mass_comes_back(mass, radius, angle):
    unbalance = unbalance_of(PointMass(mass, radius, angle))
    assert unbalance.angle_deg == pytest.approx(angle, abs=1e-9)


@given(st.floats(0.1, 500), st.floats(1, 1000), st.floats(0, 359))
def test_wood_taken_off_is_as_good_as_a_mass_on_the_other_side(mass, radius, angle):
    off = unbalance_of(PointMass(-mass, radius, angle))
    on = unbalance_of(PointMass(mass, radius, angle + 180))
    assert near(off, on.along_g_mm, on.across_g_mm)


@given(VECTORS, VECTORS)
def test_vectors_add_in_any_order_and_cancel(one, two):
    assert one + two == two + one
    assert near(one + -one, 0, 0)


@given(VECTORS)
def test_direction_lies_within_one_turn(vector):
    assert 0 <= vector.angle_deg <= 360


@pytest.mark.parametrize(
    ("vector", "angle"),
    [
        (Unbalance(1, 0), 0),
        (Unbalance(0, 1), 90),
        (Unbalance(-1, 0), 180),
        (Unbalance(0, -1), 270),
        (Unbalance(0, 0), 0),
        (Unbalance(-0.0, 0.0), 0),
        (-Unbalance(0.0, 0.0), 0),
    ],
)
def test_direction_of_the_axes_and_of_nothing(vector, angle):
    assert vector.angle_deg == pytest.approx(angle, abs=1e-12)


def test_an_ounce_inch_is_exact():
    # 28.349523125 g times 25.4 mm, both exact by definition.
    result = unbalance_of(PointMass(28.349523125, 25.4, 0)).amount_g_mm
    assert result == pytest.approx(720.077887375, rel=1e-15)
    assert convert(Decimal(1), "oz.in", "g.mm") == Decimal("720.077887375")


@pytest.mark.parametrize("blades", [2, 3, 4, 8])
def test_blades_are_evenly_spaced(blades):
    angles = blade_angles(blades)
    assert len(angles) == blades
    assert angles == pytest.approx([360 / blades * i for i in range(blades)])


@pytest.mark.parametrize("blades", [-1, 0, 1, 9])
def test_number_of_blades_one_step_outside(blades):
    with pytest.raises(ValueError, match=f"blades {blades} is outside 2 to 8"):
        blade_angles(blades)


def test_blade_moments_out_of_range():
    with pytest.raises(ValueError, match="number of blades 0 is outside 2 to 8"):
        unbalance_from_blade_moments([])
    with pytest.raises(ValueError, match="number of blades 1 is outside 2 to 8"):
        unbalance_from_blade_moments([100_000])
    with pytest.raises(ValueError, match=r"blade moment 0 g.mm must be above 0 g.mm"):
        unbalance_from_blade_moments([100_000, 0])
    with pytest.raises(ValueError, match="blade moment nan is not a finite number"):
        unbalance_from_blade_moments([100_000, math.nan])


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
def test_a_mass_must_be_finite_in_every_part(bad):
    with pytest.raises(ValueError, match=r"mass .* is not a finite number"):
        unbalance_of(PointMass(bad, 100, 0))
    with pytest.raises(ValueError, match=r"radius .* is not a finite number"):
        unbalance_of(PointMass(1, bad, 0))
    with pytest.raises(ValueError, match=r"angle .* is not a finite number"):
        unbalance_of(PointMass(1, 100, bad))


def test_a_mass_may_sit_on_the_axis_but_not_beyond():
    assert unbalance_of(PointMass(5, 0, 0)).amount_g_mm == 0
    with pytest.raises(ValueError, match="radius -1 mm must not be negative"):
        unbalance_of(PointMass(5, -1, 0))
