"""One command opens a shop: migrated, guarded, served, with a link for its owner."""

import io
import os
import re
import signal
import socket
import sqlite3
import subprocess
import sys
import time
import urllib.error
import urllib.request
from contextlib import closing
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command
from django.db import OperationalError

from records.management import pdf_library, server
from records.management.commands import start as start_command
from records.models.guards import guard_names, guarded_models

ROOT = Path(__file__).resolve().parents[2]
PATIENCE_S = 120


@pytest.fixture
def port():
    with socket.create_server(("127.0.0.1", 0)) as server:
        return server.getsockname()[1]


@pytest.fixture
def folder(tmp_path):
    return tmp_path / "shop"


@pytest.fixture
def start(port, folder):
    """Start the program as its owner would, and stop it by Ctrl-C at the end."""
    running = []

    def run(*options):
        environment = {
            k: v for k, v in os.environ.items() if not k.startswith(("SHOPQA", "DATA"))
        }
        process = subprocess.Popen(  # noqa: S603 - the program itself
            [sys.executable, "manage.py", "start", "--port", str(port), *options],
            cwd=ROOT,
            env={**environment, "SHOPQA_DATA": str(folder), "PYTHONUNBUFFERED": "1"},
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
        )
        running.append(process)
        return process

    yield run
    for process in running:
        stop(process)


def stop(process):
    if process.poll() is None:
        process.send_signal(signal.SIGINT)
    process.stdout.close()
    return process.wait(timeout=30)


def read_until_open(process):
    lines = []
    for line in process.stdout:
        lines.append(line)
        if "Ctrl-C" in line:
            break
    return "".join(lines)


def fetch(url):
    ends = time.monotonic() + PATIENCE_S
    while True:
        try:
            with urllib.request.urlopen(url, timeout=10) as answer:  # noqa: S310
                return answer.read().decode(), answer.headers
        except urllib.error.HTTPError:
            raise
        except OSError:
            if time.monotonic() > ends:
                raise
            time.sleep(0.2)


def test_opens_a_shop_from_nothing(start, port, folder):
    process = start("--host", "127.0.0.1")
    said = read_until_open(process)
    assert f"http://127.0.0.1:{port}/" in said
    assert "Bringing the database up to date" in said
    link = re.search(r"http://\S+/set-up/\S+/", said).group()

    page, headers = fetch(link)
    assert "Open the book" in page
    policy = headers["Content-Security-Policy"]
    assert "default-src 'self'" in policy
    assert "unsafe" not in policy

    style = re.search(r'href="(/static/\S+\.css)"', page).group(1)
    assert re.search(r"\.[0-9a-f]{12}\.css$", style)
    _, headers = fetch(f"http://127.0.0.1:{port}{style}")
    assert "immutable" in headers["Cache-Control"]

    guards = {name for model in guarded_models() for name in guard_names(model)}
    with closing(sqlite3.connect(folder / "shop.sqlite3")) as book:
        standing = book.execute("SELECT name FROM sqlite_master WHERE type='trigger'")
        assert guards <= {name for (name,) in standing}
    assert stop(process) == 0


def test_a_failed_worker_is_replaced_and_ctrl_c_ends_all(start, port):
    process = start("--host", "127.0.0.1")
    read_until_open(process)
    fetch(f"http://127.0.0.1:{port}/sign-in/")
    first = workers(process.pid)
    assert len(first) == server.WORKERS
    os.kill(min(first), signal.SIGKILL)
    ends = time.monotonic() + PATIENCE_S
    while len(workers(process.pid) - first) < 1:
        assert time.monotonic() < ends, "no new worker came"
        time.sleep(0.2)
    fetch(f"http://127.0.0.1:{port}/sign-in/")

    assert stop(process) == 0
    with socket.create_server(("127.0.0.1", port)):  # nothing was left behind
        pass


def workers(pid):
    children = Path(f"/proc/{pid}/task/{pid}/children").read_text()
    return {int(child) for child in children.split()}


class TestWithoutServing:
    """What it says, with the server and the database's work left out."""

    @pytest.fixture(autouse=True)
    def nothing_served(self, monkeypatch):
        monkeypatch.setattr(server, "serve", lambda *_: None)
        monkeypatch.setattr(start_command.Command, "_prepare", lambda _: None)

    def said(self, *options):
        out = io.StringIO()
        call_command("start", *options, port=0, stdout=out)
        return out.getvalue()

    @pytest.mark.django_db
    def test_a_link_is_printed_while_nobody_has_an_account(self):
        assert "/set-up/" in self.said()

    def test_no_link_is_printed_afterwards(self, owner):
        assert "/set-up/" not in self.said()

    def test_the_demo_goes_into_an_empty_book_only(self, owner):
        said = self.said("--demo")
        assert "The demo was not loaded" in said
        assert "SHOPQA_DATA" in said
        assert "The shop is open" in said


def test_a_missing_pdf_library_is_said_and_the_rest_goes_on(monkeypatch, db):
    monkeypatch.setattr(server, "serve", lambda *_: None)
    monkeypatch.setattr(pdf_library, "what_is_missing", lambda: pdf_library.MISSING)
    monkeypatch.setattr(start_command, "call_command", lambda *_, **__: None)
    out, err = io.StringIO(), io.StringIO()
    call_command("start", port=0, stdout=out, stderr=err)
    assert "libpangoft2-1.0-0" in err.getvalue()
    assert "The shop is open" in out.getvalue()


def test_a_database_that_cannot_be_used_is_said(monkeypatch, db):
    def broken(*_, **__):
        raise OperationalError("unable to open database file")

    monkeypatch.setattr(start_command, "call_command", broken)
    with pytest.raises(CommandError, match="can't be used: unable to open"):
        call_command("start", port=0, stdout=io.StringIO())


def test_a_taken_port_is_said_before_anything_is_done(start, port, folder):
    with socket.create_server(("127.0.0.1", port)):
        process = start("--host", "127.0.0.1")
        said, _ = process.communicate(timeout=PATIENCE_S)
    assert process.returncode == 1
    assert f"port {port} already" in said
    assert "--port" in said
    assert not (folder / "shop.sqlite3").exists()
