"""Both unit systems, digits kept as read, computed figures rounded."""

import datetime as dt
from decimal import Decimal

import pytest
from django.template import Context, Template

from records.engineering.unit_table import UNITS
from records.templatetags import quantities as q


# NIST SP 811 (2008), appendix B.8: 1 in = 25.4 mm exactly.
def test_length_in_both_systems():
    assert q.length(Decimal("25.40")) == "25.4 mm (1.000 in)"


# NIST SP 811 (2008), appendix B.8: 1 psi = 6.894 757 E+03 Pa.
def test_pressure_in_both_systems():
    assert q.pressure(1034213.6) == "1.03 MPa (150 psi)"


# NIST SP 811 (2008), appendix B.8: 1 lbf ft = 1.355 818 N m.
def test_torque_in_both_systems():
    assert q.torque(27.116) == "27.1 N·m (20.0 lbf·ft)"


# NIST SP 811 (2008), appendix B.8: 1 oz = 28.349 52 g; 1 lb = 453.592 37 g.
def test_mass_in_ounces_and_from_a_kilogram_in_pounds():
    assert q.mass(Decimal("283.4952")) == "283.4952 g (10.00 oz)"
    assert q.mass(Decimal(3150)) == "3150 g (6.94 lb)"


# 1 oz in = 28.349 523 125 g times 25.4 mm, both exact in NIST SP 811.
def test_unbalance_in_both_systems():
    assert q.moment(Decimal("720.08")) == "720.08 g·mm (1.00 oz·in)"


# NIST SP 811 (2008), appendix B.9: t/°F = 1.8 t/°C + 32.
def test_temperature_in_both_systems():
    assert q.temperature(Decimal("21")) == "21 °C (69.8 °F)"
    assert q.temperature(-40.0) == "\N{MINUS SIGN}40.0 °C (\N{MINUS SIGN}40.0 °F)"


def test_inch_first_where_the_shop_wants_it():
    assert q.length(Decimal("25.4"), "inch") == "1.000 in (25.4 mm)"
    with q.units_first(lambda: "inch"):
        assert q.length(Decimal("25.4")) == "1.000 in (25.4 mm)"
        assert q.length(Decimal("25.4"), "metric") == "25.4 mm (1.000 in)"
    assert q.length(Decimal("25.4")) == "25.4 mm (1.000 in)"


@pytest.mark.parametrize(
    ("value", "spelled"),
    [
        (Decimal("12.700000"), "12.7"),
        (Decimal("1E+3"), "1000"),
        (Decimal("100"), "100"),
        (Decimal("0.000"), "0"),
        (Decimal("-4.50"), "\N{MINUS SIGN}4.5"),
        (0.1, "0.1"),
        (None, "\N{EN DASH}"),
    ],
)
def test_plain_says_no_more_than_was_read(value, spelled):
    assert q.plain(value) == spelled


def test_a_computed_zero_has_no_sign():
    assert q.one(-0.0001, "mm") == "0.00 mm"


def test_nothing_is_a_dash_everywhere():
    for spell in (q.length, q.pressure, q.torque, q.mass, q.moment, q.temperature):
        assert spell(None) == "\N{EN DASH}"
    assert q.both(None, "mm") == q.one(None, "mm") == q.when(None) == q.day(None)


@pytest.mark.parametrize("unit", sorted(UNITS))
def test_every_unit_of_the_table_can_be_spelled(unit):
    shown = q.both(Decimal("10.5"), unit)
    assert shown.startswith("10.5")
    assert ("(" in shown) == (unit in q.PAIRS)


@pytest.mark.parametrize("unit", sorted(q.PAIRS))
def test_a_pair_measures_the_same_thing(unit):
    other, decimals = q.PAIRS[unit]
    assert UNITS[unit].dimension == UNITS[other].dimension
    assert other in q.PAIRS
    assert 0 <= decimals <= 3


def test_when_is_in_the_shops_zone(settings):
    settings.TIME_ZONE = "America/New_York"
    at = dt.datetime(2026, 3, 4, 19, 5, tzinfo=dt.UTC)
    assert q.when(at) == "4 Mar 2026, 14:05"


def test_filters_work_in_a_template():
    template = Template("{% load quantities %}{{ mm|length }}; {{ v|both:'psi' }}")
    shown = template.render(Context({"mm": Decimal("25.4"), "v": Decimal("80")}))
    assert shown == "25.4 mm (1.000 in); 80 psi (552 kPa)"
