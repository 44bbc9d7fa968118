"""SQLite: one file, which must not be moved from under somebody's hands."""

import sqlite3
from contextlib import closing

import pytest
from django.db import connection

from records.services.database_sqlite import SqliteBook
from records.services.refusal import Refusal


@pytest.fixture
def path(tmp_path):
    """Make a database with a write-ahead log, as the program's is."""
    path = tmp_path / "a shop" / "shop.sqlite3"
    path.parent.mkdir()
    with closing(sqlite3.connect(path)) as book:
        book.execute("PRAGMA journal_mode=WAL")
        book.execute("CREATE TABLE t (x)")
        book.commit()
    return path


@pytest.fixture
def book(path, db):
    return SqliteBook({"NAME": str(path)})


def test_a_file_that_nobody_has_open_is_free(book):
    assert not book.is_in_use()
    assert not SqliteBook({"NAME": "/nowhere/shop.sqlite3"}).is_in_use()


def test_a_file_that_somebody_only_reads_is_in_use(book, path):
    with closing(sqlite3.connect(path)) as reader:
        reader.execute("SELECT * FROM t").fetchall()
        assert book.is_in_use()
    assert not book.is_in_use()


def test_a_damaged_file_cannot_tell(book, path):
    path.write_bytes(b"no database" * 1000)
    assert not book.is_in_use()


def test_the_write_ahead_log_goes_aside_with_its_book(book, path, tmp_path):
    aside, folder = tmp_path / "aside", tmp_path / "copy"
    aside.mkdir()
    folder.mkdir()
    with closing(sqlite3.connect(folder / "dump")) as other:
        other.execute("CREATE TABLE u (x)")
    for ending in ("-wal", "-shm"):
        path.with_name(path.name + ending).write_bytes(b"log")
    with book.open_copy(folder / "dump", folder) as copy:
        assert book.exchange(copy, aside) == str(aside / "shop.sqlite3")
    assert {p.name for p in aside.iterdir()} == {
        "shop.sqlite3",
        "shop.sqlite3-wal",
        "shop.sqlite3-shm",
    }
    with closing(sqlite3.connect(path)) as now:
        assert now.execute("SELECT name FROM sqlite_master").fetchall() == [("u",)]


def test_a_copy_that_cannot_be_written_is_a_sentence(book, tmp_path):
    if connection.vendor == "sqlite":
        with pytest.raises(Refusal, match="can't be copied: unable to open"):
            book.dump(tmp_path / "no folder" / "dump")


def test_the_copys_address_is_one_whatever_the_folder_is_called(book, tmp_path):
    folder = tmp_path / "50 % off?"
    folder.mkdir()
    (folder / "dump").write_bytes(b"")
    with book.open_copy(folder / "dump", folder) as copy:
        assert copy.url.startswith("sqlite:////")
        assert copy.url.endswith("/50%20%25%20off%3F/shop.sqlite3")
