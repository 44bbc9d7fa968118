"""Is there a copy of the book that would do if this machine were lost tonight."""

import datetime as dt

from records.models import BackupRun
from records.rules.finding import Finding, warning
from records.spelling.moments import when

LONG_AGO = dt.timedelta(hours=48)
HOW = (
    "Make one with: manage.py backup FILE, or each night with: start --nightly FOLDER."
)


def backup_is_recent(
    last: BackupRun | None, good: BackupRun | None, at: dt.datetime
) -> list[Finding]:
    """Warn of a missing, an old or a failed backup; `last` may be a failed one."""
    findings = []
    if good is None:
        findings.append(warning(f"No good backup was ever made. {HOW}"))
    elif at - good.at > LONG_AGO:
        days = (at - good.at).days
        findings.append(warning(f"The last good backup is {days} days old. {HOW}"))
    if last is not None and not last.good:
        findings.append(
            warning(
                f"The backup of {when(last.at)}, {last.file_name}, was not good: the "
                "book or its files have breaks. See: manage.py verify_records."
            )
        )
    return findings
