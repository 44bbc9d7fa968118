"""Check that nothing in the book was changed behind the program's back."""

import argparse
import json
import sys
import time
from collections.abc import Iterator
from dataclasses import asdict
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from records.rules.anchors import anchors_hold, heads_hold
from records.rules.integrity import Break, breaks


class Command(BaseCommand):
    """List every break of the book; leave with 1 if there is any."""

    help = __doc__ or ""

    def add_arguments(self, parser: argparse.ArgumentParser) -> None:
        """Take how to print, and what was kept elsewhere to check against."""
        parser.add_argument("--json", action="store_true", help="print a JSON list")
        parser.add_argument(
            "--progress",
            action="store_true",
            help="say what is checked with --json too",
        )
        parser.add_argument(
            "--anchor",
            metavar="FILE",
            type=Path,
            action="append",
            default=[],
            help="a file of lines printed by ledger_head on earlier days",
        )
        parser.add_argument(
            "--head",
            metavar="DIGEST",
            action="append",
            default=[],
            help="a ledger head printed on a paper, at least its first 16 digits",
        )

    def handle(self, *_: Any, **options: Any) -> None:
        """Run every check and print what was found."""
        began = time.monotonic()
        aloud = options["progress"] or not options["json"]
        kept = [(path, _lines(path)) for path in options["anchor"]]
        all_breaks = list(breaks(self._say) if aloud else breaks())
        all_breaks += _against(kept, options["head"])
        if options["json"]:
            facts = [asdict(one) for one in all_breaks]
            self.stdout.write(json.dumps(facts, indent=1, sort_keys=True))
        else:
            self._report(all_breaks, time.monotonic() - began)
        if all_breaks:
            sys.exit(1)

    def _say(self, what: str) -> None:
        self.stderr.write(f"checking {what} …")

    def _report(self, all_breaks: list[Break], seconds: float) -> None:
        for one in all_breaks:
            self.stdout.write(one.sentence)
        word = f"{len(all_breaks)} breaks" if all_breaks else "The book is whole"
        self.stdout.write(f"{word} ({seconds:.1f} s).")


def _lines(path: Path) -> list[str]:
    try:
        return path.read_text(encoding="utf-8-sig").splitlines()
    except (OSError, UnicodeDecodeError) as error:
        raise CommandError(f"The anchor file {path} can't be read: {error}.") from error


def _against(kept: list[tuple[Path, list[str]]], heads: list[str]) -> Iterator[Break]:
    for path, lines in kept:
        yield from anchors_hold(lines, name=path.name)
    yield from heads_hold(heads)
