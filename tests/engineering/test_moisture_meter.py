"""A pin meter's reading corrected by the shop's tables.

The tables are made up: a meter's maker prints its own.
"""

import math

import pytest
import scipy.interpolate
from hypothesis import given
from hypothesis import strategies as st

from records.engineering.moisture_meter import (
    meter_content,
    species_corrected,
    temperature_corrected,
)

SPECIES = [(6.0, 5.4), (10.0, 9.2), (20.0, 19.4)]
READINGS = (6.0, 12.0, 24.0)
CORRECTED = {0.0: (8.0, 15.0, 29.0), 20.0: (6.0, 12.0, 24.0), 40.0: (4.5, 9.5, 20.0)}
TEMPERATURE = [
    (celsius, list(zip(READINGS, row, strict=True)))
    for celsius, row in CORRECTED.items()
]


def test_species_table_at_and_between_its_points():
    assert species_corrected(10, SPECIES) == 9.2
    assert species_corrected(15, SPECIES) == pytest.approx(14.3)


@pytest.mark.parametrize("reading", [5.9, 20.1])
def test_a_reading_outside_the_species_table_is_refused(reading):
    with pytest.raises(
        ValueError, match=rf"^meter reading {reading} % is outside 6 to 20 %$"
    ):
        species_corrected(reading, SPECIES)


@given(st.floats(6, 24), st.floats(0, 40))
def test_temperature_table_agrees_with_scipy(reading, celsius):
    grid = scipy.interpolate.RegularGridInterpolator(
        (list(CORRECTED), READINGS), list(CORRECTED.values())
    )
    assert temperature_corrected(reading, celsius, TEMPERATURE) == pytest.approx(
        float(grid((celsius, reading))), rel=1e-9
    )


def test_at_the_calibration_temperature_nothing_changes():
    assert temperature_corrected(11.3, 20, TEMPERATURE) == pytest.approx(11.3)


def test_cold_wood_reads_low():
    # Wood conducts less when cold (common practice, no source at hand).
    assert temperature_corrected(10, 10, TEMPERATURE) > 10
    assert temperature_corrected(10, 30, TEMPERATURE) < 10


@pytest.mark.parametrize("celsius", [-0.1, 40.1])
def test_a_temperature_outside_the_table_is_refused(celsius):
    with pytest.raises(
        ValueError, match=r"^wood temperature [-\d.]+ degC is outside (0|40) to (0|40) "
    ):
        temperature_corrected(10, celsius, TEMPERATURE)


def test_only_the_rows_that_the_temperature_touches_need_hold_the_reading():
    table = [(10, [(6, 7), (30, 33)]), (20, [(6, 6), (12, 12)]), (30, [(6, 5), (9, 8)])]
    assert temperature_corrected(30, 10, table) == 33
    assert temperature_corrected(12, 15, table) == pytest.approx((13.5 + 12) / 2)
    with pytest.raises(ValueError, match="is outside 6 to 12 %"):
        temperature_corrected(13, 15, table)


@pytest.mark.parametrize(
    ("table", "why"),
    [
        ([], "^temperatures in the meter's table: 0 given, at least 1 needed$"),
        (TEMPERATURE[::-1], "^temperatures in the meter's table must rise: 20 degC"),
        ([(20, [])], "^points in the table of meter reading: 0 given"),
    ],
)
def test_a_bad_temperature_table_is_refused(table, why):
    with pytest.raises(ValueError, match=why):
        temperature_corrected(10, 20, table)


@pytest.mark.parametrize(("reading", "celsius"), [(math.nan, 20), (10, math.nan)])
def test_nan_is_refused(reading, celsius):
    with pytest.raises(
        ValueError, match=r"^(meter reading|wood temperature) nan is not"
    ):
        temperature_corrected(reading, celsius, TEMPERATURE)


def test_temperature_comes_before_species():
    warmed = temperature_corrected(10, 10, TEMPERATURE)
    assert meter_content(10, 10, TEMPERATURE, SPECIES) == pytest.approx(
        species_corrected(warmed, SPECIES)
    )
    first_species = species_corrected(10, SPECIES)
    assert meter_content(10, 10, TEMPERATURE, SPECIES) != pytest.approx(
        temperature_corrected(first_species, 10, TEMPERATURE), abs=1e-3
    )
