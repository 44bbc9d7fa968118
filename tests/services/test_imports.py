"""An export read back is the same book to the last digest, or nothing is written."""

import json
import re
import shutil

import pytest
from django.core.files.storage import default_storage

from records.documents.export_book import export_book
from records.documents.keys import every_public_key, make_keys
from records.models import LedgerEntry, NumberSeries, Person, StoredFile, Supplier
from records.models.guards import missing_guards
from records.queries.files import place_of, read_kept
from records.rules.integrity import breaks
from records.services.imports import import_export
from records.services.people.accounts import make_set_up_link
from records.services.refusal import Refusal
from records.web.shared.tables import cell
from tests.factories import NOON
from tests.own_book import own_database
from tests.whole_book import write_book


@pytest.fixture
def export(transactional_db, tmp_path):
    """Write a book, export it, and leave an empty shop in its place."""
    old, folder = tmp_path / "old", tmp_path / "export"
    for path in (old, folder):
        path.mkdir()
    with own_database(old):
        write_book()
        make_set_up_link_unused()
        make_keys(tmp_path, "Test Airscrew Works", NOON)
        export_book(
            folder, at=NOON, version="0.1.0", cell=cell, progress=lambda _: None
        )
    shutil.rmtree(tmp_path / "files")
    shutil.rmtree(tmp_path / "keys")
    return folder


def make_set_up_link_unused():
    with pytest.raises(Refusal):
        make_set_up_link(NOON)


@pytest.fixture
def shop(export, tmp_path):
    """Open another, empty database."""
    new = tmp_path / "new"
    new.mkdir()
    with own_database(new):
        yield


def edit(export, name, change):
    path = export / name
    path.write_text(change(path.read_text()))


def test_the_same_book_comes_back(shop, export, tmp_path):
    head = import_export(folder=export)
    about = json.loads((export / "about.json").read_text())
    assert (head.sequence, head.digest) == (about["sequence"], about["digest"])
    assert LedgerEntry.objects.head().digest == about["digest"]
    assert list(breaks()) == []
    assert missing_guards() == []


def test_files_and_public_keys_come_back(shop, export, tmp_path):
    import_export(folder=export)
    assert read_kept(StoredFile.objects.get())
    (public,) = every_public_key(tmp_path)
    assert (export / "keys" / f"{public.name}.json").exists()


def test_people_come_without_passwords(shop, export):
    import_export(folder=export)
    for person in Person.objects.all():
        assert not person.has_usable_password()
        assert person.pin == ""


def test_work_goes_on_where_it_stopped(shop, export):
    """New rows get new keys, and numbers go on: none is ever used twice."""
    import_export(folder=export)
    before = LedgerEntry.objects.head()
    series = dict(NumberSeries.objects.values_list("kind", "last"))
    owner = Person.objects.get(login="owner")
    from records.models import Lot  # noqa: PLC0415
    from records.services.ledger import Act  # noqa: PLC0415
    from records.services.lots import add_supplier, receive_lot  # noqa: PLC0415

    act = Act(by=owner, at=before.written_at)
    add_supplier(act=act, name="New yard")
    old = Lot.objects.get()
    lot = receive_lot(act=act, material=old.material, received_on=old.received_on)
    assert lot.number == f"L{series['lot'] + 1:04}"
    assert LedgerEntry.objects.get(sequence=before.sequence + 1).previous == (
        before.digest
    )
    assert list(breaks()) == []


def test_a_shop_that_is_not_empty_keeps_what_it_has(shop, export):
    book = write_book()
    book.write("Here")
    with pytest.raises(Refusal, match="not empty"):
        import_export(folder=export)
    assert Supplier.objects.get().name == "Here"


class TestBroken:
    @pytest.mark.parametrize(
        ("place", "said"),
        [
            (("tables/records_board.json", "190.0", "191.0"), "not as the ledger says"),
            (
                ("tables/records_person.json", "Shop Maker", "Other"),
                "not as the ledger",
            ),
            (("ledger.jsonl", "receive lot", "receive log"), "was altered"),
            (("about.json", '"digest": "', '"digest": "0'), "at another digest"),
            (("tables/records_lot.json", '"number"', '"colour"'), "no column"),
            (("tables/records_lot.json", "{", "["), "Nothing was imported"),
            (("tables/records_lot.json", 'al_id": ', 'al_id": 999'), "Nothing was"),
            (("tables/records_lotcheck.json", "true", '"maybe"'), "Nothing was"),
        ],
    )
    def test_at_any_place_writes_nothing(self, shop, export, place, said):
        name, old, new = place
        edit(export, name, lambda text: text.replace(old, new))
        with pytest.raises(Refusal, match=said):
            import_export(folder=export)
        assert not LedgerEntry.objects.exists()
        assert not Person.objects.exists()

    def test_by_a_lost_row(self, shop, export):
        first, *boards, last = self.boards(export)
        self.put(export, [first, *boards[:-1], last])
        with pytest.raises(Refusal, match="in the ledger, but not in its table"):
            import_export(folder=export)
        assert not LedgerEntry.objects.exists()

    def test_by_a_smuggled_row(self, shop, export):
        first, *boards, last = self.boards(export)
        more = re.sub(r'"id": \d+', '"id": 99999', boards[-1]).replace("B0003", "B0099")
        self.put(export, [first, *boards[:-1], f"{boards[-1]},", more, last])
        with pytest.raises(Refusal, match=r"knows nothing of .*B0099"):
            import_export(folder=export)
        assert not LedgerEntry.objects.exists()

    def boards(self, export):
        return (export / "tables" / "records_board.json").read_text().splitlines()

    def put(self, export, lines):
        edit(export, "tables/records_board.json", lambda _: "\n".join(lines))

    def test_by_an_end_cut_off(self, shop, export):
        edit(export, "ledger.jsonl", lambda text: "\n".join(text.split("\n")[:-2]))
        with pytest.raises(Refusal, match="differ in length"):
            import_export(folder=export)

    def test_by_a_changed_photo(self, shop, export):
        (file,) = (path for path in (export / "files").rglob("*.jpg"))
        file.write_bytes(b"another picture")
        with pytest.raises(Refusal, match="have changed"):
            import_export(folder=export)
        assert not StoredFile.objects.exists()

    def test_by_a_file_that_is_none_of_its_own(self, shop, export):
        (export / "files" / "evil.html").write_text("x")
        with pytest.raises(Refusal, match="take it out"):
            import_export(folder=export)


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("text", "said"),
    [
        (None, "is no export"),
        ("", "is no export"),
        ("[]", "is no export"),
        ('{"format": 1}', "is no export"),
        ('{"format": 2, "sequence": 0, "digest": "", "rows": {}}', "newer version"),
    ],
)
def test_another_folder_is_refused(tmp_path, text, said):
    if text is not None:
        (tmp_path / "about.json").write_text(text)
    with pytest.raises(Refusal, match=said):
        import_export(folder=tmp_path)


def test_a_file_that_is_there_already_is_not_written_again(shop, export, monkeypatch):
    import_export(folder=export)
    sha256 = StoredFile.objects.get().sha256
    assert default_storage.exists(place_of(sha256))
    (stored,) = default_storage.listdir(sha256[:2])[1]
    assert stored == sha256
