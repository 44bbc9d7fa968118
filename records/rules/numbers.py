"""Numbers that things are known by: on tags, in addresses, stamped in wood."""

import re
from typing import Final

from records.rules.finding import Finding

_NUMBER: Final = re.compile(r"[A-Za-z0-9](?:[A-Za-z0-9 ._-]{0,38}[A-Za-z0-9])?")


def number_can_be_scanned(number: str, field: str) -> list[Finding]:
    """Say why a number can't stand on a thing and lead to its page."""
    if _NUMBER.fullmatch(number):
        return []
    return [
        Finding(
            f"{number} can't be stamped and scanned as it is. Use letters, "
            "digits, spaces, points and dashes only, 40 at most.",
            field,
        )
    ]
