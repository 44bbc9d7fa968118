"""Read an export back into an empty shop: the same book, with the same ledger."""

import argparse
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from records.management.progress import Teller
from records.services.imports import import_export
from records.services.refusal import Refusal

WITHOUT = """\
Nobody has a password yet. Give the owner one with: manage.py changepassword LOGIN
The shop's private keys were not in the export: start makes new ones for new papers,
and the old papers stay provable with the public keys that came along."""


class Command(BaseCommand):
    """Read an export into an empty shop, or change nothing."""

    help = __doc__ or ""

    def add_arguments(self, parser: argparse.ArgumentParser) -> None:
        """Take what to read."""
        parser.add_argument("folder", type=Path, help="a folder by export_records")

    def handle(self, *_: Any, folder: Path, **__: Any) -> None:
        """Import and verify."""
        try:
            head = import_export(folder=folder, progress=Teller(self.stderr.write))
        except Refusal as refusal:
            lines = "\n".join(finding.sentence for finding in refusal.findings)
            raise CommandError(lines) from refusal
        self.stdout.write(
            f"The book is whole, and ends as the export does: entry {head.sequence}, "
            f"{head.digest}.\n{WITHOUT}"
        )
