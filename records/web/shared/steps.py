"""The one thing to do next at a stage: a reading, a deviation, or the signature."""

from django.db.models import Model

from records.spelling.verdicts import Verdict
from records.models import Reading
from records.queries.builds.progress import StageState
from records.rules.gates.stage import NOT_INSIDE, next_to_log
from records.web.shared.pages import deviation_page, log_page, sign_page
from records.web.shared.parts import Action


def unsettled(state: StageState) -> list[Reading]:
    """List current readings not inside that nobody with authority has accepted."""
    return [
        reading
        for reading in state.current
        if reading.verdict in NOT_INSIDE and reading.pk not in state.accepted
    ]


def stage_step(state: StageState, thing: Model, disabled_reason: str) -> Action:
    """Name what a stage of a thing needs next; `disabled_reason` says why not to write."""
    if slot := next_to_log(state):
        return Action(_log(slot.characteristic.name), log_page(thing, slot), disabled_reason)
    if open_ones := unsettled(state):
        reading = open_ones[0]
        page = f"{deviation_page(reading.subject)}&reading={reading.pk}"
        return Action("Open a deviation", page, disabled_reason)
    return Action(f"Sign {state.stage.name}", sign_page(thing, state.stage), disabled_reason)


def stage_verdict(state: StageState) -> Verdict:
    """Give shape, word and detail for a thing whose stage is not signed yet."""
    if unsettled(state):
        return Verdict("outside", "a reading is outside", "")
    return Verdict("waiting", "usable", f"{state.stage.name} is not signed yet")


def _log(name: str) -> str:
    return f"Log {name[:1].lower()}{name[1:]}"
