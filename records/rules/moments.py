"""Times at the bench: nothing has happened that is still to come."""

import datetime as dt

from django.utils.timezone import localtime

from records.rules.finding import Finding
from records.templatetags.quantities import day as spell_day
from records.templatetags.quantities import when

FIRST_YEAR = 1900
_MINUTE, _DAY_H, _LONG_H = 60, 24, 72


def already_happened(
    at: dt.datetime, now: dt.datetime, field: str = "happened_at"
) -> list[Finding]:
    """Say what is wrong with a time of the bench; nothing where it can be true."""
    if at > now:
        return [
            Finding(
                f"{when(at)} is still to come; it is {when(now)}. Check date and time.",
                field,
            )
        ]
    if at.year < FIRST_YEAR:
        return [Finding(f"The year {at.year} is a slip of the pen.", field)]
    return []


def day_has_come(day: dt.date, today: dt.date, field: str) -> list[Finding]:
    """Say what is wrong with a day in the book; nothing where it can be true."""
    if day > today:
        return [
            Finding(f"{spell_day(day)} is still to come. Check the date.", field),
        ]
    if day.year < FIRST_YEAR:
        return [Finding(f"The year {day.year} is a slip of the pen.", field)]
    return []


def clock(moment: dt.datetime) -> str:
    """Spell the time of day in the shop's zone: 14:05."""
    return f"{localtime(moment):%H:%M}"


def duration(seconds: float) -> str:
    """Spell a length of time as a bench says it: 45 s, 8 min, 3 h 20 min, 16 d."""
    total = abs(round(seconds))
    if total < _MINUTE:
        return f"{total} s"
    hours, minutes = divmod(round(total / _MINUTE), _MINUTE)
    if hours >= _LONG_H:
        days, rest = divmod(round(hours + minutes / _MINUTE), _DAY_H)
        return f"{days} d {rest} h" if rest else f"{days} d"
    if not hours:
        return f"{minutes} min"
    return f"{hours} h {minutes} min" if minutes else f"{hours} h"
