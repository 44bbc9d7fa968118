"""Put a backup in the place of the present shop, and delete nothing."""

import datetime as dt
import hashlib
import shutil
from dataclasses import dataclass
from pathlib import Path

from django.conf import settings
from django.core.files import File
from django.core.files.storage import default_storage
from django.db import DatabaseError, connection

from records.documents.keys import FOLDER as SEALS
from records.models import LedgerEntry
from records.rules.continuity import OVER, nothing_is_lost
from records.rules.finding import Finding
from records.services.backup_packing import FILES, KEYS, About, Progress, read_about
from records.services.backups import Proven, laid_open
from records.services.database_copy import Copy, Head
from records.services.databases import Database, database
from records.services.refusal import Refusal, refuse, refuse_if_blocked
from records.services.upgrading import bring_up_to_date

IN_USE = "The program is at work on this book. Stop it first, then restore."


@dataclass(frozen=True, slots=True)
class Restored:
    """What was put in place, and where what was there before lies now."""

    about: About
    aside: list[str]


def restore(
    *,
    file: Path,
    at: dt.datetime,
    over_a_newer_shop: bool = False,
    with_its_breaks: bool = False,
    progress: Progress = lambda _: None,
) -> Restored:
    """Verify a backup beside the present shop, then let it take its place.

    Raises Refusal before anything was moved: the file is no good backup, the program
    is at work, or this book has entries that the backup lacks.
    """
    about, book = read_about(file), database()
    if about.engine != book.engine:
        raise refuse(
            f"The backup is of a {about.engine} database; this shop uses "
            f"{book.engine}. To change over, use export_records there and "
            "import_export here."
        )
    if book.is_in_use():
        raise refuse(IN_USE)
    data = Path(settings.DATA)
    with laid_open(file, data, book, progress, prepare=bring_up_to_date) as proof:
        if not over_a_newer_shop:
            refuse_if_blocked(_may_replace(proof.copy))
        if not with_its_breaks:
            _refuse_broken(proof, about)
        aside = data / f"aside-{at:%Y%m%d-%H%M%S}"
        aside.mkdir(mode=0o700)
        return Restored(about, _exchange(book, proof.copy, aside, progress))


def _may_replace(copy: Copy) -> list[Finding]:
    with copy.opened() as other:
        last, digest = other.head().sequence, other.digest
        try:
            tables = connection.introspection.table_names()
            written = LedgerEntry._meta.db_table in tables
            return nothing_is_lost(last, digest) if written else []
        except DatabaseError as error:
            unknown = "nobody can tell what it has that the backup lacks"
            said = f"This book can't be read ({error}): {unknown}. {OVER}"
            return [Finding(said)]


def _refuse_broken(proof: Proven, about: About) -> None:
    breaks = [Finding(one["sentence"]) for one in proof.breaks]
    if proof.head != Head(about.sequence, about.digest):
        breaks.append(
            Finding(
                f"The backup says that it ends at entry {about.sequence}; it ends at "
                f"entry {proof.head.sequence}, or at another digest."
            )
        )
    if breaks:
        breaks.append(Finding("To restore it as it is, add --with-its-breaks."))
        raise Refusal(breaks)


def _exchange(book: Database, copy: Copy, aside: Path, progress: Progress) -> list[str]:
    """Put files, database and keys in place; say where the old ones are."""
    paths = sorted(p for p in (copy.folder / FILES).rglob("*") if p.is_file())
    damaged = 0
    for number, path in enumerate(paths, start=1):
        progress(f"storing files: {number} of {len(paths)}")
        damaged += _put(path, aside)
    progress("exchanging the database")
    moved = [book.exchange(copy, aside)]
    moved.append(_exchange_keys(copy.folder / KEYS, aside))
    moved.append(str(aside / FILES) if damaged else "")
    return [place for place in moved if place]


def _put(path: Path, aside: Path) -> bool:
    """Store a file unless it is there; a damaged one is moved aside first."""
    place = f"{path.parent.name}/{path.name}"
    damaged = False
    if default_storage.exists(place):
        with default_storage.open(place) as kept:
            if hashlib.file_digest(kept, "sha256").hexdigest() == path.name:
                return False
            kept.seek(0)
            (aside / FILES).mkdir(exist_ok=True)
            with (aside / FILES / path.name).open("wb") as other:
                shutil.copyfileobj(kept, other)
        default_storage.delete(place)
        damaged = True
    with path.open("rb") as file:
        default_storage.save(place, File(file))
    return damaged


def _exchange_keys(copied: Path, aside: Path) -> str:
    """Put the backup's keys in place; seals made since then stay, to prove papers."""
    present, seals = Path(settings.DATA) / KEYS, Path(SEALS).name
    moved = present.exists()
    if moved:
        present.replace(aside / KEYS)
    if copied.exists():
        shutil.copytree(copied, present)
    present.mkdir(exist_ok=True, mode=0o700)
    for key in (aside / KEYS / seals).rglob("*.json"):
        place = present / key.relative_to(aside / KEYS)
        if not place.exists():
            place.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
            shutil.copy2(key, place)
    return str(aside / KEYS) if moved else ""
