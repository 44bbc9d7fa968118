"""Blanks and the propellers made of them, and what happened to them at stages."""

from typing import ClassVar

from django.db import models

from records.models.base import CorrectableRecord, Thing
from records.models.designs import Revision
from records.models.routes import RouteRevision, Stage


class BlankQuerySet(models.QuerySet["Blank"]):
    """Blanks."""

    def with_related(self) -> "BlankQuerySet":
        """Bring the design and the route in the same query."""
        return self.select_related("revision__design", "route__route", "written_by")


class Blank(Thing):
    """A stack of laminations, glued or to be glued, planned for one design."""

    class State(models.TextChoices):
        STACKING = "stacking", "being stacked"
        GLUING = "gluing", "in glue-up"
        PRESSED = "pressed", "in the press"
        GLUED = "glued", "glued"
        SHAPED = "shaped", "made into propellers"
        SCRAPPED = "scrapped", "scrapped"

    state_fields: ClassVar[tuple[str, ...]] = ("state",)

    number = models.CharField(max_length=40, unique=True)
    revision = models.ForeignKey(
        Revision, models.PROTECT, verbose_name="planned design", related_name="blanks"
    )
    route = models.ForeignKey(RouteRevision, models.PROTECT, related_name="blanks")
    state = models.CharField(max_length=10, choices=State, default=State.STACKING)

    objects = BlankQuerySet.as_manager()

    class Meta:
        ordering = ["-pk"]

    def __str__(self) -> str:
        return self.number


class PropellerQuerySet(models.QuerySet["Propeller"]):
    """Propellers."""

    def with_related(self) -> "PropellerQuerySet":
        """Bring the design, the blank and its route in the same query."""
        return self.select_related(
            "revision__design",
            "blank__revision__design",
            "blank__route__route",
            "written_by",
        )


class Propeller(Thing):
    """One propeller under one serial, which is never used again."""

    class State(models.TextChoices):
        IN_WORK = "in_work", "in work"
        RELEASED = "released", "released"
        DELIVERED = "delivered", "delivered"
        RETURNED = "returned", "back for repair"
        RETIRED = "retired", "out of service"
        SCRAPPED = "scrapped", "scrapped"

    state_fields: ClassVar[tuple[str, ...]] = ("state", "revision")

    serial = models.CharField(
        max_length=40,
        unique=True,
        error_messages={
            "unique": "This serial is in the book. No serial is ever used twice."
        },
    )
    blank = models.ForeignKey(Blank, models.PROTECT, related_name="propellers")
    revision = models.ForeignKey(
        Revision, models.PROTECT, verbose_name="design", related_name="propellers"
    )
    state = models.CharField(max_length=10, choices=State, default=State.IN_WORK)

    objects = PropellerQuerySet.as_manager()

    class Meta:
        ordering = ["-pk"]

    def __str__(self) -> str:
        return self.serial


class Designation(CorrectableRecord):
    """A propeller finished, or remade, to another revision than it had."""

    typed_fields: ClassVar[tuple[str, ...]] = (
        "happened_at",
        "reason",
    )

    propeller = models.ForeignKey(
        Propeller, models.PROTECT, related_name="designations"
    )
    before = models.ForeignKey(Revision, models.PROTECT, related_name="+")
    after = models.ForeignKey(Revision, models.PROTECT, related_name="+")
    happened_at = models.DateTimeField()
    reason = models.CharField(max_length=200)

    class Meta(CorrectableRecord.Meta):
        ordering = ["propeller", "happened_at", "pk"]

    def __str__(self) -> str:
        return self.reason


class MaterialChange(CorrectableRecord):
    """Material removed or added outside the plan: earlier readings go stale."""

    typed_fields: ClassVar[tuple[str, ...]] = (
        "happened_at",
        "what",
        "place",
        "reason",
    )

    class What(models.TextChoices):
        REMOVED = "removed", "material removed"
        ADDED = "added", "material added"

    propeller = models.ForeignKey(
        Propeller, models.PROTECT, related_name="material_changes"
    )
    happened_at = models.DateTimeField()
    what = models.CharField(max_length=8, choices=What)
    place = models.CharField("where", max_length=80)
    reason = models.CharField(max_length=200)

    class Meta(CorrectableRecord.Meta):
        ordering = ["propeller", "happened_at", "pk"]

    def __str__(self) -> str:
        return f"{self.get_what_display()}: {self.place}"


class StageEvent(CorrectableRecord):
    """Something that began, ended or was noted at a stage."""

    typed_fields: ClassVar[tuple[str, ...]] = (
        "happened_at",
        "kind",
        "note",
    )

    class Kind(models.TextChoices):
        BEGAN = "began", "began"
        ENDED = "ended", "ended"
        NOTE = "note", "note"

    stage = models.ForeignKey(Stage, models.PROTECT, related_name="events")
    blank = models.ForeignKey(
        Blank, models.PROTECT, null=True, blank=True, related_name="events"
    )
    propeller = models.ForeignKey(
        Propeller, models.PROTECT, null=True, blank=True, related_name="events"
    )
    kind = models.CharField(max_length=6, choices=Kind)
    happened_at = models.DateTimeField()
    note = models.CharField(max_length=200, blank=True)

    class Meta(CorrectableRecord.Meta):
        ordering = ["happened_at", "pk"]
        constraints = [
            *CorrectableRecord.Meta.constraints,
            models.CheckConstraint(
                condition=models.Q(blank__isnull=True, propeller__isnull=False)
                | models.Q(blank__isnull=False, propeller__isnull=True),
                name="stage_event_has_one_subject",
                violation_error_message="Name one blank or one propeller.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_kind_display()} {self.note}".strip()
