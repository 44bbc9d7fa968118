"""Differences are written in the entry of the readings they come from."""

import pytest

from records.models import LedgerEntry, Reading
from records.services.readings.log import correct_reading, log_reading
from records.services.readings.ranges import compute_range, withdrawn
from records.services.refusal import Refusal
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def blank(shop):
    return factories.stacked_blank(laminations=2)


@pytest.fixture
def moisture(blank):
    stage = factories.StageFactory(revision=blank.route, scope="blank")
    return factories.CharacteristicFactory(
        stage=stage, on="lamination", code="moisture", unit="%"
    )


@pytest.fixture
def difference(moisture):
    characteristics = factories.CharacteristicFactory(
        stage=moisture.stage,
        on="blank",
        unit="%",
        computed="range_of_points",
        compares="moisture",
    )
    factories.LimitFactory(characteristic=characteristics, high=2)
    return characteristics


@pytest.fixture
def log(act, moisture, noon):
    def call(lamination, entered):
        return log_reading(
            act=act,
            subject=lamination,
            characteristic=moisture,
            entered=entered,
            unit="%",
            happened_at=noon,
        )

    return call


def test_the_stack_is_compared_when_its_last_lamination_is_read(blank, log, difference):
    first, second = blank.laminations.order_by("position")
    log(first, "9.0")
    log(second, "11.0")
    row = Reading.objects.get(characteristic=difference)
    assert (row.blank, row.entered, row.verdict) == (blank, "2.0", "inside")
    assert LedgerEntry.objects.count() == 2
    assert str(row.pk) in LedgerEntry.objects.head().body


def test_a_correction_keeps_the_limit_of_the_difference(blank, log, difference, act):
    first, second = blank.laminations.order_by("position")
    reading = log(first, "9.0")
    log(second, "11.0")
    factories.LimitFactory(
        characteristic=difference, number=2, high=1, in_force_from=factories.NOON
    )
    correct_reading(act=act, reading=reading, entered="9.5", reason="Misread")
    row = Reading.objects.standing().get(characteristic=difference)
    assert (row.entered, row.high, row.verdict) == ("1.5", 2, "inside")


def test_what_was_read_before_the_stack_was_laid_is_computed_when_asked(
    blank, moisture, difference, act
):
    for lamination, entered in zip(
        blank.laminations.order_by("position"), ("9", "12"), strict=True
    ):
        factories.ReadingFactory(
            characteristic=moisture,
            propeller=None,
            lamination=lamination,
            entered=entered,
        )
    [row] = compute_range(act=act, subject=blank, characteristic=difference)
    assert (row.entered, row.verdict) == ("3", "outside")


def test_too_few_readings_make_no_difference(blank, difference, act):
    with pytest.raises(Refusal, match="Too few readings"):
        compute_range(act=act, subject=blank, characteristic=difference)


def test_what_is_read_is_not_computed(blank, moisture, act):
    with pytest.raises(Refusal, match="is read, not computed"):
        compute_range(act=act, subject=blank, characteristic=moisture)


def test_a_withdrawing_row_stands_for_the_old_one():
    old = factories.ReadingFactory(blade=2)
    row = withdrawn(old)
    assert (row.corrects, row.blade, row.verdict) == (old, 2, "withdrawn")
    assert row.reason == "too few readings are left"
