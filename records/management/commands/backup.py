"""Copy the whole shop into one file while it works: database, files and keys."""

import argparse
import datetime as dt
import signal
import sys
import threading
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.utils import timezone

from records.management.nightly import (
    NIGHT,
    Nightly,
    at_least_one,
    stop_with_input,
    watch,
)
from records.management.progress import Teller
from records.services.backups import NotGood, take_backup
from records.services.refusal import Refusal

GUARD_IT = (
    "It holds the shop's private keys: keep it where only the shop can read it, and "
    "one copy in another building."
)


class Command(BaseCommand):
    """Write a backup that was restored and verified, or none."""

    help = __doc__ or ""

    def add_arguments(self, parser: argparse.ArgumentParser) -> None:
        """Take where to write, once or each night."""
        where = parser.add_mutually_exclusive_group(required=True)
        where.add_argument("file", type=Path, nargs="?", help="the file to write")
        where.add_argument(
            "--nightly", metavar="FOLDER", type=Path, help="write one each night, here"
        )
        parser.add_argument(
            "--keep", type=at_least_one, default=30, help="nightly ones to keep (30)"
        )
        parser.add_argument(
            "--at",
            type=_time,
            default=NIGHT,
            help="when, in the shop's zone (02:00)",
        )
        parser.add_argument("--attended", action="store_true", help=argparse.SUPPRESS)

    def handle(self, *_: Any, **options: Any) -> None:
        """Make one backup, or one each night until stopped."""
        if options["nightly"] is None:
            self._once(options["file"])
            return
        nightly = Nightly(options["nightly"], options["keep"], options["at"])
        stop = stop_with_input() if options["attended"] else threading.Event()
        signal.signal(signal.SIGTERM, lambda *_: sys.exit(1))  # and clear away first
        try:
            watch(nightly, stop, self.stdout.write)
        except KeyboardInterrupt:
            return

    def _once(self, file: Path) -> None:
        tell = Teller(self.stderr.write)
        try:
            run = take_backup(target=file, at=timezone.now(), progress=tell)
        except NotGood as problem:
            for one in problem.breaks:
                self.stdout.write(one["sentence"])
            raise CommandError(str(problem)) from problem
        except (Refusal, OSError) as problem:
            raise CommandError(f"No backup was made. {problem}") from problem
        self.stdout.write(
            f"{file} is good: it was restored beside the book and verified, up to "
            f"entry {run.sequence} ({run.digest[:16]}…). {GUARD_IT}"
        )


def _time(text: str) -> dt.time:
    try:
        return dt.time.fromisoformat(text)
    except ValueError as error:
        raise argparse.ArgumentTypeError("write the time as 02:00") from error
