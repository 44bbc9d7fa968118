"""The whole book in plain files, provable without this program."""

import csv
import hashlib
import json

import pytest
from django.core.files.storage import default_storage

from records.documents.export_book import export_book
from records.documents.keys import PublicKeys, make_keys
from records.models import LedgerEntry, StoredFile
from records.queries.exports import exported_models
from records.queries.files import place_of
from records.web.shared.tables import cell
from tests.credentials import PASSWORD
from tests.factories import NOON
from tests.whole_book import NAME, write_book

pytestmark = pytest.mark.django_db


@pytest.fixture
def book(db):
    return write_book()


@pytest.fixture
def export(book, tmp_path):
    """Export the book into a folder, and give the folder."""

    def call():
        folder = tmp_path / "export"
        folder.mkdir()
        export_book(
            folder, at=NOON, version="0.1.0", cell=cell, progress=lambda _: None
        )
        return folder

    return call


def about(folder):
    return json.loads((folder / "about.json").read_text())


def test_it_says_what_it_is(export):
    head = LedgerEntry.objects.head()
    said = about(export())
    assert (said["sequence"], said["digest"]) == (head.sequence, head.digest)
    assert said["shop"] == NAME
    assert said["made_at"] == "2026-03-02T12:00:00+00:00"
    assert said["missing_files"] == []


def test_each_table_is_there_twice_with_all_its_rows(export):
    folder = export()
    counts = about(folder)["rows"]
    assert set(counts) == {model._meta.db_table for model in exported_models()}
    for table, count in counts.items():
        exact = json.loads((folder / "tables" / f"{table}.json").read_text())
        with (folder / "tables" / f"{table}.csv").open(
            encoding="utf-8-sig", newline=""
        ) as file:
            first, *rows = csv.reader(file)
        assert len(exact) == len(rows) == count, table
        if exact:
            assert first == list({**exact[0]}) or set(first) == set(exact[0])


def test_no_spreadsheet_takes_a_cell_for_a_formula(export, book):
    book.write('=HYPERLINK("http://evil.example")')
    folder = export()
    with (folder / "tables" / "records_supplier.csv").open(
        encoding="utf-8-sig", newline=""
    ) as file:
        (row,) = csv.DictReader(file)
    assert row["name"] == '\'=HYPERLINK("http://evil.example")'
    (exact,) = json.loads((folder / "tables" / "records_supplier.json").read_text())
    assert exact["name"] == '=HYPERLINK("http://evil.example")'


def test_the_chain_is_proven_with_nothing_but_sha_256(export):
    """As README.txt says it: FIPS 180-4 over the digest before and the line."""
    folder = export()
    digest = "0" * 64
    lines = (folder / "ledger.jsonl").read_bytes().split(b"\n")[:-1]
    for line in lines:
        digest = hashlib.sha256(bytes.fromhex(digest) + line).hexdigest()
    assert len(lines) == about(folder)["sequence"]
    assert digest == about(folder)["digest"]
    assert digest in (folder / "README.txt").read_text()


def test_files_are_there_under_the_digest_of_their_bytes(export):
    folder = export()
    (file,) = (path for path in (folder / "files").rglob("*") if path.is_file())
    assert file.suffix == ".jpg"
    assert hashlib.sha256(file.read_bytes()).hexdigest() == file.stem


def test_a_lost_file_is_named_and_the_rest_goes_out(export):
    sha256 = StoredFile.objects.get().sha256
    default_storage.delete(place_of(sha256))
    folder = export()
    assert about(folder)["missing_files"] == [sha256]
    assert (folder / "index.html").exists()


def test_keys_go_out_without_their_private_parts(export, tmp_path):
    keys = make_keys(tmp_path, NAME, NOON)
    folder = export()
    (file,) = (folder / "keys").iterdir()
    assert PublicKeys.from_json(file.read_text()) == keys.public
    everything = "".join(
        path.read_text(errors="replace")
        for path in folder.rglob("*")
        if path.is_file() and path.suffix != ".jpg"
    )
    assert "PRIVATE" not in everything
    assert '"d":' not in everything
    assert PASSWORD not in everything


def test_an_empty_shop_goes_out_too(db, tmp_path):
    folder = tmp_path / "export"
    folder.mkdir()
    said = export_book(
        folder, at=NOON, version="0.1.0", cell=cell, progress=lambda _: None
    )
    assert (said["sequence"], said["digest"]) == (0, "0" * 64)
    assert (folder / "ledger.jsonl").read_bytes() == b""
