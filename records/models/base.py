"""The kinds of model: records, which never change, and things, which hardly do."""

from typing import Any, ClassVar

from django.conf import settings
from django.db import models
from django.db.models import Q


class Row(models.Model):
    """Anything in the book: who wrote it, and when (not when it happened)."""

    written_at = models.DateTimeField(editable=False)
    written_by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        models.PROTECT,
        related_name="+",
        editable=False,
    )

    class Meta:
        abstract = True


class Record(Row):
    """Append-only: never changed, never deleted; a correction is a new row."""

    class Meta:
        abstract = True


class Thing(Row):
    """Something that lasts. Only the fields in `state_fields` may change."""

    state_fields: ClassVar[tuple[str, ...]] = ()

    class Meta:
        abstract = True


class Correctable(models.Model):
    """A row that others hang on: what was typed of it is corrected in its place.

    The fields in `typed_fields`, and those in `derived_fields` that follow from them,
    change only together with a `Correction` beside the row, which keeps what stood
    there before; `corrections` counts them. The database holds both to it.
    """

    typed_fields: ClassVar[tuple[str, ...]] = ()
    derived_fields: ClassVar[tuple[str, ...]] = ()

    corrections = models.PositiveSmallIntegerField(
        "times corrected", default=0, editable=False
    )

    class Meta:
        abstract = True


STANDING: dict[str, object] = {"corrected_by__isnull": True, "withdrawn": False}


def standing_at(relation: str) -> Q:
    """Build the condition that a joined record stands: what a manager can't do there.

    `relation` leads to records of a `CorrectableRecord`.
    """
    return Q(**{f"{relation}__{name}": value for name, value in STANDING.items()})


class StandingManager(models.Manager[Any]):
    """Gives what stands now: no row that a later one corrected, nor one withdrawn."""

    def get_queryset(self) -> models.QuerySet[Any]:
        """Leave out what was corrected or withdrawn."""
        return super().get_queryset().filter(**STANDING)


class CorrectableRecord(Record):
    """A record that a later row of its own kind corrects, or withdraws, with a reason.

    `objects` gives what stands now, `everything` also what stood before.
    """

    typed_fields: ClassVar[tuple[str, ...]] = ()

    corrects = models.OneToOneField(
        "self",
        models.PROTECT,
        null=True,
        blank=True,
        related_name="corrected_by",
        editable=False,
    )
    correction_reason = models.CharField(
        "why corrected", max_length=200, blank=True, editable=False
    )
    withdrawn = models.BooleanField(default=False, editable=False)

    objects: ClassVar[models.Manager[Any]] = StandingManager()
    everything: ClassVar[models.Manager[Any]] = models.Manager()

    class Meta:
        abstract = True
        base_manager_name = "everything"
        constraints = [
            models.CheckConstraint(
                condition=Q(corrects__isnull=True) | ~Q(correction_reason=""),
                name="%(class)s_corrected_says_why",
                violation_error_message="Say why it is corrected.",
            ),
            models.CheckConstraint(
                condition=Q(withdrawn=False) | Q(corrects__isnull=False),
                name="%(class)s_withdrawn_names_what",
            ),
        ]
