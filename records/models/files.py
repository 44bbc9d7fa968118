"""Files kept under the digest of their bytes, and what they are attached to."""

from typing import ClassVar

from django.db import models

from records.models.base import CorrectableRecord, Record
from records.models.subjects import ANY_KINDS, AboutAny, exactly_one


class StoredFile(Record):
    """A file in the store, named by its SHA-256."""

    sha256 = models.CharField(max_length=64, unique=True)
    name = models.CharField(max_length=120)
    media_type = models.CharField(max_length=60)
    size = models.PositiveBigIntegerField()

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return self.name


class Attachment(AboutAny, CorrectableRecord):
    """A photo or paper attached to one thing, perhaps taken with a reading on it."""

    typed_fields: ClassVar[tuple[str, ...]] = (
        "caption",
        "happened_at",
    )

    file = models.ForeignKey(StoredFile, models.PROTECT, related_name="attachments")
    caption = models.CharField(max_length=120)
    happened_at = models.DateTimeField()
    reading = models.ForeignKey(
        "records.Reading",
        models.PROTECT,
        null=True,
        blank=True,
        related_name="photos",
    )

    class Meta(CorrectableRecord.Meta):
        ordering = ["happened_at", "pk"]
        constraints = [
            *CorrectableRecord.Meta.constraints,
            models.CheckConstraint(
                condition=exactly_one(ANY_KINDS), name="attachment_has_one_subject"
            ),
        ]

    def __str__(self) -> str:
        return self.caption
