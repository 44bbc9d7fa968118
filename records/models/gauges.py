"""Gauges and their calibrations."""

from typing import ClassVar

from django.db import models
from django.db.models import Q

from records.models.base import Record, Thing


class Gauge(Thing):
    """An instrument, template or fixture that a reading is taken with."""

    class State(models.TextChoices):
        IN_SERVICE = "in_service", "in service"
        WITHDRAWN = "withdrawn", "withdrawn"

    state_fields: ClassVar[tuple[str, ...]] = ("state", "interval_days")

    number = models.CharField(max_length=40, unique=True)
    name = models.CharField(max_length=80)
    maker_serial = models.CharField(max_length=60, blank=True)
    unit = models.CharField(max_length=12)
    range_low = models.DecimalField(max_digits=14, decimal_places=4)
    range_high = models.DecimalField(max_digits=14, decimal_places=4)
    resolution = models.DecimalField(max_digits=12, decimal_places=6)
    interval_days = models.PositiveIntegerField("days between calibrations")
    state = models.CharField(max_length=10, choices=State, default=State.IN_SERVICE)

    class Meta:
        ordering = ["number", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(range_low__lt=models.F("range_high"), resolution__gt=0),
                name="gauge_has_a_range",
            )
        ]

    def __str__(self) -> str:
        return f"{self.number} {self.name}"


class Calibration(Record):
    """A calibration of a gauge: as found, as left, by what, until when."""

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

    class Meta:
        ordering = ["gauge", "-done_on", "-pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(next_due_on__gt=models.F("done_on")),
                name="calibration_due_after_it_was_done",
            ),
            models.CheckConstraint(
                condition=Q(
                    permissible_error__gte=0,
                    expanded_uncertainty__gte=0,
                    coverage_factor__gt=0,
                ),
                name="calibration_figures_not_negative",
            ),
        ]

    def __str__(self) -> str:
        return f"calibration of {self.done_on}"
