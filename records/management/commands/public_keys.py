"""Write the public part of every key of the shop to files, to prove papers with."""

from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management import CommandError, CommandParser
from django.core.management.base import BaseCommand

from records.documents.keys import every_public_key


class Command(BaseCommand):
    """Write one file a key; verify_document takes them."""

    help = __doc__
    requires_system_checks = ()

    def add_arguments(self, parser: CommandParser) -> None:
        """Take the folder."""
        parser.add_argument("folder", type=Path, help="where the files go")

    def handle(self, *_: Any, folder: Path, **__: Any) -> None:
        """Write the files and name them."""
        keys = every_public_key(settings.DATA)
        if not keys:
            raise CommandError("The shop has no keys yet: manage.py start makes them.")
        folder.mkdir(parents=True, exist_ok=True)
        for public in keys:
            path = folder / f"{public.name}.json"
            path.write_text(public.as_json())
            self.stdout.write(str(path))
