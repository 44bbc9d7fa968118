"""Readings that count, as plain facts: digits kept, the last stage first."""

import datetime as dt
from decimal import Decimal

import pytest

from records.queries.builds.progress import progress_of
from records.queries.conformity.measurements import (
    BALANCE,
    Purpose,
    measurements_of,
    moment,
    number,
    reading_fact,
)
from tests import finished

pytestmark = pytest.mark.django_db
built, made = finished.built, finished.made


@pytest.fixture
def measured(made):
    return measurements_of(progress_of(made.propeller))


def test_track_is_judged_and_spelled_digit_for_digit(measured):
    (track,) = measured.latest(Purpose.TRACK)
    fact = reading_fact(track)
    assert fact["name"] == "Track"
    assert fact["most"] == "1.5"
    assert fact["limit_unit"] == "mm"
    assert fact["verdict"] == "inside"
    assert not fact["accepted_by_concession"]


def test_of_several_stages_the_last_one_counts(measured):
    (moisture,) = measured.latest(Purpose.MOISTURE)
    assert moisture.characteristic.stage.code == "final-balance"
    stages = {r.characteristic.stage.code for r in measured.latest(*BALANCE)}
    assert stages == {"final-balance"}


def test_angles_have_their_differences(measured):
    angles = measured.nominal("angle")
    assert len(angles) == 8
    assert len(measured.compared(angles)) == 4


def test_what_is_nowhere_is_an_empty_list(measured):
    assert measured.latest("no-such-purpose") == []


def test_further_readings_are_all_that_no_other_field_takes(measured):
    further = measured.further()
    assert {r.characteristic.code for r in further} >= {"coats", "surplus", "sealed"}
    assert not [r for r in further if r.characteristic.purpose]
    taken = {r.pk for r in further}
    assert not taken & {r.pk for r in measured.nominal("angle")}
    assert not taken & {r.pk for r in measured.compared(measured.nominal("angle"))}
    assert not taken & {r.pk for r in measured.latest(Purpose.TRACK)}


def test_codes_mean_nothing(measured):
    before = [measured.latest(purpose) for purpose in Purpose.values if purpose]
    for reading in measured.current():
        reading.characteristic.code = f"x{reading.pk}"
    after = [measured.latest(purpose) for purpose in Purpose.values if purpose]
    assert before == after
    assert sum(map(bool, after)) > 15


@pytest.mark.parametrize(
    ("value", "text"),
    [("12.500", "12.5"), ("100", "100"), ("1E+2", "100"), ("-0.20", "-0.2")],
)
def test_numbers_lose_empty_zeros_only(value, text):
    assert number(Decimal(value)) == text


def test_nothing_stays_nothing():
    assert number(None) is None
    assert moment(None) is None


def test_a_moment_is_spelled_in_utc():
    east = dt.timezone(dt.timedelta(hours=2))
    at = dt.datetime(2026, 3, 2, 14, 0, tzinfo=east)
    assert moment(at) == "2026-03-02T12:00:00Z"
