"""A backup each night, the newest kept: while the shop is open, or on its own."""

import argparse
import datetime as dt
import subprocess
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from django.conf import settings
from django.db import DatabaseError, close_old_connections
from django.utils import timezone

from records.queries.backups import last_good_backup
from records.services.backups import NOT_GOOD, NotGood, take_backup
from records.services.refusal import Refusal

NIGHT = dt.time(2, 0)
TRY_AGAIN = dt.timedelta(hours=1)
LONGEST_WAIT_S = 60.0
PATIENCE_S = 30
Say = Callable[[str], object]


@dataclass(frozen=True, slots=True)
class Nightly:
    """Where backups go, how many stay, and when they are made in the shop's zone."""

    folder: Path
    keep: int
    at: dt.time = NIGHT

    def last_due(self, now: dt.datetime) -> dt.datetime:
        """Give the last moment at which a backup was due."""
        zone = timezone.get_current_timezone()
        today = now.astimezone(zone).date()
        tonight = dt.datetime.combine(today, self.at, zone)
        if tonight > now:
            tonight = dt.datetime.combine(today - dt.timedelta(days=1), self.at, zone)
        return tonight

    def is_due(self, now: dt.datetime) -> bool:
        """Tell whether no good backup was made since one was due.

        A machine that is off at night makes up for it when it is switched on.
        """
        good = last_good_backup()
        return good is None or good.at < self.last_due(now)

    def look(self, now: dt.datetime, say: Say) -> bool:
        """Make a backup if one is due; tell whether all is well now."""
        try:
            return not self.is_due(now) or self.make(now, say)
        except DatabaseError as problem:
            say(f"The nightly backup can't read the book: {problem}")
            return False

    def make(self, now: dt.datetime, say: Say) -> bool:
        """Make a backup, then remove the oldest; tell whether it was good."""
        local = timezone.localtime(now)
        target = self.folder / f"book-{local:%Y%m%d-%H%M%S}.zip"
        try:
            self.folder.mkdir(parents=True, exist_ok=True, mode=0o700)
            run = take_backup(target=target, at=now)
        except (NotGood, Refusal, OSError) as problem:
            say(f"The nightly backup failed: {problem}")
            return False
        for path in self.too_many():
            path.unlink()
        say(f"Nightly backup {target} is good, up to entry {run.sequence}.")
        return True

    def too_many(self) -> list[Path]:
        """List those to remove: the oldest, and doubtful ones before a good one."""
        good = sorted(self.folder.glob("book-*.zip"))
        doubtful = self.folder.glob(f"book-*.zip{NOT_GOOD}")
        return [*good[: -self.keep], *(p for p in doubtful if good and p < good[-1])]


def at_least_one(text: str) -> int:
    """Read how many backups to keep from the command line."""
    number = int(text)
    if number < 1:
        raise argparse.ArgumentTypeError("keep at least 1")
    return number


def watch(nightly: Nightly, stop: threading.Event, say: Say) -> None:
    """Make a backup whenever one is due, until told to stop."""
    not_before = timezone.now()
    while not stop.is_set():
        now = timezone.now()
        close_old_connections()
        if now >= not_before and not nightly.look(now, say):
            not_before = now + TRY_AGAIN
        stop.wait(LONGEST_WAIT_S)


def stop_with_input() -> threading.Event:
    """Give an event that is set when standard input ends: its writer is gone."""
    stop = threading.Event()

    def read() -> None:
        sys.stdin.read()
        stop.set()

    threading.Thread(target=read, daemon=True).start()
    return stop


@contextmanager
def beside_the_server(folder: Path | None, keep: int) -> Iterator[None]:
    """Run nightly backups in a process that ends with this one, however it ends."""
    if folder is None:
        yield
        return
    where = ["--nightly", str(folder.resolve()), "--keep", str(keep)]
    child = subprocess.Popen(  # noqa: S603 - this program
        [sys.executable, "manage.py", "backup", "--attended", *where],
        cwd=settings.ROOT,
        stdin=subprocess.PIPE,
        start_new_session=True,
    )
    try:
        yield
    finally:
        _let_end(child)


def _let_end(child: "subprocess.Popen[bytes]") -> None:
    """Let a backup that is under way be finished, within reason."""
    try:
        child.communicate(timeout=PATIENCE_S)
    except subprocess.TimeoutExpired:
        child.terminate()
        child.wait()
