"""What the shop decides about itself."""

import re
from typing import Any

from django.utils import timezone

from records.models import Authority, Shop
from records.rules.authority import may
from records.rules.finding import Finding
from records.rules.numbers import number_can_be_scanned
from records.services.ledger import Act, Entry
from records.services.refusal import refuse_if_blocked

_PATTERN = re.compile(r"[^{}]*(\{year\}[^{}]*)?\{n(:0[1-9])?\}[^{}]*")
PATTERNS = tuple(
    f.name for f in Shop._meta.concrete_fields if f.name.endswith("_pattern")
)


def change_shop(*, act: Act, **settings: Any) -> Shop:
    """Change the shop's settings, given by field name; the old ones stay in the book.

    Records keep what was in force when they were written.
    """
    day = timezone.localdate(act.at)
    refuse_if_blocked(may(act.by, Authority.Act.MANAGE, day))
    refuse_if_blocked(f for n in PATTERNS for f in _pattern(n, settings.get(n)))
    if "base_url" in settings:
        settings["base_url"] = settings["base_url"].rstrip("/")
    with Entry(act, "change shop") as entry:
        shop = Shop.objects.get()
        entry.subject = shop.name
        return entry.change(shop, **settings)


def _pattern(field: str, text: str | None) -> list[Finding]:
    if text is None:
        return []
    if not _PATTERN.fullmatch(text):
        return [_wrong_pattern(field)]
    return number_can_be_scanned(text.format(n=1, year=2000), field)


def _wrong_pattern(field: str) -> Finding:
    return Finding(
        "Put {n} or {n:04} once, for the number; {year} may stand before it, and "
        "other letters anywhere. For example {year}-{n:03}.",
        field,
    )
