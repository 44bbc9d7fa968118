"""What a press gauge shows, as pressure at the glue line."""

from decimal import Decimal

import pytest

from records.models import Press, PressLoad
from records.rules.pressing.glue_line import glue_line_pressure, shown_by

PSI = 6894.757
IN2 = Decimal("645.16")


def load(area_mm2, **press):
    return PressLoad(glued_area_mm2=area_mm2, press=Press(**press))


@pytest.mark.parametrize(
    ("gauge_psi", "rams", "bore_in", "area", "expected_psi"),
    [
        # p = P n (pi/4) d2 / A, closed form (check values, tolerance 0.1 %).
        (1000, 4, "3", (72, 6), 65.450),
        (600, 6, "2.5", (80, 7), 31.556),
        (2000, 3, "2", (60, Decimal("5.5")), 57.120),
    ],
)
def test_rams_press_by_their_bores_over_the_glued_area(
    gauge_psi, rams, bore_in, area, expected_psi
):
    bore = Decimal(bore_in) * Decimal("25.4")
    press = load(area[0] * area[1] * IN2, kind="rams", rams=rams, bore_mm=bore)
    findings = glue_line_pressure(press, gauge_psi * PSI)
    assert findings / PSI == pytest.approx(expected_psi, rel=1e-3)


def test_a_bag_presses_by_the_area_under_it():
    # Definition of pressure: 80 kPa on 1.25 times the glued area is 100 kPa.
    bag = load(240_000, kind="bag", bag_area_ratio=Decimal("1.25"))
    assert glue_line_pressure(bag, 80e3) == pytest.approx(100e3)


def test_screws_press_by_their_torque():
    # F = T / (K d) = 90 / (0.2 x 0.020) = 22 500 N a screw; 12 of them on 0.27 m2.
    screws = load(
        270_000,
        kind="screws",
        rams=12,
        bore_mm=Decimal(20),
        nut_factor=Decimal("0.2"),
    )
    assert glue_line_pressure(screws, 90) == pytest.approx(1.0e6)


@pytest.mark.parametrize(
    ("kind", "quantity"),
    [("rams", "pressure"), ("bag", "pressure"), ("screws", "torque")],
)
def test_each_press_shows_its_quantity(kind, quantity):
    assert shown_by(Press(kind=kind)) == quantity


def test_what_can_not_be_is_said():
    with pytest.raises(ValueError, match="pressure"):
        glue_line_pressure(load(270_000, kind="rams", rams=4, bore_mm=75), -1.0)
