"""Both unit systems, digits kept as read, computed figures rounded."""

from decimal import Decimal

import pytest

from records.engineering.unit_table import UNITS
from records.spelling import quantities as q
from records.spelling.units import partner


# NIST SP 811 (2008), appendix B.8: 1 in = 25.4 mm exactly.
def test_length_in_both_systems():
    assert q.length(Decimal("25.40")) == "25.4\xa0mm (1.000\xa0in)"


# NIST SP 811 (2008), appendix B.8: 1 psi = 6.894 757 E+03 Pa.
def test_pressure_in_both_systems():
    assert q.pressure(1034213.6) == "1.03\xa0MPa (150\xa0psi)"


# NIST SP 811 (2008), appendix B.8: 1 lbf ft = 1.355 818 N m.
def test_torque_in_both_systems():
    assert q.torque(27.116) == "27.1\xa0N·m (20.0\xa0lbf·ft)"


# NIST SP 811 (2008), appendix B.8: 1 oz = 28.349 52 g; 1 lb = 453.592 37 g.
def test_mass_in_ounces_and_from_a_kilogram_in_pounds():
    assert q.mass(Decimal("283.4952")) == "283.4952\xa0g (10.00\xa0oz)"
    assert q.mass(Decimal(3150)) == "3150\xa0g (6.94\xa0lb)"


# 1 oz in = 28.349 523 125 g times 25.4 mm, both exact in NIST SP 811.
def test_unbalance_in_both_systems():
    assert q.unbalance(Decimal("720.08")) == "720.08\xa0g·mm (1.00\xa0oz·in)"


# NIST SP 811 (2008), appendix B.9: t/°F = 1.8 t/°C + 32.
def test_temperature_in_both_systems():
    assert q.temperature(Decimal("21")) == "21\xa0°C (69.8\xa0°F)"
    assert q.temperature(-40.0) == "\N{MINUS SIGN}40.0\xa0°C (\N{MINUS SIGN}40.0\xa0°F)"


def test_inch_first_where_the_shop_wants_it():
    assert q.length(Decimal("25.4"), "inch") == "1.000\xa0in (25.4\xa0mm)"
    with q.units_first(lambda: "inch"):
        assert q.length(Decimal("25.4")) == "1.000\xa0in (25.4\xa0mm)"
        assert q.both(Decimal("80"), "psi") == "80\xa0psi (552\xa0kPa)"
        assert q.length(Decimal("25.4"), "metric") == "25.4\xa0mm (1.000\xa0in)"
    assert q.both(Decimal("80"), "psi") == "552\xa0kPa (80\xa0psi)"


def test_nothing_is_a_dash_everywhere():
    for spell in (q.length, q.pressure, q.torque, q.mass, q.unbalance, q.temperature):
        assert spell(None) == "\N{EN DASH}"
    assert q.both(None, "mm") == q.in_unit(None, "mm") == "\N{EN DASH}"


@pytest.mark.parametrize("value", [1124779.23575625, Decimal("1124779.23575625")])
def test_no_pressure_is_ever_spelled_in_bare_pascals(value):
    assert q.in_unit(value, "Pa") == "1.12\xa0MPa"
    assert q.both(value, "Pa") == "1.12\xa0MPa (163\xa0psi)"
    assert q.both(value / 1000, "kPa") == "1.12\xa0MPa (163\xa0psi)"


def test_a_unit_is_bound_to_its_number():
    for unit in sorted(set(UNITS) - {"1", "deg"}):
        shown = q.in_unit(Decimal("10.5"), unit)
        assert " " not in shown.replace("board ft", "").replace("lb/1000 ft²", "")
        assert "\xa0" in shown
    assert q.in_unit(Decimal("16.82"), "deg") == "16.82°"


@pytest.mark.parametrize("unit", sorted(set(UNITS) - {"Pa", "kPa"}))
def test_every_unit_of_the_table_can_be_spelled(unit):
    shown = q.both(Decimal("10.5"), unit)
    assert "10.5" in shown
    assert ("(" in shown) == (partner(unit) is not None)
