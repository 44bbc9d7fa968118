"""The book's database as one thing, whichever engine holds it."""

import pytest
from django.db import connection

from records.models import LedgerEntry, Supplier
from records.services.databases import database
from tests.own_book import own_book  # noqa: F401


@pytest.fixture
def book(own_book):  # noqa: F811
    return own_book


def test_the_engine_is_the_one_that_is_set_up(db):
    assert database().engine == connection.vendor


def test_a_dump_opens_as_the_same_book_and_not_the_book_itself(book, tmp_path):
    present, folder = database(), tmp_path / "copy"
    folder.mkdir()
    present.dump(folder / "dump")
    book.write("After the dump")
    with (
        present.open_copy(folder / "dump", folder) as copy,
        copy.opened() as other,
    ):
        head = LedgerEntry.objects.head()
        assert other.head().sequence == head.sequence - 1
        assert other.head().digest == head.previous
        assert other.digest(head.sequence) is None
        assert copy.environment["SHOPQA_DATA"] == str(folder)


def test_the_book_and_its_copy_change_places(book, tmp_path):
    present, folder = database(), tmp_path / "copy"
    aside = tmp_path / "aside-20260302-020000"
    folder.mkdir()
    aside.mkdir()
    present.dump(folder / "dump")
    book.write("After the dump")
    with present.open_copy(folder / "dump", folder) as copy:
        kept = present.exchange(copy, aside)
    assert "aside" in kept
    assert not Supplier.objects.exists()
    assert not present.is_in_use()
