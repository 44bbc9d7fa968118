"""What can't be true of a handing over, an event in service, or a notice."""

import datetime as dt
from collections.abc import Iterable, Sequence

from records.models import (
    ConformityRecord,
    NoticeStep,
    Ownership,
    Propeller,
    ServiceEvent,
)
from records.models.conformity import Release
from records.rules.finding import Finding
from records.rules.holds import held
from records.rules.moments import already_happened
from records.templatetags.quantities import when

State = Propeller.State
Kind = ServiceEvent.Kind
# In which states of a propeller an event can happen.
HAPPENS_IN: dict[str, tuple[str, ...]] = {
    Kind.REPORT: (State.DELIVERED, State.RETURNED),
    Kind.RETURNED: (State.DELIVERED,),
    Kind.WORK: (State.RETURNED,),
    Kind.RETIRED: (State.DELIVERED, State.RETURNED, State.RELEASED),
}


def may_be_handed_over(
    propeller: Propeller, record: ConformityRecord | None, release: Release | None
) -> list[Finding]:
    """Say why a propeller can't go to its owner: not released, held, or no record."""
    if propeller.state != State.RELEASED:
        state = propeller.get_state_display()
        return [Finding(f"Propeller {propeller} is {state}; only a released one goes.")]
    found = held(propeller)
    if record is None or (release and record.issued_at < release.happened_at):
        found.append(
            Finding("It has no conformity record of this release. Issue one first.")
        )
    return found


def may_change_owner(propeller: Propeller, before: Ownership | None) -> list[Finding]:
    """Say why no new owner can be noted for a propeller."""
    if before is None or propeller.state not in {State.DELIVERED, State.RETURNED}:
        state = propeller.get_state_display()
        return [
            Finding(f"Propeller {propeller} is {state}; it has no owner to change.")
        ]
    return []


def handed_over_in_order(
    happened_at: dt.datetime, before: Ownership | None, now: dt.datetime
) -> list[Finding]:
    """Say what is wrong with the time of a handing over."""
    found = already_happened(happened_at, now)
    if before and happened_at < before.happened_at:
        sentence = f"The owner before had it since {when(before.happened_at)}."
        found.append(Finding(f"{sentence} Check the time.", "happened_at"))
    return found


def event_is_possible(
    propeller: Propeller,
    kind: str,
    *,
    happened_at: dt.datetime,
    findings: str,
    now: dt.datetime,
    since: Ownership | None,
) -> list[Finding]:
    """Say what can't be true of an event in service."""
    found = already_happened(happened_at, now)
    if kind not in Kind.values:
        return [*found, Finding("Choose what happened.", "kind")]
    if propeller.state not in HAPPENS_IN[kind]:
        state = propeller.get_state_display()
        name = Kind(kind).label
        sentence = f"Propeller {propeller} is {state}: it has no {name} now."
        found.append(Finding(sentence, "kind"))
    if since and happened_at < since.happened_at and kind != Kind.RETIRED:
        sentence = f"It was handed over on {when(since.happened_at)}, after that."
        found.append(Finding(sentence, "happened_at"))
    if not findings.strip():
        found.append(Finding("Say what was found or done.", "findings"))
    return found


def notice_is_whole(
    title: str, text: str, propellers: Sequence[Propeller]
) -> list[Finding]:
    """Say what a notice still needs."""
    found = []
    if not title.strip():
        found.append(Finding("Give it a title.", "title"))
    if not text.strip():
        found.append(Finding("Say what it is about and what to do, by when.", "text"))
    if not propellers:
        found.append(Finding("Name at least one serial.", "serials"))
    return found


def step_may_follow(
    kind: str,
    steps: Iterable[NoticeStep],
    happened_at: dt.datetime,
    *,
    issued_at: dt.datetime,
    now: dt.datetime,
) -> list[Finding]:
    """Say what is wrong with the next step of a notice for one serial."""
    found = already_happened(happened_at, now)
    if kind not in NoticeStep.Kind.values:
        found.append(Finding("Choose what became of it.", "kind"))
    if happened_at < issued_at:
        found.append(Finding("The notice was issued after that.", "happened_at"))
    if any(step.kind == NoticeStep.Kind.DONE for step in steps):
        found.append(Finding("What the notice asks is done for this serial already."))
    return found
