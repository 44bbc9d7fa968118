"""Holds: one row on one thing, which reaches all that was made of it by a query."""

from django.db import models
from django.db.models import Q

from records.models.base import Record
from records.models.deviations import Deviation
from records.models.subjects import ANY_KINDS, AboutAny, exactly_one


class HoldQuerySet(models.QuerySet["Hold"]):
    """Holds."""

    def standing(self) -> "HoldQuerySet":
        """Keep those not yet released."""
        return self.filter(release__isnull=True)


class Hold(AboutAny, Record):
    """A hold on one thing; it reaches all that was made of it, by a query."""

    deviation = models.ForeignKey(
        Deviation, models.PROTECT, null=True, blank=True, related_name="holds"
    )
    joint = models.PositiveSmallIntegerField(null=True, blank=True)
    happened_at = models.DateTimeField()
    reason = models.CharField(max_length=200)
    readings_from = models.DateTimeField(
        "gauge: its readings from", null=True, blank=True
    )
    readings_until = models.DateTimeField(
        "gauge: its readings until", null=True, blank=True
    )

    objects = HoldQuerySet.as_manager()

    class Meta:
        ordering = ["happened_at", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=exactly_one(ANY_KINDS),
                name="hold_has_one_subject",
                violation_error_message="A hold is on one thing.",
            ),
            models.CheckConstraint(
                condition=Q(readings_from__isnull=True, readings_until__isnull=True)
                | Q(gauge__isnull=False),
                name="only_a_gauge_hold_has_a_span_of_readings",
                violation_error_message="Only a gauge is held for a span of readings.",
            ),
            models.CheckConstraint(
                condition=Q(joint__isnull=True) | Q(blank__isnull=False),
                name="held_joint_is_in_a_blank",
                violation_error_message="A joint is held in its blank.",
            ),
        ]

    def __str__(self) -> str:
        return self.reason


class HoldRelease(Record):
    """The release of a hold, with the reason."""

    hold = models.OneToOneField(Hold, models.PROTECT, related_name="release")
    happened_at = models.DateTimeField()
    reason = models.CharField(max_length=200)

    class Meta:
        ordering = ["happened_at", "pk"]

    def __str__(self) -> str:
        return self.reason
