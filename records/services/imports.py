"""Read an export back into an empty shop, and prove that it is the same book."""

import json
import re
from collections.abc import Callable, Iterator
from itertools import islice, zip_longest
from pathlib import Path
from typing import Any

from django.conf import settings
from django.contrib.auth.hashers import make_password
from django.core.exceptions import ValidationError
from django.core.files import File
from django.core.files.storage import default_storage
from django.core.management.color import no_style
from django.db import DatabaseError, connection, transaction
from django.db.models import Model

from records.documents.export_book import ABOUT, FORMAT, KEYS, LEDGER, TABLES
from records.documents.export_pages import FILES
from records.documents.keys import PublicKeys, keep_public_key
from records.models import LedgerEntry, Person
from records.queries.exports import BODY, exported_models
from records.rules.finding import Finding
from records.rules.integrity import breaks
from records.services.database_copy import Head
from records.services.refusal import Refusal, refuse

Progress = Callable[[str], None]
Row = dict[str, Any]

AT_ONCE = 500
_KEPT = re.compile(r"([0-9a-f]{2})/(\1[0-9a-f]{62})(\.[a-z0-9]{1,8})?")


def import_export(*, folder: Path, progress: Progress = lambda _: None) -> Head:
    """Write every row of an export, verify the whole book, or write nothing.

    People come without passwords and PINs; the shop's private keys don't come.

    Raises Refusal where this shop is not empty, or the export is not one, or the book
    in it has breaks.
    """
    about = _read_about(folder)
    _refuse_unless_empty()
    try:
        _store_files(folder, progress)
        with transaction.atomic():
            for model in exported_models():
                _insert(model, folder, progress)
            connection.check_constraints()
            _reset_sequences()
            head = _proven(about, progress)
    except (DatabaseError, OSError, ValidationError, TypeError, ValueError) as error:
        raise refuse(f"Nothing was imported: {error}") from error
    for path in sorted((folder / KEYS).glob("*.json")):
        public = PublicKeys.from_json(path.read_text(encoding="utf-8"))
        keep_public_key(Path(settings.DATA), public)
    return head


def _read_about(folder: Path) -> dict[str, Any]:
    try:
        about = json.loads((folder / ABOUT).read_text(encoding="utf-8"))
        known, _ = about["format"], (about["sequence"], about["digest"], about["rows"])
    except (OSError, KeyError, TypeError, ValueError) as error:
        raise refuse(f"{folder} is no export of this program: {error}.") from error
    if known != FORMAT:
        raise refuse(f"{folder} was written by a newer version. Update the program.")
    return dict(about)


def _refuse_unless_empty() -> None:
    for model in exported_models():
        if model._base_manager.exists():
            raise refuse(
                f"This shop is not empty: it has {model._meta.verbose_name_plural}. "
                "An export goes into an empty one: name another folder in SHOPQA_DATA, "
                "or another database, and run migrate there first."
            )


def _store_files(folder: Path, progress: Progress) -> None:
    """Store what the export kept; whether it is right is found when all is verified."""
    paths = sorted(p for p in (folder / FILES).rglob("*") if p.is_file())
    for number, path in enumerate(paths, start=1):
        progress(f"storing files: {number} of {len(paths)}")
        name = _KEPT.fullmatch(path.relative_to(folder / FILES).as_posix())
        if name is None:
            raise refuse(f"{path} is no file of an export: take it out.")
        place = f"{name[1]}/{name[2]}"
        if not default_storage.exists(place):
            with path.open("rb") as file:
                default_storage.save(place, File(file))


def _insert(model: type[Model], folder: Path, progress: Progress) -> None:
    table = model._meta.db_table
    rows = _rows(folder / TABLES / f"{table}.json")
    if model is LedgerEntry:
        rows = _with_bodies(rows, folder / LEDGER)
    count = 0
    made = (_made(model, row) for row in rows)
    while some := list(islice(made, AT_ONCE)):
        model._base_manager.bulk_create(some)
        count += len(some)
        progress(f"reading {table}: {count} rows")


def _rows(path: Path) -> Iterator[Row]:
    """Stream the rows of a table: one a line, as they were written."""
    with path.open(encoding="utf-8", newline="\n") as file:
        for line in file:
            text = line.strip().removesuffix(",")
            if text not in {"[", "]", "[]", ""}:
                row = json.loads(text)
                if not isinstance(row, dict):
                    raise ValueError(f"{path.name} has a line that is no row")
                yield row


def _with_bodies(rows: Iterator[Row], ledger: Path) -> Iterator[Row]:
    with ledger.open(encoding="utf-8", newline="\n") as lines:
        for row, line in zip_longest(rows, lines):
            if row is None or line is None:
                raise ValueError(f"{LEDGER} and the table of entries differ in length")
            yield {**row, BODY: line.removesuffix("\n")}


def _made(model: type[Model], row: Row) -> Model:
    fields = {f.attname: f for f in model._meta.concrete_fields}
    strange = set(row) - set(fields)
    if strange:
        name = f"{model._meta.db_table}.{min(strange)}"
        raise ValueError(f"this version of the program knows no column {name}")
    facts = {
        name: value if fields[name].is_relation else fields[name].to_python(value)
        for name, value in row.items()
    }
    if model is Person:
        facts["password"] = make_password(None)
    return model(**facts)


def _reset_sequences() -> None:
    """Let the next new row have a key after the last (PostgreSQL counts apart)."""
    statements = connection.ops.sequence_reset_sql(no_style(), exported_models())
    with connection.cursor() as cursor:
        for statement in statements:
            cursor.execute(statement)


def _proven(about: dict[str, Any], progress: Progress) -> Head:
    problems = [
        Finding(one.sentence) for one in breaks(lambda w: progress(f"checking {w}"))
    ]
    last = LedgerEntry.objects.head()
    head = Head(last.sequence, last.digest) if last else Head(0, about["digest"])
    if head != Head(about["sequence"], about["digest"]):
        problems.append(
            Finding(
                f"The export says that it ends at entry {about['sequence']}; it ends "
                f"at entry {head.sequence}, or at another digest."
            )
        )
    if problems:
        raise Refusal(
            [Finding("Nothing was imported: the export has breaks."), *problems]
        )
    return head
