"""Is this held? Every hold that reaches a thing, named with what it is on."""

from django.db.models import Model
from django.utils import timezone

from records.models import Deviation, Hold, Mix
from records.queries.deviations.register import needed_by_others, undecided
from records.queries.reach.holds import holds_on
from records.queries.subjects import called, kind_of
from records.rules.finding import Finding
from records.spelling.moments import day


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
    if hold.coupon_id:
        glue = "" if isinstance(subject, Mix) else "the glue in "
        return f"{start}, a sample of {glue}{called(subject)}, is"
    link = "was measured with" if hold.gauge_id else "is made with"
    return f"{start}, which {called(subject)} {link}, is"


def _end(hold: Hold) -> str:
    deviation = hold.deviation
    if deviation is None:
        return "Release the hold, with a reason, before going on."
    if deviation.state == Deviation.State.OPEN:
        return f"Decide on deviation {deviation.number} and release the hold first."
    return f"Release the hold of deviation {deviation.number} first."


def hold_has_a_reason(reason: str) -> list[Finding]:
    """Ask for the reason of a hold or of its release."""
    return [] if reason.strip() else [Finding("Say why.", "reason")]


def hold_may_be_released(hold: Hold) -> list[Finding]:
    """Say why a hold has to stay: not decided on, or needed by another deviation."""
    if not Hold.objects.standing().filter(pk=hold.pk).exists():
        return [Finding("The hold is released already.")]
    return _its_own(hold) + [
        Finding(
            f"Deviation {other.number} is open, touches {called(hold.subject)} and "
            "holds it by this hold only. Decide on it first."
        )
        for other in needed_by_others(hold)
    ]


def _its_own(hold: Hold) -> list[Finding]:
    deviation = hold.deviation
    if deviation is None or deviation.state == Deviation.State.CLOSED:
        return []
    same = [s for s in undecided(deviation) if s.subject == hold.subject]
    if not same:
        return []
    return [
        Finding(
            f"Nothing is decided about {called(hold.subject)} in deviation "
            f"{deviation.number}. Decide first, then release."
        )
    ]
