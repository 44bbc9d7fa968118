"""An empty PostgreSQL database: beside the tests' own, or on a server just for it."""

import os
import shutil
import tempfile
import uuid
from contextlib import contextmanager
from pathlib import Path
from urllib.parse import urlsplit

import psycopg

from tests.faults.cluster import Cluster


@contextmanager
def empty_database():
    """Give the address of an empty database."""
    given = os.environ.get("DATABASE_URL", "")
    own = new_database(given) if given.startswith("postgres") else new_server()
    with own as url:
        yield url


@contextmanager
def new_database(server):
    """Make an empty database on a server that is there, and drop it in the end."""
    name = f"hosts_{uuid.uuid4().hex}"
    with psycopg.connect(server, autocommit=True) as session:
        session.execute(f'CREATE DATABASE "{name}" TEMPLATE template0')
    try:
        yield urlsplit(server)._replace(path=f"/{name}").geturl()
    finally:
        with psycopg.connect(server, autocommit=True) as session:
            session.execute(f'DROP DATABASE "{name}" WITH (FORCE)')


@contextmanager
def new_server():
    """Start a PostgreSQL of one's own, and take it away with all its data."""
    folder = Path(tempfile.mkdtemp(prefix="postgresql"))
    folder.chmod(0o711)
    cluster = Cluster(folder / "cluster")
    try:
        cluster.make()
        yield cluster.url
        cluster.stop()
    finally:
        shutil.rmtree(folder)
