"""What the ledger says: its chain, and the last word on every row."""

import datetime as dt
import decimal
import hashlib
import json
from collections.abc import Iterator
from typing import Any, NamedTuple

from django.apps import apps
from django.db import models
from django.db.models import Model, Q, QuerySet

from records import chain
from records.models import LedgerEntry, SetUpLink
from records.models.guards import guarded_models

SECRET = frozenset({"password", "pin", "last_login"})
AT_ONCE = 2000
EXACT = 2**53
RowKey = tuple[str, int]


class Word(NamedTuple):
    """The ledger's last word on a row: which columns it spoke of, and their digest."""

    digest: bytes
    columns: tuple[str, ...]


class Heading(NamedTuple):
    """What an entry's columns say beside its body: to be found in the body as well."""

    verb: str
    subject: str
    at: str
    person: int
    form: str


def headed_links() -> Iterator[tuple[chain.Link, Heading]]:
    """Stream the chain as it is stored, oldest first, with each entry's columns."""
    rows = LedgerEntry.objects.order_by("sequence", "pk").values_list(
        *("sequence", "previous", "body", "digest"),
        *("verb", "subject", "written_at", "written_by", "form_key"),
    )
    for number, previous, body, digest, verb, subject, at, *rest in rows.iterator(
        AT_ONCE
    ):
        heading = Heading(verb, subject, str(plain(at)), *rest)
        yield chain.Link(number, previous, body.encode(), digest), heading


def entries_listed() -> QuerySet[LedgerEntry]:
    """List the entries with who wrote them, the newest first, without their bodies."""
    entries = LedgerEntry.objects.select_related("written_by").defer("body")
    return entries.order_by("-sequence", "-pk")


def entry_and_before(sequence: int) -> tuple[LedgerEntry | None, LedgerEntry | None]:
    """Give an entry and the one before it; None for one that there is not."""
    two = LedgerEntry.objects.filter(Q(sequence=sequence) | Q(sequence=sequence - 1))
    by_sequence = {entry.sequence: entry for entry in two.select_related("written_by")}
    return by_sequence.get(sequence), by_sequence.get(sequence - 1)


def verbs() -> list[str]:
    """Name everything that was ever done, once each."""
    entries = LedgerEntry.objects.order_by("verb").values_list("verb", flat=True)
    return list(entries.distinct())


def said_in(body: bytes) -> dict[str, Any]:
    """Read an entry's body. Raises ValueError where it is no JSON."""
    return dict(json.loads(body, parse_int=_whole))


def heading_in(said: dict[str, Any]) -> Heading:
    """Give what a body says that the entry's columns must say. Raises KeyError."""
    at, person, form = said["at"], said["person"], said.get("form", "")
    return Heading(said["verb"], said["subject"], at, person, form)


def words_in(said: dict[str, Any]) -> Iterator[tuple[RowKey, Word]]:
    """Give what an entry says of each row that it wrote.

    Raises ValueError, KeyError or TypeError where the body is not one of an entry.
    """
    for row in said.get("rows", ()):
        facts: dict[str, Any] = row["fields"]
        word = Word(facts_digest(facts), tuple(sorted(facts)))
        yield (row["table"], row["pk"]), word


def spoken_models() -> list[type[Model]]:
    """Give the models whose rows the ledger speaks of, itself left out."""
    config = apps.get_app_config("records")
    more = [config.get_model(name) for name in ("Shop", "Person", "SetUpLink")]
    return [*more, *(m for m in guarded_models() if m is not LedgerEntry)]


def spoken_rows(model: type[Model]) -> QuerySet[Model]:
    """List the rows of a model that the ledger speaks of, by key.

    A set-up link is none of the ledger's business before somebody used it.
    """
    rows: QuerySet[Model] = model._base_manager.order_by("pk")
    return rows.filter(used_at__isnull=False) if model is SetUpLink else rows


def facts_digest(facts: dict[str, Any]) -> bytes:
    """Give the SHA-256 of a row's facts in canonical JSON."""
    return hashlib.sha256(chain.canonical(facts)).digest()


def row_facts(row: Model) -> dict[str, Any]:
    """Spell a row as plain values for the ledger: every column but secrets."""
    fields = [f for f in row._meta.concrete_fields if f.name not in SECRET]
    return {f.attname: plain(_stored(row, f)) for f in fields}


def plain(value: object) -> object:
    """Spell a value for canonical JSON: times in UTC, decimals digit for digit."""
    if isinstance(value, dt.datetime):
        return value.astimezone(dt.UTC).isoformat(timespec="microseconds")
    if isinstance(value, dt.date):
        return value.isoformat()
    if isinstance(value, decimal.Decimal):
        return f"{value:f}"
    return value


def _whole(digits: str) -> int | float:
    """Read a whole number as the float it must have been where JSON has no such int."""
    number = int(digits)
    return number if abs(number) < EXACT else float(number)


def _stored(row: Model, field: "models.Field[Any, Any]") -> object:
    """Give the value as the database gives it back: decimals at their scale."""
    value = getattr(row, field.attname)
    if isinstance(field, models.DecimalField) and value is not None:
        number = field.to_python(value)
        scale = decimal.Decimal(1).scaleb(-field.decimal_places)
        return number.quantize(scale) + 0  # no database keeps a minus before a zero
    return value if field.is_relation else field.to_python(value)
