"""Deviations: what was not right, and what was decided about it."""

from typing import ClassVar

from django.db import models
from django.db.models import F, Q

from records.models.base import Correctable, CorrectableRecord, Record, Thing
from records.models.files import Attachment
from records.models.people import Person
from records.models.readings import Reading
from records.models.routes import Stage
from records.models.subjects import ANY_KINDS, AboutAny, exactly_one


class Deviation(Correctable, Thing):
    """Something that is not as required, under a number that is never reused."""

    typed_fields: ClassVar[tuple[str, ...]] = (
        "title",
        "required",
        "found",
        "happened_at",
    )

    class State(models.TextChoices):
        OPEN = "open", "open"
        CLOSED = "closed", "closed"

    class Cause(models.TextChoices):
        """Where the cause lies; the words of the cause stand beside it."""

        UNKNOWN = "", "not known yet"
        MATERIAL = "material", "material as supplied"
        METHOD = "method", "method or plan"
        MACHINE = "machine", "machine, tool or press"
        MEASUREMENT = "measurement", "measurement or gauge"
        ROOM = "room", "room: temperature, humidity, dust, power"
        HANDLING = "handling", "handling, storage or transport"
        SLIP = "slip", "slip of a hand or of the pen"

    state_fields: ClassVar[tuple[str, ...]] = (
        "state",
        "cause_kind",
        "cause",
        "closed_at",
    )

    number = models.CharField(max_length=40, unique=True)
    title = models.CharField(max_length=120)
    stage = models.ForeignKey(
        Stage, models.PROTECT, null=True, blank=True, related_name="deviations"
    )
    required = models.TextField("what was required")
    found = models.TextField("what was found")
    happened_at = models.DateTimeField()
    cause_kind = models.CharField(
        "cause lies in", max_length=12, choices=Cause, default="", blank=True
    )
    cause = models.TextField("cause, in words", blank=True)
    state = models.CharField(max_length=8, choices=State, default=State.OPEN)
    closed_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-happened_at", "-pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(state="open", closed_at__isnull=True)
                | Q(state="closed", closed_at__isnull=False),
                name="closed_deviation_says_when",
                violation_error_message="A closed deviation says when it was closed.",
            )
        ]

    def __str__(self) -> str:
        return f"{self.number} {self.title}"


class DeviationSubject(AboutAny, Record):
    """One of the things a deviation is about, with the reading that showed it."""

    deviation = models.ForeignKey(Deviation, models.PROTECT, related_name="subjects")
    joint = models.PositiveSmallIntegerField(null=True, blank=True)
    reading = models.ForeignKey(
        Reading, models.PROTECT, null=True, blank=True, related_name="deviations"
    )

    class Meta:
        ordering = ["deviation", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=exactly_one(ANY_KINDS),
                name="deviation_has_one_subject_a_row",
                violation_error_message="Name one thing a row, and only one.",
            )
        ]

    def __str__(self) -> str:
        return f"about a {self.subject_kind}"


class Disposition(Record):
    """The decision about a deviation, by somebody with the authority."""

    class Kind(models.TextChoices):
        USE_AS_IS = "use_as_is", "use as is"
        REWORK = "rework", "rework"
        REPAIR = "repair", "repair"
        SCRAP = "scrap", "scrap"
        RETURN = "return", "return to supplier"

    deviation = models.ForeignKey(
        Deviation, models.PROTECT, related_name="dispositions"
    )
    kind = models.CharField(max_length=10, choices=Kind)
    happened_at = models.DateTimeField()
    reason = models.TextField()
    design_authority = models.CharField(
        "design authority who agreed, and reference", max_length=120, blank=True
    )
    plain_words = models.TextField(
        "for the customer's record, in plain words", blank=True
    )
    repeat = models.ManyToManyField(
        Stage,
        through="StageToRepeat",
        related_name="+",
        verbose_name="stages to repeat",
    )
    one_person = models.BooleanField(
        "found and decided by the same person", default=False
    )
    proof = models.ForeignKey(
        Attachment,
        models.PROTECT,
        verbose_name="photo of it made unusable",
        null=True,
        blank=True,
        related_name="+",
    )

    class Meta:
        ordering = ["deviation", "happened_at", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=~Q(kind="scrap") | Q(proof__isnull=False),
                name="scrap_has_a_photo_as_proof",
                violation_error_message="Scrap needs a photo as proof.",
            ),
            models.CheckConstraint(
                condition=~Q(kind__in=["use_as_is", "repair"])
                | (~Q(design_authority="") & ~Q(plain_words="")),
                name="concession_names_design_authority",
                violation_error_message=(
                    "Use as is and repair name who answers for the design, and say it "
                    "in plain words."
                ),
            ),
        ]

    def __str__(self) -> str:
        return self.get_kind_display()


class DisposedSubject(Record):
    """One subject of the deviation that a disposition decides about."""

    disposition = models.ForeignKey(
        Disposition, models.PROTECT, related_name="disposed"
    )
    subject = models.ForeignKey(
        DeviationSubject, models.PROTECT, related_name="disposed"
    )

    class Meta:
        ordering = ["disposition", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["disposition", "subject"],
                name="subject_disposed_of_once",
                violation_error_message="A decision names each thing once.",
            )
        ]

    def __str__(self) -> str:
        return "subject decided about"


class StageToRepeat(Record):
    """A stage that a rework repeats: its readings before the decision are stale."""

    disposition = models.ForeignKey(Disposition, models.PROTECT, related_name="repeats")
    stage = models.ForeignKey(Stage, models.PROTECT, related_name="+")

    class Meta:
        ordering = ["disposition", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["disposition", "stage"],
                name="stage_repeated_once",
                violation_error_message="A decision names each stage once.",
            )
        ]

    def __str__(self) -> str:
        return "stage to repeat"


class CorrectiveAction(Correctable, Thing):
    """What is done so that it does not happen again, by whom, by when."""

    typed_fields: ClassVar[tuple[str, ...]] = (
        "what",
        "owner",
        "due_on",
        "look_on",
    )

    state_fields: ClassVar[tuple[str, ...]] = ("done_on",)

    deviation = models.ForeignKey(Deviation, models.PROTECT, related_name="actions")
    what = models.TextField("what is done")
    owner = models.ForeignKey(
        Person, models.PROTECT, verbose_name="by whom", related_name="actions"
    )
    due_on = models.DateField("by when")
    look_on = models.DateField("when to look whether it worked")
    done_on = models.DateField(null=True, blank=True)

    class Meta:
        ordering = ["due_on", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(look_on__gte=F("due_on")),
                name="effect_is_looked_for_after_the_action",
                violation_error_message=(
                    "Look whether it worked after the action is due."
                ),
            )
        ]

    def __str__(self) -> str:
        return self.what[:60]


class EffectivenessCheck(CorrectableRecord):
    """A later look whether an action worked, with the evidence."""

    typed_fields: ClassVar[tuple[str, ...]] = (
        "happened_at",
        "effective",
        "evidence",
    )

    action = models.ForeignKey(CorrectiveAction, models.PROTECT, related_name="checks")
    happened_at = models.DateTimeField()
    effective = models.BooleanField()
    evidence = models.TextField()

    class Meta(CorrectableRecord.Meta):
        ordering = ["happened_at", "pk"]

    def __str__(self) -> str:
        return "effective" if self.effective else "not effective"
