"""The ledger has one head, and its entries each follow another."""

import pytest
from django.db import IntegrityError, transaction
from django.utils import timezone

from records.models import LedgerEntry, Supplier
from records.services.ledger import Act, Entry


def written(act, name):
    with Entry(act, "add supplier") as entry:
        entry.add(Supplier(name=name))


def test_an_empty_book_has_no_head(shop):
    assert LedgerEntry.objects.head() is None


def test_the_head_is_the_newest_entry(act):
    written(act, "First yard")
    written(act, "Second yard")
    assert LedgerEntry.objects.head().sequence == 2


@pytest.mark.parametrize("twice", ["sequence", "previous", "digest", "form_key"])
def test_two_entries_can_not_share_what_chains_them(owner, twice):
    written(Act(by=owner, at=timezone.now(), form_key="form-1"), "First yard")
    first = LedgerEntry.objects.get()
    fresh = {
        "sequence": 2,
        "previous": "1" * 64,
        "digest": "2" * 64,
        "form_key": "form-2",
        twice: getattr(first, twice),
    }
    with pytest.raises(IntegrityError), transaction.atomic():
        LedgerEntry.objects.create(
            written_at=first.written_at, written_by=owner, verb="x", body="{}", **fresh
        )
