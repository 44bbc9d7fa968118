"""Presses, loads, and the pressure and temperature seen while under pressure."""

from typing import ClassVar

from django.core.validators import MinValueValidator
from django.db import models
from django.db.models import F, Q

from records.models.base import Record, Thing
from records.models.builds import Blank

POSITIVE = [MinValueValidator(0)]


class Press(Thing):
    """A press: what turns its gauge's figure into force on the stack."""

    class Kind(models.TextChoices):
        RAMS = "rams", "hydraulic rams"
        BAG = "bag", "vacuum bag"
        SCREWS = "screws", "screws, by torque"

    state_fields: ClassVar[tuple[str, ...]] = ("in_use",)

    name = models.CharField(max_length=60, unique=True)
    kind = models.CharField(max_length=6, choices=Kind)
    rams = models.PositiveSmallIntegerField("rams or screws", null=True, blank=True)
    bore_mm = models.DecimalField(
        "ram bore or screw diameter [mm]",
        max_digits=7,
        decimal_places=2,
        null=True,
        blank=True,
        validators=POSITIVE,
    )
    nut_factor = models.DecimalField(
        "nut factor (torque = factor · force · diameter)",
        max_digits=4,
        decimal_places=3,
        null=True,
        blank=True,
        validators=POSITIVE,
    )
    bag_area_ratio = models.DecimalField(
        "bag area to glued area",
        max_digits=5,
        decimal_places=3,
        null=True,
        blank=True,
        validators=POSITIVE,
    )
    in_use = models.BooleanField(default=True)

    class Meta:
        ordering = ["name", "pk"]
        verbose_name_plural = "presses"
        constraints = [
            models.CheckConstraint(
                condition=Q(kind="rams", rams__gte=1, bore_mm__gt=0)
                | Q(kind="bag", bag_area_ratio__gt=0)
                | Q(kind="screws", rams__gte=1, bore_mm__gt=0, nut_factor__gt=0),
                name="press_has_the_figures_of_its_kind",
            )
        ]

    def __str__(self) -> str:
        return self.name


class PressLoad(Thing):
    """One closing of a press, with one or more blanks in it."""

    state_fields: ClassVar[tuple[str, ...]] = ("off_at",)

    number = models.CharField(max_length=40, unique=True)
    press = models.ForeignKey(Press, models.PROTECT, related_name="loads")
    on_at = models.DateTimeField("pressure on")
    off_at = models.DateTimeField("pressure off", null=True, blank=True)
    glued_area_mm2 = models.DecimalField(
        "area under pressure [mm²]",
        max_digits=12,
        decimal_places=1,
        validators=POSITIVE,
    )
    pressure_low_pa = models.DecimalField(
        "least at the glue line [Pa]", max_digits=10, decimal_places=0
    )
    pressure_high_pa = models.DecimalField(
        "most at the glue line [Pa]", max_digits=10, decimal_places=0
    )

    class Meta:
        ordering = ["-on_at", "-pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(off_at__isnull=True) | Q(off_at__gt=F("on_at")),
                name="press_opened_after_it_closed",
            )
        ]

    def __str__(self) -> str:
        return self.number


class LoadedBlank(Record):
    """A blank in a press load. A blank may be pressed again, in another load."""

    load = models.ForeignKey(PressLoad, models.PROTECT, related_name="loaded")
    blank = models.ForeignKey(Blank, models.PROTECT, related_name="loaded")

    class Meta:
        ordering = ["load", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["load", "blank"], name="blank_once_in_a_load"
            )
        ]

    def __str__(self) -> str:
        return "blank in the press"


class PressSample(Record):
    """Gauge figure and temperature at one moment of a load."""

    class Source(models.TextChoices):
        TYPED = "typed", "typed"
        LOGGER = "logger", "logger's file"

    load = models.ForeignKey(PressLoad, models.PROTECT, related_name="samples")
    at = models.DateTimeField()
    entered = models.CharField("gauge figure", max_length=24)
    unit = models.CharField(max_length=12)
    glue_line_pa = models.FloatField("pressure at the glue line [Pa]")
    temperature_c = models.DecimalField(
        "at the stack [°C]", max_digits=5, decimal_places=1, null=True, blank=True
    )
    source = models.CharField(max_length=6, choices=Source)
    gauge = models.ForeignKey(
        "records.Gauge", models.PROTECT, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["load", "at", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["load", "at"], name="one_sample_a_moment")
        ]

    def __str__(self) -> str:
        return f"{self.entered} {self.unit}"
