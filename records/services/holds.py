"""Put things on hold, and release them with a reason."""

import datetime as dt

from django.db.models import Model
from django.utils.timezone import localdate

from records.models import Authority, Deviation, Gauge, Hold, HoldRelease
from records.models.subjects import ANY_KINDS
from records.queries.gauges.spans import span_in_doubt
from records.queries.subjects import kind_of, number_of
from records.rules import holds as rules
from records.rules.authority import may
from records.rules.deviations.opening import joint_is_in
from records.rules.moments import already_happened
from records.services.ledger import Act, Entry
from records.services.refusal import refuse_if_blocked


def hold(
    *,
    act: Act,
    thing: Model,
    reason: str,
    happened_at: dt.datetime,
    joint: int | None = None,
    deviation: Deviation | None = None,
) -> Hold:
    """Put one thing on hold; all that is made of it, or with it, is held too.

    Anybody may. A gauge holds what was measured with it since its last good
    calibration.
    """
    with Entry(act, "hold") as entry:
        entry.subject = number_of(thing)
        refuse_if_blocked(
            [
                *already_happened(happened_at, act.at),
                *rules.hold_has_a_reason(reason),
                *joint_is_in(thing, joint),
            ]
        )
        return entry.add(
            hold_row(
                thing,
                joint=joint,
                reason=reason.strip(),
                happened_at=happened_at,
                deviation=deviation,
            )
        )


def hold_row(
    thing: Model,
    *,
    reason: str,
    happened_at: dt.datetime,
    joint: int | None = None,
    deviation: Deviation | None = None,
) -> Hold:
    """Make a hold, to be written within an open entry."""
    row = Hold(deviation=deviation, joint=joint, reason=reason, happened_at=happened_at)
    if isinstance(thing, Gauge):
        row.readings_from, row.readings_until = span_in_doubt(thing, happened_at)
    setattr(row, kind_of(thing), thing)
    return row


def release_hold(
    *, act: Act, hold: Hold, reason: str, happened_at: dt.datetime
) -> HoldRelease:
    """Release a hold. Needs the authority to dispose, and a decision first."""
    with Entry(act, "release hold") as entry:
        hold = Hold.objects.select_related("deviation", *ANY_KINDS).get(pk=hold.pk)
        entry.subject = number_of(hold.subject)
        refuse_if_blocked(
            [
                *may(act.by, Authority.Act.DISPOSE, localdate(act.at)),
                *already_happened(happened_at, act.at),
                *rules.hold_has_a_reason(reason),
                *rules.hold_may_be_released(hold),
            ]
        )
        return entry.add(
            HoldRelease(hold=hold, reason=reason.strip(), happened_at=happened_at)
        )
