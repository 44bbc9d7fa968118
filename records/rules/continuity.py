"""Would another copy of the book lose anything that this one has written."""

from collections.abc import Callable

from records.models import LedgerEntry
from records.rules.finding import Finding

OVER = "To do it all the same, add --over-a-newer-shop: nothing here is deleted."


def nothing_is_lost(last: int, digest: Callable[[int], str | None]) -> list[Finding]:
    """Say what would go out of use if another book took the place of this one.

    `last` is the other's last entry, `digest` gives the digest of an entry of it. Two
    books are the same up to an entry when its digest is the same in both.
    """
    head = LedgerEntry.objects.head()
    mine = head.sequence if head else 0
    agreed = _last_agreed(min(mine, last), digest)
    if agreed == mine:
        return []
    lost = f"Entries {agreed + 1} to {mine} of this book"
    if agreed == last:
        sentence = f"This book is newer. {lost} are not in the backup."
    elif agreed:
        sentence = f"After entry {agreed} the books part. {lost} are not in the backup."
    else:
        sentence = f"The backup is of another book. {lost} are not in it."
    return [Finding(f"{sentence} {OVER}")]


def _last_agreed(most: int, digest: Callable[[int], str | None]) -> int:
    """Find the last entry that is the same in both: before it, all are."""
    low, high = 0, most
    while low < high:
        middle = (low + high + 1) // 2
        if _mine(middle) == digest(middle):
            low = middle
        else:
            high = middle - 1
    return low


def _mine(sequence: int) -> str | None:
    rows = LedgerEntry.objects.filter(sequence=sequence)
    return rows.values_list("digest", flat=True).first()
