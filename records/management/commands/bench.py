"""Measure how the book answers when it is large, in a database made for it."""

import json
from argparse import ArgumentParser
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.db import connection

from records.management.bench import measures
from records.management.bench.large_shop import LargeShop, build
from records.models import Hold

SMALL = 100
LEAST = 100


class Command(BaseCommand):
    """`manage.py bench --serials 10000`: the shop's own book is not touched."""

    help = __doc__

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Take the size of the shop, and the form of the answer."""
        parser.add_argument("--serials", type=int, default=10_000)
        parser.add_argument("--json", action="store_true", help="sorted JSON")

    def handle(self, *, serials: int, json: bool, **_: Any) -> None:
        """Build a small shop and a large one, and ask both."""
        if serials < LEAST:
            raise CommandError(f"Take at least {LEAST} serials.")
        with _shop_of(SMALL) as small:
            history = measures.history_s(small)
        self.stderr.write(f"Writing a shop of {serials} serials...")
        with _shop_of(serials) as shop:
            results = _measured(shop, history)
        if json:
            self.stdout.write(_json(serials, results))
            return
        for measure in results:
            self._say(measure)

    def _say(self, measure: measures.Measure) -> None:
        self.stdout.write(measure.question)
        for way, seconds in (
            (measure.one_way, measure.one_s),
            (measure.other_way, measure.other_s),
        ):
            self.stdout.write(f"    {way}: {1000 * seconds:.1f} ms")
        self.stdout.write(f"    ratio: {measure.ratio:.2f}")


def _measured(shop: LargeShop, history: float) -> list[measures.Measure]:
    """Ask about a shop with one hold, on the glue lot that is in everything."""
    Hold.objects.create(
        lot=shop.glue_lot,
        reason="bench",
        happened_at=shop.glue_lot.written_at,
        written_at=shop.glue_lot.written_at,
        written_by=shop.glue_lot.written_by,
    )
    return [
        measures.measure_where_to(shop),
        measures.measure_page(shop),
        measures.measure_filter(shop),
        measures.measure_history(history, shop),
        measures.measure_every_child(shop),
    ]


@contextmanager
def _shop_of(serials: int) -> Iterator[LargeShop]:
    """Make a database beside the shop's own, fill it, and take it away again."""
    own = str(connection.settings_dict["NAME"])
    if connection.vendor != "sqlite":  # SQLite's is in memory, and has no name
        connection.settings_dict["TEST"]["NAME"] = f"bench_{own}"
    connection.creation.create_test_db(verbosity=0, autoclobber=True, serialize=False)
    try:
        yield build(serials)
    finally:
        connection.creation.destroy_test_db(own, verbosity=0)


def _json(serials: int, results: list[measures.Measure]) -> str:
    facts = {
        "measures": [
            {
                "one_way": {"s": m.one_s, "way": m.one_way},
                "other_way": {"s": m.other_s, "way": m.other_way},
                "question": m.question,
                "ratio": m.ratio,
            }
            for m in results
        ],
        "serials": serials,
    }
    return json.dumps(facts, indent=2, sort_keys=True)
