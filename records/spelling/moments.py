"""Moments, days and lengths of time, in the shop's zone."""

import datetime as dt
from typing import Final

from django.utils.timezone import localtime

from records.spelling.numbers import BOUND, NOTHING

MONTHS: Final = (
    *("Jan", "Feb", "Mar", "Apr", "May", "Jun"),
    *("Jul", "Aug", "Sep", "Oct", "Nov", "Dec"),
)
_MINUTE, _DAY_H, _LONG_H = 60, 24, 72


def when(at: dt.datetime | None) -> str:
    """Spell a moment in the shop's zone: 4 Mar 2026, 14:05."""
    return NOTHING if at is None else f"{local_day(at)}, {clock(at)}"


def when_with_zone(at: dt.datetime, zone: dt.tzinfo) -> str:
    """Spell a moment in a zone, with the zone's name: 4 Mar 2026, 14:05 UTC."""
    local = at.astimezone(zone)
    return f"{day(local.date())}, {local:%H:%M} {local.tzname()}"


def day(on: dt.date | None) -> str:
    """Spell a day with its month's name, which is read alike everywhere."""
    return NOTHING if on is None else f"{on.day} {MONTHS[on.month - 1]} {on.year}"


def local_day(at: dt.datetime) -> str:
    """Spell the day of a moment in the shop's zone."""
    return day(localtime(at).date())


def clock(at: dt.datetime) -> str:
    """Spell the time of day in the shop's zone: 14:05."""
    return f"{localtime(at):%H:%M}"


def duration(seconds: float) -> str:
    """Spell a length of time as a bench says it: 45 s, 8 min, 3 h 20 min, 16 d."""
    total = abs(round(seconds))
    if total < _MINUTE:
        return f"{total}{BOUND}s"
    hours, minutes = divmod(round(total / _MINUTE), _MINUTE)
    if hours >= _LONG_H:
        days, rest = divmod(round(hours + minutes / _MINUTE), _DAY_H)
        return _parts((days, "d"), (rest, "h"))
    return _parts((hours, "h"), (minutes, "min"))


def _parts(*parts: tuple[int, str]) -> str:
    return " ".join(f"{number}{BOUND}{unit}" for number, unit in parts if number)
