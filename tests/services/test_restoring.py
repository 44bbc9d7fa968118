"""A backup takes the shop's place only where nothing is lost unknowingly."""

import datetime as dt
import json
import os
import subprocess
import sys
import zipfile
from contextlib import contextmanager

import pytest
from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.db import connection

from records.documents.keys import current_keys, every_public_key, make_keys
from records.models import LedgerEntry, StoredFile, Supplier
from records.queries.files import place_of
from records.rules.integrity import breaks
from records.services.backups import NotGood, take_backup
from records.services.refusal import Refusal
from records.services.restoring import restore
from tests.forging import forge
from tests.own_book import own_book, own_database  # noqa: F401
from tests.whole_book import write_book

AT = dt.datetime(2026, 3, 2, 2, tzinfo=dt.UTC)


@pytest.fixture
def book(own_book, tmp_path):  # noqa: F811
    make_keys(tmp_path, "Test Airscrew Works", AT)
    return own_book


@pytest.fixture
def backup(book, tmp_path):
    file = tmp_path / "book.zip"
    take_backup(target=file, at=AT)
    return file


def head():
    return LedgerEntry.objects.head().digest


def names():
    return set(Supplier.objects.values_list("name", flat=True))


@contextmanager
def somebody_at_work():
    """Let another process write into the book."""
    settings = connection.settings_dict
    writer = subprocess.Popen(
        [sys.executable, "-m", "tests.services.writer"],
        env=os.environ | {"BOOK": json.dumps([settings["ENGINE"], settings["NAME"]])},
        stdout=subprocess.PIPE,
        text=True,
    )
    try:
        assert writer.stdout.readline().strip() == "writing"
        yield
    finally:
        writer.terminate()
        writer.communicate()


def test_the_same_book_is_put_back_whole_and_what_was_there_is_kept(
    book, backup, tmp_path
):
    before = head()
    done = restore(file=backup, at=AT)
    assert head() == before
    assert list(breaks()) == []
    assert len(done.aside) == 2
    assert (tmp_path / "aside-20260302-020000" / "keys" / "seals").is_dir()
    if connection.vendor == "sqlite":
        assert (tmp_path / "aside-20260302-020000" / "shop.sqlite3").is_file()
    assert not list(tmp_path.glob(".shop-scratch-*"))


def test_a_newer_book_stays_unless_told_and_then_is_kept_aside(book, backup, tmp_path):
    last = LedgerEntry.objects.head().sequence
    book.write("Written after the backup")
    with pytest.raises(Refusal) as refused:
        restore(file=backup, at=AT)
    assert f"Entries {last + 1} to {last + 1} of this book" in str(refused.value)
    assert "This book is newer" in str(refused.value)
    assert names() == {"Written after the backup"}

    done = restore(file=backup, at=AT, over_a_newer_shop=True)
    assert names() == set()
    assert LedgerEntry.objects.head().sequence == last
    assert list(breaks()) == []
    assert done.aside


def test_a_book_that_went_another_way_stays(book, backup, tmp_path):
    """Restored once, and written in since: it is no beginning of a newer backup."""
    book.write("Here")
    newer = tmp_path / "newer.zip"
    take_backup(target=newer, at=AT)
    last = LedgerEntry.objects.head().sequence
    restore(file=backup, at=AT, over_a_newer_shop=True)
    book.write("There")
    with pytest.raises(Refusal) as refused:
        restore(file=newer, at=AT + dt.timedelta(seconds=1))
    assert f"After entry {last - 1} the books part" in str(refused.value)
    assert names() == {"There"}


def test_an_empty_shop_takes_a_backup_but_another_shop_does_not(
    transactional_db, tmp_path, settings
):
    backup = tmp_path / "book.zip"
    with own_database(tmp_path):
        write_book()
        make_keys(tmp_path, "Test Airscrew Works", AT)
        take_backup(target=backup, at=AT)
        before = head()
    settings.DATA = tmp_path / "new"
    settings.DATA.mkdir()
    with own_database(settings.DATA):
        restore(file=backup, at=AT)
        assert head() == before
        assert list(breaks()) == []
        assert current_keys(settings.DATA) is not None
    with own_database(settings.DATA):
        write_book()
        with pytest.raises(Refusal, match="is of another book"):
            restore(file=backup, at=AT)


def test_a_book_that_is_at_work_stays(book, backup):
    with somebody_at_work(), pytest.raises(Refusal, match="Stop it first"):
        restore(file=backup, at=AT)
    assert list(breaks()) == []


def test_damaged_files_come_back_and_keys_made_since_stay(book, backup, tmp_path):
    sha256 = StoredFile.objects.get().sha256
    place = place_of(sha256)
    with default_storage.open(place) as file:
        good = file.read()
    default_storage.delete(place)
    default_storage.save(place, ContentFile(b"damaged"))
    old = current_keys(tmp_path).public.name
    new = make_keys(tmp_path, "Test Airscrew Works", AT).public.name

    done = restore(file=backup, at=AT)
    with default_storage.open(place) as file:
        assert file.read() == good
    aside = tmp_path / "aside-20260302-020000" / "files"
    assert str(aside) in done.aside
    assert (aside / sha256).read_bytes() == b"damaged"
    assert current_keys(tmp_path).public.name == old
    assert {public.name for public in every_public_key(tmp_path)} == {old, new}


def test_a_copy_with_breaks_stays_out_unless_told(book, tmp_path):
    forge("UPDATE records_board SET grade = 'x' WHERE number = 'B0001'")
    file = tmp_path / "book.zip"
    with pytest.raises(NotGood) as problem:
        take_backup(target=file, at=AT)
    with pytest.raises(Refusal, match=r"B0001.*--with-its-breaks"):
        restore(file=problem.value.kept, at=AT)
    restore(file=problem.value.kept, at=AT, with_its_breaks=True)
    assert len(list(breaks())) == 1


def edited(backup, **changes):
    """Copy a backup, with something else said about it."""
    file = backup.with_name("edited.zip")
    with zipfile.ZipFile(backup) as old, zipfile.ZipFile(file, "w") as new:
        for name in old.namelist():
            data = old.read(name)
            if name == "about.json":
                data = json.dumps(json.loads(data) | changes)
            new.writestr(name, data)
    return file


def test_a_backup_of_another_engine_or_with_another_head_stays_out(book, backup):
    other = {"sqlite": "postgresql", "postgresql": "sqlite"}[connection.vendor]
    with pytest.raises(Refusal, match="import_export"):
        restore(file=edited(backup, engine=other), at=AT)
    with pytest.raises(Refusal, match="or at another digest"):
        restore(file=edited(backup, digest="f" * 64), at=AT)


def test_a_book_too_damaged_to_read_is_replaced_knowingly(book, backup, tmp_path):
    if connection.vendor != "sqlite":
        with connection.cursor() as cursor:
            cursor.execute("ALTER TABLE records_ledgerentry RENAME COLUMN body TO b")
    else:
        connection.close()
        with (tmp_path / "shop.sqlite3").open("r+b") as file:
            file.write(b"\0" * 4096)
    with pytest.raises(Refusal, match="can't be read"):
        restore(file=backup, at=AT)
    restore(file=backup, at=AT, over_a_newer_shop=True)
    assert list(breaks()) == []
