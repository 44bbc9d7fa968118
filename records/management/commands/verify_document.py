"""Tell whether a conformity record (PDF) is genuine; needs no database, no network."""

import json
from pathlib import Path
from typing import Any

from django.core.management import CommandError, CommandParser
from django.core.management.base import BaseCommand

from records.documents.genuine import examine
from records.documents.keys import PublicKeys


class Command(BaseCommand):
    """Hold a PDF against the shop's public keys; exit 1 where it is not genuine."""

    help = __doc__
    requires_system_checks = ()

    def add_arguments(self, parser: CommandParser) -> None:
        """Take the file and one or more files of public keys."""
        parser.add_argument("file", type=Path, help="the conformity record, a PDF")
        parser.add_argument(
            "--key",
            type=Path,
            action="append",
            required=True,
            dest="keys",
            help="a file of the shop's public keys; may be given several times",
        )
        parser.add_argument("--json", action="store_true", help="print as JSON")

    def handle(self, *_: Any, file: Path, keys: list[Path], **options: Any) -> None:
        """Examine the file and say what was found."""
        found = examine(_read(file), [_public(path) for path in keys])
        facts = {
            "genuine": found.genuine,
            "number": found.number,
            "serial": found.serial,
            "facts_digest": found.facts_digest,
            "key": found.key,
            "against": list(found.against),
        }
        if options["json"]:
            self.stdout.write(json.dumps(facts, sort_keys=True))
        elif found.genuine:
            self.stdout.write(
                self.style.SUCCESS(f"Genuine: {found.number}, serial {found.serial}.")
            )
            self.stdout.write(f"Facts, SHA-256: {found.facts_digest}")
        else:
            self.stdout.write(self.style.ERROR("Not genuine."))
            for sentence in found.against:
                self.stdout.write(f"  {sentence}")
        if not found.genuine:
            raise SystemExit(1)


def _read(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except OSError as error:
        raise CommandError(f"{path} can't be read: {error.strerror}.") from error


def _public(path: Path) -> PublicKeys:
    try:
        return PublicKeys.from_json(_read(path).decode(errors="replace"))
    except ValueError as error:
        raise CommandError(f"{path}: {error}.") from error
