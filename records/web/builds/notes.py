"""Notes at stages as a page shows them, and where one is written."""

from collections.abc import Iterable

from django.urls import reverse

from records.models import Blank, Propeller, StageEvent
from records.queries.subjects import kind_of, number_of
from records.spelling.moments import when
from records.web.shared.parts import Fact


def note_lines(events: Iterable[StageEvent]) -> list[Fact]:
    """Spell what began, ended or was noted, as label and value."""
    return [Fact(event.stage.name, _spelled(event)) for event in events]


def note_page(thing: Blank | Propeller) -> str:
    """Give the path where a note about a thing is written."""
    return reverse("builds:note", args=[kind_of(thing), number_of(thing)])


def use_page(thing: Blank | Propeller) -> str:
    """Give the path where material used on a thing is noted."""
    return reverse("trace:use", args=[kind_of(thing), number_of(thing)])


def _spelled(event: StageEvent) -> str:
    note = f": {event.note}" if event.note else ""
    what = f"{event.get_kind_display()} {when(event.happened_at)}{note}"
    return f"{what} ({event.written_by.name})"
