"""Spell the plain facts of a document: facts are words already, as in a sealed JSON."""

import datetime as dt
from collections.abc import Iterable, Mapping
from contextlib import AbstractContextManager
from decimal import Decimal
from typing import Any
from zoneinfo import ZoneInfo

from records.documents.form import OPEN
from records.spelling import limits, moments, quantities, readings
from records.spelling.verdicts import loud

Fact = Mapping[str, Any]


def as_frozen(facts: Fact) -> AbstractContextManager[None]:
    """Spell by the order of units that was the shop's when facts were frozen."""
    first = str(facts["record"]["units_first"])
    return quantities.units_first(lambda: first)


class Speller:
    """Spells the moments of one document in its time zone."""

    def __init__(self, facts: Fact) -> None:
        self.zone = ZoneInfo(str(facts["record"]["time_zone"]))

    def day(self, moment: str | None) -> str:
        """Spell the day of a moment given in UTC."""
        return moments.day(self._local(moment).date()) if moment else OPEN

    def when(self, moment: str | None) -> str:
        """Spell a moment given in UTC, with its zone's name."""
        if not moment:
            return OPEN
        return moments.when_with_zone(dt.datetime.fromisoformat(moment), self.zone)

    def _local(self, moment: str) -> dt.datetime:
        return dt.datetime.fromisoformat(moment).astimezone(self.zone)


def length(mm: str | None) -> str:
    """Spell a length in millimetres and inches."""
    return quantities.length(Decimal(mm)) if mm else OPEN


def torque_range(low_nm: str, high_nm: str) -> str:
    """Spell a range of torque, given in newton metres, in both systems."""
    return quantities.torque_range(Decimal(low_nm), Decimal(high_nm))


def plain_day(on: str | None) -> str:
    """Spell a day given as 2026-03-04."""
    return moments.day(dt.date.fromisoformat(on)) if on else OPEN


def figure(reading: Fact) -> str:
    """Spell a reading as entered, in both systems where it is a quantity."""
    return readings.figure(str(reading["entered"]), str(reading["unit"]))


def short_figure(reading: Fact) -> str:
    """Spell a reading as entered, in its own unit only."""
    return readings.entered(str(reading["entered"]), str(reading["unit"]))


def limit(reading: Fact) -> str:
    """Spell the limit that a reading was held against."""
    low, high = _decimal(reading["least"]), _decimal(reading["most"])
    return limits.limit(low, high, str(reading["limit_unit"])) or "none set"


def verdict(reading: Fact) -> str:
    """Spell a verdict, with the concession that stands behind one outside."""
    word = loud(str(reading["verdict"]))
    return f"{word}, accepted: see 29" if reading["accepted_by_concession"] else word


def in_full(reading: Fact) -> str:
    """Spell a reading with its limit and verdict in one line."""
    if reading["least"] is None and reading["most"] is None:
        return figure(reading)
    return f"{figure(reading)}; limit {limit(reading)}; {verdict(reading)}"


def joined(parts: Iterable[str | None], separator: str = ", ") -> str:
    """Join the parts that say something."""
    return separator.join(part for part in parts if part)


def in_groups(digest: str, size: int = 8) -> str:
    """Spell a digest in groups that an eye can compare.

    >>> in_groups("0123456789abcdef")
    '01234567 89abcdef'
    """
    return " ".join(digest[i : i + size] for i in range(0, len(digest), size))


def _decimal(value: str | None) -> Decimal | None:
    return None if value is None else Decimal(value)
