"""Correction masses at a radius, split over blades, and the residual."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from records.engineering.balance import (
    PointMass,
    Unbalance,
    unbalance_from_blade_moments,
    unbalance_of,
)
from records.engineering.balance_correction import (
    correct_two_blades,
    correction_at,
    residual_after,
    split_over_blades,
)

COMPONENTS = st.floats(-5000, 5000)
VECTORS = st.builds(Unbalance, COMPONENTS, COMPONENTS)
RADII = st.floats(20, 1000)


@pytest.mark.parametrize(("radius", "mass"), [(600, 4.250), (300, 8.500)])
def test_correction_mass_at_a_radius(radius, mass):
    result = correction_at(Unbalance(2550, 0), radius)  # computed
    assert result.mass_g == pytest.approx(mass, abs=1e-9)
    assert result.angle_deg == pytest.approx(180)
    assert result.radius_mm == radius


@given(VECTORS, RADII)
def test_the_correction_leaves_nothing(vector, radius):
    left = residual_after(vector, [correction_at(vector, radius)])
    assert left.amount_g_mm == pytest.approx(0, abs=1e-6)


@pytest.mark.parametrize(
    ("angle", "first", "second"), [(30, 115.470, 57.735), (60, 100, 100)]
)
def test_split_over_blades_at_0_and_120(angle, first, second):
    # Computed: w1 = U sin(120 - a) / sin 120, w2 = U sin a / sin 120, U = 100.
    light_side = unbalance_of(PointMass(100, 1, angle))
    one, two = split_over_blades(-light_side, 3, 1)
    assert (one.blade, two.blade) == (1, 2)
    assert one.added.mass_g == pytest.approx(first, abs=0.0005)
    assert two.added.mass_g == pytest.approx(second, abs=0.0005)
    assert (one.added.angle_deg, two.added.angle_deg) == (0, 120)
    assert one.added.radius_mm == two.added.radius_mm == 1


def test_three_unequal_blades_are_corrected_on_the_two_light_ones():
    # Computed: 300 g.mm on blade 2 and 500 g.mm on blade 3 null it exactly.
    result = unbalance_from_blade_moments([100_500, 100_200, 100_000])
    one, two = split_over_blades(result, 3, 1)
    assert (one.blade, two.blade) == (2, 3)
    assert one.added.mass_g == pytest.approx(300, abs=1e-6)
    assert two.added.mass_g == pytest.approx(500, abs=1e-6)
    assert residual_after(
        result, [PointMass(1, 300, 120), PointMass(1, 500, 240)]
    ).amount_g_mm == pytest.approx(0, abs=1e-9)


def test_the_last_and_the_first_blade_are_neighbours():
    light_side = unbalance_of(PointMass(100, 1, 300))
    one, two = split_over_blades(-light_side, 3, 1)
    assert (one.blade, two.blade) == (3, 1)
    assert one.added.mass_g == pytest.approx(two.added.mass_g)


def test_four_blades_take_each_component_by_itself():
    one, two = split_over_blades(Unbalance(-300, -200), 4, 100)
    assert (one.blade, two.blade) == (1, 2)
    assert (one.added.mass_g, two.added.mass_g) == pytest.approx((3, 2))


@given(VECTORS, st.integers(3, 8), RADII)
def test_the_split_adds_wood_only_and_leaves_nothing(vector, blades, radius):
    pair = split_over_blades(vector, blades, radius)
    left = residual_after(vector, [share.added for share in pair])
    assert left.amount_g_mm == pytest.approx(0, abs=1e-6)
    assert all(share.added.mass_g >= -1e-9 for share in pair)
    assert (pair[1].blade - pair[0].blade) % blades == 1


@given(st.integers(3, 8), st.data())
def test_a_light_blade_is_corrected_on_itself_alone(blades, data):
    light = data.draw(st.integers(0, blades - 1))
    vector = -unbalance_of(PointMass(500, 1, 360 * light / blades))
    masses = {
        share.blade: share.added.mass_g
        for share in split_over_blades(vector, blades, 1)
    }
    assert masses.pop(light + 1) == pytest.approx(500, abs=1e-6)
    assert list(masses.values()) == pytest.approx([0], abs=1e-6)


def test_nothing_to_correct():
    one, two = split_over_blades(Unbalance(0, 0), 3, 500)
    assert (one.added.mass_g, two.added.mass_g) == (0, 0)
    assert correction_at(Unbalance(0, 0), 500).mass_g == 0


@pytest.mark.parametrize(
    ("vector", "blade", "blade_angle", "hub_angle"),
    [
        (Unbalance(2550, 720), 2, 180, 270),
        (Unbalance(-2550, 720), 1, 0, 270),
        (Unbalance(2550, -720), 2, 180, 90),
        (Unbalance(-2550, -720), 1, 0, 90),
    ],
)
def test_two_blades_are_corrected_on_blade_and_hub(
    vector, blade, blade_angle, hub_angle
):
    result = correct_two_blades(vector, 600, 60)
    assert result.on_blade.blade == blade
    added = result.on_blade.added
    assert (added.mass_g, added.radius_mm) == pytest.approx((4.25, 600))
    assert added.angle_deg == pytest.approx(blade_angle)
    assert (result.on_hub.mass_g, result.on_hub.radius_mm) == pytest.approx((12, 60))
    assert result.on_hub.angle_deg == pytest.approx(hub_angle)


@given(VECTORS, RADII, RADII)
def test_blade_and_hub_leave_nothing(vector, blade_radius, hub_radius):
    result = correct_two_blades(vector, blade_radius, hub_radius)
    left = residual_after(vector, [result.on_blade.added, result.on_hub])
    assert left.amount_g_mm == pytest.approx(0, abs=1e-6)


def test_the_light_blade_is_named_however_small_the_unbalance():
    assert correct_two_blades(Unbalance(0.5, 0), 600, 60).on_blade.blade == 2
    assert correct_two_blades(Unbalance(-0.5, 0), 600, 60).on_blade.blade == 1


def test_two_blades_in_balance_need_nothing():
    result = correct_two_blades(Unbalance(0, 0), 600, 60)
    assert (result.on_blade.blade, result.on_blade.added.mass_g) == (1, 0)
    assert result.on_hub.mass_g == 0


def test_half_the_correction_leaves_half_the_unbalance():
    vector = Unbalance(2550, 720)
    whole = correction_at(vector, 300)
    half = PointMass(whole.mass_g / 2, 300, whole.angle_deg)
    left = residual_after(vector, [half])
    assert left.amount_g_mm == pytest.approx(vector.amount_g_mm / 2, rel=1e-12)
    assert left.angle_deg == pytest.approx(vector.angle_deg, rel=1e-12)


def test_without_a_mass_everything_is_left():
    assert residual_after(Unbalance(5, 7), []) == Unbalance(5, 7)


def test_two_blades_cannot_share_what_lies_across():
    with pytest.raises(ValueError, match=r"^two blades lie in one line: correct"):
        split_over_blades(Unbalance(100, 100), 2, 500)
    for blades in (1, 9):
        with pytest.raises(ValueError, match=f"blades {blades} is outside 2 to 8"):
            split_over_blades(Unbalance(100, 100), blades, 500)


@pytest.mark.parametrize("bad", [0, -1, math.nan, math.inf])
def test_a_correction_needs_a_radius(bad):
    vector = Unbalance(100, 100)
    for call in (
        lambda: correction_at(vector, bad),
        lambda: split_over_blades(vector, 3, bad),
        lambda: correct_two_blades(vector, bad, 60),
        lambda: correct_two_blades(vector, 600, bad),
    ):
        with pytest.raises(ValueError, match=f"^correction radius {bad} (mm|is not)"):
            call()


def test_a_placed_mass_is_checked():
    with pytest.raises(ValueError, match="radius -1 mm must not be negative"):
        residual_after(Unbalance(0, 0), [PointMass(1, -1, 0)])
