"""Every change behind the program's back is found, and named."""

from dataclasses import replace

import pytest
from django.core.files.base import ContentFile
from django.core.files.storage import FileSystemStorage, default_storage
from django.db import DatabaseError
from django.utils import timezone

from records import chain
from records.models import (
    Board,
    LedgerEntry,
    Lot,
    Person,
    SetUpLink,
    StoredFile,
    Supplier,
)
from records.queries.files import place_of
from records.queries.ledger import Word, facts_digest, row_facts, spoken_rows
from records.rules import integrity
from records.rules.integrity import breaks, changed_rows
from records.services.ledger import Act, Entry
from records.services.people.accounts import make_set_up_link, set_up_shop
from tests import factories
from tests.forging import forge, unguarded


@pytest.fixture
def book(db):
    """Write a small book through the pen: a shop, an owner, a lot and its boards."""
    shop = factories.ShopFactory()
    person = factories.PersonFactory()
    act = Act(by=person, at=timezone.now())
    with Entry(act, "open the shop") as entry:
        entry.change(shop, contact="workshop@example.org")
        entry.change(person, name="Somebody Else")
    material = factories.TimberFactory.build(written_by=None, written_at=None)
    supplier = Supplier(name="Timber yard")
    with Entry(act, "receive lot") as entry:
        entry.add(material)
        entry.add(supplier)
        lot = entry.add(
            Lot(
                number="L0001",
                material=material,
                supplier=supplier,
                received_on=factories.DAY,
            )
        )
        entry.add_many([Board(number=f"B{n}", lot=lot, width_mm=190) for n in range(3)])
    return act


def sentences():
    return [b.sentence for b in breaks()]


def said(row):
    facts = row_facts(row)
    return Word(facts_digest(facts), tuple(sorted(facts)))


def test_a_book_written_through_the_pen_is_whole(book):
    assert sentences() == []


def test_a_changed_row_is_named(book):
    forge("UPDATE records_board SET width_mm = 191 WHERE number = 'B1'")
    (findings,) = breaks()
    assert "(B1)" in findings.record
    assert "not as the ledger says" in findings.sentence


def test_a_removed_row_is_named(book):
    pk = Board.objects.get(number="B2").pk
    forge("DELETE FROM records_board WHERE number = 'B2'")
    assert sentences() == [
        f"records_board {pk} is in the ledger, but not in its table."
    ]


def test_a_smuggled_row_is_named(book):
    factories.SupplierFactory(name="Nobody's supplier")
    (findings,) = breaks()
    assert "knows nothing" in findings.sentence
    assert "Nobody's supplier" in findings.record


def test_a_changed_person_is_named_but_a_new_password_is_not(book):
    person = Person.objects.get()
    person.set_password("another long password")
    person.save()
    assert sentences() == []
    Person.objects.update(role=Person.Role.READER)
    assert len(sentences()) == 1


def test_an_altered_entry_is_named_and_so_is_its_row(book):
    forge(
        "UPDATE records_ledgerentry SET body = replace(body, 'B1', 'B9') "
        "WHERE sequence = 2"
    )
    findings = [b.record for b in breaks()]
    assert "ledger entry 2" in findings
    assert any("(B1)" in record for record in findings)


@pytest.mark.parametrize(
    ("column", "value"),
    [
        ("verb", "scrap lot"),
        ("subject", "L0002"),
        ("written_at", "2020-01-01 12:00:00"),
        ("form_key", "another form"),
    ],
)
def test_a_column_beside_the_body_cannot_say_something_else(book, column, value):
    forge(
        f"UPDATE records_ledgerentry SET {column} = %s WHERE sequence = 2",
        value,
    )
    (findings,) = breaks()
    assert findings.record == "ledger entry 2"
    assert "its body says" in findings.sentence


def test_an_entry_put_into_somebody_elses_name_is_named(book):
    other = factories.PersonFactory()
    with Entry(book, "add person") as entry:
        entry.change(other, name="Another")
    forge("UPDATE records_ledgerentry SET written_by_id = %s", other.pk)
    assert [b.record for b in breaks()] == [f"ledger entry {n}" for n in (1, 2, 3)]


def test_a_form_that_was_taken_stays_taken(book):
    with Entry(replace(book, form_key="once"), "add a board") as entry:
        entry.add(Board(number="B7", lot=Lot.objects.get()))
    assert sentences() == []
    forge("UPDATE records_ledgerentry SET form_key = '' WHERE sequence = 3")
    assert sentences() == [
        'ledger entry 3 says "" as its form; its body says "once".',
    ]


def test_a_missing_entry_is_named(book):
    with Entry(book, "add a board") as entry:
        entry.add(Board(number="B7", lot=Lot.objects.get()))
    forge("DELETE FROM records_ledgerentry WHERE sequence = 2")
    assert any("entry 2 is missing" in s for s in sentences())


def test_a_missing_guard_is_named(book):
    with unguarded():
        assert len(sentences()) >= 100


def test_a_changed_and_a_missing_file_are_named(book):
    for sha256, name in (("0" * 64, "changed.pdf"), ("1" * 64, "missing.pdf")):
        with Entry(book, "store file") as entry:
            entry.add(StoredFile(sha256=sha256, name=name, media_type="x/y", size=3))
    default_storage.save(place_of("0" * 64), ContentFile(b"abc"))
    assert sentences() == [
        "The bytes of the file changed.pdf have changed.",
        "The file missing.pdf is missing from the store.",
    ]


def test_a_file_that_cannot_be_read_is_named_and_the_others_are_still_looked_at(
    book, monkeypatch
):
    for sha256, name in (("0" * 64, "bad-disk.pdf"), ("1" * 64, "missing.pdf")):
        with Entry(book, "store file") as entry:
            entry.add(StoredFile(sha256=sha256, name=name, media_type="x/y", size=3))

    def opened(_, place, mode):
        raise (OSError("I/O error") if "0000" in place else FileNotFoundError(place))

    monkeypatch.setattr(FileSystemStorage, "_open", opened)
    assert sentences() == [
        "The file bad-disk.pdf can't be read: I/O error.",
        "The file missing.pdf is missing from the store.",
    ]


def test_a_shop_that_was_set_up_by_its_link_is_whole(db):
    at = timezone.now()
    set_up_shop(
        token=make_set_up_link(at),
        at=at,
        shop_name="Test Airscrew Works",
        base_url="http://localhost:8000",
        name="Somebody",
        login="somebody",
        password="a long bench password",
    )
    assert sentences() == []
    SetUpLink.objects.update(digest="0" * 64)
    assert len(sentences()) == 1


def test_an_entry_that_is_none_is_named_even_where_its_digest_was_made_to_fit(book):
    last = LedgerEntry.objects.get(sequence=2)
    fits = chain.digest(last.previous, b'"Nothing"')
    forge(
        f"UPDATE records_ledgerentry SET body = '\"Nothing\"', digest = '{fits}' "
        "WHERE sequence = 2"
    )
    assert "ledger entry 2 can't be read: it is no entry of this program." in (
        sentences()
    )


def test_a_column_made_later_holds_its_default_or_is_named(book):
    """A later version of the program adds one that older entries know nothing of."""
    board = Board.objects.first()
    facts = row_facts(board)
    del facts["grade"]
    word = Word(facts_digest(facts), tuple(sorted(facts)))
    key = (Board._meta.db_table, board.pk)
    others = {(key[0], b.pk): said(b) for b in Board.objects.exclude(pk=board.pk)}
    assert list(changed_rows(Board, {key: word, **others})) == []
    forge(f"UPDATE records_board SET grade = 'best' WHERE id = {board.pk}")
    (findings,) = changed_rows(Board, {key: word, **others})
    assert f"({board.number})" in findings.record


def test_a_column_that_is_gone_is_named(book):
    board = Board.objects.get(number="B1")
    facts = row_facts(board) | {"colour": "red"}
    words = {(Board._meta.db_table, b.pk): said(b) for b in Board.objects.all()}
    words[Board._meta.db_table, board.pk] = Word(facts_digest(facts), tuple(facts))
    (findings,) = changed_rows(Board, words)
    assert "(B1)" in findings.record


def test_a_table_that_cannot_be_read_is_named_once_and_nothing_is_called_lost(
    book, monkeypatch
):
    def rows(model):
        if model is Board:
            raise DatabaseError("database disk image is malformed")
        return spoken_rows(model)

    monkeypatch.setattr(integrity, "spoken_rows", rows)
    assert sentences() == [
        "The records_board can't be read to the end: database disk image is malformed."
    ]


def test_a_book_is_chained_from_its_first_entry(book):
    first, second = LedgerEntry.objects.order_by("sequence")
    assert first.previous == "0" * 64
    assert second.previous == first.digest
