"""Import readings from a CSV file: all of them, or none and every bad line named."""

import json as spell
from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.utils import timezone

from records.models import Person, Reading
from records.services.ledger import Act
from records.services.readings.imports import import_readings
from records.services.refusal import Refusal


class Command(BaseCommand):
    """`manage.py import_readings readings.csv --by ada --json`."""

    help = __doc__

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Take the file, who writes it down, and the form of the answer."""
        parser.add_argument("file", type=Path)
        parser.add_argument("--by", required=True, help="login of who writes it down")
        parser.add_argument("--json", action="store_true", help="sorted JSON")

    def handle(self, *, file: Path, by: str, json: bool, **_: Any) -> None:
        """Import the file, or say what is wrong with it and end with an error."""
        act = Act(by=_person(by), at=timezone.now())
        try:
            rows = import_readings(act=act, text=_text(file))
        except Refusal as refusal:
            problems = [f.sentence for f in refusal.findings]
            if json:
                self._say({"imported": 0, "problems": problems})
                raise CommandError("Nothing was imported.") from refusal
            raise CommandError("\n".join([*problems, "Nothing was imported."])) from (
                refusal
            )
        if json:
            facts = [_facts(row) for row in rows]
            self._say({"imported": len(rows), "problems": [], "readings": facts})
        else:
            self.stdout.write(f"Readings written down: {len(rows)}.")

    def _say(self, facts: dict[str, Any]) -> None:
        self.stdout.write(
            spell.dumps(facts, ensure_ascii=False, indent=2, sort_keys=True)
        )


def _facts(row: Reading) -> dict[str, Any]:
    return {
        "id": row.pk,
        "characteristic": row.characteristic.code,
        "entered": row.entered,
        "unit": row.unit,
        "verdict": row.verdict,
    }


def _person(login: str) -> Person:
    writers = Person.objects.filter(is_active=True).exclude(role=Person.Role.READER)
    person = writers.filter(login__iexact=login).first()
    if person is None:
        raise CommandError(f"Nobody who may write works here under {login}.")
    return person


def _text(file: Path) -> str:
    try:
        return file.read_text(encoding="utf-8-sig")
    except OSError as error:
        raise CommandError(f"{file} can't be read: {error.strerror}.") from error
    except UnicodeDecodeError as error:
        raise CommandError(f"{file} is no text in UTF-8. Save it so.") from error
