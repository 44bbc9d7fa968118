"""Load the demo: an invented shop with propellers in every state."""

import argparse
from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.utils import timezone

from records.management.demo.story import play
from records.management.demo.workshop import INSPECTOR, KEEPER, MAKER, PASSWORD
from records.queries.people import anybody_works_here


class Command(BaseCommand):
    """Fill an empty book with the demo."""

    help = __doc__

    def add_arguments(self, parser: argparse.ArgumentParser) -> None:
        """Take the seed of the demo's chance."""
        parser.add_argument("--seed", type=int, default=60, help="seed of the figures")

    def handle(self, *_: Any, seed: int, **__: Any) -> None:
        """Play the story, and say how to get in."""
        if anybody_works_here():
            raise CommandError("The demo goes into an empty book only.")
        play(seed=seed, now=timezone.now(), said=self._say)
        self.stdout.write("")
        self.stdout.write(
            f"Sign in as {KEEPER}, {MAKER} or {INSPECTOR} "
            f'with the password "{PASSWORD}".'
        )

    def _say(self, what: str) -> None:
        self.stdout.write(f"  {what}")
        self.stdout.flush()
