"""Times at the bench: nothing has happened that is still to come."""

import datetime as dt

from records.rules.finding import Finding
from records.spelling.moments import day as spell_day
from records.spelling.moments import when

FIRST_YEAR = 1900


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
