"""The ledger: one entry for each thing the shop did, chained by digest."""

from django.db import models
from django.db.models import Q

from records.models.base import Record


class LedgerQuerySet(models.QuerySet["LedgerEntry"]):
    """Entries of the ledger."""

    def head(self) -> "LedgerEntry | None":
        """Give the newest entry, or None in an empty book."""
        return self.order_by("-sequence").first()


class LedgerEntry(Record):
    """What one service call wrote, as canonical JSON, bound to the entry before it."""

    sequence = models.PositiveBigIntegerField(unique=True)
    verb = models.CharField(max_length=40)
    subject = models.CharField(max_length=120, blank=True)
    body = models.TextField()
    previous = models.CharField(max_length=64, unique=True)
    digest = models.CharField(max_length=64, unique=True)
    form_key = models.CharField(max_length=40, blank=True)

    objects = LedgerQuerySet.as_manager()

    class Meta:
        ordering = ["sequence", "pk"]
        verbose_name_plural = "ledger entries"
        constraints = [
            models.UniqueConstraint(
                fields=["form_key"],
                condition=~Q(form_key=""),
                name="a_form_is_taken_once",
            )
        ]

    def __str__(self) -> str:
        return f"{self.sequence} {self.verb} {self.subject}"
