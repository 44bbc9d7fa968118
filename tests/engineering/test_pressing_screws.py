"""Pressure on the glue line from screws, with the friction it assumes."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from records.engineering.pressing_screws import (
    required_torque,
    screw_force,
    screw_pressure,
)
from records.engineering.units import from_si, to_si

TORQUES = st.floats(min_value=0.1, max_value=500)
DIAMETERS = st.floats(min_value=0.004, max_value=0.05)
FACTORS = st.floats(min_value=0.08, max_value=0.40)
AREAS = st.floats(min_value=0.01, max_value=5)


def test_torque_and_force_of_a_dry_screw():
    # T = K F d with K 0.20 (Shigley, from memory), by hand: 40 / (0.2 x 0.016).
    assert screw_force(40, 0.016, 0.20) == pytest.approx(12_500)
    assert screw_force(0, 0.016, 0.20) == 0


def test_oil_raises_the_force():
    assert screw_force(40, 0.016, 0.15) > screw_force(40, 0.016, 0.20)


def test_clamps_of_a_published_example():
    # Wood magazine, September 2021 (seen): 150 psi on 25 in2 is 3750 lbf, 468.75 lbf
    # on each of 8 clamps and 416.7 on each of 9.
    pressure, area = to_si(150.0, "psi"), to_si(25.0, "in2")
    assert from_si(pressure * area, "lbf") == pytest.approx(3750)
    for clamps, pounds, tolerance in ((8, 468.75, 1e-6), (9, 416.7, 0.05)):
        torque = required_torque(pressure, clamps, 0.016, 0.20, area)
        force = from_si(screw_force(torque, 0.016, 0.20), "lbf")
        assert force == pytest.approx(pounds, abs=tolerance)


@given(TORQUES, st.integers(1, 60), DIAMETERS, FACTORS, AREAS)
def test_torque_there_and_back(torque, screws, diameter, factor, area):
    pressure = screw_pressure(torque, screws, diameter, factor, area)
    assert pressure == pytest.approx(
        screws * screw_force(torque, diameter, factor) / area
    )
    assert required_torque(pressure, screws, diameter, factor, area) == pytest.approx(
        torque
    )


@pytest.mark.parametrize("factor", [0.08, 0.40])
def test_both_ends_of_the_friction_are_inside(factor):
    assert screw_force(40, 0.016, factor) == pytest.approx(40 / factor / 0.016)


@pytest.mark.parametrize(
    ("arguments", "why"),
    [
        ((-1, 0.016, 0.2), r"^torque -1 N\.m must not be negative$"),
        ((40, 0, 0.2), r"^thread diameter 0 m must be above 0 m$"),
        ((40, 0.016, 0.079), r"^nut factor 0\.079 is outside 0\.08 to 0\.4$"),
        ((40, 0.016, 0.401), r"^nut factor 0\.401 is outside 0\.08 to 0\.4$"),
        ((math.nan, 0.016, 0.2), r"^torque nan is not a finite number"),
    ],
)
def test_impossible_screws_are_refused(arguments, why):
    with pytest.raises(ValueError, match=why):
        screw_force(*arguments)


@pytest.mark.parametrize("screws", [0, 1001])
def test_a_press_has_screws(screws):
    assert screw_pressure(40, 1000, 0.016, 0.2, 1) == pytest.approx(12.5e6)
    assert screw_pressure(40, 1, 0.016, 0.2, 1) == pytest.approx(12.5e3)
    for function, first in ((screw_pressure, 40), (required_torque, 1e6)):
        with pytest.raises(
            ValueError, match=rf"^number of screws {screws} is outside 1 to 1000$"
        ):
            function(first, screws, 0.016, 0.2, 0.25)


def test_area_and_target_are_above_zero():
    with pytest.raises(ValueError, match=r"^glued area 0 m2 must be above 0 m2$"):
        screw_pressure(40, 20, 0.016, 0.2, 0)
    with pytest.raises(ValueError, match=r"^target pressure 0 Pa must be above 0 Pa$"):
        required_torque(0, 20, 0.016, 0.2, 0.25)
