"""Spell the plain facts of a document: both unit systems, days, readings, limits."""

import datetime as dt
from collections.abc import Iterable, Mapping
from decimal import Decimal
from typing import Any
from zoneinfo import ZoneInfo

from records.documents.form import OPEN
from records.engineering.units import parse_number
from records.templatetags.quantities import both, day, mass, unit_name
from records.templatetags.quantities import length as both_lengths
from records.templatetags.quantities import torque as both_torques

Fact = Mapping[str, Any]
VERDICTS = {
    "inside": "inside",
    "outside": "OUTSIDE",
    "undecided": "UNDECIDED",
    "no_limit": "no limit",
}


class Speller:
    """Spells the facts of one document in its time zone and order of units."""

    def __init__(self, facts: Fact) -> None:
        self.first = str(facts["record"]["units_first"])
        self.zone = ZoneInfo(str(facts["record"]["time_zone"]))

    def length(self, mm: str | None) -> str:
        """Spell a length in millimetres and inches."""
        return both_lengths(Decimal(mm), self.first) if mm else OPEN

    def torque(self, low_nm: str, high_nm: str) -> str:
        """Spell a range of torque in both systems."""
        return torque_range(low_nm, high_nm, self.first)

    def day(self, moment: str | None) -> str:
        """Spell the day of a moment given in UTC."""
        return day(self._local(moment).date()) if moment else OPEN

    def when(self, moment: str | None) -> str:
        """Spell a moment given in UTC, with its zone's name."""
        if not moment:
            return OPEN
        local = self._local(moment)
        return f"{day(local.date())}, {local:%H:%M} {local.tzname()}"

    def _local(self, moment: str) -> dt.datetime:
        return dt.datetime.fromisoformat(moment).astimezone(self.zone)


def torque_range(low_nm: str, high_nm: str, first: str = "metric") -> str:
    """Spell a range of torque, given in newton metres, in both systems."""
    low, high = (both_torques(Decimal(nm), first) for nm in (low_nm, high_nm))
    return low if low == high else f"{low} to {high}"


def plain_day(on: str | None) -> str:
    """Spell a day given as 2026-03-04."""
    return day(dt.date.fromisoformat(on)) if on else OPEN


def figure(reading: Fact) -> str:
    """Spell a reading as entered, in both systems where it is a quantity."""
    if not reading["unit"]:
        return str(reading["entered"])
    try:
        value = parse_number(str(reading["entered"]))
    except ValueError:
        return f"{reading['entered']} {unit_name(reading['unit'])}"
    if reading["unit"] == "g":
        return mass(value)
    return both(value, reading["unit"])


def short_figure(reading: Fact) -> str:
    """Spell a reading as entered, in its own unit only."""
    unit = unit_name(reading["unit"])
    space = "" if unit == "°" else " "
    return f"{reading['entered']}{space}{unit}".strip()


def limit(reading: Fact) -> str:
    """Spell the limit that a reading was held against."""
    low, high, unit = reading["least"], reading["most"], reading["limit_unit"]
    if low is not None and high is not None and Decimal(low) == -Decimal(high):
        return f"within {_one(high, unit)} either way"
    if low is not None and high is not None:
        return f"{_one(low, unit)} to {_one(high, unit)}"
    if high is not None:
        return f"at most {_one(high, unit)}"
    return f"at least {_one(low, unit)}" if low is not None else "none set"


def verdict(reading: Fact) -> str:
    """Spell a verdict, with the concession that stands behind one outside."""
    word = VERDICTS.get(reading["verdict"], str(reading["verdict"]))
    return f"{word}, accepted: see 29" if reading["accepted_by_concession"] else word


def whole(reading: Fact) -> str:
    """Spell a reading with its limit and verdict in one line."""
    if reading["least"] is None and reading["most"] is None:
        return figure(reading)
    return f"{figure(reading)}; limit {limit(reading)}; {verdict(reading)}"


def joined(parts: Iterable[str | None], separator: str = ", ") -> str:
    """Join the parts that say something."""
    return separator.join(part for part in parts if part)


def _one(value: str, unit: str) -> str:
    return both(Decimal(value), unit) if unit else value


def in_groups(digest: str, size: int = 8) -> str:
    """Spell a digest in groups that an eye can compare.

    >>> in_groups("0123456789abcdef")
    '01234567 89abcdef'
    """
    return " ".join(digest[i : i + size] for i in range(0, len(digest), size))
