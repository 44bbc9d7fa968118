"""kill -9 while eight people write: whatever was answered for is in the book."""

import random
import threading
import time
import uuid

import pytest

from tests.faults.set_up import PEOPLE

pytestmark = pytest.mark.faults
SAVED = 302
WHOLE_BOOK_EVERY = 20
PATIENCE_S = 60


class Writer(threading.Thread):
    """One maker who adds suppliers until the server is gone."""

    def __init__(self, client):
        super().__init__()
        self.client = client
        self.acknowledged = []
        self.strange = set()

    def run(self):
        while True:
            name = f"Supplier {uuid.uuid4()}"
            status = self.client.add_supplier(name)
            if status == 0:
                return
            if status == SAVED:
                self.acknowledged.append(name)
            else:
                self.strange.add(status)


def let_write(writers):
    """Wait until the writers are well under way."""
    ends = time.monotonic() + PATIENCE_S
    while sum(len(writer.acknowledged) for writer in writers) < len(writers):
        assert time.monotonic() < ends, "nothing was written"
        time.sleep(0.01)


def test_every_acknowledged_write_is_there_and_the_chain_holds(shop, rounds):
    clients = [shop.client(login) for login in PEOPLE]
    chance = random.Random(7)  # noqa: S311 - when to strike
    acknowledged = set()
    for number in range(1, rounds + 1):
        writers = [Writer(client) for client in clients]
        for writer in writers:
            writer.start()
        let_write(writers)
        time.sleep(chance.random() / 2)
        shop.kill()
        for writer in writers:
            writer.join(timeout=60)
            assert not writer.is_alive()
            assert writer.strange == set()
            acknowledged.update(writer.acknowledged)

        there = shop.suppliers()
        assert acknowledged <= set(there), f"lost in round {number}"
        assert len(there) == len(set(there))
        assert shop.chain_breaks() == [], f"broken in round {number}"
        if number % WHOLE_BOOK_EVERY == 0 or number == rounds:
            assert shop.breaks() == []
        shop.start()
    assert len(acknowledged) >= rounds * len(PEOPLE)
    print(f"{rounds} kills, {len(acknowledged)} acknowledged writes, 0 lost")  # noqa: T201
