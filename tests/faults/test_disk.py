"""A full disk and a read-only disk: a sentence, nothing lost, and work goes on."""

import time

import pytest

from tests.faults.disk import allow_writes, refuse_every_write, small_disk
from tests.faults.set_up import PEOPLE
from tests.faults.shop import postgresql
from tests.faults.stubborn import Stubborn, names

pytestmark = [
    pytest.mark.faults,
    pytest.mark.skipif(
        postgresql(), reason="the book is on PostgreSQL's disk, not the program's"
    ),
]
SAVED, REFUSED = 302, 422
DISK_MIB = 12
PATIENCE_S = 300
SAID = "Nothing was saved and nothing is lost"


@pytest.fixture
def disk(tmp_path):
    with small_disk(tmp_path / "disk", DISK_MIB) as result:
        yield result


@pytest.fixture
def full(disk, open_shop):
    """Serve a shop from a disk that is full."""
    shop = open_shop(disk.folder).start()
    people = [shop.client(login) for login in PEOPLE[:4]]
    disk.fill(shop)
    return shop, people


def test_a_full_disk_loses_nothing_and_doubles_nothing(disk, full):
    shop, people = full
    writers = [Stubborn(client, forms=40) for client in people]
    for writer in writers:
        writer.start()
    ends = time.monotonic() + PATIENCE_S
    while not any(writer.refused for writer in writers):
        assert time.monotonic() < ends, "the disk was never full"
        time.sleep(0.05)

    disk.free(shop)
    for writer in writers:
        writer.join(timeout=PATIENCE_S)
        assert not writer.is_alive()
    assert sorted(shop.suppliers()) == names(writers)
    assert shop.breaks() == []


@pytest.mark.parametrize("free_kib", [0, 512, 1200, 1800])
def test_a_backup_on_a_full_disk_leaves_nothing_behind(disk, open_shop, free_kib):
    shop = open_shop()
    disk.fill(shop, leaving=1024 * free_kib)
    before = set(disk.folder.iterdir())
    done = shop.manage("backup", disk.folder / "book.zip", check=False)
    assert done.returncode == 1
    assert "No backup was made" in done.stderr
    assert "Traceback" not in done.stderr, done.stderr
    assert set(disk.folder.iterdir()) == before


def test_a_disk_gone_read_only_is_said_and_the_book_can_still_be_read(shop):
    client = shop.client()
    assert client.add_supplier("Before") == SAVED
    refuse_every_write(shop)
    status, page = client.post("/lots/suppliers/add/", name="Meanwhile")
    assert status == REFUSED
    assert SAID in page
    assert client.get("/lots/suppliers/")[0] == 200
    allow_writes(shop)
    assert client.add_supplier("After") == SAVED
    assert set(shop.suppliers()) == {"Before", "After"}
    assert shop.breaks() == []


def test_a_shop_on_a_read_only_disk_says_so_and_does_not_open(disk, open_shop):
    shop = open_shop(disk.folder)
    with disk.read_only():
        done = shop.manage("start", "--port", str(shop.port), check=False)
        assert done.returncode == 1
        assert "can't be used" in done.stderr
        assert str(shop.folder) in done.stderr
        assert "Traceback" not in done.stderr
    assert shop.breaks() == []
