"""The demo is made of its seed and its moment alone."""

import json

from django.apps import apps
from django.core.management.color import no_style
from django.db import connection, transaction
from django.utils import timezone

from records.management.demo.story import Saltmarsh, play
from records.models import LedgerEntry

# Codes nobody can guess, seals, and what is printed with them: never twice the same.
DRAWN = frozenset(
    ("code", "seal", "facts", "facts_digest", "ledger_head", "sha256", "size", "digest")
)


def test_the_same_seed_and_moment_tell_the_same_story(db, monkeypatch):
    """Two of its builds, told twice into an empty book, entry by entry."""
    every = Saltmarsh.stories

    def some(shop, now):
        told = every(shop, now)
        return told[-2:]

    monkeypatch.setattr(Saltmarsh, "stories", some)
    now = timezone.now()
    first, again = told_at(now), told_at(now)
    assert len(first) > 80
    assert again == first


def told_at(now):
    """Tell the story into an empty book; give its entries without what is drawn."""
    with transaction.atomic():
        models = apps.get_app_config("records").get_models()
        with connection.cursor() as cursor:
            for reset in connection.ops.sequence_reset_sql(no_style(), models):
                cursor.execute(reset)
        play(seed=7, now=now, said=lambda _: None)
        bodies = LedgerEntry.objects.order_by("sequence").values_list("body", flat=True)
        entries = [without_what_is_drawn(json.loads(body)) for body in bodies]
        transaction.set_rollback(True)
    return entries


def without_what_is_drawn(entry):
    for row in entry["rows"]:
        row["fields"] = {k: v for k, v in row["fields"].items() if k not in DRAWN}
    return entry
