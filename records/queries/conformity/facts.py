"""All that a conformity record says, as plain facts: frozen, sealed and printed.

The same book and the same `Issue` give the same facts. What a customer should not see
(suppliers, other customers, staff beyond the signers, private notes) never enters.
"""

import datetime as dt
from dataclasses import dataclass
from typing import Any, Final

from django.utils.timezone import get_current_timezone_name

from records.models import (
    Attachment,
    ConformityRecord,
    Propeller,
    Reading,
    ServiceEvent,
    Shop,
)
from records.queries.builds.progress import Progress, progress_of
from records.queries.builds.register import designations_of
from records.queries.conformity.build import construction_facts
from records.queries.conformity.checks import (
    concession_facts,
    coupon_facts,
    inspection_facts,
    instrument_facts,
)
from records.queries.conformity.design import design_facts, mounting_facts
from records.queries.conformity.measurements import (
    BALANCE,
    HUB,
    LENGTH,
    Measurements,
    Purpose,
    measurements_of,
    moment,
    reading_fact,
)
from records.queries.conformity.release import last_release
from records.queries.service.owners import notices_in_force

SCHEMA: Final = "conformity-record-1"


@dataclass(frozen=True, slots=True)
class Issue:
    """What is decided when a record is issued, beside what is in the book."""

    number: str
    issue: int
    issued_at: dt.datetime
    signer: str
    place: str
    packing: str
    tag_code: str
    ledger_head: str
    ledger_sequence: int
    replaces: ConformityRecord | None = None
    reason: str = ""
    stamp: Attachment | None = None


def conformity_facts(propeller: Propeller, issue: Issue) -> dict[str, Any]:
    """Gather every fact of a conformity record, in a constant number of queries."""
    progress = progress_of(propeller)
    whole = progress.provenance.propeller or propeller
    shop = Shop.objects.get()
    measured = measurements_of(progress)
    return {
        "schema": SCHEMA,
        "record": _record(issue, shop),
        "maker": {"name": shop.name, "address": shop.address, "contact": shop.contact},
        "design": design_facts(whole.revision),
        "propeller": _propeller(whole, progress, measured),
        "stamp_photo": _stamp(issue.stamp),
        "construction": {
            **construction_facts(progress.provenance),
            "balance_weights": [
                r.entered for r in measured.all_of(Purpose.BALANCE_WEIGHT)
            ],
        },
        "mounting": {
            **mounting_facts(whole.revision),
            "read": _readings(measured, measured.latest(*HUB)),
            "hub_thickness_read": _readings(
                measured, measured.latest(Purpose.HUB_AT_DISPATCH)
            ),
        },
        "measured": _measured(measured),
        "coupons": coupon_facts(progress),
        "instruments": instrument_facts(progress),
        "concessions": concession_facts(progress),
        "inspection": inspection_facts(progress),
        "service": _service(whole),
        "notices": _notices(whole),
        "tag": {"address": shop.base_url, "code": issue.tag_code},
        "ledger": {"digest": issue.ledger_head, "sequence": issue.ledger_sequence},
    }


def _record(issue: Issue, shop: Shop) -> dict[str, Any]:
    old = issue.replaces
    return {
        "number": issue.number,
        "issue": issue.issue,
        "issued_at": moment(issue.issued_at),
        "place": issue.place,
        "signer": issue.signer,
        "packing": issue.packing,
        "retention": shop.retention,
        "units_first": shop.units_first,
        "time_zone": get_current_timezone_name(),
        "replaces": old
        and {
            "number": old.number,
            "issue": old.issue,
            "issued_at": moment(old.issued_at),
            "reason": issue.reason,
        },
    }


def _propeller(
    propeller: Propeller, progress: Progress, measured: Measurements
) -> dict[str, Any]:
    release = last_release(propeller)
    signed = [s.signed for s in progress.of(propeller) if s.signed]
    made = signed[-2] if len(signed) > 1 else signed[-1] if signed else None
    return {
        "serial": propeller.serial,
        "blank": progress.provenance.blank.number
        if progress.provenance.blank
        else None,
        "completed_at": moment(made.happened_at if made else None),
        "released_at": moment(release.happened_at if release else None),
        "marked_as": [r.entered for r in measured.latest(Purpose.MARKING)],
        "mass": _readings(measured, measured.latest(Purpose.MASS)),
        "designated": [
            {
                "before": f"{d.before.design.model} {d.before}",
                "after": f"{d.after.design.model} {d.after}",
                "at": moment(d.happened_at),
                "reason": d.reason,
            }
            for d in designations_of(propeller)
        ],
    }


def _measured(measured: Measurements) -> dict[str, Any]:
    angle = measured.nominal("angle")
    chosen = {
        "angle": angle,
        "angle_difference": measured.compared(angle),
        "chord": measured.nominal("chord"),
        "thickness": measured.nominal("thickness"),
        "track": measured.latest(Purpose.TRACK),
        "tip": measured.latest(Purpose.TIP),
        "unbalance": measured.latest(*BALANCE),
        "moisture": measured.latest(Purpose.MOISTURE),
        "humidity": measured.latest(Purpose.HUMIDITY),
        "temperature": measured.latest(Purpose.TEMPERATURE),
        "length": measured.latest(*LENGTH),
        "further": measured.further(),
    }
    return {name: _readings(measured, those) for name, those in chosen.items()}


def _readings(measured: Measurements, readings: list[Reading]) -> list[dict[str, Any]]:
    accepted = measured.concessions()
    return [reading_fact(r, accepted=r.pk in accepted) for r in readings]


def _service(propeller: Propeller) -> list[dict[str, Any]]:
    shown = (ServiceEvent.Kind.RETURNED, ServiceEvent.Kind.WORK)
    events = propeller.service_events.filter(kind__in=shown)
    return [
        {
            "kind": event.get_kind_display(),
            "at": moment(event.happened_at),
            "hours": str(event.hours) if event.hours is not None else None,
            "work": event.findings if event.kind == ServiceEvent.Kind.WORK else "",
        }
        for event in events.order_by("happened_at", "pk")
    ]


def _notices(propeller: Propeller) -> list[dict[str, Any]]:
    return [
        {
            "number": notice.number,
            "title": notice.title,
            "text": notice.text,
            "do_not_fly": notice.do_not_fly,
            "issued_at": moment(notice.happened_at),
        }
        for notice in notices_in_force(propeller)
    ]


def _stamp(photo: Attachment | None) -> dict[str, Any] | None:
    if photo is None:
        return None
    return {
        "sha256": photo.file.sha256,
        "caption": photo.caption,
        "taken_at": moment(photo.happened_at),
    }
