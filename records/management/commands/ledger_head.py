"""Print the ledger's head, to be kept where nobody who changes the book can reach."""

import argparse
from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.utils import timezone

from records.queries.anchors import anchor_on, daily_anchors


class Command(BaseCommand):
    """Print today's line, or the line of every day so far."""

    help = __doc__ or ""

    def add_arguments(self, parser: argparse.ArgumentParser) -> None:
        """Take what to print."""
        parser.add_argument(
            "--line",
            action="store_true",
            help="print one line only: day, number of the last entry, its digest",
        )
        parser.add_argument(
            "--every-day", action="store_true", help="print the line of every day"
        )

    def handle(self, *_: Any, line: bool, every_day: bool, **__: Any) -> None:
        """Print the lines, and how they are used unless only lines are wanted."""
        if every_day:
            for anchor in daily_anchors():
                self.stdout.write(anchor.line)
            return
        head = anchor_on(timezone.localdate())
        if head is None:
            raise CommandError("The ledger is empty: it has no head yet.")
        self.stdout.write(head.line)
        if not line:
            self.stdout.write(
                "Keep this line on paper or on another machine. Later, "
                "verify_records --anchor FILE shows whether the chain still holds "
                "against it."
            )
