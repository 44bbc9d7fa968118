"""May this reading be corrected, or withdrawn: what speaks against it."""

import datetime as dt

from records.models import Reading
from records.queries.readings.context import ReadingContext
from records.rules.figures import figure_is_possible
from records.rules.finding import Finding
from records.rules.moments import already_happened
from records.rules.readings.draft import Draft, gauge_is_right, measures


def may_be_corrected(
    old: Reading, draft: Draft, context: ReadingContext, reason: str, now: dt.datetime
) -> list[Finding]:
    """Say what speaks against a correction; its place in the plan stays as it was."""
    characteristic = draft.characteristic
    return [
        *may_be_withdrawn(old, reason),
        *figure_is_possible(characteristic, draft.entered, draft.unit, measures(draft)),
        *already_happened(draft.happened_at, now),
        *gauge_is_right(draft, context),
    ]


def may_be_withdrawn(old: Reading, reason: str) -> list[Finding]:
    """Say why a row can't be corrected or withdrawn. Its `corrected_by` is asked."""
    findings = []
    if Reading.objects.filter(corrects=old).exists():
        findings.append(Finding("This reading was corrected already: take the newest."))
    if old.verdict == Reading.Verdict.WITHDRAWN:
        findings.append(Finding("This reading is withdrawn already."))
    if old.characteristic.is_range:
        findings.append(
            Finding(
                f"{old.characteristic} is computed: correct the reading it comes from."
            )
        )
    if not reason.strip():
        findings.append(Finding("Say why, for whoever reads it later.", "reason"))
    return findings
