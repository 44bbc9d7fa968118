"""Is this held? Every hold that reaches a thing, named with what it is on."""

from django.db.models import Model
from django.utils import timezone

from records.models import Deviation, Hold
from records.queries.holds import holds_on
from records.queries.subjects import called, kind_of
from records.rules.finding import Finding
from records.templatetags.quantities import day


def held(subject: Model) -> list[Finding]:
    """Name every standing hold that reaches a thing, through whatever it is made of.

    Two queries, however much stands between the hold and the thing.
    """
    return [
        Finding(hold_sentence(hold, subject))
        for hold in holds_on(kind_of(subject), subject.pk)
    ]


def hold_sentence(hold: Hold, subject: Model) -> str:
    """Say what a hold is on, since when, why, and what would end it."""
    since = day(timezone.localtime(hold.happened_at).date())
    reason = hold.reason.rstrip(".")
    return f"{_what(hold, subject)} on hold since {since}: {reason}. {_end(hold)}"


def _what(hold: Hold, subject: Model) -> str:
    material = hold.subject
    on = f"joint {hold.joint} of {called(material)}" if hold.joint else called(material)
    start = f"{on[0].upper()}{on[1:]}"
    if material == subject:
        return f"{start} is"
    link = "was measured with" if hold.gauge_id else "is made with"
    return f"{start}, which {called(subject)} {link}, is"


def _end(hold: Hold) -> str:
    deviation = hold.deviation
    if deviation is None:
        return "Release the hold, with a reason, before going on."
    if deviation.state == Deviation.State.OPEN:
        return f"Decide on deviation {deviation.number} and release the hold first."
    return f"Release the hold of deviation {deviation.number} first."
