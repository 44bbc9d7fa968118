"""Track from pointer readings at one radius."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from records.engineering.track import BladePair, track

READINGS = st.lists(st.floats(-20, 20), min_size=2, max_size=4)


def at_the_tip(readings):
    return track(readings, diameter_mm=1700, from_tip_mm=0)


@pytest.mark.parametrize(
    ("readings", "expected"),
    [([0.0, 1.2], 1.2), ([0.4, -0.3, 0.1], 0.7)],  # computed from the definition
)
def test_track_is_highest_less_lowest_reading(readings, expected):
    assert at_the_tip(readings).track_mm == pytest.approx(expected, abs=1e-12)


def test_a_sixteenth_of_an_inch():
    # 1/16 in = 1.5875 mm, a limit seen in several published texts.
    assert at_the_tip([0, 25.4 / 16]).track_mm == pytest.approx(1.5875, rel=1e-12)


def test_each_blade_is_shown_against_each_other():
    result = at_the_tip([0.5, -0.25, 0.25])
    assert result.pairs == (
        BladePair(1, 2, -0.75),
        BladePair(1, 3, -0.25),
        BladePair(2, 3, 0.5),
    )


def test_the_radius_of_the_pointer_belongs_to_the_result():
    result = track([0, 1], diameter_mm=1700, from_tip_mm=100)
    assert (result.radius_mm, result.from_tip_mm) == (750, 100)


@given(READINGS, st.floats(-20, 20))
def test_moving_the_pointer_changes_nothing(readings, shift):
    moved = at_the_tip([reading + shift for reading in readings])
    expected = at_the_tip(readings).track_mm
    assert moved.track_mm == pytest.approx(expected, abs=1e-12)


@given(READINGS)
def test_track_is_the_largest_difference_of_any_pair(readings):
    result = at_the_tip(readings)
    assert result.track_mm == max(abs(pair.difference_mm) for pair in result.pairs)
    assert len(result.pairs) == math.comb(len(readings), 2)


@given(READINGS)
def test_the_order_of_the_blades_does_not_matter(readings):
    assert at_the_tip(readings[::-1]).track_mm == at_the_tip(readings).track_mm


def test_one_blade_has_no_track():
    for few in ([], [0.0]):
        with pytest.raises(ValueError, match=f"blades: {len(few)} given, at least 2"):
            at_the_tip(few)


def test_edges_of_the_pointers_place():
    assert track([0, 1], diameter_mm=1700, from_tip_mm=849).radius_mm == 1
    with pytest.raises(
        ValueError, match=r"tip 850 mm must be below the tip radius 850 mm$"
    ):
        track([0, 1], diameter_mm=1700, from_tip_mm=850)
    with pytest.raises(ValueError, match="from the tip -1 mm must not be negative"):
        track([0, 1], diameter_mm=1700, from_tip_mm=-1)
    with pytest.raises(ValueError, match="diameter 0 mm must be above 0 mm"):
        track([0, 1], diameter_mm=0, from_tip_mm=0)


@pytest.mark.parametrize("bad", [math.nan, math.inf])
def test_numbers_that_are_not_finite_are_refused(bad):
    with pytest.raises(ValueError, match=r"pointer reading .* is not a finite number"):
        at_the_tip([0, bad])
    with pytest.raises(ValueError, match=r"diameter .* is not a finite number"):
        track([0, 1], diameter_mm=bad, from_tip_mm=0)
    with pytest.raises(ValueError, match=r"from the tip .* is not a finite number"):
        track([0, 1], diameter_mm=1700, from_tip_mm=bad)
