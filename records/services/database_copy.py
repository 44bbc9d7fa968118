"""A copy of the book that lies beside it, for a while, to be looked at."""

import os
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from django.db import DatabaseError, connections
from django.db.backends.base.base import BaseDatabaseWrapper

from records import chain
from records.services.refusal import refuse


@dataclass(frozen=True, slots=True)
class Head:
    """The last entry of a ledger; in an empty one, entry 0 before the first."""

    sequence: int
    digest: str


@dataclass(frozen=True, slots=True)
class Copy:
    """Where a copy lies: its folder of files and keys, and its database."""

    folder: Path
    url: str
    settings: Mapping[str, Any]

    @property
    def environment(self) -> dict[str, str]:
        """Give the environment in which a command works on the copy and its files."""
        own = {
            "SHOPQA_DATA": str(self.folder),
            "SHOPQA_FILES": str(self.folder / "files"),
            "SHOPQA_S3_BUCKET": "",
            "DATABASE_URL": self.url,
        }
        return {**os.environ, **own}

    @contextmanager
    def opened(self) -> Iterator["CopiedBook"]:
        """Open the copy's database beside the book's own.

        Raises Refusal where it can't be opened or read.
        """
        kind = type(connections["default"])
        link = kind(dict(self.settings), alias="copy")
        try:
            yield CopiedBook(link)
        except DatabaseError as error:
            raise refuse(f"The copy can't be read: {error}.") from error
        finally:
            link.close()


class CopiedBook:
    """What is asked of a copy: where its ledger ends, and what wrote it."""

    def __init__(self, link: BaseDatabaseWrapper) -> None:
        self._link = link

    def head(self) -> Head:
        """Give the last entry."""
        rows = self._rows(
            "SELECT sequence, digest FROM records_ledgerentry "
            "ORDER BY sequence DESC LIMIT 1"
        )
        return Head(*rows[0]) if rows else Head(0, chain.GENESIS)

    def digest(self, sequence: int) -> str | None:
        """Give the digest of an entry, None where there is no such entry."""
        rows = self._rows(
            "SELECT digest FROM records_ledgerentry WHERE sequence = %s", sequence
        )
        return str(rows[0][0]) if rows else None

    def migrations(self) -> set[str]:
        """Name the versions of the tables that were applied to it."""
        if "django_migrations" not in self._link.introspection.table_names():
            return set()
        rows = self._rows("SELECT name FROM django_migrations WHERE app = 'records'")
        return {name for (name,) in rows}

    def _rows(self, question: str, *values: int) -> list[tuple[Any, ...]]:
        with self._link.cursor() as cursor:
            cursor.execute(question, values)
            return list(cursor.fetchall())
