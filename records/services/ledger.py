"""The one pen: every row is written through an entry, and every entry is chained."""

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass
from types import TracebackType
from typing import Any, Self, TypeVar

from django.core.exceptions import ValidationError
from django.db import IntegrityError, models, transaction
from django.db.models import Model

from records import chain
from records.models import LedgerEntry, Person, Shop
from records.models.base import Row
from records.queries.ledger import plain, row_facts
from records.rules.finding import Finding
from records.services.refusal import AlreadyDone, Refusal, from_validation, refuse

M = TypeVar("M", bound=Model)
# Entries that wait for the pen, on several machines, are out of step by seconds.
IN_STEP = dt.timedelta(minutes=1)


@dataclass(frozen=True, slots=True)
class Act:
    """Who acts, and when it is written: `form_key` makes a form count once."""

    by: Person
    at: dt.datetime
    form_key: str = ""


class Entry:
    """A service's transaction: rows are added to it, and it closes with one entry.

    >>> with Entry(act, "receive lot") as entry:        # doctest: +SKIP
    ...     lot = entry.add(Lot(number="L0001", ...))
    """

    def __init__(self, act: Act, verb: str) -> None:
        self.act = act
        self.verb = verb
        self.subject = ""
        self._rows: list[Model] = []
        self._atomic = transaction.atomic()

    def __enter__(self) -> Self:
        """Open the transaction and take the pen: one writer at a time."""
        self._atomic.__enter__()
        try:
            list(Shop.objects.select_for_update().values_list("pk"))
            self._take_form_once()
        except BaseException as error:
            self._atomic.__exit__(type(error), error, error.__traceback__)
            raise
        return self

    def add(self, row: M) -> M:
        """Check and insert a new row."""
        if isinstance(row, Row):
            row.written_at = self.act.at
            row.written_by = self.act.by
        self._check(row)
        self._insert(row, lambda: row.save(force_insert=True))
        self._rows.append(row)
        return row

    def add_many(self, rows: list[M]) -> list[M]:
        """Check and insert many rows of one model in one statement."""
        for row in rows:
            if isinstance(row, Row):
                row.written_at = self.act.at
                row.written_by = self.act.by
            self._check(row, one_of_many=True)
        if rows:
            self._insert(rows[0], lambda: _manager(rows[0]).bulk_create(rows))
            self._rows.extend(rows)
        return rows

    def change(self, row: M, **fields: Any) -> M:
        """Change state fields of a thing (its guard refuses any other field)."""
        for name, value in fields.items():
            setattr(row, name, value)
        self._check(row)
        row.save(update_fields=list(fields))
        self._rows.append(row)
        return row

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """Write the ledger's entry and commit, or roll everything back."""
        try:
            if error is None:
                self._write()
        except BaseException as problem:
            self._atomic.__exit__(type(problem), problem, problem.__traceback__)
            raise
        self._atomic.__exit__(kind, error, trace)

    def _insert(self, row: Model, save: Callable[[], object]) -> None:
        try:
            with transaction.atomic():
                save()
        except IntegrityError as error:
            raise refuse(_constraint_sentence(row, error)) from error

    def _check(self, row: Model, *, one_of_many: bool = False) -> None:
        if findings := _cannot_be_kept(row):
            raise Refusal(findings)
        try:
            if one_of_many:  # the database checks its foreign keys: no query a row
                row.clean_fields(exclude=_relations(row))
                row.clean()
            else:
                row.full_clean()
        except ValidationError as error:
            raise from_validation(error) from error

    def _take_form_once(self) -> None:
        if not self.act.form_key:
            return
        taken = LedgerEntry.objects.filter(form_key=self.act.form_key).first()
        if taken is not None:
            raise AlreadyDone(taken.sequence)

    def _write(self) -> None:
        head = LedgerEntry.objects.head()
        previous = head.digest if head else chain.GENESIS
        body = chain.canonical(
            {
                "at": plain(self.act.at),
                "by": self.act.by.login,
                "person": self.act.by.pk,
                "rows": [_row(row) for row in self._rows],
                "subject": self.subject,
                "verb": self.verb,
                **_form(self.act.form_key),
                **_clock(self.act.at, head),
            }
        )
        LedgerEntry.objects.create(
            written_at=self.act.at,
            written_by=self.act.by,
            sequence=head.sequence + 1 if head else 1,
            verb=self.verb,
            subject=self.subject,
            body=body.decode(),
            previous=previous,
            digest=chain.digest(previous, body),
            form_key=self.act.form_key,
        )


def _form(key: str) -> dict[str, str]:
    """Note which form was taken, where one was."""
    return {"form": key} if key else {}


def _clock(at: dt.datetime, head: LedgerEntry | None) -> dict[str, str]:
    """Note a clock that was set back: the order of entries stays, their times don't."""
    if head is None or head.written_at - at <= IN_STEP:
        return {}
    before = f"entry {head.sequence} before it was written at {plain(head.written_at)}"
    return {"clock": f"set back: {before}"}


def _cannot_be_kept(row: Model) -> list[Finding]:
    """Name the columns with a NUL character in them, which not every database keeps."""
    sentence = "There is a character in this that can't be kept. Type it anew."
    return [
        Finding(sentence, field.name)
        for field in row._meta.concrete_fields
        if isinstance(text := vars(row).get(field.attname), str) and "\0" in text
    ]


def _relations(row: Model) -> set[str]:
    return {f.name for f in row._meta.concrete_fields if f.is_relation}


def _manager(row: Model) -> models.Manager[Any]:
    return type(row)._default_manager


def _row(row: Model) -> dict[str, Any]:
    return {"fields": row_facts(row), "pk": row.pk, "table": row._meta.db_table}


def _constraint_sentence(row: Model, error: IntegrityError) -> str:
    name = row._meta.verbose_name
    return f"This {name} can't be kept as it is: {error}."
