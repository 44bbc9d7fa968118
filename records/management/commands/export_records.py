"""Write the whole book as plain files that can be read without this program."""

import argparse
import shutil
import tempfile
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.utils import timezone

from records.documents.export_book import export_book
from records.management.progress import Teller
from records.services.backups import program_version
from records.web.shared.tables import cell


class Command(BaseCommand):
    """Write tables, ledger, papers, photos, public keys and pages to read."""

    help = __doc__ or ""

    def add_arguments(self, parser: argparse.ArgumentParser) -> None:
        """Take where to write."""
        parser.add_argument("folder", type=Path, help="a folder that is not there yet")

    def handle(self, *_: Any, folder: Path, **__: Any) -> None:
        """Write beside the folder, then give it its name: it is there whole or not."""
        if folder.exists():
            raise CommandError(f"{folder} is there already: choose another name.")
        try:
            pending = Path(tempfile.mkdtemp(prefix=".export-", dir=folder.parent))
            try:
                about = self._export(pending)
                pending.replace(folder)
            finally:
                shutil.rmtree(pending, ignore_errors=True)
        except OSError as error:
            raise CommandError(f"Nothing was exported: {error}.") from error
        self.stdout.write(
            f"The book is in {folder}, up to entry {about['sequence']} "
            f"({about['digest'][:16]}…). Start at {folder / 'index.html'}."
        )
        if about["missing_files"]:
            lost = "\n".join(about["missing_files"])
            raise CommandError(f"These kept files are lost or can't be read:\n{lost}")

    def _export(self, pending: Path) -> dict[str, Any]:
        return export_book(
            pending,
            at=timezone.now(),
            version=program_version(),
            cell=cell,
            progress=Teller(self.stderr.write),
        )
