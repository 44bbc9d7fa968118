"""What the pages of owners, service and notices show, as ready strings."""

from dataclasses import dataclass
from typing import Any

from django.urls import reverse

from records.models import Notice, Owner, Ownership, Propeller, ServiceEvent
from records.queries.conformity.register import record_in_force
from records.queries.service.owners import (
    NoticeLine,
    events_of,
    lines_of,
    notices_in_force,
    ownerships_of,
    propellers_of,
)
from records.spelling.moments import when
from records.spelling.quantities import in_unit
from records.spelling.verdicts import Verdict
from records.web.shared.pages import attach_page
from records.web.shared.parts import Action

State = Propeller.State
VERDICTS: dict[str, str] = {
    State.IN_WORK: "waiting",
    State.RELEASED: "ok",
    State.DELIVERED: "ok",
    State.RETURNED: "waiting",
    State.RETIRED: "void",
    State.SCRAPPED: "void",
}


@dataclass(frozen=True, slots=True)
class EventLine:
    """Something that happened after delivery."""

    what: str
    about: str
    text: str


@dataclass(frozen=True, slots=True)
class SerialLine:
    """A serial under a notice, its owner, and what became of it."""

    serial: str
    url: str
    owner: str
    contact: str
    verdict: str
    word: str
    steps: list[str]


def service_page(propeller: Propeller, disabled_reason: str) -> dict[str, Any]:
    """Gather the service page of a propeller."""
    record = record_in_force(propeller)
    owners = ownerships_of(propeller)
    return {
        "propeller": propeller,
        "verdict": Verdict(VERDICTS[propeller.state], propeller.get_state_display()),
        "step": _step(
            propeller, has_record=record is not None, disabled_reason=disabled_reason
        ),
        "record": record,
        "owners": [_owned(o) for o in reversed(owners)],
        "events": [_event(e) for e in reversed(events_of(propeller))],
        "notices": notices_in_force(propeller),
        "actions": _actions(propeller, disabled_reason),
    }


def _step(
    propeller: Propeller, *, has_record: bool, disabled_reason: str
) -> tuple[str, str, str]:
    serial = [propeller.serial]
    if propeller.state == State.RELEASED and has_record:
        return (
            "Hand it over",
            reverse("service:hand_over", args=serial),
            disabled_reason,
        )
    if propeller.state == State.RELEASED:
        return (
            "Issue its record",
            reverse("conformity:issue", args=serial),
            disabled_reason,
        )
    if propeller.state == State.DELIVERED:
        return (
            "Note what happened",
            reverse("service:event", args=serial),
            disabled_reason,
        )
    if propeller.state == State.RETURNED:
        return (
            "Note work done",
            f"{reverse('service:event', args=serial)}?kind=work",
            disabled_reason,
        )
    return "See its history", reverse("trace:serial", args=serial), ""


def _actions(propeller: Propeller, disabled_reason: str) -> list[Action]:
    serial = [propeller.serial]
    delivered = propeller.state in {State.DELIVERED, State.RETURNED}
    not_out = "" if delivered else "It has not been handed over."
    return [
        Action(
            "New owner",
            reverse("service:new_owner", args=serial),
            disabled_reason or not_out,
        ),
        Action(
            "Event in service",
            reverse("service:event", args=serial),
            disabled_reason or not_out,
        ),
        Action("Photo or paper", attach_page(propeller), disabled_reason),
        Action("Release page", reverse("conformity:release", args=serial), ""),
    ]


def _owned(row: Ownership) -> tuple[Owner, str]:
    parts = [when(row.happened_at), row.aircraft, row.carrier]
    return row.owner, ", ".join(part for part in parts if part)


def _event(event: ServiceEvent) -> EventLine:
    parts = [when(event.happened_at), event.written_by.name]
    if event.hours is not None:
        parts.append(in_unit(event.hours, "h"))
    return EventLine(event.get_kind_display(), ", ".join(parts), event.findings)


def owner_page(owner: Owner) -> dict[str, Any]:
    """Gather the page of an owner."""
    return {
        "owner": owner,
        "facts": [
            ("Address", owner.address or None),
            ("Contact", owner.contact or None),
        ],
        "owned": [
            (
                row.propeller,
                f"{row.propeller.revision.design.model}, since {when(row.happened_at)}",
            )
            for row in propellers_of(owner)
        ],
    }


def notice_page(notice: Notice) -> dict[str, Any]:
    """Gather the page of a notice: every serial with owner and steps."""
    lines = [_serial_line(line) for line in lines_of(notice)]
    done = sum(line.verdict == "ok" for line in lines)
    return {
        "notice": notice,
        "issued": when(notice.happened_at),
        "lines": lines,
        "done": done,
        "verdict": (
            Verdict("ok", "done for every serial")
            if done == len(lines)
            else Verdict("waiting", "in force", f"done for {done} of {len(lines)}")
        ),
    }


def _serial_line(line: NoticeLine) -> SerialLine:
    last = line.last
    propeller = line.row.propeller
    verdict = {
        None: "waiting",
        "sent": "waiting",
        "acknowledged": "inside",
        "undelivered": "outside",
        "done": "ok",
    }[last.kind if last else None]
    return SerialLine(
        serial=propeller.serial,
        url=reverse("service:propeller", args=[propeller.serial]),
        owner=line.owner.name if line.owner else "no owner in the book",
        contact=line.owner.contact if line.owner else "",
        verdict=verdict,
        word=last.get_kind_display() if last else "not sent",
        steps=[
            f"{when(s.happened_at)}: {s.get_kind_display()}"
            + (f" ({s.note})" if s.note else "")
            for s in line.steps
        ],
    )
