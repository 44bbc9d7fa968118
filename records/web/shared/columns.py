"""Columns of lists that are spelled one way on the page and another in the export."""

import datetime as dt
from typing import Any

import django_tables2

from records.spelling.moments import day
from records.spelling.moments import when


class DayColumn(django_tables2.Column):  # type: ignore[misc]
    """A day: with its month's name on the page, as a calendar writes it in the CSV."""

    def render(self, value: dt.date) -> str:
        """Spell the day."""
        return day(value)

    def value(self, **kwargs: Any) -> Any:
        """Export the day, or what stands for none."""
        given = kwargs["value"]
        return given.isoformat() if isinstance(given, dt.date) else given


class MomentColumn(django_tables2.Column):  # type: ignore[misc]
    """A moment: in the shop's zone on the page, with its offset in the CSV."""

    def render(self, value: dt.datetime) -> str:
        """Spell the moment."""
        return when(value)

    def value(self, **kwargs: Any) -> Any:
        """Export the moment whole; the list spells it in the shop's zone."""
        return kwargs["value"]
