"""Makers' tables of glues, as the shop copied them: one revision after another."""

from django.core.validators import MinValueValidator
from django.db import models
from django.db.models import Q

from records.models.base import Record
from records.models.lots import Material

NOT_NEGATIVE = [MinValueValidator(0, "This can't be less than 0.")]


class GlueSheetQuerySet(models.QuerySet["GlueSheet"]):
    """Glue sheets."""

    def with_related(self) -> "GlueSheetQuerySet":
        """Bring adhesive, hardener and writer in the same query."""
        return self.select_related("adhesive", "hardener", "written_by")


class GlueSheet(Record):
    """The maker's table for one glue, one revision, as the shop copied it."""

    adhesive = models.ForeignKey(
        Material,
        models.PROTECT,
        related_name="glue_sheets",
        limit_choices_to={"kind": "adhesive"},
    )
    hardener = models.ForeignKey(
        Material,
        models.PROTECT,
        null=True,
        blank=True,
        related_name="+",
        limit_choices_to={"kind": "hardener"},
    )
    revision = models.PositiveSmallIntegerField()
    source = models.CharField("maker's document, edition and page", max_length=200)
    parts_low = models.DecimalField(
        "hardener to 100 parts of resin by mass, least",
        max_digits=8,
        decimal_places=3,
        validators=NOT_NEGATIVE,
    )
    parts_high = models.DecimalField(
        "hardener to 100 parts of resin by mass, most",
        max_digits=8,
        decimal_places=3,
        validators=NOT_NEGATIVE,
    )
    spread_low_gm2 = models.DecimalField(
        "spread a glue line, least [g/m2]",
        max_digits=7,
        decimal_places=1,
        validators=NOT_NEGATIVE,
    )
    spread_high_gm2 = models.DecimalField(
        "spread a glue line, most [g/m2]",
        max_digits=7,
        decimal_places=1,
        validators=NOT_NEGATIVE,
    )
    pressure_low_pa = models.DecimalField(
        "pressure at the glue line, least [Pa]",
        max_digits=10,
        decimal_places=0,
        validators=NOT_NEGATIVE,
    )
    pressure_high_pa = models.DecimalField(
        "pressure at the glue line, most [Pa]",
        max_digits=10,
        decimal_places=0,
        validators=NOT_NEGATIVE,
    )
    shelf_life_days = models.PositiveIntegerField(
        "shelf life, unopened [days]", null=True, blank=True
    )

    objects = GlueSheetQuerySet.as_manager()

    class Meta:
        ordering = ["adhesive", "-revision", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["adhesive", "revision"], name="glue_sheet_revision_once"
            ),
            models.CheckConstraint(
                condition=Q(parts_low__lte=models.F("parts_high"))
                & Q(spread_low_gm2__lte=models.F("spread_high_gm2"))
                & Q(pressure_low_pa__lte=models.F("pressure_high_pa")),
                name="glue_sheet_ranges_in_order",
                violation_error_message="The least is more than the most.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.source}, sheet {self.revision}"


class GlueSheetPoint(Record):
    """One cell of the maker's table: a time at a temperature."""

    class Quantity(models.TextChoices):
        WORKING_LIFE = "working_life", "working life"
        OPEN_MOST = "open_most", "longest open assembly time"
        CLOSED_LEAST = "closed_least", "shortest closed assembly time"
        CLOSED_MOST = "closed_most", "longest closed assembly time"
        PRESS_TIME = "press_time", "least time under pressure"

    sheet = models.ForeignKey(GlueSheet, models.PROTECT, related_name="points")
    quantity = models.CharField(max_length=14, choices=Quantity)
    temperature_c = models.DecimalField(max_digits=5, decimal_places=1)
    minutes = models.DecimalField(max_digits=8, decimal_places=1)

    class Meta:
        ordering = ["sheet", "quantity", "temperature_c", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["sheet", "quantity", "temperature_c"],
                name="one_time_at_a_temperature",
                violation_error_message="A table gives one time at a temperature.",
            ),
            models.CheckConstraint(
                condition=Q(minutes__gte=0),
                name="glue_time_not_negative",
                violation_error_message="A time can't be less than 0 minutes.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_quantity_display()} at {self.temperature_c} °C"
