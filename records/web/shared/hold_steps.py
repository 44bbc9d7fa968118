"""What to do about a hold that reaches a thing."""

from django.db.models import Model
from django.urls import reverse

from records.models import Deviation, Hold
from records.queries.reach.holds import holds_on
from records.queries.subjects import kind_of
from records.rules.finding import Finding
from records.rules.holds import hold_sentence
from records.web.shared.pages import deviation_page
from records.web.shared.parts import Action


def holds_of(thing: Model) -> list[Hold]:
    """Find the standing holds that reach a thing."""
    return holds_on(kind_of(thing), thing.pk)


def hold_findings(holds: list[Hold], thing: Model) -> list[Finding]:
    """Say each hold in a sentence."""
    return [Finding(hold_sentence(hold, thing)) for hold in holds]


def hold_step(holds: list[Hold], disabled_reason: str) -> Action | None:
    """Lead to the decision that would end the first hold; None without a hold."""
    if not holds:
        return None
    hold, deviation = holds[0], holds[0].deviation
    if deviation is None:
        return Action("Open a deviation", deviation_page(hold.subject), disabled_reason)
    if deviation.state == Deviation.State.OPEN:
        page = reverse("deviations:deviation", args=[deviation.number])
        return Action(f"Decide on {deviation.number}", page)
    page = reverse("deviations:release", args=[hold.pk])
    return Action("Release the hold", page, disabled_reason)
