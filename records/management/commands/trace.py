"""Print where a serial came from, or where a material, press load or gauge went."""

import json
from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.db.models import Model

from records.models import Propeller
from records.queries.subjects import WORDS, called, find
from records.queries.trace.contract import reach_facts, serial_facts
from records.queries.trace.history import where_from, where_to

SERIAL = "serial"
KINDS = (SERIAL, *sorted(set(WORDS) - {"propeller"}))


class Command(BaseCommand):
    """`manage.py trace serial 2026-004 --json`, `manage.py trace lot L0003`."""

    help = __doc__

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Take the kind of thing, its number, and the form of the answer."""
        parser.add_argument("kind", choices=KINDS)
        parser.add_argument("number")
        parser.add_argument("--json", action="store_true", help="sorted JSON")

    def handle(self, *, kind: str, number: str, json: bool, **_: Any) -> None:
        """Print the trace."""
        thing = find("propeller" if kind == SERIAL else kind, number)
        if thing is None:
            raise CommandError(f"There is no {kind} {number} in the book.")
        facts = self._facts(kind, thing)
        self.stdout.write(_json(facts) if json else "\n".join(_text(thing, facts)))

    def _facts(self, kind: str, thing: Model) -> dict[str, Any]:
        if isinstance(thing, Propeller):
            return serial_facts(where_from(thing))
        return reach_facts(kind, thing, where_to(kind, thing.pk))


def _json(facts: dict[str, Any]) -> str:
    return json.dumps(facts, ensure_ascii=False, indent=2, sort_keys=True)


def _text(thing: Model, facts: dict[str, Any]) -> list[str]:
    name = called(thing)
    lines = [f"{name[0].upper()}{name[1:]}"]
    for title, value in facts.items():
        label = title.replace("_", " ")
        if isinstance(value, list):
            lines.append(f"{label}: {len(value) or 'none'}")
            lines += [f"    {_one(item)}" for item in value]
        else:
            lines.append(f"{label}: {_one(value)}")
    return lines


def _one(value: object) -> str:
    if isinstance(value, dict):
        shown = {k: v for k, v in value.items() if v not in (None, "", [])}
        return ", ".join(f"{k.replace('_', ' ')} {_one(v)}" for k, v in shown.items())
    if isinstance(value, list):
        return "; ".join(_one(item) for item in value)
    return "-" if value is None else str(value)
