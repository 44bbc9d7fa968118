"""PostgreSQL stopped and started during saves: each form counts, and counts once."""

import tempfile
import time
from pathlib import Path

import pytest

from tests.faults.cluster import Cluster
from tests.faults.set_up import PEOPLE
from tests.faults.shop import Shop, postgresql
from tests.faults.stubborn import Stubborn, names

pytestmark = [
    pytest.mark.faults,
    pytest.mark.skipif(not postgresql(), reason="set DATABASE_URL to a PostgreSQL"),
]


@pytest.fixture
def cluster():
    """Make a cluster where the account postgres can get at it."""
    with tempfile.TemporaryDirectory() as folder:
        Path(folder).chmod(0o711)
        made = Cluster(Path(folder) / "cluster")
        made.make()
        yield made
        made.stop()


@pytest.fixture
def shop(cluster, tmp_path):
    folder = tmp_path / "shop"
    folder.mkdir()
    opened = Shop(folder, cluster.url).set_up()
    yield opened.start()
    opened.kill()


def test_nothing_is_lost_or_doubled(cluster, shop, rounds):
    times = min(rounds, 20)
    clients = [shop.client(login) for login in PEOPLE[:4]]
    writers = [Stubborn(client, forms=12 * times) for client in clients]
    for writer in writers:
        writer.start()
    for number in range(times):
        wait_for(writers, forms=8 * (number + 1))
        cluster.restart_at_once()
    for writer in writers:
        writer.join(timeout=600)
        assert not writer.is_alive()
    assert any(writer.refused for writer in writers), "no save was ever broken into"
    assert sorted(shop.suppliers()) == names(writers)
    assert shop.breaks() == []


def wait_for(writers, forms):
    """Let the writers get on before the next stroke."""
    ends = time.monotonic() + 120
    while sum(writer.answers.count(302) for writer in writers) < forms:
        assert time.monotonic() < ends, [writer.answers[-5:] for writer in writers]
        time.sleep(0.02)
