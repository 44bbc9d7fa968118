"""Shops to be broken: each test its own, with a server that is always ended."""

import os
import shutil
from contextlib import ExitStack, contextmanager

import pytest

from tests.faults.shop import Shop, database_url, postgresql
from tests.own_book import drop_databases, maintain


@pytest.fixture(scope="session")
def rounds():
    """How often a fault is tried: few by default, FAULT_ROUNDS for all."""
    return int(os.environ.get("FAULT_ROUNDS", "3"))


@contextmanager
def _database(name, template, blocker):
    """Make a database for a shop where these tests run on PostgreSQL; give its URL."""
    if not postgresql():
        yield ""
        return
    with blocker.unblock():
        drop_databases(name)
        maintain(f'CREATE DATABASE "{name}" TEMPLATE "{template}"')
    yield database_url(name)
    with blocker.unblock():
        drop_databases(name)


@pytest.fixture(scope="session")
def pattern(tmp_path_factory, django_db_blocker):
    """Set a shop up once; the others are copies of it."""
    folder = tmp_path_factory.mktemp("pattern") / "shop"
    folder.mkdir()
    name = f"pattern_{os.getpid()}"
    with _database(name, "template0", django_db_blocker) as url:
        Shop(folder, url).set_up()
        yield folder, name


@pytest.fixture
def open_shop(pattern, tmp_path, django_db_blocker):
    """Open a shop in a folder; end its server and drop its database after all."""
    with ExitStack() as last:

        def call(folder=None):
            place = folder or tmp_path / "shop"
            shutil.copytree(pattern[0], place, dirs_exist_ok=True)
            name = f"faults_{os.getpid()}"
            url = last.enter_context(_database(name, pattern[1], django_db_blocker))
            shop = Shop(place, url)
            last.callback(shop.kill)
            return shop

        yield call


@pytest.fixture
def shop(open_shop):
    """Open a shop and serve it."""
    return open_shop().start()
