"""Since when a gauge is in doubt: from its last good calibration, that day included.

"All readings since the last good check": rules-and-standards, section 7.
"""

import datetime as dt

import pytest

from records.queries.gauges.spans import span_before, span_in_doubt
from tests import factories
from tests.factories import NOON

pytestmark = pytest.mark.django_db


@pytest.fixture
def gauge():
    return factories.GaugeFactory()


def calibrated(gauge, month, day=10, *, left="0.01"):
    return factories.CalibrationFactory(
        gauge=gauge,
        done_on=dt.date(2026, month, day),
        as_left_error=left,
        next_due_on=dt.date(2030, 1, 1),
    )


def utc(month, day):
    return dt.datetime(2026, month, day, tzinfo=dt.UTC)


def test_never_calibrated_is_in_doubt_from_the_start(gauge):
    assert span_in_doubt(gauge, NOON) == (None, NOON)


def test_from_the_last_that_left_it_good(gauge):
    calibrated(gauge, 1)
    calibrated(gauge, 2, left="-0.20")
    assert span_in_doubt(gauge, NOON) == (utc(1, 10), NOON)


def test_a_later_calibration_is_not_the_last_one_then(gauge):
    calibrated(gauge, 1)
    calibrated(gauge, 6)
    assert span_in_doubt(gauge, NOON)[0] == utc(1, 10)


def test_calibration_puts_in_doubt_what_lies_before_it_and_its_own_day(gauge):
    calibrated(gauge, 1)
    start, until = span_before(calibrated(gauge, 6))
    assert start == utc(1, 10)
    assert until == utc(6, 11) - dt.timedelta(microseconds=1)


def test_of_two_on_one_day_the_one_written_first_is_earlier(gauge):
    calibrated(gauge, 1)
    first = calibrated(gauge, 6)
    second = calibrated(gauge, 6)
    assert span_before(first)[0] == utc(1, 10)
    assert span_before(second)[0] == utc(6, 10)
    assert span_before(factories.CalibrationFactory())[0] is None
