"""Is each gauge in date, and how far can it be trusted?"""

import datetime as dt
import math
from decimal import Decimal

import pytest

from records.queries.gauges import register as gauges
from tests import factories
from tests.factories import DAY, NOON

pytestmark = pytest.mark.django_db
D = Decimal
ONE = dt.timedelta(days=1)


@pytest.fixture(autouse=True)
def open_shop(shop):
    """Stand in a shop."""


def calibration(**kwargs):
    made = factories.CalibrationFactory(**kwargs)
    made.refresh_from_db()
    return made


def test_latest_is_the_last_done_up_to_the_day_in_one_query(django_assert_num_queries):
    gauge = factories.GaugeFactory()
    old = calibration(gauge=gauge, done_on=DAY - 9 * ONE)
    new = calibration(gauge=gauge, done_on=DAY)
    other = calibration(done_on=DAY - ONE)
    ids = [gauge.pk, other.gauge_id, 999_999]
    with django_assert_num_queries(1):
        result = gauges.latest_calibration(ids)
    assert result == {gauge.pk: new, other.gauge_id: other}
    assert gauges.latest_calibration([gauge.pk], DAY - ONE) == {gauge.pk: old}


def test_of_two_on_one_day_the_one_written_last_counts():
    gauge = factories.GaugeFactory()
    calibration(gauge=gauge, done_on=DAY)
    second = calibration(gauge=gauge, done_on=DAY)
    assert gauges.latest_calibration([gauge.pk])[gauge.pk] == second


def test_uncertainty_is_certificate_and_resolution_combined():
    """JCGM 100, 4.3.3, F.2.2.1 (resolution over root twelve) and 5.1.2."""
    made = calibration(
        gauge__resolution=D("0.01"), expanded_uncertainty=D("0.02"), as_left_error=0
    )
    expected = math.hypot(0.01, 0.01 / math.sqrt(12))
    result = gauges.standard_uncertainty(made.gauge, made)
    assert result == pytest.approx(expected, rel=1e-12)


def test_error_left_uncorrected_adds_a_uniform_share():
    """JCGM 100, 4.3.7: half-width over root three."""
    kwargs = {"expanded_uncertainty": 0, "gauge__resolution": D("0.000001")}
    made = calibration(as_left_error=D("-0.03"), **kwargs)
    result = gauges.standard_uncertainty(made.gauge, made)
    assert result == pytest.approx(0.03 / math.sqrt(3), rel=1e-6)


def test_uncertainty_is_in_the_gauge_s_unit():
    """1 thou is 0.0254 mm exactly (international yard and pound agreement, 1959)."""
    made = calibration(
        unit="thou", expanded_uncertainty=D(2), gauge__resolution=D("0.000001")
    )
    result = gauges.standard_uncertainty(made.gauge, made)
    assert result == pytest.approx(0.0254, rel=1e-6)


def test_suggested_interval_follows_the_error_as_found():
    made = calibration(gauge__interval_days=360, as_found_error=D("0.09"))
    assert gauges.suggested_interval(made.gauge, made) == 180


@pytest.mark.parametrize(
    ("due_in", "status"),
    [(-1, "overdue"), (0, "due soon"), (30, "due soon"), (31, "in date")],
)
def test_status_is_in_words(due_in, status):
    calibration(done_on=DAY - 40 * ONE, next_due_on=DAY + due_in * ONE)
    assert gauges.gauges_listed(DAY).get().status == status


def test_gauge_without_calibration_or_withdrawn_says_so():
    factories.GaugeFactory(number="G1")
    calibration(gauge__number="G2", gauge__state="withdrawn")
    result = {g.number: g.status for g in gauges.gauges_listed(DAY)}
    assert result == {"G1": "never calibrated", "G2": "withdrawn"}


def test_list_is_one_query_soonest_due_first(django_assert_num_queries):
    for days in range(20, 0, -1):
        made = calibration(done_on=DAY - ONE, next_due_on=DAY + days * ONE)
        calibration(gauge=made.gauge, done_on=DAY - 9 * ONE, next_due_on=DAY)
    with django_assert_num_queries(1):
        result = [g.due_on for g in gauges.gauges_listed(DAY)]
    assert result == [DAY + days * ONE for days in range(1, 21)]


def test_calibrations_and_changes_come_newest_first():
    gauge = factories.GaugeFactory()
    old = calibration(gauge=gauge, done_on=DAY - 9 * ONE)
    new = calibration(gauge=gauge, done_on=DAY)
    assert gauges.calibrations_of(gauge) == [new, old]
    assert gauges.changes_of(gauge) == []


def test_readings_with_a_gauge_are_counted_within_a_span():
    gauge = factories.GaugeFactory()
    for hours in (0, 5):
        factories.ReadingFactory(
            gauge=gauge, happened_at=NOON + dt.timedelta(hours=hours)
        )
    between = NOON + dt.timedelta(hours=1)
    assert gauges.readings_with(gauge, (None, None)) == 2
    assert gauges.readings_with(gauge, (between, None)) == 1
    assert gauges.readings_with(gauge, (None, between)) == 1


def test_deviation_written_after_a_calibration_is_found():
    made = calibration()
    assert gauges.deviation_after(made) is None
    earlier = made.written_at - dt.timedelta(hours=1)
    about = {"gauge": made.gauge, "board": None}
    factories.DeviationSubjectFactory(**about, written_at=earlier)
    assert gauges.deviation_after(made) is None
    subject = factories.DeviationSubjectFactory(**about)
    assert gauges.deviation_after(made) == subject.deviation
