"""Whether the book can be used now: reached, of this program's shape, guarded."""

from dataclasses import dataclass
from functools import cache

from django.db import DatabaseError, connection
from django.db.migrations.loader import MigrationLoader
from django.db.migrations.recorder import MigrationRecorder

from records.models import LedgerEntry
from records.models.guards import missing_guards


@dataclass(frozen=True, slots=True)
class Health:
    """What was found of the database; `ledger_head` is the last entry's number."""

    database: bool
    migrations: bool = False
    guards: bool = False
    ledger_head: int | None = None

    @property
    def good(self) -> bool:
        """Tell whether everything is as it must be to write."""
        return self.database and self.migrations and self.guards


def health() -> Health:
    """Look at the database: a handful of queries, however large the book is."""
    try:
        if not _is_of_this_program():
            return Health(database=True)
        return Health(
            database=True,
            migrations=True,
            guards=not missing_guards(),
            ledger_head=_head(),
        )
    except DatabaseError:
        return Health(database=False)


def _is_of_this_program() -> bool:
    applied = MigrationRecorder(connection).applied_migrations()
    return last_migrations() <= applied.keys()


def _head() -> int:
    head = LedgerEntry.objects.order_by("-sequence").values_list("sequence").first()
    return int(head[0]) if head else 0


@cache
def last_migrations() -> frozenset[tuple[str, str]]:
    """Name the last migration of each app, as this program brings it along."""
    graph = MigrationLoader(None).graph
    return frozenset((str(app), str(name)) for app, name in graph.leaf_nodes())
