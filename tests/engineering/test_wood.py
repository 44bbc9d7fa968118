"""Slope of grain and strength against the Wood Handbook."""

import csv
import math
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from records.engineering.wood import (
    combined_slope,
    slope_angle,
    slope_run,
    strength_at_content,
    strength_at_slope,
)

SHARED = Path(__file__).resolve().parents[2] / "shared"
RUNS = st.floats(min_value=0.5, max_value=200)
ANGLES = st.floats(min_value=0, max_value=90)


def slopes():
    with (SHARED / "slope_of_grain.csv").open() as lines:
        return list(csv.DictReader(row for row in lines if not row.startswith("#")))


@pytest.mark.parametrize("row", slopes(), ids=lambda row: f"1in{row['slope_1_in']}")
def test_slope_and_strength_of_the_reference_table(row):
    # shared/slope_of_grain.csv; Hankinson columns computed with the parameters that
    # the handbook's text names (p. 5-31, seen). Half the last digit.
    angle = slope_angle(float(row["slope_1_in"]))
    assert angle == pytest.approx(float(row["angle_deg"]), abs=5e-4)
    for column, across, exponent in (
        ("mor_hankinson", 10, 1.5),
        ("impact_hankinson", 5, 1.5),
        ("cpar_hankinson", 10, 2.5),
    ):
        assert strength_at_slope(100, across, angle, exponent) == pytest.approx(
            float(row[column]), abs=0.051
        )
    # Table 5-12 itself, from memory: the curve is a fit, up to 5 points away.
    assert strength_at_slope(100, 10, angle, 1.5) == pytest.approx(
        float(row["mor_pct_mem"]), abs=5
    )


def test_the_handbook_s_one_in_twelve():
    # check-values 4: 4.764 deg.
    assert slope_angle(12) == pytest.approx(4.764, abs=5e-4)
    assert slope_angle(1) == pytest.approx(45)


@given(RUNS)
def test_slope_there_and_back(run):
    assert slope_run(slope_angle(run)) == pytest.approx(run, rel=1e-9)


def test_two_slopes_combine_as_the_handbook_says():
    # Wood Handbook p. 5-31 (seen; the 16 from memory): printed as 1 in 10.
    assert combined_slope(12, 16) == pytest.approx(9.6)
    assert round(combined_slope(12, 16)) == 10


@given(RUNS, RUNS)
def test_the_combined_slope_is_symmetric_and_steeper(a, b):
    assert combined_slope(a, b) == pytest.approx(combined_slope(b, a))
    assert combined_slope(a, b) <= min(a, b)
    assert combined_slope(a, b) >= min(a, b) / math.sqrt(2) * (1 - 1e-12)


@pytest.mark.parametrize("run", [0, -12, math.nan, math.inf])
def test_impossible_runs_are_refused(run):
    for refuse in (
        lambda: slope_angle(run),
        lambda: combined_slope(run, 12),
        lambda: combined_slope(12, run),
    ):
        with pytest.raises(
            ValueError, match=r"^slope of grain, run .*(must be above 0|enter a value)$"
        ):
            refuse()


@pytest.mark.parametrize("angle", [0, 90, -1, 91])
def test_straight_grain_has_no_run(angle):
    with pytest.raises(
        ValueError, match=rf"^angle of grain {angle} deg must be .* no run$"
    ):
        slope_run(angle)


def test_nan_angle_is_refused():
    with pytest.raises(ValueError, match=r"^angle of grain nan is not a finite"):
        slope_run(math.nan)


# check-values 4, Hankinson's formula with n = 2, computed; tolerance 1e-3 of print.
@pytest.mark.parametrize(
    ("along", "across", "angle", "strength", "tolerance"),
    [
        (40, 8, 15, 31.547, 1e-3),
        (40, 8, 30, 20.000, 1e-3),
        (40, 8, 45, 13.333, 1e-3),
        (40, 8, 60, 10.000, 1e-3),
        (40, 8, 90, 8.000, 1e-3),
        (1450, 235, 30, 632.5, 0.05),
        (1450, 235, 45, 404.5, 0.05),
    ],
)
def test_hankinson(along, across, angle, strength, tolerance):
    assert strength_at_slope(along, across, angle) == pytest.approx(
        strength, abs=tolerance
    )


@given(st.floats(1, 100), st.floats(1, 100), st.floats(1.5, 2.5))
def test_hankinson_ends_at_the_two_strengths(along, across, exponent):
    assert strength_at_slope(along, across, 0, exponent) == pytest.approx(along)
    assert strength_at_slope(along, across, 90, exponent) == pytest.approx(across)


@given(ANGLES, ANGLES, st.floats(1.5, 2))
def test_strength_falls_with_the_slope(a, b, exponent):
    # Above 2 the formula itself rises a trifle at the smallest angles.
    low, high = sorted((a, b))
    weak = strength_at_slope(40, 8, high, exponent)
    assert weak <= strength_at_slope(40, 8, low, exponent) * (1 + 1e-12)


@given(ANGLES, st.floats(0.001, 1000))
def test_strength_keeps_its_unit(angle, factor):
    assert strength_at_slope(40 * factor, 8 * factor, angle) == pytest.approx(
        factor * strength_at_slope(40, 8, angle)
    )


@pytest.mark.parametrize(
    ("arguments", "why"),
    [
        ((0, 8, 30), "^strength along the grain 0 must be above 0$"),
        ((40, -8, 30), "^strength across the grain -8 must be above 0$"),
        ((40, 8, -0.1), r"^angle to the grain -0\.1 deg is outside 0 to 90 deg$"),
        ((40, 8, 90.1), r"^angle to the grain 90\.1 deg is outside 0 to 90 deg$"),
        ((40, 8, 30, 1.49), r"^exponent 1\.49 is outside 1\.5 to 2\.5$"),
        ((40, 8, 30, 2.51), r"^exponent 2\.51 is outside 1\.5 to 2\.5$"),
        ((40, 8, math.nan), "^angle to the grain nan is not a finite"),
    ],
)
def test_hankinson_refuses(arguments, why):
    with pytest.raises(ValueError, match=why):
        strength_at_slope(*arguments)


def test_strength_of_the_worked_example():
    # Wood Handbook eq. 5-3 (seen): white ash at 8 %, printed 119 500 kPa; formula
    # 119 472.6. Tolerance 50 kPa of the print.
    strength = strength_at_content(103_000, 66_000, 24, 8)
    assert strength == pytest.approx(119_500, abs=50)
    assert strength == pytest.approx(119_472.6, abs=0.05)


@given(st.floats(1, 100), st.floats(1, 100), st.floats(20, 30))
def test_strength_meets_the_table_and_the_green_wood(dry, green, intersection):
    assert strength_at_content(dry, green, intersection, 12) == pytest.approx(dry)
    assert strength_at_content(dry, green, intersection, intersection) == (
        pytest.approx(green)
    )


@pytest.mark.parametrize("moisture", [7.9, 25.1])
def test_content_outside_the_formula_is_refused(moisture):
    with pytest.raises(
        ValueError, match=rf"^moisture content {moisture} % is outside 8 to 25 %$"
    ):
        strength_at_content(100, 60, 25, moisture)


@pytest.mark.parametrize(
    ("arguments", "why"),
    [
        ((0, 60, 25, 12), "^strength at 12 % moisture content 0 must be above 0$"),
        ((100, 0, 25, 12), "^green strength 0 must be above 0$"),
        ((100, 60, 19.9, 12), r"^intersection moisture content 19\.9 % is outside 20"),
        ((100, 60, 30.1, 12), r"^intersection moisture content 30\.1 % is outside 20"),
    ],
)
def test_strength_at_content_refuses(arguments, why):
    with pytest.raises(ValueError, match=why):
        strength_at_content(*arguments)


@pytest.mark.parametrize("edge", [8, 20])
def test_both_ends_of_the_content_are_inside(edge):
    assert strength_at_content(100, 60, 20, edge) > 0
    assert strength_at_content(100, 60, 30, edge) > 0
