"""What the pages of releases and records show, as ready strings."""

from dataclasses import dataclass
from typing import Any

from django.urls import reverse

from records.models import ConformityRecord, Propeller
from records.queries.conformity import record_in_force, records_of
from records.queries.release import last_release
from records.queries.subjects import called
from records.rules.release import Reason
from records.templatetags.quantities import when
from records.web.shared.pages import attach_page, log_page, page_of, sign_page

State = Propeller.State
RELEASE_CAUTION = (
    "This book certifies nothing. Airworthiness is decided by the approved design, "
    "local rules and licensed people."
)
Standing = tuple[str, str]


@dataclass(frozen=True, slots=True)
class ReasonLine:
    """A reason against a release, and the page where it is put right."""

    sentence: str
    weight: str
    url: str
    label: str


def standing(record: ConformityRecord) -> Standing:
    """Say whether a record is in force: a verdict and its word."""
    if hasattr(record, "withdrawal"):
        return "void", "withdrawn"
    if hasattr(record, "replaced_by"):
        return "stale", f"replaced by {record.replaced_by.number}"
    return "ok", "in force"


def reason_lines(reasons: list[Reason]) -> list[ReasonLine]:
    """Spell reasons with their links."""
    return [
        ReasonLine(r.finding.sentence, r.finding.weight, *_where(r)) for r in reasons
    ]


def _where(reason: Reason) -> tuple[str, str]:
    if reason.deviation is not None:
        number = reason.deviation.number
        return reverse("deviations:deviation", args=[number]), f"Deviation {number}"
    if reason.slot is not None:
        name = reason.slot.characteristic.name.lower()
        return log_page(reason.thing, reason.slot), f"Log {name}"
    if reason.stage is not None and reason.stage.scope == _scope(reason):
        return sign_page(reason.thing, reason.stage), f"Sign {reason.stage.name}"
    return page_of(reason.thing), called(reason.thing).capitalize()


def _scope(reason: Reason) -> str:
    return reason.thing._meta.model_name or ""


def propeller_actions(propeller: Propeller) -> list[tuple[str, str, str]]:
    """List what else can be done about a propeller's papers."""
    serial = [propeller.serial]
    return [
        ("Build record (PDF)", reverse("conformity:build_record", args=serial), ""),
        ("Label", f"{reverse('tags:labels')}?kind=propeller&number={serial[0]}", ""),
        ("Photo of the marking", attach_page(propeller), ""),
        ("Owner and service", reverse("service:propeller", args=serial), ""),
    ]


def release_page(propeller: Propeller, reasons: list[Reason]) -> dict[str, Any]:
    """Gather the page of a release: every reason, or what comes next."""
    released = last_release(propeller)
    record = record_in_force(propeller)
    blocked = [r for r in reasons if r.finding.blocks]
    facts = [
        ("Model", f"{propeller.revision.design.model} {propeller.revision}"),
        ("Basis", propeller.revision.get_basis_display()),
        ("State", propeller.get_state_display()),
    ]
    if released:
        by = released.printed_name
        facts.append(("Released", f"{when(released.happened_at)}, {by}"))
    return {
        "propeller": propeller,
        "reasons": reason_lines(reasons),
        "blocked": len(blocked),
        "records": [(r, *standing(r)) for r in records_of(propeller)],
        "record": record,
        "facts": facts,
        "is_released": propeller.state in {State.RELEASED, State.DELIVERED},
        "in_shop": propeller.state in {State.IN_WORK, State.RETURNED},
        "caution": RELEASE_CAUTION,
        "actions": propeller_actions(propeller),
    }


def record_page(record: ConformityRecord) -> dict[str, Any]:
    """Gather the page of a record."""
    replaced = record.replaces.number if record.replaces else "none"
    facts = [
        ("Propeller", record.propeller.serial),
        ("Model", record.propeller.revision.design.model),
        ("Issue", str(record.issue)),
        ("Issued", when(record.issued_at)),
        ("Signed by", record.signer),
        ("Replaces", replaced),
    ]
    if record.reason:
        facts.append(("Because", record.reason))
    if hasattr(record, "withdrawal"):
        taken = record.withdrawal
        facts.append(("Withdrawn", f"{when(taken.happened_at)}: {taken.reason}"))
    return {
        "record": record,
        "verdict": standing(record),
        "facts": facts,
        "proof": [
            ("Facts, SHA-256", record.facts_digest),
            ("Ledger's head then", record.ledger_head),
            ("PDF, SHA-256", record.pdf.sha256),
        ],
    }
