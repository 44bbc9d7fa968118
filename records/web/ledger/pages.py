"""What the ledger's pages show: the head, the last backup, an entry in plain words."""

import datetime as dt
import json
from typing import Any

from django.apps import apps
from django.core.exceptions import FieldDoesNotExist
from django.db.models import Model
from django.urls import NoReverseMatch, reverse

from records import chain
from records.models import LedgerEntry
from records.queries.backups import last_backups, last_good_backup
from records.queries.subjects import MODELS, number_field
from records.rules.backups import backup_is_recent
from records.rules.finding import Finding, warning
from records.spelling.moments import when
from records.spelling.numbers import NOTHING
from records.spelling.verdicts import Verdict
from records.web.shared.pages import PAGES

Fact = tuple[str, str]
_SAID_ABOVE = {"id", "written_at", "written_by_id"}
_KINDS = {model._meta.db_table: kind for kind, model in MODELS.items()}


def ledger_page(head: LedgerEntry | None, at: dt.datetime) -> dict[str, Any]:
    """Gather what stands above the list: the head and the last backup."""
    good, last = last_good_backup(), next(iter(last_backups(1)), None)
    facts: list[Fact] = []
    if head is not None:
        facts = [
            ("Last entry", f"{head.sequence}, {when(head.written_at)}"),
            ("Head of the ledger", head.digest),
        ]
    facts.append(
        (
            "Last good backup",
            f"{when(good.at)}, up to entry {good.sequence}, {good.file_name}"
            if good
            else "none",
        )
    )
    return {"facts": facts, "findings": backup_is_recent(last, good, at)}


def entry_page(entry: LedgerEntry, before: LedgerEntry | None) -> dict[str, Any]:
    """Gather an entry with everything it wrote; `before` is the entry before it."""
    facts = _read(entry.body)
    return {
        "entry": entry,
        "verdict": _verdict(entry, before),
        "findings": _clock(facts),
        "facts": [
            ("What was done", entry.verb),
            ("To what", entry.subject or NOTHING),
            ("Written", when(entry.written_at)),
            ("By whom", f"{entry.written_by.name} ({facts.get('by', '')})"),
            ("Digest", entry.digest),
            ("Digest of the entry before", entry.previous),
        ],
        "rows": [_row(row) for row in facts.get("rows", ())],
        "before": entry.sequence - 1,
    }


def _read(body: str) -> dict[str, Any]:
    """Read an entry's facts; none of one that was altered beyond reading."""
    try:
        facts = json.loads(body)
    except ValueError:
        return {}
    return facts if isinstance(facts, dict) else {}


def _verdict(entry: LedgerEntry, before: LedgerEntry | None) -> Verdict:
    link = chain.Link(1, entry.previous, entry.body.encode(), entry.digest)
    if list(chain.verify_chain([link], previous=entry.previous)):
        return Verdict("outside", "altered", "its digest is not that of its bytes")
    if entry.previous != (before.digest if before else chain.GENESIS):
        return Verdict(
            "outside", "not in the chain", "it does not follow the entry before it"
        )
    return Verdict(
        "ok", "in the chain", "its digest is that of its bytes and the entry before"
    )


def _clock(facts: dict[str, Any]) -> list[Finding]:
    clock = facts.get("clock")
    return [warning(f"The clock was {clock}.")] if clock else []


def _row(row: dict[str, Any]) -> dict[str, Any]:
    fields: dict[str, Any] = row["fields"]
    model = _model(row["table"])
    name = str(model._meta.verbose_name) if model else row["table"]
    return {
        "name": f"{name} {row['pk']}",
        "url": _page(row["table"], fields),
        "facts": [
            (_label(model, column), _said(value))
            for column, value in fields.items()
            if column not in _SAID_ABOVE
        ],
    }


def _model(table: str) -> type[Model] | None:
    models = apps.get_app_config("records").get_models()
    return next((m for m in models if m._meta.db_table == table), None)


def _label(model: type[Model] | None, column: str) -> str:
    if model is None:
        return column
    try:
        field = model._meta.get_field(column.removesuffix("_id"))
    except FieldDoesNotExist:
        return column
    return str(getattr(field, "verbose_name", column))


def _said(value: object) -> str:
    if value is None or value == "":
        return NOTHING
    if isinstance(value, bool):
        return "yes" if value else "no"
    return str(value)


def _page(table: str, fields: dict[str, Any]) -> str:
    kind = _KINDS.get(table)
    if kind is None:
        return ""
    try:
        return reverse(PAGES[kind], args=[fields[number_field(kind)]])
    except (KeyError, NoReverseMatch):
        return ""
