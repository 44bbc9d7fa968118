"""Does the book still say what was written? Every break, with the record's name."""

import hashlib
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from django.apps import apps
from django.core.files.storage import default_storage
from django.db import connection
from django.db.models import Model

from records import chain
from records.models import LedgerEntry, StoredFile
from records.models.guards import guarded_models, missing_guards
from records.queries.ledger import (
    AT_ONCE,
    RowKey,
    facts_digest,
    last_words,
    links,
    row_facts,
)

Progress = Callable[[str], None]


@dataclass(frozen=True, slots=True)
class Break:
    """One thing that is not as it was written."""

    record: str
    sentence: str


def breaks(progress: Progress = lambda _: None) -> Iterator[Break]:
    """Yield every break of the book: guards, chain, rows, files, database."""
    progress("database pages")
    yield from broken_pages()
    progress("guards")
    yield from missing_triggers()
    progress("ledger's chain")
    yield from broken_links()
    words = last_words(link.body for link in links())
    for model in checked_models():
        progress(str(model._meta.verbose_name_plural))
        yield from changed_rows(model, words)
    yield from lost_rows(words)
    progress("stored files")
    yield from changed_files()


def broken_pages() -> Iterator[Break]:
    """Ask SQLite whether its file is whole (PostgreSQL has checksums of its own)."""
    if connection.vendor != "sqlite":
        return
    with connection.cursor() as cursor:
        cursor.execute("PRAGMA integrity_check")
        for (answer,) in cursor.fetchall():
            if answer != "ok":
                yield Break("database file", f"The database file is damaged: {answer}.")


def missing_triggers() -> Iterator[Break]:
    """Name the guards that are not up."""
    for name in missing_guards():
        yield Break(name, f"The guard {name} is not in the database.")


def broken_links() -> Iterator[Break]:
    """Re-compute the chain from its stored bytes."""
    for link in chain.verify_chain(links()):
        yield Break(f"ledger entry {link.sequence}", f"{link.sentence}.")


def checked_models() -> list[type[Model]]:
    """Give the models whose rows the ledger speaks of."""
    config = apps.get_app_config("records")
    more = [config.get_model(name) for name in ("Shop", "Person")]
    return [*more, *(m for m in guarded_models() if m is not LedgerEntry)]


def changed_rows(model: type[Model], words: dict[RowKey, bytes]) -> Iterator[Break]:
    """Compare each row with the ledger's last word, and tick it off."""
    table, name = model._meta.db_table, str(model._meta.verbose_name)
    rows: Iterable[Model] = model._default_manager.order_by("pk").iterator(AT_ONCE)
    for row in rows:
        word = words.pop((table, row.pk), None)
        record = f"{name} {row.pk} ({row})"
        if word is None:
            yield Break(record, f"The ledger knows nothing of {record}.")
        elif word != facts_digest(row_facts(row)):
            yield Break(record, f"{record} is not as the ledger says it was written.")


def lost_rows(words: dict[RowKey, bytes]) -> Iterator[Break]:
    """Name the rows that the ledger wrote and the tables no longer hold."""
    for table, pk in sorted(words):
        record = f"{table} {pk}"
        yield Break(record, f"{record} is in the ledger, but not in its table.")


def changed_files() -> Iterator[Break]:
    """Compare each stored file's bytes with its digest."""
    for sha256, name in StoredFile.objects.order_by("pk").values_list("sha256", "name"):
        if not default_storage.exists(sha256):
            yield Break(f"file {name}", f"The file {name} is missing from the store.")
        elif _digest_of(sha256) != sha256:
            yield Break(f"file {name}", f"The bytes of the file {name} have changed.")


def _digest_of(path: str) -> str:
    with default_storage.open(path) as file:
        return hashlib.file_digest(file, "sha256").hexdigest()
