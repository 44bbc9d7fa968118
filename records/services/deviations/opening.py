"""Open deviations, say what they touch and why it happened, and close them."""

import datetime as dt
from collections.abc import Iterable, Sequence

from django.utils.timezone import localdate

from records.models import Authority, Deviation, DeviationSubject, Stage
from records.queries.deviations.register import subjects_of
from records.queries.subjects import called, kind_of
from records.rules.authority import may
from records.rules.deviations import opening as rules
from records.rules.deviations.opening import Touched
from records.rules.finding import Finding
from records.services.files import Cleaned, Sent, attach, clean
from records.services.holds import hold_row
from records.services.ledger import Act, Entry
from records.services.numbers import next_number
from records.services.refusal import refuse_if_blocked


def open_deviation(
    *,
    act: Act,
    title: str,
    things: Sequence[Touched],
    required: str,
    found: str,
    happened_at: dt.datetime,
    stage: Stage | None = None,
    hold: bool = True,
    photo: Sent | None = None,
) -> Deviation:
    """Open a deviation about one or more things, and hold each unless told not to.

    Anybody may. The number is the next of its series and never given out again. A
    photo is attached to the first thing.
    """
    picture = clean(photo) if photo else None
    with Entry(act, "open deviation") as entry:
        refuse_if_blocked(
            rules.deviation_may_open(
                things,
                title=title,
                required=required,
                found=found,
                happened_at=happened_at,
                now=act.at,
            )
        )
        deviation = entry.add(
            Deviation(
                number=next_number("deviation", act.at),
                title=title.strip(),
                stage=stage,
                required=required.strip(),
                found=found.strip(),
                happened_at=happened_at,
            )
        )
        entry.subject = deviation.number
        touch(entry, deviation, things, held=things if hold else ())
        if picture:
            _attach(entry, deviation, things[0], picture)
        return deviation


def _attach(entry: Entry, deviation: Deviation, one: Touched, photo: Cleaned) -> None:
    caption = f"Photo for deviation {deviation.number}"
    at = deviation.happened_at
    attach(entry, one.thing, photo, caption=caption, happened_at=at)


def add_things(
    *, act: Act, deviation: Deviation, things: Sequence[Touched], hold: bool = True
) -> Deviation:
    """Add things that an open deviation turned out to touch as well."""
    with Entry(act, "add to deviation") as entry:
        deviation = _locked(entry, deviation)
        refuse_if_blocked(
            [
                *rules.deviation_is_open(deviation),
                *rules.things_are_named(things),
                *_named_before(deviation, things),
            ]
        )
        touch(entry, deviation, things, held=things if hold else ())
        return deviation


def touch(
    entry: Entry,
    deviation: Deviation,
    things: Iterable[Touched],
    *,
    held: Iterable[Touched],
) -> None:
    """Write what a deviation is about, and put holds on `held`, in an open entry."""
    entry.add_many([_subject(deviation, one) for one in things])
    entry.add_many(
        [
            hold_row(
                one.thing,
                joint=one.joint,
                reason=deviation.title,
                happened_at=deviation.happened_at,
                deviation=deviation,
            )
            for one in _each_thing_once(held)
        ]
    )


def _subject(deviation: Deviation, one: Touched) -> DeviationSubject:
    subject = DeviationSubject(
        deviation=deviation, joint=one.joint, reading=one.reading
    )
    setattr(subject, kind_of(one.thing), one.thing)
    return subject


def _each_thing_once(things: Iterable[Touched]) -> list[Touched]:
    return list({(one.thing, one.joint): one for one in things}.values())


def set_cause(
    *, act: Act, deviation: Deviation, cause_kind: str, cause: str
) -> Deviation:
    """Say where the cause lies, and in words what it was."""
    with Entry(act, "set cause") as entry:
        deviation = _locked(entry, deviation)
        refuse_if_blocked(
            [
                *rules.deviation_is_open(deviation),
                *rules.cause_is_said(cause_kind, cause),
            ]
        )
        return entry.change(deviation, cause_kind=cause_kind, cause=cause.strip())


def close_deviation(*, act: Act, deviation: Deviation) -> Deviation:
    """Close a deviation once nothing of it waits. Needs the authority to dispose."""
    with Entry(act, "close deviation") as entry:
        deviation = _locked(entry, deviation)
        refuse_if_blocked(
            [
                *may(act.by, Authority.Act.DISPOSE, localdate(act.at)),
                *rules.deviation_may_close(deviation),
            ]
        )
        return entry.change(deviation, state=Deviation.State.CLOSED, closed_at=act.at)


def _locked(entry: Entry, deviation: Deviation) -> Deviation:
    entry.subject = deviation.number
    return Deviation.objects.get(pk=deviation.pk)


def _named_before(deviation: Deviation, things: Sequence[Touched]) -> list[Finding]:
    before = {(s.subject, s.joint, s.reading_id) for s in subjects_of(deviation)}
    return [
        Finding(f"{deviation.number} is about {called(one.thing)} already.", "things")
        for one in things
        if (one.thing, one.joint, one.reading and one.reading.pk) in before
    ]
