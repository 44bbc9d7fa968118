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
        verdict = examine(_read(file), [_public(path) for path in keys])
        facts = {
            "genuine": verdict.genuine,
            "number": verdict.number,
            "serial": verdict.serial,
            "facts_digest": verdict.facts_digest,
            "key": verdict.key,
            "against": list(verdict.against),
        }
        if options["json"]:
            self.stdout.write(json.dumps(facts, sort_keys=True))
        elif verdict.genuine:
            self.stdout.write(
                self.style.SUCCESS(
                    f"Genuine: {verdict.number}, serial {verdict.serial}."
                )
            )
            self.stdout.write(f"Facts, SHA-256: {verdict.facts_digest}")
        else:
            self.stdout.write(self.style.ERROR("Not genuine."))
            for sentence in verdict.against:
                self.stdout.write(f"  {sentence}")
        if not verdict.genuine:
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
