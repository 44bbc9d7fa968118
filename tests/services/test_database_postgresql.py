"""PostgreSQL: its own programs, told where the book is and never on a command line."""

import subprocess
from pathlib import Path

import dj_database_url
import pytest

from records.services import database_postgresql
from records.services.database_postgresql import PostgresqlBook
from records.services.refusal import Refusal

SETTINGS = {
    "NAME": "shop",
    "USER": "keeper@shop",
    "PASSWORD": "p:/ss word",
    "HOST": "/var/run/postgresql",
    "PORT": 5433,
    "OPTIONS": {"sslmode": "verify-full", "sslrootcert": "/keys/root.crt"},
}


@pytest.fixture
def book():
    return PostgresqlBook(SETTINGS)


@pytest.fixture
def ran(monkeypatch):
    """Watch what is run, and run nothing."""
    seen = []

    def run(command, **options):
        seen.append((command, options["env"]))
        return subprocess.CompletedProcess(command, 0, "", "")

    monkeypatch.setattr(
        database_postgresql.shutil, "which", lambda name: f"/bin/{name}"
    )
    monkeypatch.setattr(database_postgresql.subprocess, "run", run)
    return seen


def test_a_password_is_on_no_command_line(book, ran):
    book.dump(Path("/tmp/dump"))  # noqa: S108 - nothing is written
    ((command, environment),) = ran
    assert not any("p:/ss word" in part for part in command)
    assert environment["PGPASSWORD"] == "p:/ss word"
    assert environment["PGHOST"] == "/var/run/postgresql"
    assert environment["PGPORT"] == "5433"
    assert environment["PGSSLMODE"] == "verify-full"
    assert command[-1] == "shop"


def test_an_address_of_a_copy_is_read_back_as_it_was(book):
    result = dj_database_url.parse(book._url("shop_copy"))
    for name in ("USER", "PASSWORD", "HOST", "PORT", "OPTIONS"):
        assert result[name] == SETTINGS[name], name
    assert result["NAME"] == "shop_copy"


def test_a_missing_program_is_named(book, monkeypatch):
    monkeypatch.setattr(database_postgresql.shutil, "which", lambda _: None)
    with pytest.raises(Refusal, match="pg_dump is not on this machine"):
        book.dump(Path("dump"))


def test_what_a_program_complains_of_is_passed_on(book, ran, monkeypatch):
    def fails(command, **_):
        return subprocess.CompletedProcess(command, 1, "", "server version mismatch\n")

    monkeypatch.setattr(database_postgresql.subprocess, "run", fails)
    with pytest.raises(Refusal, match="pg_dump could not do it: server version"):
        book.dump(Path("dump"))


def test_a_long_name_stays_a_name():
    """PostgreSQL cuts identifiers at 63 bytes (PostgreSQL manual, 4.1.1)."""
    name = database_postgresql._ending("s" * 63, "_copy")
    assert len(name) == 63
    assert name.endswith("_copy")
