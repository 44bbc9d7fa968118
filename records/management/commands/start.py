"""Start the shop: bring the book up to date, then serve it on the shop's network."""

import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management import CommandError, CommandParser, call_command
from django.core.management.base import BaseCommand
from django.db import OperationalError, connection, connections
from django.db.migrations.executor import MigrationExecutor
from django.urls import reverse
from django.utils import timezone

from records.documents import keys
from records.management import network, nightly, pdf_library, server
from records.models import Shop
from records.queries.people import anybody_works_here
from records.services.people.accounts import make_set_up_link


class Command(BaseCommand):
    """Bring the book up to date and serve it; Ctrl-C stops it."""

    help = __doc__
    requires_system_checks = ()

    def add_arguments(self, parser: CommandParser) -> None:
        """Take where to serve, and whether to load the demo."""
        parser.add_argument(
            "--demo", action="store_true", help="load an invented shop to look at"
        )
        parser.add_argument("--host", default="0.0.0.0", help="address to listen at")  # noqa: S104 - the shop's network
        parser.add_argument("--port", type=int, default=8000, help="port to listen at")
        parser.add_argument(
            "--nightly", metavar="FOLDER", type=Path, help="back up here each night"
        )
        parser.add_argument(
            "--keep",
            type=nightly.at_least_one,
            default=30,
            help="nightly backups to keep (30)",
        )

    def handle(self, *_: Any, demo: bool, host: str, port: int, **options: Any) -> None:
        """Prepare, say where to go, and serve."""
        if network.is_taken(host, port):
            raise CommandError(
                f"Something listens on port {port} already, perhaps this program. "
                "Stop it, or choose another port with --port."
            )
        self._prepare()
        self._make_keys()
        if demo:
            self._load_demo()
        self._say_where(network.addresses(host, port))
        connections.close_all()  # the workers are forked: each opens its own
        with nightly.beside_the_server(options["nightly"], options["keep"]):
            server.serve(host, port)

    def _prepare(self) -> None:
        with self._step("Looking for the PDF library"):
            missing = pdf_library.what_is_missing()
        if missing:
            self.stderr.write(self.style.WARNING(missing))
        with self._step("Bringing the database up to date"):
            self._migrate()
        with self._step("Collecting style sheets and scripts"):
            call_command("collectstatic", interactive=False, verbosity=0)

    def _migrate(self) -> None:
        """Migrate, telling each step if there is one; the guards go up either way."""
        try:
            plan = MigrationExecutor(connection)
            steps = plan.migration_plan(plan.loader.graph.leaf_nodes())
            call_command(
                "migrate",
                interactive=False,
                verbosity=1 if steps else 0,
                stdout=self.stdout,
            )
        except OperationalError as error:
            raise CommandError(
                f"The database can't be used: {error}. Check the folder "
                f"{settings.DATA}, or DATABASE_URL if the shop's book is elsewhere."
            ) from error

    def _load_demo(self) -> None:
        if anybody_works_here():
            self.stdout.write(
                "The demo was not loaded: there is a shop in this book, and the demo "
                "goes into an empty one only.\nFor the demo, name another folder: "
                f"SHOPQA_DATA=/path/to/folder (this book is in {settings.DATA})."
            )
            return
        with self._step("Loading the demo"):
            call_command("seed_demo", stdout=self.stdout)

    def _make_keys(self) -> None:
        if keys.current_keys(settings.DATA) is not None:
            return
        name = Shop.objects.values_list("name", flat=True).first()
        keys.make_keys(settings.DATA, name or "shop", timezone.now())
        self.stdout.write(
            "Made the keys that seal this shop's papers, in:\n"
            f"  {settings.DATA / 'keys'}\n"
            "They must be backed up, as the command backup does. "
            "README.md says what a lost key means."
        )

    def _say_where(self, addresses: list[str]) -> None:
        write = self.stdout.write
        write(self.style.SUCCESS("\nThe shop is open:"))
        for address in addresses:
            write(f"  {address}/")
        if not anybody_works_here():
            path = reverse("people:set_up", args=[make_set_up_link(timezone.now())])
            write("\nNobody has an account yet. This link, good once and for a day,")
            write("makes the first owner's account:")
            for address in addresses:
                write(f"  {address}{path}")
        write("\nCtrl-C stops it.\n")

    @contextmanager
    def _step(self, title: str) -> Iterator[None]:
        self.stdout.write(f"{title} ...")
        self.stdout.flush()
        began = time.monotonic()
        yield
        self.stdout.write(f"  done in {time.monotonic() - began:.1f} s")
