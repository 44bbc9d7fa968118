import datetime as dt
from decimal import Decimal

import pytest

from records.models import Gauge, Press, PressLoad, Shop
from records.rules.pressing import samples as rules
from tests.factories import NOON

RAMS = Press(name="Long press", kind="rams", rams=4, bore_mm=Decimal(63))
LOAD = PressLoad(press=RAMS, on_at=NOON, glued_area_mm2=Decimal(278_160))
LATER = NOON + dt.timedelta(hours=1)


def test_a_sample_lies_within_its_load():
    assert rules.time_is_in_load(LOAD, NOON, LATER) == []
    assert rules.time_is_in_load(LOAD, NOON - dt.timedelta(seconds=1), LATER)
    opened = PressLoad(on_at=NOON, off_at=LATER)
    assert rules.time_is_in_load(opened, LATER, LATER) == []
    after = LATER + dt.timedelta(seconds=1)
    assert rules.time_is_in_load(opened, after, after)


@pytest.mark.parametrize(
    ("value", "unit", "possible"),
    [("0", "bar", True), ("250", "bar", True), ("-0.1", "bar", False)],
)
def test_a_press_shows_no_less_than_nothing(value, unit, possible):
    findings = rules.pressure_is_possible(LOAD, Decimal(value), unit)
    assert (findings == []) is possible


def test_a_vacuum_is_no_more_than_the_air():
    bag = Press(name="Bag", kind="bag", bag_area_ratio=Decimal("1.2"))
    load = PressLoad(press=bag, glued_area_mm2=Decimal(278_160))
    assert rules.pressure_is_possible(load, Decimal(80), "kPa") == []
    assert rules.pressure_is_possible(load, Decimal(120), "kPa")


@pytest.mark.parametrize(
    ("value", "unit", "possible"),
    [
        ("20", "degC", True),
        ("68", "degF", True),
        ("203", "degC", False),
        ("-41", "degC", False),
        ("-500", "degF", False),
    ],
)
def test_a_stack_is_no_oven(value, unit, possible):
    findings = rules.temperature_is_possible(Decimal(value), unit)
    assert (findings == []) is possible


def test_a_temperature_is_converted_to_a_thousandth():
    assert rules.in_celsius(Decimal("68"), "degF") == 20
    assert rules.in_celsius(Decimal("70"), "degF") == Decimal("21.111")
    assert rules.in_celsius(Decimal("20.55"), "degC") == Decimal("20.55")


def test_units_are_those_of_the_press():
    assert rules.unit_fits_press(LOAD, "psi") == []
    assert rules.unit_fits_press(LOAD, "N.m")[0].field == "unit"
    assert rules.unit_is_of_temperature("degF") == []
    assert rules.unit_is_of_temperature("bar")[0].field == "temperature_unit"


@pytest.mark.parametrize(
    ("rule", "blocks"),
    [(Shop.OverdueGauge.REFUSE, True), (Shop.OverdueGauge.FLAG, False)],
)
def test_an_unfit_gauge_is_refused_or_flagged_as_the_shop_set(rule, blocks):
    gauge = Gauge(number="G1", unit="bar")
    [finding] = rules.gauge_may_be_read(LOAD, gauge, None, NOON, rule)
    assert finding.blocks is blocks


def test_without_a_gauge_there_is_nothing_to_say():
    assert rules.gauge_may_be_read(LOAD, None, None, NOON, "refuse") == []


def test_lines_with_one_reason_are_named_together():
    bad = [(2, "late"), (3, "late"), (4, "late"), (7, "late"), (5, "no number")]
    assert [f.sentence for f in rules.lines_in_words(sorted(bad), "file")] == [
        "Lines 2 to 4, 7: late",
        "Line 5: no number",
    ]
