"""Does the book still say what was written? Every break, with the record's name."""

import hashlib
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from django.core.files.storage import default_storage
from django.db import DatabaseError, connection
from django.db.models import Model

from records import chain
from records.models import StoredFile
from records.models.guards import missing_guards
from records.queries.files import place_of
from records.queries.ledger import (
    AT_ONCE,
    Heading,
    RowKey,
    Word,
    facts_digest,
    headed_links,
    heading_in,
    plain,
    row_facts,
    said_in,
    spoken_models,
    spoken_rows,
    words_in,
)

Progress = Callable[[str], None]
Words = dict[RowKey, Word]
UNREADABLE = (DatabaseError, ArithmeticError, TypeError, ValueError)


@dataclass(frozen=True, slots=True)
class Break:
    """One thing that is not as it was written."""

    record: str
    sentence: str


def breaks(progress: Progress = lambda _: None) -> Iterator[Break]:
    """Yield every break of the book: database, guards, chain, rows, files.

    What can't be read is a break too, and does not end the search.
    """
    words: Words = {}
    progress("database pages")
    yield from _read("database", broken_pages)
    progress("guards")
    yield from _read("guards", missing_triggers)
    progress("ledger's chain")
    yield from _read("ledger", lambda: broken_links(words))
    for model in spoken_models():
        progress(str(model._meta.verbose_name_plural))
        yield from _rows_of(model, words)
    yield from lost_rows(words)
    progress("stored files")
    yield from _read("stored files", changed_files)


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


def broken_links(words: Words) -> Iterator[Break]:
    """Re-compute the chain from its stored bytes, and note what it says of rows."""
    more: list[Break] = []
    for link in chain.verify_chain(_heard(words, more)):
        yield Break(f"ledger entry {link.sequence}", f"{link.sentence}.")
    yield from more


def changed_rows(model: type[Model], words: Words) -> Iterator[Break]:
    """Compare each row with the ledger's last word, and tick it off."""
    table, name = model._meta.db_table, str(model._meta.verbose_name)
    for row in spoken_rows(model).iterator(AT_ONCE):
        word = words.pop((table, row.pk), None)
        record = f"{name} {row.pk} ({row})"
        if word is None:
            yield Break(record, f"The ledger knows nothing of {record}.")
        elif not _is_as_said(row, word):
            yield Break(record, f"{record} is not as the ledger says it was written.")


def lost_rows(words: Words) -> Iterator[Break]:
    """Name the rows that the ledger wrote and the tables no longer hold."""
    for table, pk in sorted(words):
        record = f"{table} {pk}"
        yield Break(record, f"{record} is in the ledger, but not in its table.")


def changed_files() -> Iterator[Break]:
    """Compare each stored file's bytes with its digest."""
    files = StoredFile.objects.order_by("pk").values_list("sha256", "name")
    for sha256, name in files.iterator(AT_ONCE):
        try:
            whole = _digest_of(place_of(sha256)) == sha256
        except FileNotFoundError:
            yield Break(f"file {name}", f"The file {name} is missing from the store.")
        except OSError as error:
            yield Break(f"file {name}", f"The file {name} can't be read: {error}.")
        else:
            if not whole:
                said = f"The bytes of the file {name} have changed."
                yield Break(f"file {name}", said)


def _read(what: str, check: Callable[[], Iterator[Break]]) -> Iterator[Break]:
    """Pass on what a check finds; where it can't read on, say so."""
    try:
        yield from check()
    except UNREADABLE as error:
        yield Break(what, f"The {what} can't be read to the end: {error}.")


def _rows_of(model: type[Model], words: Words) -> Iterator[Break]:
    table = model._meta.db_table
    row_breaks = list(_read(table, lambda: changed_rows(model, words)))
    yield from row_breaks
    if any(
        one.record == table for one in row_breaks
    ):  # the rest was not seen: not lost
        for key in [key for key in words if key[0] == table]:
            del words[key]


def _heard(words: Words, more: list[Break]) -> Iterator[chain.Link]:
    """Pass the chain on, keeping the last word on each row and what is odd besides."""
    columns: dict[tuple[str, ...], tuple[str, ...]] = {}
    for link, heading in headed_links():
        record = f"ledger entry {link.sequence}"
        try:
            said = said_in(link.body)
            for key, word in words_in(said):
                one = columns.setdefault(word.columns, word.columns)
                words[key] = Word(word.digest, one)
            more.extend(_other_heading(record, heading, heading_in(said)))
        except (AttributeError, KeyError, TypeError, ValueError):
            why = "it is no entry of this program"
            more.append(Break(record, f"{record} can't be read: {why}."))
        yield link


def _other_heading(record: str, stored: Heading, said: Heading) -> Iterator[Break]:
    for name, kept, body in zip(Heading._fields, stored, said, strict=True):
        if kept != body:
            sentence = f'{record} says "{kept}" as its {name}; its body says "{body}".'
            yield Break(record, sentence)


def _is_as_said(row: Model, word: Word) -> bool:
    """Compare a row with the ledger; columns it never knew hold their default."""
    facts = row_facts(row)
    known = {name: facts.pop(name) for name in word.columns if name in facts}
    if len(known) < len(word.columns) or facts_digest(known) != word.digest:
        return False
    return all(value == _default(row, name) for name, value in facts.items())


def _default(row: Model, name: str) -> Any:
    field = next(f for f in row._meta.concrete_fields if f.attname == name)
    return plain(field.get_default())


def _digest_of(path: str) -> str:
    with default_storage.open(path) as file:
        return hashlib.file_digest(file, "sha256").hexdigest()
