"""The two kinds of model: records, which never change, and things, which hardly do."""

from typing import ClassVar

from django.conf import settings
from django.db import models


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
