"""Logging readings, and correcting them by a later row that says why."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import replace

from django.db.models import Model

from records.models import Characteristic, Gauge, Reading, Station
from records.queries.readings.context import ReadingContext, context_for
from records.queries.subjects import number_of
from records.rules.finding import Finding
from records.rules.readings.corrections import may_be_corrected, may_be_withdrawn
from records.rules.readings.draft import Draft, may_be_logged
from records.rules.readings.rows import judged_row, row_held_against, stored_limit
from records.services.files import Sent, attach_to_reading, clean
from records.services.ledger import Act, Entry
from records.services.readings.ranges import add_ranges, withdrawn
from records.services.refusal import Refusal, refuse_if_blocked


def log_reading(
    *,
    act: Act,
    subject: Model,
    characteristic: Characteristic,
    entered: str,
    happened_at: dt.datetime,
    unit: str = "",
    gauge: Gauge | None = None,
    blade: int | None = None,
    station: Station | None = None,
    joint: int | None = None,
    point: str = "",
    photo: Sent | None = None,
) -> Reading:
    """Log one reading, judged by the limit in force when it was taken.

    `entered` is kept digit for digit. What only warns is kept as the reading's flags.
    A photo of what was seen is attached to the thing, and goes with the reading.
    Differences between blades or points are computed as soon as they can be, in the
    same entry. Raises `Refusal` with everything that speaks against it.
    """
    draft = Draft(
        subject=subject,
        characteristic=characteristic,
        entered=entered,
        unit=unit,
        happened_at=happened_at,
        gauge=gauge,
        blade=blade,
        station=station,
        joint=joint,
        point=point,
    )
    shown = clean(photo) if photo is not None else None
    with Entry(act, "log reading") as entry:
        entry.subject = number_of(subject)
        context = _bench([draft])
        [row] = checked_rows([draft], context, act.at)
        reading = entry.add(row)
        if shown is not None:
            attach_to_reading(entry, reading, shown)
        context.take([reading])
        add_ranges(entry, context, [reading])
        return reading


def log_grid(*, act: Act, subject: Model, entries: Sequence[Draft]) -> list[Reading]:
    """Log several readings on one thing together: all of them, or none.

    A finding names the entry it belongs to by its place: "entered-3".
    """
    drafts = [replace(entry, subject=subject) for entry in entries]
    with Entry(act, "log readings") as entry:
        entry.subject = number_of(subject)
        if not drafts:
            raise Refusal([Finding("Nothing was entered.")])
        context = _bench(drafts)
        readings = entry.add_many(checked_rows(drafts, context, act.at))
        context.take(readings)
        add_ranges(entry, context, readings)
        return readings


def correct_reading(
    *,
    act: Act,
    reading: Reading,
    entered: str,
    reason: str,
    unit: str = "",
    gauge: Gauge | None = None,
    happened_at: dt.datetime | None = None,
) -> Reading:
    """Correct what was entered: a new row, judged by the limit of the old one.

    Unit, gauge and time stay as they were where none is given. The old row stays
    readable; differences that it was part of are computed again.
    """
    with Entry(act, "correct reading") as entry:
        old = Reading.objects.with_related().get(pk=reading.pk)
        entry.subject = number_of(old.subject)
        draft = Draft(
            subject=old.subject,
            characteristic=old.characteristic,
            entered=entered,
            unit=unit or old.unit,
            happened_at=happened_at or old.happened_at,
            gauge=gauge or old.gauge,
            blade=old.blade,
            station=old.station,
            joint=old.joint,
            point=old.point,
        )
        context = _bench([draft])
        findings = refuse_if_blocked(
            may_be_corrected(old, draft, context, reason, act.at)
        )
        flags = [f.sentence for f in findings]
        rule = old.rule or context.shop.decision_rule
        row = row_held_against(draft, context, stored_limit(old), rule, flags)
        return _in_place_of(
            entry, context, old, _kept(row.reading, row.findings), reason
        )


def withdraw_reading(*, act: Act, reading: Reading, reason: str) -> Reading:
    """Withdraw a reading that should not be here at all: wrong thing, wrong blade.

    It stays readable, with the reason, and counts for nothing.
    """
    with Entry(act, "withdraw reading") as entry:
        old = Reading.objects.with_related().get(pk=reading.pk)
        entry.subject = number_of(old.subject)
        refuse_if_blocked(may_be_withdrawn(old, reason))
        context = context_for(
            old.subject, [old.characteristic], route=old.characteristic.stage.revision
        )
        return _in_place_of(entry, context, old, withdrawn(old), reason)


def checked_rows(
    drafts: Sequence[Draft], context: ReadingContext, now: dt.datetime
) -> list[Reading]:
    """Check and judge readings on one thing; raise all that speaks against them."""
    rows, findings = judged_rows(drafts, context, now)
    if findings:
        raise Refusal(dict.fromkeys(_placed(f, n, len(drafts)) for n, f in findings))
    return rows


def judged_rows(
    drafts: Sequence[Draft], context: ReadingContext, now: dt.datetime
) -> tuple[list[Reading], list[tuple[int, Finding]]]:
    """Judge readings on one thing; give what blocks beside them, by their place.

    What only warns becomes a reading's flags.
    """
    rows: list[Reading] = []
    blocking: list[tuple[int, Finding]] = []
    for place, draft in enumerate(drafts):
        findings = may_be_logged(draft, context, now)
        blockers = [f for f in findings if f.blocks]
        if not blockers:
            row = judged_row(draft, context, [f.sentence for f in findings])
            blockers = list(row.findings)
            rows += [row.reading] if row.reading else []
        blocking += [(place, f) for f in blockers]
    return rows, blocking


def _bench(drafts: Sequence[Draft]) -> ReadingContext:
    characteristics = [d.characteristic for d in drafts]
    return context_for(
        drafts[0].subject,
        characteristics,
        [d.gauge for d in drafts],
        characteristics[0].stage.revision,
    )


def _in_place_of(
    entry: Entry, context: ReadingContext, old: Reading, row: Reading, reason: str
) -> Reading:
    row.corrects, row.reason = old, reason.strip()
    new = entry.add(row)
    context.take([new])
    add_ranges(entry, context, [new], keep_limit=True)
    return new


def _kept(row: Reading | None, findings: Sequence[Finding]) -> Reading:
    if row is None:
        raise Refusal(findings)
    return row


def _placed(finding: Finding, place: int, count: int) -> Finding:
    if count == 1 or not finding.field:
        return finding
    return replace(finding, field=f"{finding.field}-{place}")
