"""Another copy may take over only where it goes on from all that is written here."""

import pytest

from records.models import LedgerEntry
from records.rules.continuity import nothing_is_lost
from records.services.ledger import Entry

pytestmark = pytest.mark.django_db


@pytest.fixture
def mine(act):
    """Write 100 entries, and give their digests by number."""
    for _ in range(100):
        with Entry(act, "do something"):
            pass
    return dict(LedgerEntry.objects.values_list("sequence", "digest"))


def other(digests, same, last):
    """Make a book that is the same up to an entry and then another one."""
    theirs = {n: digests.get(n) if n <= same else f"other {n}" for n in range(last + 1)}
    return last, theirs.get


def said(digests, same, last):
    return [f.sentence for f in nothing_is_lost(*other(digests, same, last))]


@pytest.mark.parametrize("last", [100, 101, 5000])
def test_a_book_that_goes_on_from_here_loses_nothing(mine, last):
    assert said(mine, 100, last) == []


@pytest.mark.parametrize("last", [1, 2, 50, 99])
def test_an_older_one_would_lose_the_last_entries(mine, last):
    (sentence,) = said(mine, last, last)
    assert sentence.startswith("This book is newer.")
    assert f"Entries {last + 1} to 100 of this book" in sentence
    assert "--over-a-newer-shop" in sentence


@pytest.mark.parametrize("same", range(1, 100, 7))
@pytest.mark.parametrize("last", [100, 101, 400])
def test_where_two_books_part_is_found(mine, same, last):
    (sentence,) = said(mine, same, last)
    assert sentence.startswith(f"After entry {same} the books part.")
    assert f"Entries {same + 1} to 100 of this book" in sentence


def test_another_shops_book_is_known_from_its_first_entry(mine):
    (sentence,) = said(mine, 0, 100)
    assert sentence.startswith("The backup is of another book.")


def test_an_empty_backup_of_this_shop_is_older(mine):
    assert "Entries 1 to 100" in said(mine, 0, 0)[0]


def test_an_empty_shop_has_nothing_to_lose(db):
    assert said({}, 0, 100) == []


def test_it_takes_few_questions(mine, django_assert_max_num_queries):
    with django_assert_max_num_queries(10):
        nothing_is_lost(*other(mine, 63, 100))
