"""Copy the whole shop into one file, and prove at once that it can be restored."""

import datetime as dt
import json
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

from django.conf import settings
from django.db import DatabaseError

from records.models import BackupRun
from records.services.backup_packing import About, Progress, pack, seal, unpack
from records.services.database_copy import Copy, Head
from records.services.databases import Database, database
from records.services.refusal import refuse

SCRATCH = ".shop-scratch-"
LEFT_OVER_S = 24 * 3600
NOT_GOOD = ".not-good"


class NotGood(Exception):
    """The copy could be made, but the book in it has breaks: they are listed."""

    def __init__(self, breaks: list[dict[str, str]], kept: Path) -> None:
        self.breaks = breaks
        self.kept = kept
        super().__init__(
            f"The copy has {len(breaks)} breaks, as the book itself may have: it was "
            f"kept as {kept}, and no good backup was made."
        )


@dataclass(frozen=True, slots=True)
class Proven:
    """A copy that was laid open, with the head of its ledger and its breaks."""

    copy: Copy
    head: Head
    breaks: list[dict[str, str]]


def take_backup(
    *, target: Path, at: dt.datetime, progress: Progress = lambda _: None
) -> BackupRun:
    """Write a backup to a file that appears only once it was restored and verified.

    Raises
    ------
    Refusal
        When the file can't be made at all; nothing is left behind.
    NotGood
        When the copy has breaks; it is kept under another ending.
    """
    if target.exists():
        raise refuse(f"{target} is there already: choose another name.")
    if not target.parent.is_dir():
        raise refuse(f"There is no folder {target.parent}.")
    with scratch_folder(target.parent) as folder:
        pending = folder / target.name
        proof = _pack_and_prove(pending, at, progress)
        kept = target.with_name(target.name + NOT_GOOD) if proof.breaks else target
        pending.replace(kept)
    run = BackupRun(
        at=at,
        file_name=kept.name,
        sequence=proof.head.sequence,
        digest=proof.head.digest,
        good=not proof.breaks,
    )
    try:
        run.save()
    except DatabaseError as error:  # its disk may be why a backup is wanted now
        progress(f"the book can't note this backup: {error}")
    if proof.breaks:
        raise NotGood(proof.breaks, kept)
    return run


@contextmanager
def laid_open(
    file: Path,
    place: Path,
    book: Database,
    progress: Progress,
    prepare: Callable[[Copy, Progress], None] = lambda _copy, _progress: None,
) -> Iterator[Proven]:
    """Restore a backup into a scratch place, verify it there, and clear it away.

    `place` is a folder with room for it; `prepare` is done to the copy before it is
    verified.
    """
    with scratch_folder(place) as folder:
        dump = unpack(file, folder, progress)
        progress("restoring the copy")
        with book.open_copy(dump, folder) as copy:
            prepare(copy, progress)
            with copy.opened() as opened:
                head = opened.head()
            yield Proven(copy, head, breaks_in(copy, progress))


@contextmanager
def scratch_folder(place: Path) -> Iterator[Path]:
    """Give a folder that is gone afterwards; one that was left over goes a day later.

    A backup works where it is written, so that it can't fill the book's own disk.
    """
    _clear_left_over(place)
    with tempfile.TemporaryDirectory(dir=place, prefix=SCRATCH) as folder:
        yield Path(folder)


def breaks_in(copy: Copy, progress: Progress) -> list[dict[str, str]]:
    """Run every check of the book on a copy, in a process of its own."""
    answer = run_on(copy, progress, "verify_records", "--json", "--progress")
    try:
        breaks: list[dict[str, str]] = json.loads(answer)
    except ValueError as error:
        raise refuse("The copy can't be verified: see what was said above.") from error
    return breaks


def run_on(copy: Copy, progress: Progress, *command: str) -> str:
    """Run a command on a copy in a process of its own; give what it printed."""
    with (
        tempfile.TemporaryFile("w+") as printed,
        subprocess.Popen(  # noqa: S603 - this program
            [sys.executable, "manage.py", *command],
            cwd=settings.ROOT,
            env=copy.environment,
            stdout=printed,
            stderr=subprocess.PIPE,
            text=True,
        ) as process,
    ):
        for line in process.stderr or ():
            progress(line.rstrip())
        process.wait()
        printed.seek(0)
        return printed.read()


def program_version() -> str:
    """Give the version of this program."""
    try:
        return version("shopqa")
    except PackageNotFoundError:
        return "unknown"


def _pack_and_prove(pending: Path, at: dt.datetime, progress: Progress) -> Proven:
    book, dump = database(), pending.with_suffix(".dump")
    progress("copying the database")
    book.dump(dump)
    pack(pending, dump, Path(settings.DATA), progress)
    dump.unlink()
    with laid_open(pending, pending.parent, book, progress) as proof:
        pass
    about = About(
        made_at=at.astimezone(dt.UTC).isoformat(timespec="seconds"),
        engine=book.engine,
        sequence=proof.head.sequence,
        digest=proof.head.digest,
        version=program_version(),
    )
    seal(pending, about)
    return proof


def _clear_left_over(place: Path) -> None:
    """Remove scratch folders that an earlier run was killed in the middle of."""
    for folder in place.glob(f"{SCRATCH}*"):
        if time.time() - folder.stat().st_mtime > LEFT_OVER_S:
            shutil.rmtree(folder, ignore_errors=True)
