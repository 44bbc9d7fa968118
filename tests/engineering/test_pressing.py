"""Pressure on the glue line, from hydraulic rams and from a bag."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from records.engineering.pressing import (
    bag_pressure,
    hold_time,
    longest_below,
    lowest,
    ram_pressure,
    required_gauge_pressure,
)
from records.engineering.units import from_si, to_si

INCH = 0.0254
PRESSURES = st.floats(min_value=1e3, max_value=5e7)
AREAS = st.floats(min_value=0.01, max_value=5)
BORES = st.floats(min_value=0.01, max_value=0.3)
RAMS = st.integers(1, 40)


# check-values 5, p = p_gauge n (pi/4) d^2 / A, computed; 0.1 % asked, print held.
@pytest.mark.parametrize(
    ("gauge_psi", "rams", "bore_in", "area_in2", "psi"),
    [
        (1000, 4, 3, 72 * 6, 65.450),
        (600, 6, 2.5, 80 * 7, 31.556),
        (2000, 3, 2, 60 * 5.5, 57.120),
    ],
)
def test_rams_in_inches(gauge_psi, rams, bore_in, area_in2, psi):
    result = ram_pressure(
        to_si(gauge_psi, "psi"), rams, bore_in * INCH, to_si(area_in2, "in2")
    )
    assert from_si(result, "psi") == pytest.approx(psi, abs=5e-4)


def test_rams_in_millimetres():
    # check-values 5: 4 x 63 mm at 10 MPa on 1830 x 152 mm is .44827 MPa.
    result = ram_pressure(10e6, 4, 0.063, 1.830 * 0.152)
    assert result == pytest.approx(0.44827e6, abs=5)
    first = ram_pressure(to_si(1000.0, "psi"), 4, 3 * INCH, 72 * 6 * INCH**2)
    assert first == pytest.approx(0.45126e6, abs=5)


def test_required_gauge_pressure_of_the_first_row():
    # check-values 5: 175 psi asks 2673.80 psi on the gauge.
    result = required_gauge_pressure(
        to_si(175.0, "psi"), 4, 3 * INCH, to_si(72.0 * 6, "in2")
    )
    assert from_si(result, "psi") == pytest.approx(2673.80, abs=0.005)


# AC 43.13-1B, 1-10 (seen), for resorcinol: 125-150 psi on softwood, .862-1.034 MPa,
# 150-200 psi on hardwood, 1.034-1.379 MPa. Half the last digit.
@pytest.mark.parametrize(
    ("psi", "megapascal"), [(125, 0.862), (150, 1.034), (200, 1.379)]
)
def test_the_published_ranges_in_both_units(psi, megapascal):
    gauge = required_gauge_pressure(megapascal * 1e6, 4, 0.063, 0.28)
    assert from_si(ram_pressure(gauge, 4, 0.063, 0.28), "psi") == pytest.approx(
        psi, abs=0.08
    )


@given(PRESSURES, RAMS, BORES, AREAS, st.floats(-1000, 1000))
def test_required_pressure_there_and_back(target, rams, bore, area, added):
    if target * area < added:
        return
    gauge = required_gauge_pressure(target, rams, bore, area, added)
    result = ram_pressure(gauge, rams, bore, area, added)
    assert result == pytest.approx(target, rel=1e-6)


@given(PRESSURES, RAMS, BORES, AREAS)
def test_pressure_is_force_over_area(gauge, rams, bore, area):
    one = ram_pressure(gauge, 1, bore, area)
    assert ram_pressure(gauge, rams, bore, area) == pytest.approx(rams * one)
    assert ram_pressure(gauge, 1, 2 * bore, area) == pytest.approx(4 * one)
    assert ram_pressure(gauge, 1, bore, 2 * area) == pytest.approx(one / 2)
    assert ram_pressure(2 * gauge, 1, bore, area) == pytest.approx(2 * one)


def test_a_platen_adds_its_weight_and_a_spring_takes_away():
    plain = ram_pressure(1e6, 2, 0.1, 0.5)
    assert ram_pressure(1e6, 2, 0.1, 0.5, 500) == pytest.approx(plain + 1000)
    assert ram_pressure(1e6, 2, 0.1, 0.5, -500) == pytest.approx(plain - 1000)
    assert ram_pressure(0, 2, 0.1, 0.5) == 0
    assert required_gauge_pressure(1000, 2, 0.1, 0.5, 500) == 0
    assert required_gauge_pressure(1e6, 2, 0.1, 0.5) == required_gauge_pressure(
        1e6, 2, 0.1, 0.5, 0
    )


def test_a_spring_stronger_than_the_rams_is_refused():
    with pytest.raises(
        ValueError,
        match=r"^added force -20000 N is more than the 15708 N of the rams; the press",
    ):
        ram_pressure(1e6, 2, 0.1, 0.5, -20000)


def test_a_platen_heavier_than_the_pressure_wanted_is_refused():
    with pytest.raises(
        ValueError,
        match=r"^added force 501 N alone is more than the 500 N wanted; lighten the pl",
    ):
        required_gauge_pressure(1000, 2, 0.1, 0.5, 501)


@pytest.mark.parametrize(
    ("arguments", "why"),
    [
        ((-1, 2, 0.1, 0.5), r"^gauge pressure -1 Pa must not be negative$"),
        ((1e6, 0, 0.1, 0.5), r"^number of rams 0 is outside 1 to 1000$"),
        ((1e6, 1001, 0.1, 0.5), r"^number of rams 1001 is outside 1 to 1000$"),
        ((1e6, 2, 0, 0.5), r"^bore of a ram 0 m must be above 0 m$"),
        ((1e6, 2, 0.1, 0), r"^glued area 0 m2 must be above 0 m2$"),
        ((math.nan, 2, 0.1, 0.5), r"^gauge pressure nan is not a finite number"),
        ((1e6, 2, 0.1, 0.5, math.inf), r"^added force inf is not a finite number"),
    ],
)
def test_impossible_presses_are_refused(arguments, why):
    with pytest.raises(ValueError, match=why):
        ram_pressure(*arguments)


@pytest.mark.parametrize(
    ("arguments", "why"),
    [
        ((0, 2, 0.1, 0.5), r"^target pressure 0 Pa must be above 0 Pa$"),
        ((1e6, 2, 0.1, 0), r"^glued area 0 m2 must be above 0 m2$"),
        ((1e6, 0, 0.1, 0.5), r"^number of rams 0 is outside 1 to 1000$"),
        ((1e6, 2, 0.1, 0.5, math.nan), r"^added force nan is not a finite number"),
    ],
)
def test_impossible_targets_are_refused(arguments, why):
    with pytest.raises(ValueError, match=why):
        required_gauge_pressure(*arguments)


def test_any_number_of_rams_up_to_a_thousand():
    assert ram_pressure(1e6, 1000, 0.1, 0.5) == pytest.approx(
        1000 * ram_pressure(1e6, 1, 0.1, 0.5)
    )


def test_a_bag_presses_by_its_area():
    assert bag_pressure(80e3, 0.30, 0.24) == pytest.approx(100e3)
    assert bag_pressure(0, 0.30, 0.24) == 0


def test_a_bag_on_its_own_area_stays_below_one_atmosphere():
    # 14.7 psi against the 125 psi that AC 43.13-1B, 1-10 asks at least (seen).
    most = bag_pressure(101_325, 0.25, 0.25)
    assert from_si(most, "psi") == pytest.approx(14.696, abs=5e-4)


@pytest.mark.parametrize("air", [50_000, 110_000])
def test_the_air_around_is_the_most_that_a_bag_gives(air):
    assert bag_pressure(air, 1, 1, air) == air
    with pytest.raises(
        ValueError, match=rf"^vacuum {air + 1} Pa is outside 0 to {air} Pa$"
    ):
        bag_pressure(air + 1, 1, 1, air)


@pytest.mark.parametrize(
    ("arguments", "why"),
    [
        ((-1, 1, 1), r"^vacuum -1 Pa is outside 0 to 101325 Pa$"),
        ((101326, 1, 1), r"^vacuum 101326 Pa is outside 0 to 101325 Pa$"),
        ((8e4, 0, 1), r"^area under the bag 0 m2 must be above 0 m2$"),
        ((8e4, 1, 0), r"^glued area 0 m2 must be above 0 m2$"),
        ((8e4, 1, 1, 49_999), r"^pressure of the air 49999 Pa is outside 50000 to"),
        ((8e4, 1, 1, 110_001), r"^pressure of the air 110001 Pa is outside 50000 "),
    ],
)
def test_impossible_bags_are_refused(arguments, why):
    with pytest.raises(ValueError, match=why):
        bag_pressure(*arguments)


def test_eighty_psi_for_fourteen_hours():
    # Common practice, no source: 80 psi held 14 hours is 0.5516 MPa for 50 400 s.
    pressure = to_si(80.0, "psi")
    assert pressure == pytest.approx(0.5516e6, abs=50)
    load = [(to_si(hour, "h"), pressure) for hour in range(15)]
    assert hold_time(load, pressure) == 50_400
    assert longest_below(load, pressure) == 0
    assert lowest(load) == pressure


def test_a_leak_in_the_night():
    # A pressure loss from the third hour, noticed and pumped up in the fifth.
    pascal = [560e3, 558e3, 555e3, 540e3, 502e3, 560e3, 559e3]
    load = [(3600.0 * hour, pressure) for hour, pressure in enumerate(pascal)]
    assert lowest(load) == 502e3
    assert longest_below(load, 551.6e3) == 3 * 3600
    assert hold_time(load, 551.6e3) == 3 * 3600


def test_the_longest_of_several_dips_is_found():
    load = [(0, 9), (10, 5), (20, 9), (30, 5), (60, 5), (70, 9), (75, 5), (80, 9)]
    assert longest_below(load, 8) == 50


@given(st.lists(st.floats(0, 1e6), min_size=1, max_size=30), st.floats(1, 1e6))
def test_a_load_is_held_or_below_at_any_time(pressures, minimum):
    load = [(60.0 * number, pressure) for number, pressure in enumerate(pressures)]
    held, below = hold_time(load, minimum), longest_below(load, minimum)
    assert held + below <= load[-1][0]
    if lowest(load) >= minimum:
        assert (held, below) == (load[-1][0], 0)
    else:
        assert held < load[-1][0] or len(load) == 1


@pytest.mark.parametrize(
    ("samples", "why"),
    [
        ([], r"^samples of pressure: 0 given, at least 1 needed$"),
        ([(0, -1)], r"^pressure -1 Pa must not be negative$"),
        ([(0, math.nan)], r"^pressure nan is not a finite number"),
        ([(5, 1), (4, 1)], r"^sample 2 of pressure at 4 s is earlier"),
    ],
)
def test_a_bad_load_is_refused(samples, why):
    for function in (
        lowest,
        lambda load: longest_below(load, 1),
        lambda load: hold_time(load, 1),
    ):
        with pytest.raises(ValueError, match=why):
            function(samples)


@pytest.mark.parametrize("function", [longest_below, hold_time])
@pytest.mark.parametrize("minimum", [0, -1, math.nan])
def test_the_least_pressure_is_above_zero(function, minimum):
    with pytest.raises(
        ValueError,
        match=r"^least pressure (.* Pa must be above 0 Pa|nan is not a f.*)$",
    ):
        function([(0, 1)], minimum)
