"""Every table as it goes out of this program, row by row."""

from collections.abc import Iterator
from typing import Any, Final

from django.apps import apps
from django.db.models import Model

from records.models import LedgerEntry, StoredFile
from records.queries.ledger import AT_ONCE, SECRET, row_facts, spoken_rows

# Tables that say nothing of the shop's work.
LEFT_OUT: Final = {
    "FailedCheck": "wrong passwords of the last minutes",
    "BackupRun": "backups made on this machine",
}
BODY: Final = "body"


def exported_models() -> list[type[Model]]:
    """Give the models whose rows go out, by table name."""
    everything = apps.get_app_config("records").get_models()
    exported = [m for m in everything if m.__name__ not in LEFT_OUT]
    return sorted(exported, key=lambda m: m._meta.db_table)


def columns_of(model: type[Model]) -> list[str]:
    """Name the columns that go out: all but secrets, and the ledger's bodies."""
    kept_back = SECRET | ({BODY} if model is LedgerEntry else set())
    fields = model._meta.concrete_fields
    return [f.attname for f in fields if f.name not in kept_back]


def exported_rows(model: type[Model]) -> Iterator[dict[str, Any]]:
    """Stream the rows of a model as plain values, by key: one query.

    The ledger's are in the order of its entries, as `bodies` are.
    """
    rows = spoken_rows(model)
    if model is LedgerEntry:
        rows = rows.order_by("sequence", "pk")
    for row in rows.iterator(AT_ONCE):
        yield _facts(row)


def bodies() -> Iterator[str]:
    """Stream the ledger's entries as they were digested, in their order."""
    rows = LedgerEntry.objects.order_by("sequence", "pk").values_list(BODY, flat=True)
    yield from rows.iterator(AT_ONCE)


def kept_files() -> Iterator[tuple[str, str]]:
    """Stream the digest and the media type of every kept file."""
    rows = StoredFile.objects.order_by("pk").values_list("sha256", "media_type")
    yield from rows.iterator(AT_ONCE)


def _facts(row: Model) -> dict[str, Any]:
    facts = row_facts(row)
    if isinstance(row, LedgerEntry):
        del facts[BODY]  # it goes out by itself, as it was digested
    return facts
