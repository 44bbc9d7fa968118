"""Gauges and their calibrations."""

from typing import ClassVar

from django.db import models
from django.db.models import Q

from records.models.base import (
    Correctable,
    CorrectableRecord,
    Thing,
)


class GaugeQuerySet(models.QuerySet["Gauge"]):
    """Gauges."""

    def in_service(self) -> "GaugeQuerySet":
        """Leave out those that were withdrawn."""
        return self.filter(state=Gauge.State.IN_SERVICE)


class Gauge(Correctable, Thing):
    """An instrument, template or fixture that a reading is taken with."""

    typed_fields: ClassVar[tuple[str, ...]] = (
        "name",
        "maker_serial",
        "range_low",
        "range_high",
        "resolution",
    )

    class State(models.TextChoices):
        IN_SERVICE = "in_service", "in service"
        WITHDRAWN = "withdrawn", "withdrawn"

    state_fields: ClassVar[tuple[str, ...]] = ("state", "interval_days")

    number = models.CharField(
        "number marked on it",
        max_length=40,
        unique=True,
        error_messages={
            "unique": "This gauge number is in the book. No number is used twice."
        },
    )
    name = models.CharField("what it is", max_length=80)
    maker_serial = models.CharField("maker and serial", max_length=60, blank=True)
    unit = models.CharField(max_length=12)
    range_low = models.DecimalField("reads from", max_digits=14, decimal_places=4)
    range_high = models.DecimalField("reads up to", max_digits=14, decimal_places=4)
    resolution = models.DecimalField(
        "smallest step it shows", max_digits=12, decimal_places=6
    )
    interval_days = models.PositiveIntegerField("days between calibrations")
    state = models.CharField(max_length=10, choices=State, default=State.IN_SERVICE)

    objects = GaugeQuerySet.as_manager()

    class Meta:
        ordering = ["number", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(range_low__lt=models.F("range_high"), resolution__gt=0),
                name="gauge_has_a_range",
                violation_error_message=(
                    "A gauge reads from less to more, in steps larger than 0."
                ),
            )
        ]

    def __str__(self) -> str:
        return f"{self.number} {self.name}"


class GaugeChange(CorrectableRecord):
    """A gauge withdrawn from service or returned to it, or its interval changed."""

    typed_fields: ClassVar[tuple[str, ...]] = (
        "happened_at",
        "reason",
    )

    class Kind(models.TextChoices):
        WITHDRAWN = "withdrawn", "withdrawn"
        RETURNED = "returned", "returned to service"
        INTERVAL = "interval", "days between calibrations changed"

    gauge = models.ForeignKey(Gauge, models.PROTECT, related_name="changes")
    kind = models.CharField(max_length=10, choices=Kind)
    happened_at = models.DateTimeField()
    reason = models.CharField("why", max_length=200)

    class Meta(CorrectableRecord.Meta):
        ordering = ["gauge", "happened_at", "pk"]

    def __str__(self) -> str:
        return f"{self.get_kind_display()}: {self.reason}"


class Calibration(CorrectableRecord):
    """A calibration of a gauge: as found, as left, by what, until when."""

    typed_fields: ClassVar[tuple[str, ...]] = (
        "done_on",
        "as_found_error",
        "as_left_error",
        "permissible_error",
        "unit",
        "expanded_uncertainty",
        "coverage_factor",
        "certificate",
        "standard",
        "next_due_on",
    )

    gauge = models.ForeignKey(Gauge, models.PROTECT, related_name="calibrations")
    done_on = models.DateField("done on")
    as_found_error = models.DecimalField(
        "greatest error as found", max_digits=12, decimal_places=6
    )
    as_left_error = models.DecimalField(
        "greatest error as left", max_digits=12, decimal_places=6
    )
    permissible_error = models.DecimalField(
        "greatest error allowed", max_digits=12, decimal_places=6
    )
    unit = models.CharField(max_length=12)
    expanded_uncertainty = models.DecimalField(max_digits=12, decimal_places=6)
    coverage_factor = models.DecimalField(
        "coverage factor k", max_digits=4, decimal_places=2, default=2
    )
    certificate = models.CharField("certificate, or how it was done", max_length=120)
    standard = models.CharField(
        "standard used, and what it is traceable to", max_length=160
    )
    next_due_on = models.DateField("due again on")

    class Meta(CorrectableRecord.Meta):
        ordering = ["gauge", "-done_on", "-pk"]
        constraints = [
            *CorrectableRecord.Meta.constraints,
            models.CheckConstraint(
                condition=Q(next_due_on__gt=models.F("done_on")),
                name="calibration_due_after_it_was_done",
                violation_error_message="It is due again after it was done.",
            ),
            models.CheckConstraint(
                condition=Q(
                    permissible_error__gte=0,
                    expanded_uncertainty__gte=0,
                    coverage_factor__gt=0,
                ),
                name="calibration_figures_not_negative",
                violation_error_message=(
                    "Greatest error allowed and uncertainty are not negative, "
                    "and k is more than 0."
                ),
            ),
        ]

    def __str__(self) -> str:
        return f"calibration of {self.done_on}"

    @property
    def found_inside(self) -> bool:
        """Tell whether the error as found was no greater than allowed."""
        return abs(self.as_found_error) <= self.permissible_error

    @property
    def left_inside(self) -> bool:
        """Tell whether the error as left is no greater than allowed."""
        return abs(self.as_left_error) <= self.permissible_error
