"""Corrective actions: what is done so that it does not happen again."""

import datetime as dt

from django.utils.timezone import localdate

from records.models import CorrectiveAction, Deviation, EffectivenessCheck, Person
from records.rules.deviations import opening as rules
from records.services.ledger import Act, Entry
from records.services.refusal import refuse_if_blocked


def add_action(
    *,
    act: Act,
    deviation: Deviation,
    what: str,
    owner: Person,
    due_on: dt.date,
    look_on: dt.date,
) -> CorrectiveAction:
    """Say what is done by whom by when, and when to look whether it worked."""
    with Entry(act, "add action") as entry:
        entry.subject = deviation.number
        deviation.refresh_from_db()
        today = localdate(act.at)
        refuse_if_blocked(
            [
                *rules.deviation_is_open(deviation),
                *rules.action_may_be_added(what, owner, due_on, look_on, today),
            ]
        )
        return entry.add(
            CorrectiveAction(
                deviation=deviation,
                what=what.strip(),
                owner=owner,
                due_on=due_on,
                look_on=look_on,
            )
        )


def finish_action(
    *, act: Act, action: CorrectiveAction, done_on: dt.date
) -> CorrectiveAction:
    """Note that an action is done."""
    with Entry(act, "finish action") as entry:
        action = _action(entry, action)
        refuse_if_blocked(
            rules.action_may_be_finished(action, done_on, localdate(act.at))
        )
        return entry.change(action, done_on=done_on)


def check_effectiveness(
    *,
    act: Act,
    action: CorrectiveAction,
    effective: bool,
    evidence: str,
    happened_at: dt.datetime,
) -> EffectivenessCheck:
    """Write down whether an action worked, and what shows it."""
    with Entry(act, "check effectiveness") as entry:
        action = _action(entry, action)
        refuse_if_blocked(
            rules.effect_may_be_checked(action, evidence, happened_at, act.at)
        )
        return entry.add(
            EffectivenessCheck(
                action=action,
                effective=effective,
                evidence=evidence.strip(),
                happened_at=happened_at,
            )
        )


def _action(entry: Entry, action: CorrectiveAction) -> CorrectiveAction:
    this_action = CorrectiveAction.objects.select_related("deviation").get(pk=action.pk)
    entry.subject = this_action.deviation.number
    return this_action
