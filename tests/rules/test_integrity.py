"""Every change behind the program's back is found, and named."""

import pytest
from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.db import connection
from django.utils import timezone

from records.models import Board, LedgerEntry, Lot, Person, StoredFile, Supplier
from records.models.guards import install_guards, remove_guards
from records.rules.integrity import breaks
from records.services.ledger import Act, Entry
from tests import factories


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


def unguarded(statement):
    remove_guards()
    with connection.cursor() as cursor:
        cursor.execute(statement)
    install_guards()


def test_a_book_written_through_the_pen_is_whole(book):
    assert sentences() == []


def test_a_changed_row_is_named(book):
    unguarded("UPDATE records_board SET width_mm = 191 WHERE number = 'B1'")
    (found,) = breaks()
    assert "(B1)" in found.record
    assert "not as the ledger says" in found.sentence


def test_a_removed_row_is_named(book):
    pk = Board.objects.get(number="B2").pk
    unguarded("DELETE FROM records_board WHERE number = 'B2'")
    assert sentences() == [
        f"records_board {pk} is in the ledger, but not in its table."
    ]


def test_a_smuggled_row_is_named(book):
    factories.SupplierFactory(name="Nobody's supplier")
    (found,) = breaks()
    assert "knows nothing" in found.sentence
    assert "Nobody's supplier" in found.record


def test_a_changed_person_is_named_but_a_new_password_is_not(book):
    person = Person.objects.get()
    person.set_password("another long password")
    person.save()
    assert sentences() == []
    Person.objects.update(role=Person.Role.READER)
    assert len(sentences()) == 1


def test_an_altered_entry_is_named_and_so_is_its_row(book):
    unguarded(
        "UPDATE records_ledgerentry SET body = replace(body, 'B1', 'B9') "
        "WHERE sequence = 2"
    )
    found = [b.record for b in breaks()]
    assert "ledger entry 2" in found
    assert any("(B1)" in record for record in found)


def test_a_missing_entry_is_named(book):
    with Entry(book, "add a board") as entry:
        entry.add(Board(number="B7", lot=Lot.objects.get()))
    unguarded("DELETE FROM records_ledgerentry WHERE sequence = 2")
    assert any("entry 2 is missing" in s for s in sentences())


def test_a_missing_guard_is_named(book):
    remove_guards()
    assert len(sentences()) >= 100
    install_guards()


def test_a_changed_and_a_missing_file_are_named(book):
    for sha256, name in (("0" * 64, "changed.pdf"), ("1" * 64, "missing.pdf")):
        with Entry(book, "store file") as entry:
            entry.add(StoredFile(sha256=sha256, name=name, media_type="x/y", size=3))
    default_storage.save("0" * 64, ContentFile(b"abc"))
    assert sentences() == [
        "The bytes of the file changed.pdf have changed.",
        "The file missing.pdf is missing from the store.",
    ]


def test_a_book_is_chained_from_its_first_entry(book):
    first, second = LedgerEntry.objects.order_by("sequence")
    assert first.previous == "0" * 64
    assert second.previous == first.digest
