"""May a conformity record be issued or withdrawn? Every reason at once."""

import datetime as dt

from records.models import ConformityRecord, Propeller
from records.queries.builds.progress import progress_of
from records.queries.conformity.register import newest_record
from records.rules.finding import Finding
from records.rules.gates.release import standing_reasons
from records.rules.moments import already_happened

ISSUED_FOR = (Propeller.State.RELEASED, Propeller.State.DELIVERED)
KEYS_ARE_MISSING = (
    "The shop's keys are missing, so the record can't be sealed. Put the folder of the "
    "keys back from a backup, or make new ones: manage.py new_keys."
)


def record_may_be_issued(
    propeller: Propeller, reason: str, *, place: str, sealable: bool
) -> list[Finding]:
    """Say everything that speaks against issuing a record for a propeller now."""
    findings = [] if sealable else [Finding(KEYS_ARE_MISSING)]
    if propeller.state not in ISSUED_FOR:
        state = propeller.get_state_display()
        findings.append(Finding(f"Propeller {propeller} is {state}: release it first."))
    if not place.strip():
        findings.append(
            Finding("Say at which place the record is issued (the shop's).", "place")
        )
    old = newest_record(propeller)
    if old and not reason.strip():
        sentence = f"It replaces {old.number}. Say why it is issued again."
        findings.append(Finding(sentence, "reason"))
    if propeller.state in ISSUED_FOR:
        reasons = standing_reasons(propeller, progress_of(propeller))
        findings += [reason.finding for reason in reasons]
    return findings


def record_may_be_withdrawn(
    record: ConformityRecord, reason: str, happened_at: dt.datetime, now: dt.datetime
) -> list[Finding]:
    """Say why a record can't be withdrawn."""
    findings = already_happened(happened_at, now)
    # A form gives whole minutes.
    if happened_at < record.issued_at.replace(second=0, microsecond=0):
        findings.append(
            Finding("It was issued after that. Check the time.", "happened_at")
        )
    if not reason.strip():
        findings.append(Finding("Say why it is withdrawn.", "reason"))
    if hasattr(record, "withdrawal"):
        findings.append(Finding(f"Record {record.number} is withdrawn already."))
    elif hasattr(record, "replaced_by"):
        findings.append(
            Finding(
                f"Record {record.number} was replaced by {record.replaced_by.number}. "
                "Withdraw that one."
            )
        )
    return findings
