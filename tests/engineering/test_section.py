"""Section thickness and area from template ordinates."""

import csv
import math
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import trapezoid

from records.engineering.quadrature import Quadrature
from records.engineering.section import carved_section, ordinates, thickness_ratio

# Clark Y: classical table from memory, confirmed by the UIUC Airfoil Coordinates
# Database (clarky.dat) after rotation to a flat lower surface. Their leading edges
# differ (3.50 against 3.73 %), so the check begins at 2.5 %.
TABLE = Path(__file__).resolve().parents[2] / "shared" / "clark_y_ordinates.csv"
TRAPEZOID, SIMPSON = Quadrature


def clark_y_rows():
    lines = TABLE.read_text().splitlines()
    rows = csv.DictReader(line for line in lines if not line.startswith("#"))
    return [{name: float(cell) for name, cell in row.items()} for row in rows]


def clark_y(upper, lower):
    rows = clark_y_rows()
    columns = ("station_pct", upper, lower)
    return ordinates(*([row[name] for row in rows] for name in columns))


CLASSICAL = clark_y("u_nac_mem", "l_nac_mem")
UIUC = clark_y("u_uiuc", "l_uiuc")
LENS = ordinates([0, 50, 100], [0, 12, 0], [0, 0, 0])


@pytest.mark.parametrize(
    ("station", "thickness_pct"),
    [
        # Clark Y thickness as printed (classical table, from memory).
        (2.5, 5.03),
        (5, 6.97),
        (10, 9.18),
        (20, 11.33),
        (30, 11.70),
        (40, 11.40),
        (50, 10.52),
        (60, 9.15),
        (70, 7.35),
        (80, 5.22),
        (90, 2.80),
    ],
)
@pytest.mark.parametrize("table", [CLASSICAL, UIUC], ids=["classical", "uiuc"])
def test_clark_y_thickness_agrees_between_both_tables(table, station, thickness_pct):
    result = carved_section(table, 100, TRAPEZOID)
    at = result.stations_mm.index(station)
    assert result.thickness_mm[at] == pytest.approx(thickness_pct, abs=0.03)


def test_clark_y_is_thickest_at_thirty_percent():
    assert thickness_ratio(CLASSICAL) == pytest.approx(0.117, rel=1e-12)
    result = carved_section(CLASSICAL, 150, SIMPSON)
    assert result.largest_thickness_mm == pytest.approx(17.55, rel=1e-12)
    assert result.largest_at_mm == pytest.approx(45, rel=1e-12)


def test_clark_y_scaled_to_another_thickness_ratio():
    # t = (t % / 100) c (ratio / 0.117)
    result = carved_section(CLASSICAL, 140, TRAPEZOID, design_ratio=0.09)
    for row, thickness in zip(clark_y_rows(), result.thickness_mm, strict=True):
        expected = row["thickness_mem"] / 100 * 140 * 0.09 / 0.117
        assert thickness == pytest.approx(expected, abs=1e-9)
    assert result.largest_thickness_mm == pytest.approx(0.09 * 140, rel=1e-12)


def test_clark_y_area_agrees_with_scipy():
    rows = clark_y_rows()
    expected = trapezoid(
        [row["thickness_mem"] for row in rows], x=[row["station_pct"] for row in rows]
    )
    result = carved_section(CLASSICAL, 200, TRAPEZOID)
    assert result.area_mm2 == pytest.approx(4 * expected, rel=1e-12)
    assert result.rule is TRAPEZOID


def test_area_under_a_parabola_is_two_thirds_of_its_box():
    result = carved_section(LENS, 100, SIMPSON)
    assert result.area_mm2 == pytest.approx(2 / 3 * 100 * 12, rel=1e-12)
    assert result.rule is SIMPSON


@given(st.floats(1, 1000), st.floats(0.1, 10))
def test_thickness_grows_with_the_chord_and_area_with_its_square(chord, factor):
    small = carved_section(CLASSICAL, chord, SIMPSON)
    large = carved_section(CLASSICAL, chord * factor, SIMPSON)
    expected = [factor * t for t in small.thickness_mm]
    assert large.thickness_mm == pytest.approx(expected, rel=1e-12)
    assert large.area_mm2 == pytest.approx(factor**2 * small.area_mm2, rel=1e-12)


@given(st.floats(-20, 20))
def test_moving_the_datum_changes_no_thickness(shift):
    stations, upper, lower = [0, 50, 100], [2, 12, 1], [1, 0, 0]
    moved = ordinates(stations, [u + shift for u in upper], [v + shift for v in lower])
    expected = carved_section(ordinates(stations, upper, lower), 100, TRAPEZOID)
    result = carved_section(moved, 100, TRAPEZOID)
    assert result.thickness_mm == pytest.approx(expected.thickness_mm, abs=1e-12)


def test_the_tables_own_ratio_changes_nothing():
    plain = carved_section(CLASSICAL, 130, SIMPSON)
    asked = carved_section(CLASSICAL, 130, SIMPSON, design_ratio=0.117)
    assert asked.thickness_mm == pytest.approx(plain.thickness_mm, rel=1e-12)


def test_the_first_of_equal_thicknesses_is_named():
    flat = ordinates([0, 20, 60, 100], [0, 10, 10, 0], [0, 0, 0, 0])
    assert carved_section(flat, 100, TRAPEZOID).largest_at_mm == 20


def test_edges_of_the_thickness_ratio():
    assert carved_section(
        LENS, 100, SIMPSON, design_ratio=1
    ).largest_thickness_mm == pytest.approx(100)
    with pytest.raises(ValueError, match=r"thickness ratio 1.01 is outside 0 to 1"):
        carved_section(LENS, 100, SIMPSON, design_ratio=1.01)
    with pytest.raises(ValueError, match="thickness ratio 0 must be above 0"):
        carved_section(LENS, 100, SIMPSON, design_ratio=0)
    with pytest.raises(ValueError, match="chord 0 mm must be above 0 mm"):
        carved_section(LENS, 0, SIMPSON)


def test_edges_of_the_stations():
    assert ordinates([0, 100], [1, 1], [0, 0]).stations_pct == (0, 100)
    with pytest.raises(ValueError, match="station -1 % is outside 0 to 100 %"):
        ordinates([-1, 100], [1, 1], [0, 0])
    with pytest.raises(ValueError, match="station 101 % is outside 0 to 100 %"):
        ordinates([0, 101], [1, 1], [0, 0])
    with pytest.raises(
        ValueError, match="ordinate stations must rise: 0 % follows 0 %"
    ):
        ordinates([0, 0], [1, 1], [0, 0])
    with pytest.raises(ValueError, match="ordinate stations: 1 given, at least 2"):
        ordinates([0], [1], [0])


@pytest.mark.parametrize(
    ("upper", "lower"), [([1], [0, 0]), ([1, 1], [0]), ([1, 1, 1], [0, 0, 0])]
)
def test_each_station_needs_both_ordinates(upper, lower):
    with pytest.raises(ValueError, match=f"2 stations, {len(upper)} upper and"):
        ordinates([0, 100], upper, lower)


def test_swapped_columns_are_noticed():
    with pytest.raises(
        ValueError, match=r"^at 2.5 % of the chord .* below the lower one: check"
    ):
        ordinates([0, 2.5, 100], [0, 0, 0], [0, 1, 0])


def test_a_section_without_thickness_is_refused():
    with pytest.raises(
        ValueError, match=r"^the section has no thickness at any station$"
    ):
        ordinates([0, 100], [1, 1], [1, 1])


@pytest.mark.parametrize("bad", [math.nan, math.inf])
def test_ordinates_that_are_not_finite_are_refused(bad):
    with pytest.raises(ValueError, match=r"ordinate .* is not a finite number"):
        ordinates([0, 100], [1, bad], [0, 0])
    with pytest.raises(ValueError, match=r"ordinate .* is not a finite number"):
        ordinates([0, 100], [1, 1], [0, bad])
