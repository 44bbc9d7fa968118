"""Make new keys for seals and signatures; papers of the old ones stay provable."""

from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand
from django.utils import timezone

from records.documents.keys import current_keys, make_keys
from records.models import Shop


class Command(BaseCommand):
    """Make a new pair of keys and make it current.

    Do it when a key may have been seen by others, or was lost. Older keys stay in the
    folder: what they sealed can still be proved.
    """

    help = __doc__

    def handle(self, *_: Any, **__: Any) -> None:
        """Make the keys and say what to do next."""
        shop = Shop.objects.first()
        before = current_keys(settings.DATA)
        name = shop.name if shop else "The shop"
        keys = make_keys(settings.DATA, name, timezone.now())
        self.stdout.write(self.style.SUCCESS(f"New keys: {keys.public.name}"))
        if before is not None:
            self.stdout.write(f"They follow {before.public.name}, which is kept.")
        self.stdout.write(
            "Give the public part to anybody who asks: manage.py public_keys FOLDER.\n"
            "Put the new keys in a backup now: without them nothing can be sealed."
        )
