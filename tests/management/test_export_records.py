"""From a shell: an export appears whole or not at all, and is read back."""

import io

import pytest
from django.core.files.storage import default_storage
from django.core.management import CommandError, call_command

from records.documents import export_book
from records.models import LedgerEntry, StoredFile
from records.queries.files import place_of
from tests.own_book import own_database
from tests.whole_book import write_book


def run(name, *options):
    out = io.StringIO()
    call_command(name, *map(str, options), stdout=out, stderr=io.StringIO())
    return out.getvalue()


def test_out_and_back_in(transactional_db, tmp_path):
    folder, old, new = (tmp_path / name for name in ("export", "old", "new"))
    old.mkdir()
    new.mkdir()
    with own_database(old):
        write_book()
        said = run("export_records", folder)
        digest = LedgerEntry.objects.head().digest
    assert "index.html" in said
    with own_database(new):
        said = run("import_export", folder)
        assert digest in said
        assert "changepassword" in said
        with pytest.raises(CommandError, match="not empty"):
            run("import_export", folder)


@pytest.mark.django_db
class TestExport:
    def test_stays_out_of_a_folder_that_is_there(self, tmp_path):
        with pytest.raises(CommandError, match="there already"):
            run("export_records", tmp_path)

    def test_leaves_nothing_where_it_fails(self, tmp_path, monkeypatch):
        def full(*_):
            raise OSError("No space left on device")

        monkeypatch.setattr(export_book, "_write_lines", full)
        with pytest.raises(CommandError, match="Nothing was exported: No space"):
            run("export_records", tmp_path / "export")
        assert list(tmp_path.iterdir()) == []

    def test_says_what_it_could_not_copy(self, tmp_path):
        write_book()
        sha256 = StoredFile.objects.get().sha256
        default_storage.delete(place_of(sha256))
        with pytest.raises(CommandError, match=sha256):
            run("export_records", tmp_path / "export")
        assert (tmp_path / "export" / "index.html").exists()
