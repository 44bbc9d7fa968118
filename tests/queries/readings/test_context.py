"""What stands around readings when they are taken."""

import datetime as dt

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from records.models import Reading
from records.queries.readings.context import (
    calibrations_of,
    context_for,
    is_late,
    uncertainty_of,
)
from tests import factories

pytestmark = pytest.mark.django_db
DAY = dt.date(2026, 3, 2)


@pytest.fixture
def characteristic(shop):
    return factories.CharacteristicFactory()


@pytest.fixture
def propeller(characteristic):
    blank = factories.BlankFactory(route=characteristic.stage.revision)
    return factories.PropellerFactory(blank=blank)


def test_the_calibration_is_the_newest_done_by_that_day(characteristic, propeller):
    gauge = factories.GaugeFactory()
    old = factories.CalibrationFactory(gauge=gauge, done_on=dt.date(2025, 1, 1))
    new = factories.CalibrationFactory(gauge=gauge, done_on=DAY)
    context = context_for(propeller, [characteristic], [gauge, None])
    assert context.calibration(gauge, DAY) == new
    assert context.calibration(gauge, DAY - dt.timedelta(days=1)) == old
    assert context.calibration(gauge, dt.date(2024, 12, 31)) is None


def test_calibrations_of_many_gauges_take_one_query(django_assert_num_queries):
    gauges = [factories.CalibrationFactory().gauge.pk for _ in range(20)]
    with django_assert_num_queries(1):
        assert set(calibrations_of(gauges)) == set(gauges)


def test_the_uncertainty_is_known_of_a_calibrated_gauge_only():
    calibration = factories.CalibrationFactory()
    assert uncertainty_of(calibration.gauge, calibration) > 0
    assert uncertainty_of(calibration.gauge, None) is None
    assert uncertainty_of(None, None) is None


def test_the_limit_is_that_of_the_moment(characteristic, propeller):
    later = factories.NOON + dt.timedelta(days=1)
    factories.LimitFactory(characteristic=characteristic, high=3)
    factories.LimitFactory(
        characteristic=characteristic, number=2, high=2, in_force_from=later
    )
    context = context_for(propeller, [characteristic])
    assert context.limits_at(factories.NOON)[characteristic.pk].high == 3
    assert context.limits_at(later)[characteristic.pk].high == 2


def test_what_stands_on_a_thing_is_kept_up_as_rows_are_written(
    characteristic, propeller
):
    old = factories.ReadingFactory(characteristic=characteristic, propeller=propeller)
    context = context_for(propeller, [characteristic])
    assert context.standing_on(propeller, characteristic) == [old]
    new = factories.ReadingFactory(
        characteristic=characteristic, propeller=propeller, corrects=old, reason="Slip"
    )
    context.take([new])
    assert context.standing_on(propeller, characteristic) == [new]
    gone = factories.ReadingFactory(
        characteristic=characteristic,
        propeller=propeller,
        corrects=new,
        reason="Other blade",
        verdict=Reading.Verdict.WITHDRAWN,
    )
    context.take([gone])
    assert context.standing_on(propeller, characteristic) == []


def test_laying_out_the_bench_takes_as_many_queries_for_many(characteristic, propeller):
    def count(rows):
        gauges = [factories.CalibrationFactory().gauge for _ in range(rows)]
        many = [
            factories.CharacteristicFactory(stage=characteristic.stage)
            for _ in range(rows)
        ]
        with CaptureQueriesContext(connection) as context:
            context_for(propeller, many, gauges)
        return len(context)

    assert count(2) == count(20)


@pytest.mark.parametrize(("minutes", "late"), [(60, False), (61, True)])
def test_an_entry_is_late_after_an_hour(minutes, late):
    reading = Reading(
        happened_at=factories.NOON,
        written_at=factories.NOON + dt.timedelta(minutes=minutes),
    )
    assert is_late(reading) is late
