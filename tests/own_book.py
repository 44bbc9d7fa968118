"""A database of its own for a test that moves whole databases about."""

import sqlite3
from contextlib import closing, contextmanager

import psycopg
import pytest
from django.db import connection

from tests.whole_book import write_book


@contextmanager
def own_database(folder):
    """Let the default connection lead to a fresh copy of the empty test database."""
    before = connection.settings_dict["NAME"]
    sqlite = connection.vendor == "sqlite"
    name = _sqlite_copy(folder) if sqlite else _postgresql_copy(before)
    # A database in memory is gone with its connection: that one is laid by.
    laid_by, connection.connection = connection.connection, None
    connection.settings_dict["NAME"] = name
    try:
        yield name
    finally:
        connection.close()
        connection.settings_dict["NAME"] = before
        connection.connection = laid_by
        if not sqlite:
            drop_databases(name)


@pytest.fixture
def own_book(transactional_db, tmp_path):
    """Write a small whole book into a database that is its own."""
    with own_database(tmp_path):
        yield write_book()


def maintain(*statements):
    """Run statements outside any transaction, and give the rows of the last."""
    where = {**connection.get_connection_params(), "dbname": "template1"}
    for setting in ("cursor_factory", "context"):
        where.pop(setting, None)
    with psycopg.connect(**where, autocommit=True) as session:
        for statement in statements:
            cursor = session.execute(statement)
        return cursor.fetchall() if cursor.description else []


def drop_databases(beginning):
    """Drop every database that a test made under this beginning."""
    rows = maintain("SELECT datname FROM pg_database")
    for (name,) in rows:
        if name.startswith(beginning):
            maintain(f'DROP DATABASE IF EXISTS "{name}" WITH (FORCE)')


def _sqlite_copy(folder):
    path = folder / "shop.sqlite3"
    connection.ensure_connection()
    with closing(sqlite3.connect(path)) as copy:
        connection.connection.backup(copy)
    return str(path)


def _postgresql_copy(before):
    name = f"{before}_own"
    connection.close()
    drop_databases(name)
    maintain(f'CREATE DATABASE "{name}" TEMPLATE "{before}"')
    return name
