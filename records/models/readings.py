"""Readings: what was seen at the bench, judged once, with the limit of that day."""

from django.db import models
from django.db.models import Q

from records.models.base import Record
from records.models.designs import Station
from records.models.gauges import Gauge
from records.models.limits import Limit
from records.models.routes import Characteristic
from records.models.subjects import MATERIAL_KINDS, AboutMaterial, exactly_one


class ReadingQuerySet(models.QuerySet["Reading"]):
    """Readings."""

    def standing(self) -> "ReadingQuerySet":
        """Leave out those that a later row corrected or withdrew."""
        return self.filter(corrected_by__isnull=True).exclude(
            verdict=Reading.Verdict.WITHDRAWN
        )

    def with_related(self) -> "ReadingQuerySet":
        """Bring what a line about each reading needs, in the same query."""
        return self.select_related(
            "characteristic__stage",
            "station",
            "gauge",
            "limit",
            "written_by",
            *MATERIAL_KINDS,
        ).order_by("happened_at", "pk")


class Reading(AboutMaterial, Record):
    """One figure or answer, as entered, with its limit, verdict and gauge."""

    class Verdict(models.TextChoices):
        INSIDE = "inside", "inside"
        OUTSIDE = "outside", "outside"
        UNDECIDED = "undecided", "undecided"
        NO_LIMIT = "no_limit", "no limit"
        WITHDRAWN = "withdrawn", "withdrawn"

    characteristic = models.ForeignKey(
        Characteristic, models.PROTECT, related_name="readings"
    )
    blade = models.PositiveSmallIntegerField(null=True, blank=True)
    station = models.ForeignKey(
        Station, models.PROTECT, null=True, blank=True, related_name="readings"
    )
    joint = models.PositiveSmallIntegerField(null=True, blank=True)
    point = models.CharField("where, or which", max_length=40, blank=True)
    happened_at = models.DateTimeField("read at")
    entered = models.CharField(max_length=200)
    unit = models.CharField(max_length=12, blank=True)
    value_si = models.FloatField(null=True, blank=True)
    judged = models.DecimalField(
        "figure judged, in the limit's unit",
        max_digits=20,
        decimal_places=8,
        null=True,
        blank=True,
    )
    judged_unit = models.CharField(max_length=12, blank=True)
    gauge = models.ForeignKey(
        Gauge, models.PROTECT, null=True, blank=True, related_name="readings"
    )
    standard_uncertainty = models.FloatField(
        "standard uncertainty, in the limit's unit", null=True, blank=True
    )
    limit = models.ForeignKey(
        Limit, models.PROTECT, null=True, blank=True, related_name="readings"
    )
    low = models.DecimalField(max_digits=14, decimal_places=4, null=True, blank=True)
    high = models.DecimalField(max_digits=14, decimal_places=4, null=True, blank=True)
    limit_source = models.CharField(max_length=240, blank=True)
    rule = models.CharField("decision rule", max_length=10, blank=True)
    verdict = models.CharField(max_length=10, choices=Verdict)
    probability = models.FloatField("probability of conformity", null=True, blank=True)
    flags = models.TextField("flagged when it was taken", blank=True)
    corrects = models.OneToOneField(
        "self", models.PROTECT, null=True, blank=True, related_name="corrected_by"
    )
    reason = models.CharField("why corrected", max_length=200, blank=True)

    objects = ReadingQuerySet.as_manager()

    class Meta:
        ordering = ["happened_at", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=exactly_one(MATERIAL_KINDS), name="reading_has_one_subject"
            ),
            models.CheckConstraint(
                condition=Q(corrects__isnull=True) | ~Q(reason=""),
                name="corrected_reading_says_why",
                violation_error_message="Say why the reading is corrected.",
            ),
        ]

    @property
    def is_withdrawn(self) -> bool:
        """Tell whether this row withdraws another, rather than giving a figure."""
        return self.verdict == self.Verdict.WITHDRAWN

    def __str__(self) -> str:
        return f"{self.entered} {self.unit}".strip()
