"""What the pages of releases and records show, as ready strings."""

from dataclasses import dataclass, replace
from typing import Any

from django.urls import reverse

from records.documents.spelling import in_groups
from records.models import ConformityRecord, Propeller
from records.queries.conformity.register import record_in_force, records_of
from records.queries.conformity.release import last_release
from records.queries.subjects import called
from records.rules.finding import Finding
from records.rules.gates.release import Reason
from records.spelling.moments import when
from records.spelling.verdicts import Verdict
from records.web.shared.pages import attach_page, log_page, page_of, sign_page
from records.web.shared.parts import Action

State = Propeller.State
RELEASE_CAUTION = (
    "This book certifies nothing. Airworthiness is decided by the approved design, "
    "local rules and licensed people."
)


@dataclass(frozen=True, slots=True)
class ReasonGroup:
    """Reasons against a release that are put right at one place."""

    title: str
    url: str
    label: str
    findings: list[Finding]


def standing(record: ConformityRecord) -> Verdict:
    """Say whether a record is in force: a verdict and its word."""
    if hasattr(record, "withdrawal"):
        return Verdict("void", "withdrawn")
    if hasattr(record, "replaced_by"):
        return Verdict("stale", f"replaced by {record.replaced_by.number}")
    return Verdict("ok", "in force")


def reason_groups(reasons: list[Reason]) -> list[ReasonGroup]:
    """Group reasons by the place where they are put right, with its page."""
    groups: dict[str, ReasonGroup] = {}
    for reason in reasons:
        title, url, label = _where(reason)
        group = groups.setdefault(title, ReasonGroup(title, url, label, []))
        sentence = reason.short or reason.finding.sentence
        group.findings.append(replace(reason.finding, sentence=sentence))
    return list(groups.values())


def _where(reason: Reason) -> tuple[str, str, str]:
    """Name the place, its page, and what is pressed to get there."""
    if reason.deviation is not None:
        number = reason.deviation.number
        page = reverse("deviations:deviation", args=[number])
        return f"Deviation {number}", page, f"Decide on {number}"
    name = f"{called(reason.thing)[0].upper()}{called(reason.thing)[1:]}"
    if reason.stage is None or reason.stage.scope != reason.thing._meta.model_name:
        return name, page_of(reason.thing), f"See {called(reason.thing)}"
    title = f"{reason.stage.name}, {called(reason.thing)}"
    if reason.slot is not None:
        label = f"Log {reason.slot.characteristic.name.lower()}"
        return title, log_page(reason.thing, reason.slot), label
    return title, sign_page(reason.thing, reason.stage), f"Sign {reason.stage.name}"


def propeller_actions(propeller: Propeller) -> list[Action]:
    """List what else can be done about a propeller's papers."""
    serial = [propeller.serial]
    return [
        Action(
            "Build record (PDF)", reverse("conformity:build_record", args=serial), ""
        ),
        Action(
            "Label", f"{reverse('tags:labels')}?kind=propeller&number={serial[0]}", ""
        ),
        Action("Photo of the marking", attach_page(propeller), ""),
        Action("Owner and service", reverse("service:propeller", args=serial), ""),
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
        "groups": reason_groups(reasons),
        "blocked": len(blocked),
        "records": [(r, standing(r)) for r in records_of(propeller)],
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
            ("Facts, SHA-256", in_groups(record.facts_digest)),
            ("Ledger's head then", in_groups(record.ledger_head)),
            ("PDF, SHA-256", in_groups(record.pdf.sha256)),
        ],
    }
