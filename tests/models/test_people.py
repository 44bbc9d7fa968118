"""What can never be false about people, authority and bench devices."""

import datetime as dt

import pytest
from django.db import DatabaseError, IntegrityError, connection, transaction

from records.models import Authority, Person
from records.models.people import BenchDevice
from tests import factories

pytestmark = pytest.mark.django_db
DAY = dt.date(2026, 3, 2)
YESTERDAY = DAY - dt.timedelta(days=1)


def test_a_person_is_found_whatever_the_capitals():
    person = factories.PersonFactory(login="ada")
    assert Person.objects.get_by_natural_key("Ada") == person


def test_a_sign_in_name_is_one_persons():
    factories.PersonFactory(login="ada")
    with pytest.raises(IntegrityError):
        factories.PersonFactory(login="ada")


def test_an_authority_does_not_end_before_it_begins():
    with pytest.raises(IntegrityError, match="authority_ends_after_it_begins"):
        factories.AuthorityFactory(from_on=DAY, until_on=YESTERDAY)


def test_an_authority_is_in_force_on_its_first_and_last_day():
    given = factories.AuthorityFactory(from_on=YESTERDAY, until_on=DAY)
    assert list(Authority.objects.on(YESTERDAY)) == [given]
    assert list(Authority.objects.on(DAY)) == [given]
    assert not Authority.objects.on(DAY + dt.timedelta(days=1)).exists()


@pytest.mark.parametrize(
    ("column", "value"), [("act", "manage"), ("from_on", "2020-01-01")]
)
def test_only_the_end_of_an_authority_changes(column, value):
    given = factories.AuthorityFactory(from_on=YESTERDAY)
    change = f"UPDATE records_authority SET {column} = %s WHERE id = %s"
    with (
        pytest.raises(DatabaseError, match="append-only"),
        transaction.atomic(),
        connection.cursor() as cursor,
    ):
        cursor.execute(change, [value, given.pk])
    Authority.objects.filter(pk=given.pk).update(until_on=DAY)
    assert Authority.objects.get().until_on == DAY


def test_a_bench_device_ends_and_changes_in_nothing_else():
    person = factories.PersonFactory()
    BenchDevice.objects.create(
        name="tablet", digest="0" * 64, written_by=person, written_at=factories.NOON
    )
    with pytest.raises(DatabaseError, match="append-only"), transaction.atomic():
        BenchDevice.objects.update(digest="1" * 64)
    with pytest.raises(DatabaseError, match="append-only"), transaction.atomic():
        BenchDevice.objects.all().delete()
    BenchDevice.objects.update(ended_at=factories.NOON)
    assert BenchDevice.objects.get().ended_at == factories.NOON
