"""Check that nothing in the book was changed behind the program's back."""

import argparse
import json
import sys
import time
from dataclasses import asdict
from typing import Any

from django.core.management.base import BaseCommand

from records.rules.integrity import breaks


class Command(BaseCommand):
    """List every break of the book; leave with 1 if there is any."""

    help = __doc__ or ""

    def add_arguments(self, parser: argparse.ArgumentParser) -> None:
        """Take --json for a list of breaks that programs read."""
        parser.add_argument("--json", action="store_true", help="print a JSON list")

    def handle(self, *_: Any, **options: Any) -> None:
        """Run every check and print what was found."""
        began = time.monotonic()
        quiet = options["json"]
        found = [asdict(b) for b in breaks(self._quiet if quiet else self._say)]
        if quiet:
            self.stdout.write(json.dumps(found, indent=1, sort_keys=True))
        else:
            self._report(found, time.monotonic() - began)
        if found:
            sys.exit(1)

    def _quiet(self, _: str) -> None:
        return

    def _say(self, what: str) -> None:
        self.stderr.write(f"checking {what} …")

    def _report(self, found: list[dict[str, str]], seconds: float) -> None:
        for one in found:
            self.stdout.write(one["sentence"])
        word = f"{len(found)} breaks" if found else "The book is whole"
        self.stdout.write(f"{word} ({seconds:.1f} s).")
