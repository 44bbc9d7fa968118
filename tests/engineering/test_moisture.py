"""Moisture content and equilibrium against the Wood Handbook."""

import csv
import math
from pathlib import Path

import psychrolib
import pytest
from hypothesis import given
from hypothesis import strategies as st

from records.engineering.moisture import (
    equilibrium_content,
    equilibrium_content_fahrenheit,
    humidity_holding,
    moisture_content,
    moisture_spread,
)

TABLE = Path(__file__).resolve().parents[2] / "shared" / "emc_table_4_2.csv"
TEMPERATURES = st.floats(min_value=-1.1, max_value=132.2)
HUMIDITIES = st.floats(min_value=5, max_value=95)


def table_4_2():
    with TABLE.open() as lines:
        rows = list(csv.DictReader(row for row in lines if not row.startswith("#")))
    # The flagged cell replaces a misprint by the equation's own value: circular.
    return [row for row in rows if not row["flag"]]


# Definition (Wood Handbook eq. 4-2), computed by hand; 1e-9 by the formula.
@pytest.mark.parametrize(
    ("wet", "dry", "content"),
    [(1100, 1000, 10), (1150, 1000, 15), (2000, 1000, 100), (1000, 1000, 0)],
)
def test_oven_dry_content(wet, dry, content):
    assert moisture_content(wet, dry) == pytest.approx(content, abs=1e-9)


def test_oven_dry_content_to_the_printed_tenth():
    # check-values 2a: 54.36 g to 48.54 g is 11.99 %; half the last digit.
    assert moisture_content(54.36, 48.54) == pytest.approx(11.99, abs=0.005)


def test_wet_basis_is_not_meant():
    # 20 % of the wet mass is 25 % of the dry mass.
    assert moisture_content(100, 80) == pytest.approx(25)


@given(st.floats(1, 1e4), st.floats(0, 300), st.floats(0.01, 100))
def test_content_does_not_depend_on_the_unit_of_mass(dry, content, factor):
    wet = dry * (1 + content / 100)
    assert moisture_content(wet * factor, dry * factor) == pytest.approx(
        content, abs=1e-9, rel=1e-9
    )


def test_swapped_masses_are_noticed():
    with pytest.raises(
        ValueError,
        match=r"^mass before drying 48\.5 g is below the oven-dry mass 54 g; check",
    ):
        moisture_content(48.5, 54)


@pytest.mark.parametrize(
    ("wet", "dry", "why"),
    [
        (10, 0, "oven-dry mass 0 g must be above 0 g"),
        (10, -1, "oven-dry mass -1 g must be above 0 g"),
        (math.nan, 1, "mass before drying nan is not a finite number; enter a value"),
        (10, math.nan, "oven-dry mass nan is not a finite number; enter a value"),
        (math.inf, 1, "mass before drying inf is not a finite number; enter a value"),
    ],
)
def test_impossible_masses_are_refused(wet, dry, why):
    with pytest.raises(ValueError, match=f"^{why}$"):
        moisture_content(wet, dry)


def test_the_table_covers_six_temperatures_from_5_to_90_percent():
    cells = {(row["temp_f"], row["rh_pct"]) for row in table_4_2()}
    assert len(cells) == len(table_4_2()) == 104
    assert {f for f, _ in cells} == {"30", "50", "70", "90", "110", "130"}
    assert {int(h) for _, h in cells} == set(range(5, 91, 5))


# Wood Handbook Table 4-2 (FPL-GTR-190, 2010), seen as a full transcription. The print
# rounds to 0.1 %; the fair tolerance is 0.06 (Celsius) and 0.07 (Fahrenheit).
@pytest.mark.parametrize(
    "row", table_4_2(), ids=lambda r: f"{r['temp_f']}F-{r['rh_pct']}%"
)
def test_equilibrium_against_the_printed_table(row):
    fahrenheit, humidity = float(row["temp_f"]), float(row["rh_pct"])
    celsius = (fahrenheit - 32) / 1.8
    printed = float(row["emc_table_pct"])
    first = equilibrium_content(celsius, humidity)
    second = equilibrium_content_fahrenheit(fahrenheit, humidity)
    assert first == pytest.approx(printed, abs=0.06)
    assert second == pytest.approx(printed, abs=0.07)
    # Formula check, computed apart to four decimals.
    assert first == pytest.approx(float(row["emc_eqC"]), abs=6e-5)
    assert second == pytest.approx(float(row["emc_eqF"]), abs=6e-5)


# Wood Handbook Table 4-2 at 95 %, as listed in check-values section 1.
@pytest.mark.parametrize(("fahrenheit", "printed"), [(70, 23.9), (30, 24.3)])
def test_equilibrium_at_the_damp_end_of_the_table(fahrenheit, printed):
    celsius = (fahrenheit - 32) / 1.8
    assert equilibrium_content(celsius, 95) == pytest.approx(printed, abs=0.06)
    assert equilibrium_content_fahrenheit(fahrenheit, 95) == pytest.approx(
        printed, abs=0.07
    )


# check-values section 1: eq. 4-5, Celsius form at 20 degC, computed to four decimals.
@pytest.mark.parametrize(
    ("humidity", "content"),
    [(50, 9.2711), (65, 11.9963), (75, 14.4509), (85, 18.0024), (95, 23.9415)],
)
def test_equilibrium_at_twenty_degrees(humidity, content):
    assert equilibrium_content(20, humidity) == pytest.approx(content, abs=6e-5)


@given(st.floats(30, 130), HUMIDITIES)
def test_the_two_forms_agree(fahrenheit, humidity):
    # They differ by up to 0.011 on the grid of Table 4-2.
    celsius = (fahrenheit - 32) / 1.8
    assert equilibrium_content(celsius, humidity) == pytest.approx(
        equilibrium_content_fahrenheit(fahrenheit, humidity), abs=0.0125
    )


@given(TEMPERATURES, HUMIDITIES, st.floats(min_value=0.01, max_value=10))
def test_content_rises_with_humidity(celsius, humidity, more):
    wetter = min(humidity + more, 95)
    if wetter - humidity > 1e-9:  # less is lost in the last digit of the content
        assert equilibrium_content(celsius, wetter) > equilibrium_content(
            celsius, humidity
        )


@given(TEMPERATURES, HUMIDITIES)
def test_the_inverse_returns(celsius, humidity):
    content = equilibrium_content(celsius, humidity)
    assert humidity_holding(content, celsius) == pytest.approx(humidity, abs=1e-9)


@pytest.mark.parametrize("humidity", [5, 95])
def test_the_edges_of_the_inverse(humidity):
    content = equilibrium_content(20, humidity)
    assert humidity_holding(content, 20) == pytest.approx(humidity, abs=1e-12)
    outward = content + math.copysign(1e-6, humidity - 50)
    with pytest.raises(
        ValueError,
        match=r"^moisture content at 20 degC [\d.]+ % is outside 1\.30572 to 23\.9",
    ):
        humidity_holding(outward, 20)


@pytest.mark.parametrize("humidity", [5, 95])
@pytest.mark.parametrize("fahrenheit", [30, 270])
def test_the_edges_of_the_range_are_inside(fahrenheit, humidity):
    celsius = (fahrenheit - 32) / 1.8
    assert equilibrium_content_fahrenheit(fahrenheit, humidity) > 0
    assert equilibrium_content(celsius, humidity) > 0


@pytest.mark.parametrize("humidity", [4.9, 95.1, 0.5, 105, -1])
@pytest.mark.parametrize("form", [equilibrium_content, equilibrium_content_fahrenheit])
def test_humidity_outside_the_range_is_refused(form, humidity):
    with pytest.raises(
        ValueError, match=rf"^relative humidity {humidity} % is outside 5 to 95 %$"
    ):
        form(70, humidity)


@pytest.mark.parametrize("celsius", [-1.2, 132.3, math.nan, math.inf])
def test_celsius_outside_the_range_is_refused(celsius):
    with pytest.raises(
        ValueError, match=r"^temperature .*(-1\.11111 to 132\.222 degC|not a finite)"
    ):
        equilibrium_content(celsius, 50)
    with pytest.raises(ValueError, match=r"^temperature"):
        humidity_holding(9, celsius)


@pytest.mark.parametrize("fahrenheit", [29.9, 270.1])
def test_fahrenheit_outside_the_range_is_refused(fahrenheit):
    with pytest.raises(
        ValueError, match=rf"^temperature {fahrenheit} degF is outside 30 to 270 degF$"
    ):
        equilibrium_content_fahrenheit(fahrenheit, 50)


def test_humidity_from_wet_bulb_leads_to_the_same_equilibrium():
    # PsychroLib 2.5.0 (ASHRAE 2017): 70 degF dry, 58.45 degF wet bulb is 50 % RH, where
    # Table 4-2 prints 9.2 %. Fahrenheit is turned by hand: its units are a global.
    psychrolib.SetUnitSystem(psychrolib.SI)
    dry, wet = (70 - 32) / 1.8, (58.45 - 32) / 1.8
    humidity = 100 * psychrolib.GetRelHumFromTWetBulb(dry, wet, 101325)
    assert equilibrium_content(dry, humidity) == pytest.approx(9.2, abs=0.06)
    held = humidity_holding(9.246, dry)
    assert psychrolib.GetTWetBulbFromRelHum(dry, held / 100, 101325) == pytest.approx(
        wet, abs=0.05
    )


@pytest.mark.parametrize(
    ("contents", "spread"), [([8.5, 9.1, 10.0], 1.5), ([9.3], 0), ([8, 8, 8], 0)]
)
def test_spread(contents, spread):
    assert moisture_spread(contents) == pytest.approx(spread)


@given(st.lists(st.floats(0, 200), min_size=1), st.randoms())
def test_spread_does_not_depend_on_order(contents, random):
    shuffled = random.sample(contents, len(contents))
    assert moisture_spread(shuffled) == moisture_spread(contents) >= 0


@pytest.mark.parametrize(
    ("contents", "why"),
    [
        ([], "^moisture contents: 0 given, at least 1 needed$"),
        ([8, -0.1], r"^moisture content -0\.1 % must not be negative$"),
        ([8, math.nan], "^moisture content nan is not a finite number"),
    ],
)
def test_spread_refuses(contents, why):
    with pytest.raises(ValueError, match=why):
        moisture_spread(contents)
