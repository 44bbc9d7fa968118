"""Presses, loads, and the pressure and temperature seen while under pressure."""

from typing import ClassVar

from django.core.validators import MinValueValidator
from django.db import models
from django.db.models import F, Q

from records.models.base import Correctable, Record, Thing
from records.models.builds import Blank

POSITIVE = [MinValueValidator(0)]


def _given(*columns: str) -> Q:
    """Build the condition that columns hold more than 0; null alone would pass."""
    condition = Q()
    for column in columns:
        condition &= Q(**{f"{column}__isnull": False, f"{column}__gt": 0})
    return condition


class Press(Correctable, Thing):
    """A press: what turns its gauge's figure into force on the stack."""

    typed_fields: ClassVar[tuple[str, ...]] = ("name",)

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
                condition=Q(kind="rams") & _given("rams", "bore_mm")
                | Q(kind="bag") & _given("bag_area_ratio")
                | Q(kind="screws") & _given("rams", "bore_mm", "nut_factor"),
                name="press_has_the_figures_of_its_kind",
                violation_error_message=(
                    "Rams need their number and bore, a bag its area ratio, screws "
                    "their number, diameter and nut factor."
                ),
            )
        ]

    def __str__(self) -> str:
        return self.name


class PressLoadQuerySet(models.QuerySet["PressLoad"]):
    """Loads of presses."""

    def under_pressure(self) -> "PressLoadQuerySet":
        """Keep those whose press has not been opened."""
        return self.filter(off_at__isnull=True)

    def with_related(self) -> "PressLoadQuerySet":
        """Bring the press in the same query."""
        return self.select_related("press", "written_by")


class PressLoad(Correctable, Thing):
    """One closing of a press, with one or more blanks in it."""

    typed_fields: ClassVar[tuple[str, ...]] = (
        "press",
        "on_at",
        "off_at",
        "glued_area_mm2",
    )
    derived_fields: ClassVar[tuple[str, ...]] = (
        "flags",
        "opened_flags",
    )

    state_fields: ClassVar[tuple[str, ...]] = ("off_at", "opened_flags")

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
    flags = models.TextField("found when it was closed", blank=True)
    opened_flags = models.TextField(
        "found when it was opened, by all samples then and since", blank=True
    )

    objects = PressLoadQuerySet.as_manager()

    class Meta:
        ordering = ["-on_at", "-pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(off_at__isnull=True) | Q(off_at__gt=F("on_at")),
                name="press_opened_after_it_closed",
                violation_error_message="Pressure goes off after it went on.",
            )
        ]

    def __str__(self) -> str:
        return self.number


class LoadedBlank(Record):
    """A blank in a press load. A blank may be pressed again, in another load."""

    class Verdict(models.TextChoices):
        INSIDE = "inside", "inside"
        OUTSIDE = "outside", "outside"
        UNKNOWN = "unknown", "not known"

    load = models.ForeignKey(PressLoad, models.PROTECT, related_name="loaded")
    blank = models.ForeignKey(Blank, models.PROTECT, related_name="loaded")
    verdict = models.CharField(
        "closed assembly times", max_length=8, choices=Verdict, default=Verdict.UNKNOWN
    )
    flags = models.TextField("found when pressure went on", blank=True)

    class Meta:
        ordering = ["load", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["load", "blank"], name="blank_once_in_a_load"
            )
        ]

    def __str__(self) -> str:
        return "blank in the press"


class PressSampleQuerySet(models.QuerySet["PressSample"]):
    """Samples of press loads."""

    def standing(self) -> "PressSampleQuerySet":
        """Leave out those that were corrected by a later row."""
        return self.filter(corrected_by__isnull=True)


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
        "at the stack [°C]", max_digits=7, decimal_places=3, null=True, blank=True
    )
    source = models.CharField(max_length=6, choices=Source)
    gauge = models.ForeignKey(
        "records.Gauge",
        models.PROTECT,
        null=True,
        blank=True,
        related_name="press_samples",
    )
    flags = models.CharField("flagged when it was taken", max_length=200, blank=True)
    corrects = models.OneToOneField(
        "self", models.PROTECT, null=True, blank=True, related_name="corrected_by"
    )
    reason = models.CharField("why corrected", max_length=200, blank=True)

    objects = PressSampleQuerySet.as_manager()

    class Meta:
        ordering = ["load", "at", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["load", "at"],
                condition=Q(corrects__isnull=True),
                name="one_sample_a_moment",
                violation_error_message="There is a sample of this moment.",
            ),
            models.CheckConstraint(
                condition=Q(corrects__isnull=True) | ~Q(reason=""),
                name="corrected_sample_says_why",
                violation_error_message="Say why the sample is corrected.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.entered} {self.unit}"
