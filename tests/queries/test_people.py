"""Who works here, who may decide what, and where a PIN counts."""

import datetime as dt

import pytest

from records.models import Authority, Person, SetUpLink
from records.models.people import BenchDevice
from records.queries import people
from tests import factories

DAY = dt.date(2026, 3, 2)
NOON = factories.NOON
pytestmark = pytest.mark.django_db


def test_everybody_is_listed_with_todays_authorities_in_two_queries(
    owner, django_assert_num_queries
):
    ended = factories.AuthorityFactory(
        from_on=DAY - dt.timedelta(9), until_on=DAY - dt.timedelta(1)
    ).person
    with django_assert_num_queries(2):
        result = {p.pk: len(p.authorities.all()) for p in people.who_works_here(DAY)}
    assert result[owner.pk] == len(Authority.Act)
    assert result[ended.pk] == 0


def test_what_a_person_may(owner):
    reader = factories.owner()
    Person.objects.filter(pk=reader.pk).update(role=Person.Role.READER)
    reader.refresh_from_db()
    assert people.what_may(owner, DAY) == set(Authority.Act)
    assert people.what_may(reader, DAY) == set()


def test_who_else_manages_leaves_out_oneself_readers_and_the_temporary(owner):
    manage = {"act": Authority.Act.MANAGE}
    other = factories.AuthorityFactory(**manage).person
    factories.AuthorityFactory(until_on=DAY + dt.timedelta(30), **manage)
    factories.AuthorityFactory(person__role=Person.Role.READER, **manage)
    factories.AuthorityFactory(person__is_active=False, **manage)
    assert list(people.who_else_manages(owner, DAY)) == [other]


def test_a_link_is_open_for_a_day_and_once():
    SetUpLink.objects.create(digest=people.digest_of("fresh"), made_at=NOON)
    SetUpLink.objects.create(
        digest=people.digest_of("used"), made_at=NOON, used_at=NOON
    )
    day_later = NOON + dt.timedelta(days=1)
    assert people.open_link("fresh", day_later).exists()
    assert not people.open_link("fresh", day_later + dt.timedelta(seconds=1)).exists()
    assert not people.open_link("used", NOON).exists()
    assert not people.open_link("guessed", NOON).exists()


def test_a_bench_device_is_known_by_its_token_until_it_ends(owner):
    row = {"written_at": NOON, "written_by": owner}
    device = BenchDevice.objects.create(
        name="tablet", digest=people.digest_of("t"), **row
    )
    BenchDevice.objects.create(
        name="lost", digest=people.digest_of("l"), ended_at=NOON, **row
    )
    assert people.bench_device("t") == device
    assert people.bench_device("l") is None
    assert people.bench_device("") is None
