"""After delivery: owners, what happened in service, notices."""

from typing import ClassVar

from django.core.validators import MinValueValidator
from django.db import models

from records.models.base import Correctable, CorrectableRecord, Record, Thing
from records.models.builds import Propeller


class Owner(Correctable, Thing):
    """Somebody who has, or had, one of the shop's propellers."""

    typed_fields: ClassVar[tuple[str, ...]] = ("name",)

    state_fields: ClassVar[tuple[str, ...]] = ("address", "contact")

    name = models.CharField(max_length=80)
    address = models.TextField(blank=True)
    contact = models.CharField("telephone or e-mail", max_length=120, blank=True)

    class Meta:
        ordering = ["name", "pk"]

    def __str__(self) -> str:
        return self.name


class Ownership(CorrectableRecord):
    """A propeller handed over to an owner."""

    typed_fields: ClassVar[tuple[str, ...]] = (
        "happened_at",
        "owner",
        "aircraft",
        "carrier",
    )

    propeller = models.ForeignKey(Propeller, models.PROTECT, related_name="ownerships")
    owner = models.ForeignKey(Owner, models.PROTECT, related_name="ownerships")
    happened_at = models.DateTimeField("handed over at")
    aircraft = models.CharField("aircraft and engine", max_length=120, blank=True)
    carrier = models.CharField("carrier and packing", max_length=120, blank=True)

    class Meta(CorrectableRecord.Meta):
        ordering = ["propeller", "happened_at", "pk"]

    def __str__(self) -> str:
        return "handed over"


class ServiceEvent(CorrectableRecord):
    """Something in a propeller's life after delivery."""

    typed_fields: ClassVar[tuple[str, ...]] = (
        "happened_at",
        "hours",
        "findings",
    )

    class Kind(models.TextChoices):
        REPORT = "report", "report from the owner"
        RETURNED = "returned", "came back for work"
        WORK = "work", "work done"
        RETIRED = "retired", "taken out of service"

    propeller = models.ForeignKey(
        Propeller, models.PROTECT, related_name="service_events"
    )
    kind = models.CharField(max_length=8, choices=Kind)
    happened_at = models.DateTimeField()
    hours = models.DecimalField(
        "hours run",
        max_digits=7,
        decimal_places=1,
        null=True,
        blank=True,
        validators=[MinValueValidator(0)],
    )
    findings = models.TextField()

    class Meta(CorrectableRecord.Meta):
        ordering = ["propeller", "happened_at", "pk"]

    def __str__(self) -> str:
        return self.get_kind_display()


class Notice(Record):
    """Something the owners of certain serials should know."""

    number = models.CharField(max_length=40, unique=True)
    title = models.CharField(max_length=120)
    text = models.TextField()
    do_not_fly = models.BooleanField("do not fly until done", default=False)
    happened_at = models.DateTimeField()
    serials = models.ManyToManyField(
        Propeller, through="NoticeSerial", related_name="notices"
    )

    class Meta:
        ordering = ["-happened_at", "-pk"]

    def __str__(self) -> str:
        return f"{self.number} {self.title}"


class NoticeSerial(Record):
    """A serial that a notice is for."""

    notice = models.ForeignKey(Notice, models.PROTECT, related_name="for_serials")
    propeller = models.ForeignKey(Propeller, models.PROTECT, related_name="+")

    class Meta:
        ordering = ["notice", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["notice", "propeller"], name="notice_once_a_serial"
            )
        ]

    def __str__(self) -> str:
        return "serial under a notice"


class NoticeStep(CorrectableRecord):
    """What became of a notice for one serial: sent, acknowledged, done."""

    typed_fields: ClassVar[tuple[str, ...]] = (
        "happened_at",
        "kind",
        "note",
    )

    class Kind(models.TextChoices):
        SENT = "sent", "sent"
        ACKNOWLEDGED = "acknowledged", "acknowledged"
        UNDELIVERED = "undelivered", "could not be delivered"
        DONE = "done", "what it asks is done"

    serial = models.ForeignKey(NoticeSerial, models.PROTECT, related_name="steps")
    kind = models.CharField(max_length=12, choices=Kind)
    happened_at = models.DateTimeField()
    note = models.CharField(max_length=200, blank=True)

    class Meta(CorrectableRecord.Meta):
        ordering = ["happened_at", "pk"]

    def __str__(self) -> str:
        return self.get_kind_display()
