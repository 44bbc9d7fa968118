"""Limits: their sides in words, in both unit systems."""

from collections.abc import Callable
from decimal import Decimal

from records.models import Limit
from records.spelling.numbers import plain
from records.spelling.quantities import both, in_unit


def limit(low: Decimal | None, high: Decimal | None, unit: str, first: str = "") -> str:
    """Spell the sides of a limit in both systems; nothing where there is none.

    >>> limit(None, Decimal("1.5000"), "%").replace("\N{NO-BREAK SPACE}", " ")
    'at most 1.5 %'
    """
    return _sides(
        low, high, lambda side: both(side, unit, first) if unit else plain(side)
    )


def short_limit(low: Decimal | None, high: Decimal | None, unit: str) -> str:
    """Spell the sides of a limit in its own unit only, for narrow places."""
    return _sides(low, high, lambda side: in_unit(side, unit))


def source_of(limit: Limit) -> str:
    """Spell where a limit comes from: its kind of source, place and number."""
    return f"{limit.get_source_kind_display()}: {limit.source} (limit {limit.number})"


def _sides(
    low: Decimal | None, high: Decimal | None, spell: Callable[[Decimal], str]
) -> str:
    if low is not None and high is not None:
        if low == -high:
            return f"within {spell(high)} either way"
        return f"{spell(low)} to {spell(high)}"
    if high is not None:
        return f"at most {spell(high)}"
    return f"at least {spell(low)}" if low is not None else ""
