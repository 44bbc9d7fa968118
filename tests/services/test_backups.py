"""A backup is good only when it was restored and verified: else there is none."""

import datetime as dt
import json
import os
import stat
import subprocess
import sys
import time
import zipfile

import pytest
from django.core.files.storage import default_storage
from django.db import OperationalError, connection

from records.documents.keys import make_keys
from records.models import BackupRun, LedgerEntry, StoredFile
from records.queries.files import place_of
from records.services import backups
from records.services.backup_packing import read_about
from records.services.backups import NotGood, take_backup
from records.services.refusal import Refusal
from tests.forging import forge
from tests.own_book import own_book  # noqa: F401

AT = dt.datetime(2026, 3, 2, 2, tzinfo=dt.UTC)


@pytest.fixture
def target(tmp_path):
    folder = tmp_path / "safe"
    folder.mkdir()
    return folder / "book.zip"


@pytest.fixture
def book(own_book, tmp_path):  # noqa: F811
    make_keys(tmp_path, "Test Airscrew Works", AT)
    (tmp_path / "keys" / "secret_key").write_text("not the real one")
    return own_book


def test_a_good_one_holds_everything_and_only_its_owner_reads_it(book, target):
    run = take_backup(target=target, at=AT)
    head = LedgerEntry.objects.head()
    assert (run.sequence, run.digest) == (head.sequence, head.digest)
    with zipfile.ZipFile(target) as packed:
        names = set(packed.namelist())
    sha256 = StoredFile.objects.get().sha256
    assert {"about.json", "database", f"files/{place_of(sha256)}"} <= names
    assert sum(name.startswith("keys/seals/") for name in names) == 2
    assert "keys/secret_key" in names
    assert stat.S_IMODE(target.stat().st_mode) == 0o600
    assert [path.name for path in target.parent.iterdir()] == ["book.zip"]


def test_it_says_what_it_is_and_is_written_down(book, target):
    told = []
    run = take_backup(target=target, at=AT, progress=told.append)
    about = read_about(target)
    head = LedgerEntry.objects.head()
    assert about.made_at == "2026-03-02T02:00:00+00:00"
    assert about.engine == connection.vendor
    assert (about.sequence, about.digest) == (head.sequence, head.digest)
    assert BackupRun.objects.get() == run
    assert (run.at, run.file_name, run.good) == (AT, "book.zip", True)
    verbs = {line.partition(" ")[0] for line in told}
    assert {"copying", "packing", "adding", "unpacking", "checking"} <= verbs


def test_a_book_that_cannot_note_it_is_backed_up_all_the_same(
    book, target, monkeypatch
):
    def full(*_, **__):
        raise OperationalError("database or disk is full")

    told = []
    monkeypatch.setattr(BackupRun, "save", full)
    assert take_backup(target=target, at=AT, progress=told.append).good
    assert target.exists()
    assert told[-1] == "the book can't note this backup: database or disk is full"


class TestBroken:
    """A book with a break gives no good backup, but its copy is kept."""

    def test_by_a_lost_file(self, book, target):
        default_storage.delete(place_of(StoredFile.objects.get().sha256))
        with pytest.raises(NotGood) as problem:
            take_backup(target=target, at=AT)
        assert "missing from the store" in problem.value.breaks[0]["sentence"]

    def test_by_a_changed_row_is_kept_under_another_name(self, book, target):
        forge("UPDATE records_board SET width_mm = 191 WHERE number = 'B0002'")
        with pytest.raises(NotGood) as problem:
            take_backup(target=target, at=AT)
        (result,) = problem.value.breaks
        assert "B0002" in result["record"]
        assert [path.name for path in target.parent.iterdir()] == ["book.zip.not-good"]
        run = BackupRun.objects.get()
        assert (run.file_name, run.good) == ("book.zip.not-good", False)


class TestRefused:
    def test_over_a_file_that_is_there(self, book, target):
        target.write_text("something else")
        with pytest.raises(Refusal, match="there already"):
            take_backup(target=target, at=AT)
        assert target.read_text() == "something else"

    def test_in_a_folder_that_is_not_there(self, book, target):
        with pytest.raises(Refusal, match="no folder"):
            take_backup(target=target / "deeper" / "book.zip", at=AT)

    def test_midway_nothing_is_left(self, book, target, monkeypatch, tmp_path):
        def fails(*_):
            raise OSError("No space left on device")

        monkeypatch.setattr(backups, "unpack", fails)
        with pytest.raises(OSError, match="No space"):
            take_backup(target=target, at=AT)
        assert list(target.parent.iterdir()) == []
        assert not list(tmp_path.glob(".shop-scratch-*"))
        assert not BackupRun.objects.exists()

    def test_where_the_copy_cannot_be_verified(self, book, target, monkeypatch):
        monkeypatch.setattr(backups, "run_on", lambda *_: "Traceback")
        with pytest.raises(Refusal, match="can't be verified"):
            take_backup(target=target, at=AT)
        assert list(target.parent.iterdir()) == []


def test_others_write_on_meanwhile_and_the_copy_is_of_one_moment(book, target):
    """Suppliers come in from another process for as long as the backup takes."""
    settings = connection.settings_dict
    writer = subprocess.Popen(
        [sys.executable, "-m", "tests.services.writer"],
        env=os.environ | {"BOOK": json.dumps([settings["ENGINE"], settings["NAME"]])},
        stdout=subprocess.PIPE,
        text=True,
    )
    try:
        assert writer.stdout.readline().strip() == "writing"
        before = LedgerEntry.objects.head().sequence
        run = take_backup(target=target, at=AT)
        time.sleep(0.2)
        after = LedgerEntry.objects.head().sequence
    finally:
        writer.terminate()
        writer.communicate()
    assert before <= run.sequence < after


def test_what_a_killed_run_left_is_cleared_away_a_day_later(book, target):
    old, fresh = (target.parent / f".shop-scratch-{n}" for n in ("old", "fresh"))
    for folder in (old, fresh):
        folder.mkdir()
        (folder / "dump").write_text("half")
    long_ago = time.time() - 25 * 3600
    os.utime(old, (long_ago, long_ago))
    take_backup(target=target, at=AT)
    assert not old.exists()
    assert fresh.exists()
