"""Coupons: sample joints of a mix, broken to see whether the wood fails first."""

from typing import ClassVar

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from records.models.base import Correctable, CorrectableRecord, Thing
from records.models.gluing import Mix

POSITIVE = [MinValueValidator(0)]


class CouponQuerySet(models.QuerySet["Coupon"]):
    """Coupons."""

    def with_related(self) -> "CouponQuerySet":
        """Bring the mix and its glue in the same query, and all tests in one more."""
        return self.select_related("mix__sheet__adhesive").prefetch_related("tests")


class Coupon(Correctable, Thing):
    """A sample joint of one mix, of offcuts of the same wood."""

    typed_fields: ClassVar[tuple[str, ...]] = (
        "mix",
        "wood",
        "made_at",
        "twin_place",
    )

    number = models.CharField(max_length=40, unique=True)
    mix = models.ForeignKey(Mix, models.PROTECT, related_name="coupons")
    wood = models.CharField("wood of the offcuts", max_length=80)
    made_at = models.DateTimeField()
    twin_place = models.CharField("where its twin is kept", max_length=80, blank=True)

    objects = CouponQuerySet.as_manager()

    class Meta:
        ordering = ["-made_at", "-pk"]

    def __str__(self) -> str:
        return self.number


class CouponTest(CorrectableRecord):
    """One test of a coupon at one age. A later test stands beside an earlier one."""

    typed_fields: ClassVar[tuple[str, ...]] = (
        "happened_at",
        "method",
        "load_n",
        "area_mm2",
        "wood_failure_pct",
        "note",
    )

    class Verdict(models.TextChoices):
        PASSED = "passed", "passed"
        FAILED = "failed", "failed"

    coupon = models.ForeignKey(Coupon, models.PROTECT, related_name="tests")
    happened_at = models.DateTimeField("broken at")
    method = models.CharField(max_length=80)
    load_n = models.DecimalField(
        "load at failure [N]",
        max_digits=9,
        decimal_places=1,
        null=True,
        blank=True,
        validators=POSITIVE,
    )
    area_mm2 = models.DecimalField(
        "glued area, as measured [mm²]",
        max_digits=8,
        decimal_places=1,
        null=True,
        blank=True,
        validators=POSITIVE,
    )
    wood_failure_pct = models.DecimalField(
        "wood failure [%]",
        max_digits=4,
        decimal_places=1,
        validators=[MinValueValidator(0), MaxValueValidator(100)],
    )
    strength_pa = models.FloatField("shear strength [Pa]", null=True, blank=True)
    least_wood_failure_pct = models.DecimalField(
        "least wood failure in force [%]", max_digits=7, decimal_places=4
    )
    least_strength_pa = models.FloatField(
        "least strength in force [Pa]", null=True, blank=True
    )
    limit_source = models.CharField(
        "where the limits came from", max_length=240, blank=True
    )
    verdict = models.CharField(max_length=8, choices=Verdict)
    note = models.CharField(max_length=200, blank=True)

    class Meta(CorrectableRecord.Meta):
        ordering = ["coupon", "happened_at", "pk"]

    def __str__(self) -> str:
        return self.get_verdict_display()
