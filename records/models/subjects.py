"""What a record can be about: exactly one of several things."""

from typing import ClassVar

from django.db import models
from django.db.models import Q

MATERIAL_KINDS = (
    "lot",
    "board",
    "lamination",
    "mix",
    "load",
    "blank",
    "propeller",
    "coupon",
)
ANY_KINDS: tuple[str, ...] = (*MATERIAL_KINDS, "gauge")


def exactly_one(kinds: tuple[str, ...]) -> Q:
    """Build the condition that one of these columns is set and the others are null."""
    condition = Q()
    for chosen in kinds:
        alone = Q(**{f"{kind}__isnull": kind != chosen for kind in kinds})
        condition |= alone
    return condition


class AboutMaterial(models.Model):
    """A row about exactly one piece of material, at whatever stage it is."""

    subject_kinds: ClassVar[tuple[str, ...]] = MATERIAL_KINDS

    lot = models.ForeignKey("records.Lot", models.PROTECT, null=True, blank=True)
    board = models.ForeignKey("records.Board", models.PROTECT, null=True, blank=True)
    lamination = models.ForeignKey(
        "records.Lamination", models.PROTECT, null=True, blank=True
    )
    mix = models.ForeignKey("records.Mix", models.PROTECT, null=True, blank=True)
    load = models.ForeignKey("records.PressLoad", models.PROTECT, null=True, blank=True)
    blank = models.ForeignKey("records.Blank", models.PROTECT, null=True, blank=True)
    propeller = models.ForeignKey(
        "records.Propeller", models.PROTECT, null=True, blank=True
    )
    coupon = models.ForeignKey("records.Coupon", models.PROTECT, null=True, blank=True)

    class Meta:
        abstract = True

    @property
    def subject_kind(self) -> str:
        """Name the column that is set, e.g. "board"."""
        return next(
            k for k in self.subject_kinds if getattr(self, f"{k}_id") is not None
        )

    @property
    def subject(self) -> models.Model:
        """The thing this row is about (select it with the row: no query here)."""
        thing: models.Model = getattr(self, self.subject_kind)
        return thing


class AboutAny(AboutMaterial):
    """A row about one piece of material, or about a gauge."""

    subject_kinds: ClassVar[tuple[str, ...]] = ANY_KINDS

    gauge = models.ForeignKey("records.Gauge", models.PROTECT, null=True, blank=True)

    class Meta:
        abstract = True
