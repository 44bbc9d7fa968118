"""Pitch from blade angle and back, mean pitch, blade-to-blade differences."""

import math
import statistics

import pytest
from hypothesis import given
from hypothesis import strategies as st

from records.engineering.geometry import (
    blade_angle_from_pitch,
    blade_differences,
    mean_pitch,
    pitch_from_blade_angle,
)

IN = 25.4
RADII = st.floats(10, 2000)
ANGLES = st.floats(0, 85)


@pytest.mark.parametrize(
    ("ratio", "angle"),
    [
        # D 68 in, pitch 48 in; computed from p = 2 pi r tan(beta) (heli-air.net).
        (0.30, 36.832),
        (0.45, 26.533),
        (0.60, 20.530),
        (0.75, 16.677),
        (0.90, 14.018),
        (1.00, 12.663),
    ],
)
def test_blade_angles_of_a_constant_pitch_propeller(ratio, angle):
    result = blade_angle_from_pitch(34 * IN * ratio, 48 * IN)
    assert result == pytest.approx(angle, abs=0.0005)


def test_blade_angle_printed_for_a_model_propeller():
    # indoorfreeflight.com: r 3.937 in, p 16 in, printed 32.90 deg.
    result = blade_angle_from_pitch(3.937 * IN, 16 * IN)
    assert result == pytest.approx(32.90, abs=0.0055)


def test_forty_five_degrees_where_pitch_is_the_circumference():
    # indoorfreeflight.com: 45 deg at r 2.546 in for p 16 in.
    result = blade_angle_from_pitch(2.546 * IN, 16 * IN)
    assert result == pytest.approx(45, abs=0.02)


@pytest.mark.parametrize(("pitch_in", "angle"), [(44, 14.540), (42, 13.905)])
def test_angles_at_a_27_inch_station(pitch_in, angle):
    result = blade_angle_from_pitch(27 * IN, pitch_in * IN)
    assert result == pytest.approx(angle, abs=0.0005)  # computed


@pytest.mark.parametrize(
    ("radius_mm", "angle_deg", "pitch_mm", "tolerance"),
    [
        (27 * IN, 15, 45.4565 * IN, 0.00005 * IN),  # computed
        (686, 15, 1154.93, 0.005),  # computed
        (24 * IN, 20, 54.89 * IN, 0.005 * IN),  # computed
    ],
)
def test_pitch_at_a_station(radius_mm, angle_deg, pitch_mm, tolerance):
    result = pitch_from_blade_angle(radius_mm, angle_deg)
    assert result == pytest.approx(pitch_mm, abs=tolerance)


def test_a_tenth_of_a_degree_is_a_third_of_an_inch_of_pitch():
    # Computed at r 27 in, 15 deg: .317 in.
    step = pitch_from_blade_angle(27 * IN, 15.1) - pitch_from_blade_angle(27 * IN, 15)
    assert step / IN == pytest.approx(0.317, abs=0.0005)


def test_slope_of_one_in_three_differs_from_a_print_made_with_22_over_7():
    # A model-builder's text prints 10.48 in at r 5 in; with pi it is 10.47.
    result = pitch_from_blade_angle(5 * IN, math.degrees(math.atan(1 / 3))) / IN
    assert result == pytest.approx(10.472, abs=0.0005)
    assert result * (22 / 7) / math.pi == pytest.approx(10.48, abs=0.005)


@given(RADII, ANGLES)
def test_angle_to_pitch_and_back(radius, angle):
    pitch = pitch_from_blade_angle(radius, angle)
    result = blade_angle_from_pitch(radius, pitch)
    assert result == pytest.approx(angle, rel=1e-12, abs=1e-12)


@given(RADII, ANGLES, ANGLES)
def test_a_steeper_blade_has_more_pitch(radius, angle, other):
    pitches = [pitch_from_blade_angle(radius, a) for a in sorted((angle, other))]
    assert pitches == sorted(pitches)


@given(RADII, ANGLES, st.floats(0.01, 100))
def test_pitch_scales_with_the_unit_of_length(radius, angle, factor):
    scaled = pitch_from_blade_angle(radius * factor, angle)
    expected = factor * pitch_from_blade_angle(radius, angle)
    assert scaled == pytest.approx(expected, rel=1e-12)


def test_edges_of_the_blade_angle():
    assert pitch_from_blade_angle(700, 0) == 0
    assert pitch_from_blade_angle(700, math.nextafter(90, 0)) > 1e15
    assert blade_angle_from_pitch(700, 0) == 0
    with pytest.raises(ValueError, match="blade angle 90 deg must be below 90 deg"):
        pitch_from_blade_angle(700, 90)
    with pytest.raises(ValueError, match=r"blade angle -0.1 deg must not be negative"):
        pitch_from_blade_angle(700, -0.1)
    with pytest.raises(ValueError, match="pitch -1 mm must not be negative"):
        blade_angle_from_pitch(700, -1)


@pytest.mark.parametrize("function", [pitch_from_blade_angle, blade_angle_from_pitch])
def test_radius_and_value_must_be_numbers_above_zero(function):
    with pytest.raises(ValueError, match="station radius 0 mm must be above 0 mm"):
        function(0, 15)
    for bad in (math.nan, math.inf, -math.inf):
        with pytest.raises(ValueError, match=r"station radius .* not a finite number"):
            function(bad, 15)
        with pytest.raises(ValueError, match=r"(pitch|angle) .* not a finite number"):
            function(700, bad)


def test_mean_pitch_of_a_constant_pitch_blade_has_no_scatter():
    radii = [200, 400, 600, 800]
    angles = [blade_angle_from_pitch(r, 1200) for r in radii]
    result = mean_pitch(radii, angles)
    assert result.mean_mm == pytest.approx(1200, rel=1e-12)
    assert result.standard_deviation_mm == pytest.approx(0, abs=1e-9)
    assert result.range_mm == pytest.approx(0, abs=1e-9)


def test_scatter_over_the_stations_agrees_with_the_definition():
    radii, angles = [400, 600, 800], [25.0, 18.0, 13.0]
    result = mean_pitch(radii, angles)
    pitches = [
        2 * math.pi * r * math.tan(a * math.pi / 180)
        for r, a in zip(radii, angles, strict=True)
    ]
    assert result.stations_mm == pytest.approx(pitches, rel=1e-12)
    assert result.mean_mm == pytest.approx(sum(pitches) / 3, rel=1e-12)
    spread = statistics.stdev(pitches)
    assert result.standard_deviation_mm == pytest.approx(spread, rel=1e-12)
    assert result.range_mm == pytest.approx(max(pitches) - min(pitches), rel=1e-12)


def test_one_station_has_a_mean_but_no_standard_deviation():
    result = mean_pitch([686], [15])
    assert result.mean_mm == pytest.approx(1154.93, abs=0.005)
    assert result.standard_deviation_mm is None
    assert result.range_mm == 0


def test_two_stations_have_a_standard_deviation():
    assert mean_pitch([500, 686], [15, 15]).standard_deviation_mm > 0


def test_mean_pitch_refuses_what_it_cannot_use():
    with pytest.raises(ValueError, match="stations: 0 given, at least 1 needed"):
        mean_pitch([], [])
    with pytest.raises(ValueError, match="2 stations but 1 of blade angle"):
        mean_pitch([400, 600], [20])
    with pytest.raises(ValueError, match="station radii must rise: 400 mm follows"):
        mean_pitch([600, 400], [20, 20])


def test_blades_are_compared_station_by_station():
    result = blade_differences(
        [400, 700], [[24.0, 15.0], [24.5, 14.9], [23.8, 15.1], [24.5, 14.9]]
    )
    assert [s.radius_mm for s in result] == [400, 700]
    assert [s.difference for s in result] == pytest.approx([0.7, 0.2])
    assert [s.mean for s in result] == pytest.approx([24.2, 14.975])
    assert [(s.high_blade, s.low_blade) for s in result] == [(2, 3), (3, 2)]


READINGS = st.lists(st.floats(-50, 50), min_size=2, max_size=4)


@given(READINGS)
def test_equal_blades_do_not_differ_and_order_does_not_matter(readings):
    (result,) = blade_differences([700], [[r] for r in readings])
    (turned,) = blade_differences([700], [[r] for r in readings[::-1]])
    assert turned.difference == result.difference >= 0
    assert result.difference == (
        readings[result.high_blade - 1] - readings[result.low_blade - 1]
    )
    (same,) = blade_differences([700], [[readings[0]]] * 3)
    assert same.difference == 0


def test_blade_differences_refuse_what_they_cannot_use():
    with pytest.raises(ValueError, match="stations: 0 given, at least 1 needed"):
        blade_differences([], [[], []])
    with pytest.raises(ValueError, match="blades: 1 given, at least 2 needed"):
        blade_differences([700], [[15.0]])
    with pytest.raises(ValueError, match=r"1 stations but 2 of reading: give one"):
        blade_differences([700], [[15.0], [15.0, 14.0]])
    with pytest.raises(ValueError, match="station radius 0 mm must be above 0 mm"):
        blade_differences([0, 700], [[15.0, 14.0], [15.0, 14.0]])
    with pytest.raises(ValueError, match="station radii must rise: 700 mm follows"):
        blade_differences([700, 700], [[15.0, 14.0], [15.0, 14.0]])
    with pytest.raises(ValueError, match="reading nan is not a finite number"):
        blade_differences([700], [[15.0], [math.nan]])
