"""What the ledger says: its chain, and the last word on every row."""

import datetime as dt
import decimal
import hashlib
import json
from collections.abc import Iterator
from typing import Any

from django.db import models
from django.db.models import Model

from records import chain
from records.models import LedgerEntry

SECRET = frozenset({"password", "pin", "last_login"})
AT_ONCE = 2000
EXACT = 2**53
RowKey = tuple[str, int]


def links() -> Iterator[chain.Link]:
    """Stream the chain as it is stored, oldest first."""
    rows = LedgerEntry.objects.order_by("sequence", "pk").values_list(
        "sequence", "previous", "body", "digest"
    )
    for sequence, previous, body, digest in rows.iterator(AT_ONCE):
        yield chain.Link(sequence, previous, body.encode(), digest)


def last_words(bodies: Iterator[bytes]) -> dict[RowKey, bytes]:
    """Give, for each row the ledger ever wrote, the digest of its last facts."""
    words: dict[RowKey, bytes] = {}
    for body in bodies:
        for row in json.loads(body, parse_int=_whole).get("rows", ()):
            words[row["table"], row["pk"]] = facts_digest(row["fields"])
    return words


def _whole(digits: str) -> int | float:
    """Read a whole number as the float it must have been where JSON has no such int."""
    number = int(digits)
    return number if abs(number) < EXACT else float(number)


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


def _stored(row: Model, field: "models.Field[Any, Any]") -> object:
    """Give the value as the database gives it back: decimals at their scale."""
    value = getattr(row, field.attname)
    if isinstance(field, models.DecimalField) and value is not None:
        number = field.to_python(value)
        return number.quantize(decimal.Decimal(1).scaleb(-field.decimal_places))
    return value if field.is_relation else field.to_python(value)
