"""Notices to the owners of certain serials, and what became of each."""

import datetime as dt
from collections.abc import Sequence

from django.utils.timezone import localdate

from records.models import Authority, Notice, NoticeSerial, NoticeStep, Propeller
from records.rules.authority import may
from records.rules.moments import already_happened
from records.rules.service import events as rules
from records.services.ledger import Act, Entry
from records.services.refusal import refuse_if_blocked


def issue_notice(
    *,
    act: Act,
    title: str,
    text: str,
    propellers: Sequence[Propeller],
    happened_at: dt.datetime,
    do_not_fly: bool = False,
) -> Notice:
    """Issue a notice for exactly these serials. Needs the authority to release.

    It is in force for a serial until what it asks is noted as done there.
    """
    with Entry(act, "issue notice") as entry:
        refuse_if_blocked(
            [
                *may(act.by, Authority.Act.RELEASE, localdate(act.at)),
                *already_happened(happened_at, act.at),
                *rules.notice_is_whole(title, text, propellers),
            ]
        )
        notice = entry.add(
            Notice(
                number=_next_number(),
                title=title.strip(),
                text=text.strip(),
                do_not_fly=do_not_fly,
                happened_at=happened_at,
            )
        )
        entry.subject = notice.number
        each = {propeller.pk: propeller for propeller in propellers}
        entry.add_many(
            [NoticeSerial(notice=notice, propeller=p) for p in each.values()]
        )
        return notice


def note_steps(
    *,
    act: Act,
    serials: Sequence[NoticeSerial],
    kind: str,
    happened_at: dt.datetime,
    note: str = "",
) -> list[NoticeStep]:
    """Note that a notice was sent, acknowledged, came back, or is done.

    The same step for one or several of its serials: all of them, or none.
    """
    with Entry(act, "note notice steps") as entry:
        rows = NoticeSerial.objects.select_related("notice").prefetch_related("steps")
        notice_steps = list(rows.filter(pk__in=[s.pk for s in serials]).order_by("pk"))
        entry.subject = notice_steps[0].notice.number if notice_steps else ""
        for row in notice_steps:
            refuse_if_blocked(
                rules.step_may_follow(
                    kind,
                    row.steps.all(),
                    happened_at,
                    issued_at=row.notice.happened_at,
                    now=act.at,
                )
            )
        return entry.add_many(
            [
                NoticeStep(
                    serial=row, kind=kind, happened_at=happened_at, note=note.strip()
                )
                for row in notice_steps
            ]
        )


def _next_number() -> str:
    """Take the next number: notices are never deleted, and one is written at a time."""
    return f"N{Notice.objects.count() + 1:03}"
