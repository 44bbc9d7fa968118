"""The head of the ledger, day by day, in the shop's own days."""

import datetime as dt

import pytest
from django.utils import timezone

from records.models import LedgerEntry
from records.queries.anchors import anchor_on, daily_anchors, digests_at
from records.services.ledger import Act, Entry

pytestmark = pytest.mark.django_db


@pytest.fixture
def write(owner):
    def call(*moments):
        for moment in moments:
            at = dt.datetime.fromisoformat(moment)
            with Entry(Act(by=owner, at=at), "do something"):
                pass

    return call


def test_an_empty_book_has_no_head():
    assert anchor_on(dt.date(2026, 3, 2)) is None
    assert list(daily_anchors()) == []


def test_the_head_is_the_last_entry(write):
    write("2026-03-02T12:00Z", "2026-03-02T13:00Z")
    head = anchor_on(dt.date(2026, 3, 9))
    last = LedgerEntry.objects.get(sequence=2)
    assert head.line == f"2026-03-09 2 {last.digest}"


def test_each_day_has_its_last_entry(write, django_assert_num_queries):
    write(*(f"2026-03-{d:02}T{h}:00Z" for d in (2, 3, 5) for h in (10, 11)))
    with django_assert_num_queries(1):
        result = [(a.on.day, a.sequence) for a in daily_anchors()]
    assert result == [(2, 2), (3, 4), (5, 6)]


def test_days_are_the_shops(write):
    # 9 March 2026, 02:30 UTC, is 8 March, 22:30, in New York (IANA time zone database).
    write("2026-03-09T02:30Z", "2026-03-09T12:00Z")
    with timezone.override("America/New_York"):
        result = [(a.on.day, a.sequence) for a in daily_anchors()]
    assert result == [(8, 1), (9, 2)]


def test_digests_are_found_by_number(write):
    write("2026-03-02T12:00Z")
    assert list(digests_at([1, 2])) == [1]
