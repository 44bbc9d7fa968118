"""Mixes of glue, and the joints each was spread on."""

from typing import ClassVar

from django.core.validators import MinValueValidator
from django.db import models
from django.db.models import F, Q

from records.models.base import Correctable, Record
from records.models.builds import Blank
from records.models.glue_sheets import GlueSheet
from records.models.lots import Lot

POSITIVE = [MinValueValidator(0)]


class MixQuerySet(models.QuerySet["Mix"]):
    """Mixes."""

    def with_related(self) -> "MixQuerySet":
        """Bring the glue, its sheet and its lots in the same query."""
        return self.select_related(
            "sheet__adhesive",
            "sheet__hardener",
            "resin_lot__material",
            "hardener_lot__material",
            "written_by",
        )


class Mix(Correctable, Record):
    """One batch of glue, weighed and stirred at one time."""

    typed_fields: ClassVar[tuple[str, ...]] = (
        "sheet",
        "resin_lot",
        "hardener_lot",
        "resin_g",
        "hardener_g",
        "mixed_at",
        "stirred_min",
        "temperature_c",
        "humidity_pct",
    )
    derived_fields: ClassVar[tuple[str, ...]] = (
        "parts",
        "working_life_min",
        "flags",
    )

    number = models.CharField(max_length=40, unique=True)
    sheet = models.ForeignKey(GlueSheet, models.PROTECT, related_name="mixes")
    resin_lot = models.ForeignKey(Lot, models.PROTECT, related_name="mixes_as_resin")
    hardener_lot = models.ForeignKey(
        Lot, models.PROTECT, null=True, blank=True, related_name="mixes_as_hardener"
    )
    resin_g = models.DecimalField(
        "resin [g]", max_digits=8, decimal_places=1, validators=POSITIVE
    )
    hardener_g = models.DecimalField(
        "hardener or water [g]", max_digits=8, decimal_places=1, validators=POSITIVE
    )
    mixed_at = models.DateTimeField("mixed, the clock starts")
    stirred_min = models.DecimalField(
        "stirred [min]",
        max_digits=5,
        decimal_places=1,
        null=True,
        blank=True,
        validators=POSITIVE,
    )
    temperature_c = models.DecimalField(
        "glue and room [°C]", max_digits=4, decimal_places=1
    )
    humidity_pct = models.DecimalField(
        "relative humidity [%]", max_digits=4, decimal_places=1, null=True, blank=True
    )
    parts = models.DecimalField(
        "hardener to 100 parts of resin", max_digits=8, decimal_places=3
    )
    working_life_min = models.DecimalField(
        "working life at this temperature [min]",
        max_digits=8,
        decimal_places=2,
        null=True,
        blank=True,
        help_text="Empty: the maker's table says nothing at this temperature.",
    )
    flags = models.TextField("found when it was mixed", blank=True)

    objects = MixQuerySet.as_manager()

    class Meta:
        ordering = ["-mixed_at", "-pk"]
        verbose_name_plural = "mixes"
        constraints = [
            models.CheckConstraint(
                condition=Q(resin_g__gt=0, hardener_g__gte=0),
                name="mix_has_resin",
                violation_error_message="A mix has more than 0 g of resin.",
            )
        ]

    def __str__(self) -> str:
        return self.number


class JointSpreadQuerySet(models.QuerySet["JointSpread"]):
    """Glue spread in joints."""

    def standing(self) -> "JointSpreadQuerySet":
        """Leave out those that were corrected by a later row."""
        return self.filter(corrected_by__isnull=True)

    def in_order(self) -> "JointSpreadQuerySet":
        """Bring mix and writer in the same query, joint by joint."""
        return self.select_related(
            "mix__sheet__adhesive", "written_by", "corrects"
        ).order_by("joint", "spread_at", "pk")


class JointSpread(Record):
    """A mix spread in a joint: joint 1 lies between laminations 1 and 2."""

    class Side(models.TextChoices):
        BOTH = "both", "both faces"
        LOWER = "lower", "lower face"
        UPPER = "upper", "upper face"

    class Verdict(models.TextChoices):
        INSIDE = "inside", "inside"
        OUTSIDE = "outside", "outside"
        UNKNOWN = "unknown", "not known"

    blank = models.ForeignKey(Blank, models.PROTECT, related_name="spreads")
    joint = models.PositiveSmallIntegerField(validators=[MinValueValidator(1)])
    mix = models.ForeignKey(Mix, models.PROTECT, related_name="spreads")
    side = models.CharField(max_length=6, choices=Side, default=Side.BOTH)
    spread_at = models.DateTimeField("first glue on")
    closed_at = models.DateTimeField("joint closed")
    spread_g = models.DecimalField(
        "glue on this joint [g]",
        max_digits=7,
        decimal_places=1,
        null=True,
        blank=True,
        validators=POSITIVE,
    )
    verdict = models.CharField(max_length=8, choices=Verdict)
    flags = models.TextField("found when it was closed", blank=True)
    corrects = models.OneToOneField(
        "self", models.PROTECT, null=True, blank=True, related_name="corrected_by"
    )
    reason = models.CharField("why corrected", max_length=200, blank=True)

    objects = JointSpreadQuerySet.as_manager()

    class Meta:
        ordering = ["blank", "joint", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(closed_at__gte=F("spread_at")),
                name="joint_closed_after_it_was_spread",
                violation_error_message="A joint is closed after it is spread.",
            ),
            models.CheckConstraint(
                condition=Q(corrects__isnull=True) | ~Q(reason=""),
                name="corrected_joint_says_why",
                violation_error_message="Say why the joint is corrected.",
            ),
        ]

    def __str__(self) -> str:
        return f"joint {self.joint}"
