"""A page of the database file that went bad is found by the check, wherever it is."""

import random
import shutil
import sqlite3
from contextlib import closing

import pytest

from tests.faults.shop import postgresql

pytestmark = [
    pytest.mark.faults,
    pytest.mark.skipif(
        postgresql(), reason="PostgreSQL finds bad pages by checksums of its own"
    ),
]
PAGE = 4096
SEEN_ONCE = 5  # letters that a text has at least, to be found by itself
TABLES = ("records_ledgerentry", "records_board", "records_supplier", "records_lot")


def pages_of(path, *tables):
    """List the pages that hold rows or keys of these tables (SQLite's own dbstat)."""
    marks = ", ".join("?" * len(tables))
    with closing(sqlite3.connect(path)) as book:
        try:
            rows = book.execute(
                "SELECT DISTINCT pageno FROM dbstat WHERE name IN "
                "(SELECT name FROM sqlite_master WHERE tbl_name IN "
                f"({marks})) AND ncell > 0 ORDER BY pageno",
                tables,
            ).fetchall()
        except sqlite3.OperationalError:  # built without dbstat: their roots
            rows = book.execute(
                f"SELECT rootpage FROM sqlite_master WHERE tbl_name IN ({marks}) "
                "AND rootpage > 0 ORDER BY rootpage",
                tables,
            ).fetchall()
    return [number for (number,) in rows]


@pytest.fixture
def closed(open_shop):
    """Close a shop's book, so that all of it is in one file."""
    shop = open_shop()
    with closing(sqlite3.connect(shop.folder / "shop.sqlite3")) as book:
        book.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        book.execute("PRAGMA journal_mode=DELETE")
        book.execute("VACUUM")  # nothing old is left in free space
    return shop


def verify(shop):
    """Run the check; give whether it found anything, and what it said."""
    done = shop.manage("verify_records", "--json", check=False)
    assert "Traceback" not in done.stderr, done.stderr[-2000:]
    return done.returncode, done.stdout


@pytest.mark.parametrize("damage", ["zeros", "noise"])
def test_each_page_with_records_is_found(closed, damage, rounds):
    path = closed.folder / "shop.sqlite3"
    whole = path.read_bytes()
    pages = pages_of(path, *TABLES)
    assert len(pages) >= len(TABLES)
    step = max(1, len(pages) // rounds)
    for page in pages[::step]:
        path.write_bytes(spoiled(whole, page, damage))
        result, said = verify(closed)
        assert result == 1, f"page {page} with {damage} was not found"
        assert len(said) > 10
        for side in ("-wal", "-shm"):
            path.with_name(path.name + side).unlink(missing_ok=True)
    path.write_bytes(whole)
    assert verify(closed)[0] == 0


def test_one_turned_bit_in_anything_written_is_found(closed, rounds):
    path = closed.folder / "shop.sqlite3"
    whole = path.read_bytes()
    places = written_in(path, whole)
    assert len(places) > 50
    chance = random.Random(11)  # noqa: S311 - places in a file
    for begins, length, column in chance.sample(places, min(rounds, len(places))):
        at, bit = begins + chance.randrange(length), chance.randrange(8)
        turned = bytearray(whole)
        turned[at] ^= 1 << bit
        path.write_bytes(turned)
        assert verify(closed)[0] == 1, f"bit {bit} of byte {at}, in {column}"
    path.write_bytes(whole)
    assert verify(closed)[0] == 0


def written_in(path, whole):
    """List where in the file the texts of the rows stand: place, length, column."""
    places = []
    with closing(sqlite3.connect(path)) as book:
        for table in TABLES:
            pages = pages_of(path, table)
            result = book.execute(f"SELECT * FROM {table}")
            columns = [name for name, *_ in result.description]
            for row in result:
                texts = zip(columns, row, strict=True)
                for column, text in texts:
                    if isinstance(text, str) and len(text) >= SEEN_ONCE:
                        places += seen(whole, pages, text.encode(), column)
    return places


def seen(whole, pages, text, column):
    """Find a text in these pages (a long one is spread over several, and is not)."""
    for page in pages:
        begins = whole.find(text, (page - 1) * PAGE, page * PAGE)
        if begins >= 0:
            return [(begins, len(text), column)]
    return []


def spoiled(whole, page, damage):
    """Damage all of one page."""
    begins = (page - 1) * PAGE
    noise = bytes((n * 167 + page) % 251 for n in range(PAGE))
    content = noise if damage == "noise" else bytes(PAGE)
    return whole[:begins] + content + whole[begins + PAGE :]


def test_a_file_that_is_no_database_any_more_is_said(closed):
    path = closed.folder / "shop.sqlite3"
    shutil.copy(path, path.with_suffix(".kept"))
    with path.open("r+b") as file:
        file.write(b"\0" * 100)
    result, said = verify(closed)
    assert result == 1
    assert "can't be read" in said
    shutil.copy(path.with_suffix(".kept"), path)
    assert verify(closed)[0] == 0


def test_a_damaged_book_is_restored_from_its_backup(closed, tmp_path):
    closed.manage("backup", tmp_path / "book.zip")
    path = closed.folder / "shop.sqlite3"
    whole = path.read_bytes()
    page = pages_of(path, "records_ledgerentry")[0]
    path.write_bytes(spoiled(whole, page, "noise"))
    assert verify(closed)[0] == 1
    closed.manage("restore", tmp_path / "book.zip", "--over-a-newer-shop")
    assert verify(closed)[0] == 0
