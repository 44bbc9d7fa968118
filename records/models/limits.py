"""Limits: what a reading is held against, revision by revision, with its source."""

import datetime as dt

from django.db import models
from django.db.models import F, Q

from records.models.base import Record
from records.models.designs import Revision
from records.models.routes import Characteristic


class LimitQuerySet(models.QuerySet["Limit"]):
    """Limits, by the time they came into force."""

    def in_force(self, moment: dt.datetime) -> "LimitQuerySet":
        """Keep those written at or before a moment, newest first."""
        return self.filter(in_force_from__lte=moment).order_by(
            "-in_force_from", "-number", "-pk"
        )


class Limit(Record):
    """A limit of a characteristic, one revision, with where it came from."""

    class Source(models.TextChoices):
        MAKER = "maker", "maker's sheet"
        SHOP = "shop", "shop's practice"
        PUBLISHED = "published", "published text"
        DRAWING = "drawing", "drawing"

    characteristic = models.ForeignKey(
        Characteristic, models.PROTECT, related_name="limits"
    )
    design_revision = models.ForeignKey(
        Revision,
        models.PROTECT,
        null=True,
        blank=True,
        related_name="limits",
        help_text="Empty: for every design on this route.",
    )
    number = models.PositiveSmallIntegerField("limit revision")
    low = models.DecimalField(
        "least", max_digits=14, decimal_places=4, null=True, blank=True
    )
    high = models.DecimalField(
        "most", max_digits=14, decimal_places=4, null=True, blank=True
    )
    unit = models.CharField(max_length=12)
    source_kind = models.CharField("comes from", max_length=10, choices=Source)
    source = models.CharField("where exactly", max_length=200)
    in_force_from = models.DateTimeField()
    reason = models.CharField("why", max_length=200)

    objects = LimitQuerySet.as_manager()

    class Meta:
        ordering = ["characteristic", "-number", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["characteristic", "number"],
                condition=Q(design_revision__isnull=True),
                name="limit_revision_once",
            ),
            models.UniqueConstraint(
                fields=["characteristic", "design_revision", "number"],
                condition=Q(design_revision__isnull=False),
                name="limit_revision_once_a_design",
            ),
            models.CheckConstraint(
                condition=Q(low__isnull=False) | Q(high__isnull=False),
                name="limit_has_a_side",
                violation_error_message="Give the least, the most, or both.",
            ),
            models.CheckConstraint(
                condition=Q(low__isnull=True)
                | Q(high__isnull=True)
                | Q(low__lte=F("high")),
                name="limit_sides_in_order",
                violation_error_message="The least is more than the most.",
            ),
        ]

    def __str__(self) -> str:
        return f"limit {self.number}"
