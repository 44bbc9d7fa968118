"""Tags: an opaque code on a thing, for a phone to scan."""

from django.db import models

from records.models.base import Record
from records.models.subjects import ANY_KINDS, AboutAny, exactly_one


class Tag(AboutAny, Record):
    """A code of at least 64 random bits that leads to one thing."""

    code = models.CharField(max_length=26, unique=True)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(
                condition=exactly_one(ANY_KINDS), name="tag_has_one_subject"
            ),
            *(
                models.UniqueConstraint(fields=[kind], name=f"one_tag_a_{kind}")
                for kind in ANY_KINDS
            ),
        ]

    def __str__(self) -> str:
        return self.code
