"""What a deviation needs to be opened, and to be closed."""

import datetime as dt
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from django.db.models import Model

from records.models import (
    Blank,
    CorrectiveAction,
    Deviation,
    DeviationSubject,
    Hold,
    Person,
    Reading,
)
from records.queries.deviations.register import open_actions, still_held, undecided
from records.queries.subjects import called, kind_of
from records.rules.finding import Finding
from records.rules.moments import already_happened, day_has_come
from records.spelling.moments import day


@dataclass(frozen=True, slots=True)
class Touched:
    """One thing that a deviation is about, with its joint or the reading if any."""

    thing: Model
    joint: int | None = None
    reading: Reading | None = None


def deviation_may_open(
    touched: Sequence[Touched],
    *,
    title: str,
    required: str,
    found: str,
    happened_at: dt.datetime,
    now: dt.datetime,
) -> list[Finding]:
    """Say what is missing before a deviation can be opened."""
    findings = [
        Finding(sentence, field)
        for field, text, sentence in (
            ("title", title, "Say in a few words what is wrong."),
            ("required", required, "Say what was required."),
            ("found", found, "Say what was found."),
        )
        if not text.strip()
    ]
    findings += already_happened(happened_at, now)
    return findings + things_are_named(touched)


def things_are_named(touched: Sequence[Touched]) -> list[Finding]:
    """Say what is wrong with the things that a deviation is said to touch."""
    if not touched:
        return [Finding("Name at least one thing that it touches.", "things")]
    findings = [f for one in touched for f in joint_is_in(one.thing, one.joint)]
    seen = Counter((one.thing, one.joint, one.reading) for one in touched)
    twice = {called(one[0]) for one, count in seen.items() if count > 1}
    findings += [Finding(f"{name} is named twice.", "things") for name in sorted(twice)]
    return findings


def joint_is_in(thing: Model, joint: int | None) -> list[Finding]:
    """Say why a thing has no joint of that number; nothing where none is named."""
    if joint is None:
        return []
    if not isinstance(thing, Blank):
        return [Finding(f"A {kind_of(thing)} has no joints.", "joint")]
    joints = thing.revision.laminations - 1
    if 1 <= joint <= joints:
        return []
    return [
        Finding(
            f"Blank {thing} has joints 1 to {joints}; there is no joint {joint}.",
            "joint",
        )
    ]


def cause_is_said(cause_kind: str, cause: str) -> list[Finding]:
    """Say what a cause still needs."""
    findings = []
    if cause_kind not in Deviation.Cause.values or not cause_kind:
        findings.append(Finding("Choose where the cause lies.", "cause_kind"))
    if not cause.strip():
        findings.append(Finding("Say in words what the cause was.", "cause"))
    return findings


def deviation_is_open(deviation: Deviation) -> list[Finding]:
    """Say that nothing more is decided in a closed deviation."""
    if deviation.state == Deviation.State.OPEN:
        return []
    return [
        Finding(
            f"Deviation {deviation.number} is closed. Open a new one, and name "
            f"{deviation.number} in it."
        )
    ]


def deviation_may_close(deviation: Deviation) -> list[Finding]:
    """List everything that a deviation still waits for: decisions, actions, holds."""
    number = deviation.number
    findings = deviation_is_open(deviation)
    findings += [
        Finding(f"Nothing is decided about {subject_called(subject)} in {number}.")
        for subject in undecided(deviation)
    ]
    findings += [_action_waits(action) for action in open_actions(deviation)]
    findings += [_hold_stands(hold) for hold in still_held(deviation)]
    return findings


def subject_called(subject: DeviationSubject | Hold) -> str:
    """Call what a deviation or hold is on, with its joint."""
    joint = f"joint {subject.joint} of " if subject.joint else ""
    return f"{joint}{called(subject.subject)}"


def _action_waits(action: CorrectiveAction) -> Finding:
    if action.done_on is None:
        due = day(action.due_on)
        return Finding(f'The action "{action.what}", due on {due}, is not done.')
    return Finding(
        f'The action "{action.what}" did not work. Add another before closing.'
    )


def _hold_stands(hold: Hold) -> Finding:
    return Finding(
        f"The hold on {subject_called(hold)} still stands. Release it, with a reason."
    )


def action_may_be_added(
    what: str, owner: Person, due_on: dt.date, look_on: dt.date, today: dt.date
) -> list[Finding]:
    """Say what is wrong with an action before it is added."""
    findings = []
    if not what.strip():
        findings.append(Finding("Say what is done.", "what"))
    if not owner.is_active:
        findings.append(
            Finding(f"{owner.name} does not work with this book any more.", "owner")
        )
    if due_on < today:
        findings.append(
            Finding(f"{day(due_on)} has passed. Give a day to come.", "due_on")
        )
    if look_on < due_on:
        findings.append(
            Finding("Look whether it worked after the action is due.", "look_on")
        )
    return findings


def action_may_be_finished(
    action: CorrectiveAction, done_on: dt.date, today: dt.date
) -> list[Finding]:
    """Say why an action can't be noted as done on a day."""
    if action.done_on is not None:
        return [Finding(f"It was noted as done on {day(action.done_on)}.")]
    return day_has_come(done_on, today, "done_on")


def effect_may_be_checked(
    action: CorrectiveAction, evidence: str, at: dt.datetime, now: dt.datetime
) -> list[Finding]:
    """Say why the effect of an action can't be judged."""
    findings = already_happened(at, now)
    if action.done_on is None:
        findings.append(
            Finding("The action is not done yet. Note it as done, then look.")
        )
    if not evidence.strip():
        findings.append(Finding("Say what shows it: the evidence.", "evidence"))
    return findings
