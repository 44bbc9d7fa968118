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
from records.spelling.moments import when

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
    findings = held(propeller)
    if record is None or (release and record.issued_at < release.happened_at):
        findings.append(
            Finding("It has no conformity record of this release. Issue one first.")
        )
    return findings


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
    findings = already_happened(happened_at, now)
    if before and happened_at < before.happened_at:
        sentence = f"The owner before had it since {when(before.happened_at)}."
        findings.append(Finding(f"{sentence} Check the time.", "happened_at"))
    return findings


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
    findings_so_far = already_happened(happened_at, now)
    if kind not in Kind.values:
        return [*findings_so_far, Finding("Choose what happened.", "kind")]
    if propeller.state not in HAPPENS_IN[kind]:
        state = propeller.get_state_display()
        name = Kind(kind).label
        sentence = f"Propeller {propeller} is {state}: it has no {name} now."
        findings_so_far.append(Finding(sentence, "kind"))
    if since and happened_at < since.happened_at and kind != Kind.RETIRED:
        sentence = f"It was handed over on {when(since.happened_at)}, after that."
        findings_so_far.append(Finding(sentence, "happened_at"))
    if not findings.strip():
        findings_so_far.append(Finding("Say what was found or done.", "findings"))
    return findings_so_far


def notice_is_whole(
    title: str, text: str, propellers: Sequence[Propeller]
) -> list[Finding]:
    """Say what a notice still needs."""
    findings = []
    if not title.strip():
        findings.append(Finding("Give it a title.", "title"))
    if not text.strip():
        findings.append(
            Finding("Say what it is about and what to do, by when.", "text")
        )
    if not propellers:
        findings.append(Finding("Name at least one serial.", "serials"))
    return findings


def step_may_follow(
    kind: str,
    steps: Iterable[NoticeStep],
    happened_at: dt.datetime,
    *,
    issued_at: dt.datetime,
    now: dt.datetime,
) -> list[Finding]:
    """Say what is wrong with the next step of a notice for one serial."""
    findings = already_happened(happened_at, now)
    if kind not in NoticeStep.Kind.values:
        findings.append(Finding("Choose what became of it.", "kind"))
    if happened_at < issued_at:
        findings.append(Finding("The notice was issued after that.", "happened_at"))
    if any(step.kind == NoticeStep.Kind.DONE for step in steps):
        findings.append(
            Finding("What the notice asks is done for this serial already.")
        )
    return findings
