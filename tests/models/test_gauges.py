"""What can never be false about gauges and their calibrations."""

import datetime as dt
from decimal import Decimal

import pytest
from django.db import DatabaseError, IntegrityError, transaction

from records.models import Calibration, Gauge, GaugeChange
from tests import factories
from tests.factories import DAY

pytestmark = pytest.mark.django_db
D = Decimal


def test_a_gauge_number_is_given_once():
    gauge = factories.GaugeFactory()
    with pytest.raises(IntegrityError), transaction.atomic():
        factories.GaugeFactory(number=gauge.number)


@pytest.mark.parametrize(
    "facts", [{"range_low": 5, "range_high": 5}, {"resolution": 0}]
)
def test_a_gauge_has_a_range_and_a_step(facts):
    with pytest.raises(IntegrityError, match="gauge_has_a_range"):
        factories.GaugeFactory(**facts)


def test_a_gauge_changes_in_state_and_interval_only():
    gauge = factories.GaugeFactory()
    Gauge.objects.filter(pk=gauge.pk).update(state="withdrawn", interval_days=9)
    assert not Gauge.objects.in_service().exists()
    with pytest.raises(DatabaseError, match="append-only"), transaction.atomic():
        Gauge.objects.filter(pk=gauge.pk).update(unit="in")


def test_a_calibration_is_due_again_after_it_was_done():
    factories.CalibrationFactory(done_on=DAY, next_due_on=DAY + dt.timedelta(days=1))
    with pytest.raises(IntegrityError, match="calibration_due_after_it_was_done"):
        factories.CalibrationFactory(done_on=DAY, next_due_on=DAY)


@pytest.mark.parametrize(
    "facts",
    [{"permissible_error": -1}, {"expanded_uncertainty": -1}, {"coverage_factor": 0}],
)
def test_a_calibration_has_no_negative_allowance(facts):
    with pytest.raises(IntegrityError, match="calibration_figures_not_negative"):
        factories.CalibrationFactory(**facts)


@pytest.mark.parametrize(
    ("result", "left", "inside"),
    [
        ("0.05", "-0.05", (True, True)),
        ("-0.051", "0", (False, True)),
        ("0.06", "0.051", (False, False)),
    ],
)
def test_an_error_is_inside_up_to_what_is_allowed_either_way(result, left, inside):
    made = Calibration(
        as_found_error=D(result), as_left_error=D(left), permissible_error=D("0.05")
    )
    assert (made.found_inside, made.left_inside) == inside


def test_calibrations_come_newest_first_the_last_written_first_on_a_day():
    gauge = factories.GaugeFactory()
    days = (DAY, DAY - dt.timedelta(days=1), DAY)
    made = [factories.CalibrationFactory(gauge=gauge, done_on=day) for day in days]
    assert list(gauge.calibrations.all()) == [made[2], made[0], made[1]]


def test_a_change_says_what_and_why():
    change = factories.GaugeChangeFactory(kind=GaugeChange.Kind.RETURNED, reason="ok")
    assert str(change) == "returned to service: ok"
