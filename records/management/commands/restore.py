"""Put a backup in the place of this shop; what is here now is moved aside."""

import argparse
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.utils import timezone

from records.management.progress import Teller
from records.rules.integrity import breaks
from records.services.refusal import Refusal
from records.services.restoring import Restored, restore


class Command(BaseCommand):
    """Restore a backup that was verified first; delete nothing."""

    help = __doc__ or ""

    def add_arguments(self, parser: argparse.ArgumentParser) -> None:
        """Take the backup, and what may be lost or wrong knowingly."""
        parser.add_argument("file", type=Path, help="a file that backup made")
        parser.add_argument(
            "--over-a-newer-shop",
            action="store_true",
            help="even if this book has entries that the backup lacks",
        )
        parser.add_argument(
            "--with-its-breaks",
            action="store_true",
            help="even if the backup is not whole",
        )

    def handle(self, *_: Any, file: Path, **options: Any) -> None:
        """Restore, say where everything is, and verify what is in place."""
        tell = Teller(self.stderr.write)
        try:
            done = restore(
                file=file,
                at=timezone.now(),
                over_a_newer_shop=options["over_a_newer_shop"],
                with_its_breaks=options["with_its_breaks"],
                progress=tell,
            )
        except Refusal as refusal:
            lines = "\n".join(finding.sentence for finding in refusal.findings)
            raise CommandError(f"Nothing was changed. {lines}") from refusal
        self._say(done)
        breaks_seen = list(breaks(lambda what: tell(f"verifying {what}")))
        for one in breaks_seen:
            self.stdout.write(one.sentence)
        if breaks_seen:
            raise CommandError(f"The book is in place, with {len(breaks_seen)} breaks.")
        self.stdout.write("The book in place is whole.")

    def _say(self, done: Restored) -> None:
        about = done.about
        self.stdout.write(
            f"The backup of {about.made_at} is in place, up to entry {about.sequence}."
        )
        for place in done.aside:
            self.stdout.write(f"What was here before is kept: {place}")
