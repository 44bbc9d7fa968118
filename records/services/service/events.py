"""After the shop: hand propellers over, keep owners, note what happens in service."""

import datetime as dt
from decimal import Decimal
from typing import Any

from records.models import Owner, Ownership, Propeller, ServiceEvent
from records.queries.conformity.register import record_in_force
from records.queries.conformity.release import last_release
from records.queries.service.owners import owner_now
from records.rules.finding import Finding
from records.rules.service import events as rules
from records.services.ledger import Act, Entry
from records.services.refusal import refuse_if_blocked

STATE_AFTER = {
    ServiceEvent.Kind.RETURNED: Propeller.State.RETURNED,
    ServiceEvent.Kind.RETIRED: Propeller.State.RETIRED,
}


def add_owner(*, act: Act, name: str, address: str = "", contact: str = "") -> Owner:
    """Put an owner in the book."""
    with Entry(act, "add owner") as entry:
        entry.subject = name.strip()
        missing = [] if name.strip() else [Finding("Give the owner's name.", "name")]
        refuse_if_blocked(missing)
        return entry.add(
            Owner(name=name.strip(), address=address.strip(), contact=contact.strip())
        )


def change_owner(*, act: Act, owner: Owner, **fields: Any) -> Owner:
    """Change an owner's address or contact; the old one stays in the ledger."""
    with Entry(act, "change owner") as entry:
        owner = Owner.objects.get(pk=owner.pk)
        entry.subject = owner.name
        return entry.change(owner, **fields)


def hand_over(
    *,
    act: Act,
    propeller: Propeller,
    owner: Owner,
    happened_at: dt.datetime,
    aircraft: str = "",
    carrier: str = "",
) -> Ownership:
    """Hand a released propeller with its conformity record to its owner."""
    with Entry(act, "hand over") as entry:
        propeller = Propeller.objects.with_related().get(pk=propeller.pk)
        entry.subject = propeller.serial
        before = owner_now(propeller)
        refuse_if_blocked(
            [
                *rules.may_be_handed_over(
                    propeller, record_in_force(propeller), last_release(propeller)
                ),
                *rules.handed_over_in_order(happened_at, before, act.at),
            ]
        )
        entry.change(propeller, state=Propeller.State.DELIVERED)
        return entry.add(
            Ownership(
                propeller=propeller,
                owner=owner,
                happened_at=happened_at,
                aircraft=aircraft.strip(),
                carrier=carrier.strip(),
            )
        )


def note_new_owner(
    *,
    act: Act,
    propeller: Propeller,
    owner: Owner,
    happened_at: dt.datetime,
    aircraft: str = "",
) -> Ownership:
    """Note that a delivered propeller belongs to somebody else now."""
    with Entry(act, "note new owner") as entry:
        propeller = Propeller.objects.get(pk=propeller.pk)
        entry.subject = propeller.serial
        before = owner_now(propeller)
        refuse_if_blocked(
            [
                *rules.may_change_owner(propeller, before),
                *rules.handed_over_in_order(happened_at, before, act.at),
            ]
        )
        return entry.add(
            Ownership(
                propeller=propeller,
                owner=owner,
                happened_at=happened_at,
                aircraft=aircraft.strip(),
            )
        )


def record_service_event(
    *,
    act: Act,
    propeller: Propeller,
    kind: str,
    happened_at: dt.datetime,
    findings: str,
    hours: Decimal | None = None,
) -> ServiceEvent:
    """Note a report, a return, work done, or the end of a propeller's service.

    A return or an end changes its state; what was built and issued stays as it is.
    """
    with Entry(act, "record service event") as entry:
        propeller = Propeller.objects.with_related().get(pk=propeller.pk)
        entry.subject = propeller.serial
        refuse_if_blocked(
            rules.event_is_possible(
                propeller,
                kind,
                happened_at=happened_at,
                findings=findings,
                now=act.at,
                since=owner_now(propeller),
            )
        )
        event = entry.add(
            ServiceEvent(
                propeller=propeller,
                kind=kind,
                happened_at=happened_at,
                hours=hours,
                findings=findings.strip(),
            )
        )
        state = STATE_AFTER.get(ServiceEvent.Kind(kind))
        if state:
            entry.change(propeller, state=state)
        return event
