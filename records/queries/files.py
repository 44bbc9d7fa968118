"""Where a kept file lies, what is attached to a thing, and the bytes themselves."""

import hashlib

from django.core.files.storage import default_storage
from django.db.models import Q, QuerySet

from records.models import Attachment, StoredFile


class Damaged(Exception):
    """A kept file is missing, or its bytes are not those that were kept."""


def place_of(sha256: str) -> str:
    """Give the path of a kept file within the store."""
    return f"{sha256[:2]}/{sha256}"


def read_kept(file: StoredFile) -> bytes:
    """Read the bytes of a kept file, and see that they are still the same.

    Raises ``Damaged`` with a sentence where they are not.
    """
    try:
        with default_storage.open(place_of(file.sha256)) as kept:
            data: bytes = kept.read()
    except FileNotFoundError as error:
        raise Damaged(f"The file {file.name} is missing from the store.") from error
    if hashlib.sha256(data).hexdigest() != file.sha256:
        raise Damaged(f"The file {file.name} is not as it was when it was kept.")
    return data


def attached(condition: Q) -> QuerySet[Attachment]:
    """List the attachments that meet a condition, oldest first, file and writer too."""
    attachments = Attachment.objects.filter(condition).select_related(
        "file", "written_by"
    )
    return attachments.order_by("happened_at", "pk")


def attached_to(kind: str, pk: int) -> QuerySet[Attachment]:
    """List what is attached to a thing, or was taken with a reading."""
    return attached(Q(**{kind: pk}))
