"""Which database the book is in, and what can be done with the whole of it."""

from contextlib import AbstractContextManager
from pathlib import Path
from typing import Protocol

from django.db import connection

from records.services.database_copy import Copy
from records.services.database_postgresql import PostgresqlBook
from records.services.database_sqlite import SqliteBook


class Database(Protocol):
    """The whole book as one thing: dumped, opened elsewhere, exchanged."""

    engine: str

    def dump(self, target: Path) -> None:
        """Copy the book as it is at one moment; others go on writing meanwhile."""

    def open_copy(self, dump: Path, folder: Path) -> AbstractContextManager[Copy]:
        """Lay a dump open as a book of its own."""

    def is_in_use(self) -> bool:
        """Tell whether another process works on this book."""

    def exchange(self, copy: Copy, aside: Path) -> str:
        """Move the present book aside and the copy to its place; say where it is."""


def database() -> Database:
    """Give the database that the program is set up for."""
    if connection.vendor == "postgresql":
        return PostgresqlBook(connection.settings_dict)
    return SqliteBook(connection.settings_dict)
