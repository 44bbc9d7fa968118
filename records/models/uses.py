"""Material used after glue-up: edges, finish, fasteners, repairs."""

from typing import ClassVar

from django.db import models
from django.db.models import Q

from records.models.base import CorrectableRecord
from records.models.builds import Blank, Propeller
from records.models.gluing import Mix
from records.models.lots import Lot
from records.models.routes import Stage


class MaterialUse(CorrectableRecord):
    """A lot, or a mix of glue, put on a blank or propeller outside its joints."""

    typed_fields: ClassVar[tuple[str, ...]] = (
        "happened_at",
        "place",
        "lot",
        "mix",
    )

    lot = models.ForeignKey(
        Lot, models.PROTECT, null=True, blank=True, related_name="uses"
    )
    mix = models.ForeignKey(
        Mix, models.PROTECT, null=True, blank=True, related_name="uses"
    )
    blank = models.ForeignKey(
        Blank, models.PROTECT, null=True, blank=True, related_name="uses"
    )
    propeller = models.ForeignKey(
        Propeller, models.PROTECT, null=True, blank=True, related_name="uses"
    )
    stage = models.ForeignKey(
        Stage, models.PROTECT, null=True, blank=True, related_name="+"
    )
    happened_at = models.DateTimeField("used at")
    place = models.CharField("where, and for what", max_length=120)

    class Meta(CorrectableRecord.Meta):
        ordering = ["happened_at", "pk"]
        constraints = [
            *CorrectableRecord.Meta.constraints,
            models.CheckConstraint(
                condition=Q(lot__isnull=False, mix__isnull=True)
                | Q(lot__isnull=True, mix__isnull=False),
                name="one_material_a_use",
                violation_error_message="Name a lot or a mix, and only one.",
            ),
            models.CheckConstraint(
                condition=Q(blank__isnull=False, propeller__isnull=True)
                | Q(blank__isnull=True, propeller__isnull=False),
                name="material_used_on_one_thing",
                violation_error_message="Material is put on one blank or propeller.",
            ),
        ]

    def __str__(self) -> str:
        return self.place
