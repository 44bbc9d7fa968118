"""Where to go from a reading: the next one, a deviation, a signature."""

from urllib.parse import urlencode

from django.db.models import Model

from records.models import Reading
from records.queries.builds.progress import StageState
from records.queries.subjects import called
from records.rules.gates.stage import NOT_INSIDE, next_to_log
from records.rules.readings.slots import Slot, open_slots
from records.web.shared.pages import deviation_page, log_page, page_of, sign_page
from records.web.shared.parts import Action


def slot_page(slot: Slot) -> str:
    """Give the path where this one reading is logged, its place filled in."""
    place = {
        "blade": slot.blade,
        "station": slot.station.pk if slot.station else None,
        "joint": slot.joint,
    }
    asked = {k: v for k, v in place.items() if v is not None}
    path = log_page(slot.thing, slot)
    return f"{path}&{urlencode(asked)}" if asked else path


def _in_grid(slot: Slot, state: StageState) -> str:
    """Give the grid's path where several blades or stations are still to be read."""
    left = [s for s in open_slots(state) if s.characteristic == slot.characteristic]
    if slot.blade is None or len(left) == 1:
        return slot_page(slot)
    return log_page(slot.thing, slot)


def slot_label(slot: Slot, subject: Model) -> str:
    """Name the one reading to take next."""
    name = slot.characteristic.name
    words = ["Log", f"{name[:1].lower()}{name[1:]}", slot.place(subject)]
    return " ".join(words).strip()


def deviation_at(reading: Reading) -> str:
    """Give the path where a deviation about a reading is opened."""
    return f"{deviation_page(reading.subject)}&reading={reading.pk}"


def next_step(
    newest: Reading, state: StageState | None, disabled_reason: str
) -> Action:
    """Name the one thing to do after a reading."""
    if newest.verdict in NOT_INSIDE and not _is_settled(newest, state):
        return Action("Open a deviation", deviation_at(newest), disabled_reason)
    if state is None:
        return Action(f"Go to {called(newest.subject)}", page_of(newest.subject))
    slot = next_to_log(state)
    if slot is not None:
        return Action(
            slot_label(slot, state.subject), _in_grid(slot, state), disabled_reason
        )
    if state.signed is None:
        return Action(f"Sign {state.stage.name}", sign_page(state.subject, state.stage))
    return Action(f"Go to {called(state.subject)}", page_of(state.subject))


def _is_settled(reading: Reading, state: StageState | None) -> bool:
    if state is None:
        return False
    return reading.pk in state.accepted or reading.pk in state.stale
