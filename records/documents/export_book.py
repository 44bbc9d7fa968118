"""The whole book in plain files: tables, ledger, papers, photos, keys and pages.

Everything can be read without this program, and read back by it.
"""

import csv
import datetime as dt
import json
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.files.storage import default_storage
from django.db.models import Model
from django.template.loader import render_to_string

from records import chain
from records.documents.export_pages import file_place, write_pages
from records.documents.keys import every_public_key
from records.models import LedgerEntry, Shop
from records.queries.exports import (
    bodies,
    columns_of,
    exported_models,
    exported_rows,
    kept_files,
)
from records.queries.files import place_of
from records.queries.snapshot import one_moment

FORMAT = 1
TABLES, LEDGER, KEYS = "tables", "ledger.jsonl", "keys"
ABOUT = "about.json"
Progress = Callable[[str], None]
Cell = Callable[[object], str]


def export_book(
    folder: Path, *, at: dt.datetime, version: str, cell: Cell, progress: Progress
) -> dict[str, Any]:
    """Write the book as it is at one moment into an empty folder; say what it is.

    `cell` spells a value for a CSV, so that no spreadsheet takes it for a formula.
    A kept file that is lost or can't be read is named in `about.json` as missing.
    """
    with one_moment():
        counts = {}
        (folder / TABLES).mkdir()
        for model in exported_models():
            table = model._meta.db_table
            counts[table] = _write_table(model, folder / TABLES, cell, progress)
        _write_lines(folder / LEDGER, bodies())
        about = _about(at, version, counts)
        for serial in write_pages(folder, {"about": about}):
            progress(f"drawing {serial}")
        about["missing_files"] = _copy_files(folder, progress)
    _write_keys(folder / KEYS)
    _write_readme(folder, about)
    text = json.dumps(about, indent=1, sort_keys=True)
    (folder / ABOUT).write_text(text, encoding="utf-8")
    return about


def _about(at: dt.datetime, version: str, counts: dict[str, int]) -> dict[str, Any]:
    head = LedgerEntry.objects.head()
    shop = Shop.objects.first()
    return {
        "format": FORMAT,
        "made_at": at.astimezone(dt.UTC).isoformat(timespec="seconds"),
        "version": version,
        "shop": shop.name if shop else "",
        "sequence": head.sequence if head else 0,
        "digest": head.digest if head else chain.GENESIS,
        "rows": counts,
    }


def _write_table(
    model: type[Model], folder: Path, cell: Cell, progress: Progress
) -> int:
    """Write a table twice: exact as JSON, and as CSV for a spreadsheet."""
    table, count = model._meta.db_table, 0
    with (
        (folder / f"{table}.json").open("w", encoding="utf-8") as exact,
        (folder / f"{table}.csv").open("w", encoding="utf-8-sig", newline="") as sheet,
    ):
        writer = csv.writer(sheet)
        writer.writerow(columns_of(model))
        exact.write("[")
        for row in exported_rows(model):
            exact.write(",\n" if count else "\n")
            exact.write(json.dumps(row, ensure_ascii=False, sort_keys=True))
            writer.writerow([cell(value) for value in row.values()])
            count += 1
            progress(f"writing {table}: {count} rows")
        exact.write("\n]\n")
    return count


def _write_lines(path: Path, lines: Iterator[str]) -> None:
    """Write one line an entry: canonical JSON has no line break of its own."""
    with path.open("w", encoding="utf-8", newline="\n") as file:
        for line in lines:
            file.write(f"{line}\n")


def _copy_files(folder: Path, progress: Progress) -> list[str]:
    missing = []
    for number, (sha256, media_type) in enumerate(kept_files(), start=1):
        progress(f"copying files: {number}")
        path = folder / file_place(sha256, media_type)
        path.parent.mkdir(parents=True, exist_ok=True)
        try:
            with (
                default_storage.open(place_of(sha256)) as kept,
                path.open("wb") as file,
            ):
                shutil.copyfileobj(kept, file)
        except OSError:
            missing.append(sha256)
    return missing


def _write_keys(folder: Path) -> None:
    """Write the public keys: with them anybody can prove the papers genuine."""
    folder.mkdir()
    for public in every_public_key(Path(settings.DATA)):
        (folder / f"{public.name}.json").write_text(public.as_json(), encoding="utf-8")


def _write_readme(folder: Path, about: dict[str, Any]) -> None:
    text = render_to_string("documents/export/readme.txt", {"about": about})
    (folder / "README.txt").write_text(text, encoding="utf-8")
