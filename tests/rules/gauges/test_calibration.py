"""A gauge and its calibration: what can't be is said before it is written.

As found and as left, with their unit, are both kept: ISO/IEC 17025 asks for results
before and after adjustment (rules-and-standards, section 7).
"""

import datetime as dt
from decimal import Decimal

import pytest

from records.models import Calibration, Gauge
from records.rules.gauges import calibration as rules
from tests.factories import DAY

D = Decimal
ONE = dt.timedelta(days=1)


def gauge(unit="mm", low=0, high=150, **kwargs):
    return Gauge(number="G1", unit=unit, range_low=D(low), range_high=D(high), **kwargs)


def calibration(**kwargs):
    facts = {
        "done_on": DAY,
        "next_due_on": DAY + ONE,
        "as_left_error": D(0),
        "permissible_error": D("0.05"),
        "unit": "mm",
    }
    return Calibration(**{**facts, **kwargs})


def fields(findings):
    return [f.field for f in findings]


@pytest.mark.parametrize("unit", ["", "furlong", "MM"])
def test_gauge_reads_in_a_known_unit(unit):
    (finding,) = rules.gauge_unit_is_known(unit)
    assert finding.field == "unit"
    assert finding.sentence.endswith(".")
    assert rules.gauge_unit_is_known("psi") == []


@pytest.mark.parametrize(
    ("low", "high", "step", "field"),
    [
        (0, 0, 1, "range_high"),
        (5, 1, 1, "range_high"),
        (0, 5, 0, "resolution"),
        (0, 5, -1, "resolution"),
        (0, 5, 6, "resolution"),
    ],
)
def test_gauge_that_shows_nothing_is_refused(low, high, step, field):
    assert fields(rules.gauge_has_a_range(D(low), D(high), D(step))) == [field]


def test_gauge_may_read_below_zero():
    assert rules.gauge_has_a_range(D(-20), D(50), D("0.1")) == []


@pytest.mark.parametrize(("days", "count"), [(0, 1), (1, 0), (3650, 0), (3651, 1)])
def test_interval_is_a_day_to_ten_years(days, count):
    assert len(rules.interval_is_plausible(days)) == count


def test_calibration_of_today_is_fine_and_of_tomorrow_refused():
    assert rules.calibration_days_are_right(DAY, DAY + ONE, DAY) == []
    findings = rules.calibration_days_are_right(DAY + ONE, DAY + 2 * ONE, DAY)
    assert fields(findings) == ["done_on"]
    assert "still to come" in findings[0].sentence


def test_due_again_after_it_was_done():
    assert fields(rules.calibration_days_are_right(DAY, DAY, DAY)) == ["next_due_on"]


def test_error_as_found_has_a_unit():
    (finding,) = rules.errors_have_a_unit(gauge(), "", D(0), D(0))
    assert "unit of the error as found" in finding.sentence
    (finding,) = rules.errors_have_a_unit(gauge(), "psi", D(0), D(0))
    assert "reads mm" in finding.sentence
    assert fields(rules.errors_have_a_unit(gauge(), "wide", D(0), D(0))) == ["unit"]


def test_error_may_be_in_another_unit_of_the_same_kind():
    assert rules.errors_have_a_unit(gauge(), "thou", D(2), D(-1)) == []


def test_error_larger_than_the_range_is_a_reading():
    findings = rules.errors_have_a_unit(gauge(), "mm", D(150), D("150.1"))
    assert fields(findings) == ["as_left_error"]


def test_error_of_a_thermometer_is_a_difference():
    thermometer = gauge(unit="degC", low=0, high=50)
    # 50 degC of difference is 90 degF (NIST SP 811, B.8).
    assert rules.errors_have_a_unit(thermometer, "degF", D(90), D(0)) == []
    assert rules.errors_have_a_unit(thermometer, "degF", D(91), D(0))


def test_allowances_are_not_negative():
    assert rules.allowances_are_possible(D(0), D(0), D(2)) == []
    findings = rules.allowances_are_possible(D(-1), D(-1), D("0.5"))
    assert fields(findings) == [
        "permissible_error",
        "expanded_uncertainty",
        "coverage_factor",
    ]


def test_gauge_is_withdrawn_once():
    assert rules.gauge_may_be_withdrawn(gauge()) == []
    assert rules.gauge_may_be_withdrawn(gauge(state="withdrawn"))


def test_gauge_returns_with_a_calibration_that_holds():
    away = gauge(state="withdrawn")
    assert rules.gauge_may_return(away, DAY, calibration()) == []
    for bad in (
        None,
        calibration(as_left_error=D("0.06")),
        calibration(next_due_on=DAY - ONE),
    ):
        findings = rules.gauge_may_return(away, DAY, bad)
        assert "Calibrate it" in findings[-1].sentence
    assert "already" in rules.gauge_may_return(gauge(), DAY, None)[0].sentence


def test_reason_is_asked_for():
    assert fields(rules.reason_is_given("  ")) == ["reason"]
    assert rules.reason_is_given("dropped") == []
