"""A shop with the real server, which may be killed, starved and damaged."""

import json
import os
import resource
import signal
import socket
import sqlite3
import subprocess
import sys
import time
from contextlib import closing
from pathlib import Path
from urllib.parse import urlsplit, urlunsplit

import psycopg
from django.db import connection

from records import chain
from tests.faults.client import Client

ROOT = Path(__file__).resolve().parents[2]
PATIENCE_S = 120
SERVE = "from records.management.server import serve; serve('127.0.0.1', {})"
LINKS = (
    "SELECT sequence, previous, body, digest FROM records_ledgerentry ORDER BY sequence"
)


def postgresql():
    """Tell whether these tests run on PostgreSQL."""
    return connection.vendor == "postgresql"


class Shop:
    """A book in a folder or database of its own, and its server."""

    def __init__(self, folder, url=""):
        self.folder = folder
        self.url = url or f"sqlite:///{folder / 'shop.sqlite3'}"
        self.log = folder.with_name(f"{folder.name}.log")
        self.port = _free_port()
        self.server = None
        self.largest_file = resource.RLIM_INFINITY

    @property
    def environment(self):
        kept = {k: v for k, v in os.environ.items() if not k.startswith("SHOPQA")}
        own = {"SHOPQA_DATA": str(self.folder), "DATABASE_URL": self.url}
        return {"DJANGO_SETTINGS_MODULE": "shopqa.settings", **kept, **own}

    def set_up(self):
        self.run("-m", "tests.faults.set_up")
        return self

    def manage(self, *command, check=True):
        return self.run("manage.py", *command, check=check)

    def run(self, *command, check=True):
        done = subprocess.run(  # noqa: S603 - the program itself
            [sys.executable, *map(str, command)],
            cwd=ROOT,
            env=self.environment,
            capture_output=True,
            text=True,
            check=False,
            timeout=600,
            preexec_fn=self._limit,
        )
        assert not (check and done.returncode), done.stderr + done.stdout
        return done

    def start(self):
        """Start the server that `start` starts, and wait until it answers."""
        with self.log.open("ab") as log:
            self.server = subprocess.Popen(  # noqa: S603 - the program itself
                [sys.executable, "-c", SERVE.format(self.port)],
                cwd=ROOT,
                env=self.environment,
                stdout=log,
                stderr=log,
                start_new_session=True,
            )
        ends = time.monotonic() + PATIENCE_S
        while not self._answers():
            late = time.monotonic() > ends or self.server.poll() is not None
            assert not late, f"no answer:\n{self.log.read_text()[-2000:]}"
            time.sleep(0.05)
        return self

    def kill(self):
        """Kill the server and its workers, with no time to tidy up."""
        self._end(signal.SIGKILL)

    def stop(self):
        self._end(signal.SIGTERM)

    def client(self, login="owner"):
        return Client(self.port).sign_in(login)

    def workers(self):
        """Give the process ids of the server and its workers."""
        if self.server is None:
            return []
        pid = self.server.pid
        children = Path(f"/proc/{pid}/task/{pid}/children").read_text().split()
        return [pid, *map(int, children)]

    def rows(self, question):
        if self.url.startswith("sqlite"):
            with closing(sqlite3.connect(self.folder / "shop.sqlite3")) as book:
                return book.execute(question).fetchall()
        with psycopg.connect(self.url) as session:
            return session.execute(question).fetchall()

    def suppliers(self):
        return [name for (name,) in self.rows("SELECT name FROM records_supplier")]

    def chain_breaks(self):
        links = (
            chain.Link(sequence, previous, body.encode(), digest)
            for sequence, previous, body, digest in self.rows(LINKS)
        )
        return list(chain.verify_chain(links))

    def breaks(self):
        """Run every check of the book."""
        answer = self.manage("verify_records", "--json", check=False).stdout
        return json.loads(answer)

    def _limit(self):
        most = (self.largest_file, resource.RLIM_INFINITY)
        resource.setrlimit(resource.RLIMIT_FSIZE, most)

    def _answers(self):
        try:
            return Client(self.port).get("/sign-in/")[0] == 200
        except OSError:
            return False

    def _end(self, how):
        if self.server is not None:
            os.killpg(self.server.pid, how)
            self.server.wait(timeout=60)
            self.server = None


def _free_port():
    with socket.create_server(("127.0.0.1", 0)) as server:
        return server.getsockname()[1]


def database_url(name):
    """Give the address of another database on the server that the tests use."""
    parts = urlsplit(os.environ["DATABASE_URL"])
    return urlunsplit(parts._replace(path=f"/{name}"))
