"""What can never be false of readings, and which of them count."""

import pytest
from django.db import IntegrityError, transaction

from records.models import Reading
from tests import factories

pytestmark = pytest.mark.django_db


def test_a_reading_is_about_exactly_one_thing():
    board = factories.BoardFactory()
    for about in ({"propeller": None}, {"board": board}):
        with (
            pytest.raises(IntegrityError, match="reading_has_one_subject"),
            transaction.atomic(),
        ):
            factories.ReadingFactory(**about)
    assert factories.ReadingFactory(propeller=None, board=board).subject == board


def test_a_corrected_reading_says_why():
    old = factories.ReadingFactory()
    with (
        pytest.raises(IntegrityError, match="corrected_reading_says_why"),
        transaction.atomic(),
    ):
        factories.ReadingFactory(corrects=old)


def test_a_reading_is_corrected_once():
    old = factories.ReadingFactory()
    factories.ReadingFactory(corrects=old, reason="Slip")
    with pytest.raises(IntegrityError), transaction.atomic():
        factories.ReadingFactory(corrects=old, reason="Slip")


def test_what_stands_is_neither_corrected_nor_withdrawn():
    old, lone = factories.ReadingFactory(), factories.ReadingFactory()
    new = factories.ReadingFactory(corrects=old, reason="Slip")
    gone = factories.ReadingFactory(
        corrects=new, reason="Other blade", verdict="withdrawn"
    )
    assert gone.is_withdrawn
    assert list(Reading.objects.standing()) == [lone]


def test_a_line_about_each_reading_takes_one_query(django_assert_num_queries):
    for _ in range(20):
        factories.ReadingFactory(gauge=factories.GaugeFactory())
    with django_assert_num_queries(1):
        for reading in Reading.objects.with_related():
            assert reading.characteristic.stage
            assert reading.subject
            assert reading.gauge
            assert reading.written_by


def test_a_reading_is_spelled_as_it_was_entered():
    assert str(factories.ReadingFactory(entered="10,30", unit="mm")) == "10,30 mm"
    assert str(Reading(entered="yes", unit="")) == "yes"
