"""What the shop decides about itself."""

import re
from typing import Any

from django.utils import timezone

from records.models import Authority, Shop
from records.rules.authority import may
from records.rules.finding import Finding
from records.services.ledger import Act, Entry
from records.services.refusal import Refusal, refuse_if_blocked

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
    wrong = [_wrong_pattern(n) for n in PATTERNS if not _is_pattern(settings.get(n))]
    if wrong:
        raise Refusal(wrong)
    if "base_url" in settings:
        settings["base_url"] = settings["base_url"].rstrip("/")
    with Entry(act, "change shop") as entry:
        shop = Shop.objects.get()
        entry.subject = shop.name
        return entry.change(shop, **settings)


def _is_pattern(text: str | None) -> bool:
    return text is None or _PATTERN.fullmatch(text) is not None


def _wrong_pattern(field: str) -> Finding:
    return Finding(
        "Put {n} or {n:04} once, for the number; {year} may stand before it, and "
        "other letters anywhere. For example {year}-{n:03}.",
        field,
    )
