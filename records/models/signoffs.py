"""Sign-offs: a person, a time, a meaning, and the digest of what was signed."""

from django.db import models

from records.models.base import Record
from records.models.routes import Stage
from records.models.subjects import MATERIAL_KINDS, AboutMaterial, exactly_one


class SignOff(AboutMaterial, Record):
    """A stage signed for one subject. It is void once what it covers has changed."""

    class Method(models.TextChoices):
        PASSWORD = "password", "password entered again"
        PIN = "pin", "PIN entered again"

    stage = models.ForeignKey(Stage, models.PROTECT, related_name="signoffs")
    happened_at = models.DateTimeField()
    meaning = models.CharField(max_length=200)
    check_kind = models.CharField(
        "kind of check", max_length=12, choices=Stage.CheckKind
    )
    printed_name = models.CharField(max_length=80)
    method = models.CharField(max_length=8, choices=Method)
    digest = models.CharField("digest of what was signed", max_length=64)

    class Meta:
        ordering = ["happened_at", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=exactly_one(MATERIAL_KINDS), name="signoff_has_one_subject"
            )
        ]

    def __str__(self) -> str:
        return f"{self.printed_name}: {self.meaning}"


class RefusedSignature(AboutMaterial, Record):
    """An attempt to sign that was refused, and why."""

    stage = models.ForeignKey(Stage, models.PROTECT, related_name="refusals")
    happened_at = models.DateTimeField()
    why = models.TextField()

    class Meta:
        ordering = ["happened_at", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=exactly_one(MATERIAL_KINDS), name="refusal_has_one_subject"
            )
        ]

    def __str__(self) -> str:
        return self.why[:60]
