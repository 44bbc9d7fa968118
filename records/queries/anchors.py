"""Heads of the ledger to keep elsewhere: a line a day, and those on papers.

Who rewrites the chain, or cuts its end off, can make it hold again in itself. It does
not hold any more against a digest that was written down somewhere else before.
"""

import datetime as dt
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from django.db.models import Max, Q
from django.db.models.functions import TruncDate
from django.utils import timezone

from records.models import LedgerEntry

AT_ONCE = 5000


@dataclass(frozen=True, slots=True)
class Anchor:
    """The ledger's head on a day: its number and its digest."""

    on: dt.date
    sequence: int
    digest: str

    @property
    def line(self) -> str:
        """Spell the anchor as the line that is kept."""
        return f"{self.on.isoformat()} {self.sequence} {self.digest}"


def anchor_on(day: dt.date) -> Anchor | None:
    """Give the head as it is now, under this day; None in an empty book."""
    head = LedgerEntry.objects.head()
    return Anchor(day, head.sequence, head.digest) if head else None


def daily_anchors() -> Iterator[Anchor]:
    """Stream the head at the end of each of the shop's days, the oldest first."""
    last_of_a_day = (
        LedgerEntry.objects.order_by()
        .annotate(day=TruncDate("written_at"))
        .values("day")
        .annotate(last=Max("sequence"))
        .values("last")
    )
    rows = LedgerEntry.objects.filter(sequence__in=last_of_a_day).order_by("sequence")
    for at, sequence, digest in rows.values_list("written_at", "sequence", "digest"):
        yield Anchor(timezone.localdate(at), sequence, digest)


def digests_at(sequences: Sequence[int]) -> dict[int, str]:
    """Give the digest of each of these entries that there is."""
    digests: dict[int, str] = {}
    for start in range(0, len(sequences), AT_ONCE):
        some = sequences[start : start + AT_ONCE]
        rows = LedgerEntry.objects.filter(sequence__in=some)
        digests.update(rows.values_list("sequence", "digest"))
    return digests


def begins_an_entry(beginnings: Iterable[str]) -> list[str]:
    """Give the digests in the chain that begin with one of these digits (one query)."""
    asked = Q(pk__in=[])
    for beginning in beginnings:
        asked |= Q(digest__startswith=beginning)
    return list(LedgerEntry.objects.filter(asked).values_list("digest", flat=True))
