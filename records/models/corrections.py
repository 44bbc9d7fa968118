"""Corrections of what was typed about a thing: what stood there before, and why."""

from typing import Any, ClassVar

from django.db import models

from records.models.base import Record
from records.models.subjects import AboutAny, exactly_one

CORRECTED_KINDS = (
    "lot",
    "board",
    "lamination",
    "mix",
    "load",
    "coupon",
    "gauge",
    "supplier",
    "material",
    "owner",
    "press",
    "deviation",
    "action",
)


class Correction(AboutAny, Record):
    """One field of one thing corrected: the value before and after, and why.

    Values are spelled as the ledger spells them. `number` counts the corrections of
    the thing; several fields corrected together have the same. Nothing is typed of a
    blank or a propeller itself, so they have no column here.
    """

    subject_kinds: ClassVar[tuple[str, ...]] = CORRECTED_KINDS

    blank: Any = None
    propeller: Any = None
    supplier = models.ForeignKey(
        "records.Supplier", models.PROTECT, null=True, blank=True
    )
    material = models.ForeignKey(
        "records.Material", models.PROTECT, null=True, blank=True
    )
    owner = models.ForeignKey("records.Owner", models.PROTECT, null=True, blank=True)
    press = models.ForeignKey("records.Press", models.PROTECT, null=True, blank=True)
    deviation = models.ForeignKey(
        "records.Deviation", models.PROTECT, null=True, blank=True
    )
    action = models.ForeignKey(
        "records.CorrectiveAction", models.PROTECT, null=True, blank=True
    )
    number = models.PositiveSmallIntegerField()
    field = models.CharField(max_length=40)
    before = models.TextField(blank=True)
    after = models.TextField(blank=True)
    reason = models.CharField("why corrected", max_length=200)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(
                condition=exactly_one(CORRECTED_KINDS),
                name="correction_has_one_subject",
            ),
            models.CheckConstraint(
                condition=~models.Q(reason=""), name="correction_says_why"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.field}: {self.before} to {self.after}"
