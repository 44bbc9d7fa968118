"""Everything that happened to a part, in the order of the bench."""

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby

from django.utils.timezone import localtime, make_aware

from records.models import JointSpread, Reading
from records.queries.provenance.made_of import Provenance
from records.queries.service.life import Life
from records.queries.subjects import called
from records.queries.trace.history import History
from records.spelling.moments import day
from records.spelling.quantities import in_unit
from records.web.trace.lines import stands, sum_of

NOT_PLAIN = {"outside", "undecided", "hold", "void"}


@dataclass(frozen=True, slots=True)
class Event:
    """One thing that happened: its moment, its time of day if known, what it was.

    Shape and word stand only where something was not plainly right.
    """

    at: dt.datetime
    clock: str
    what: str
    verdict: str = ""
    word: str = ""


def timeline(history: History, life: Life) -> list[tuple[str, list[Event]]]:
    """Put all that is known of a part in order, day by day, the oldest first."""
    events = [
        *_received(history.made),
        *_glued(history.made),
        *_pressed(history.made),
        *_read(history.written.readings),
        *_decided(history),
        *_lived(life),
        *_left(life),
    ]
    ordered = sorted(events, key=lambda event: event.at)
    days = groupby(ordered, key=lambda event: localtime(event.at).date())
    return [(day(on), list(group)) for on, group in days]


def _event(at: dt.datetime, what: str, verdict: str = "", word: str = "") -> Event:
    clock = f"{localtime(at):%H:%M}"
    return Event(at, clock, what, *((verdict, word) if verdict in NOT_PLAIN else ()))


def _day_event(on: dt.date, what: str) -> Event:
    return Event(make_aware(dt.datetime.combine(on, dt.time.min)), "", what)


def _received(made: Provenance) -> Iterator[Event]:
    for lot in made.lots:
        source = f" from {lot.supplier}" if lot.supplier else ""
        yield _day_event(lot.received_on, f"Lot {lot} received: {lot.material}{source}")


def _glued(made: Provenance) -> Iterator[Event]:
    for mix in made.mixes:
        yield _event(mix.mixed_at, f"Mix {mix} made")
    by_mix = sorted(made.spreads, key=lambda spread: (spread.mix_id, spread.joint))
    for _, group in groupby(by_mix, key=lambda spread: spread.mix_id):
        yield _joints(list(group))
    for use in made.uses:
        material = use.lot or use.mix
        if material is not None:
            yield _event(use.happened_at, f"{use.place}: {called(material)} put on")
    for coupon in made.coupons:
        yield _event(coupon.made_at, f"Coupon {coupon} of mix {coupon.mix} made")
        for test in coupon.tests.all():
            shape = "inside" if test.verdict == "passed" else "outside"
            what = (
                f"Coupon {coupon} broken: {in_unit(test.wood_failure_pct, '%')} wood "
                "failure"
            )
            yield _event(test.happened_at, what, shape, test.get_verdict_display())


def _joints(spreads: list[JointSpread]) -> Event:
    numbers = ", ".join(dict.fromkeys(str(spread.joint) for spread in spreads))
    word = "Joints" if len(spreads) > 1 else "Joint"
    last = max(spread.closed_at for spread in spreads)
    return _event(last, f"{word} {numbers} closed with mix {spreads[0].mix}")


def _pressed(made: Provenance) -> Iterator[Event]:
    for load in made.loads:
        yield _event(load.on_at, f"Press load {load}: pressure on, {load.press}")
        if load.off_at:
            yield _event(load.off_at, f"Press load {load}: pressure off")


def _read(readings: list[Reading]) -> Iterator[Event]:
    """Put the readings of one stage on one day together, at the last of them."""

    def place(reading: Reading) -> tuple[dt.date, int]:
        on = localtime(reading.happened_at).date()
        return on, reading.characteristic.stage_id

    for _, group in groupby(sorted(filter(stands, readings), key=place), key=place):
        taken = list(group)
        total = sum_of(taken)
        stage = taken[0].characteristic.stage
        last = max(reading.happened_at for reading in taken)
        yield _event(last, f"{stage}: {total.word}", total.shape)
    for reading in readings:
        if reading.corrects_id and reading.reason:
            what = f"{reading.characteristic} corrected: {reading.reason}"
            yield _event(reading.written_at, what)


def _decided(history: History) -> Iterator[Event]:
    for signoff in history.written.signoffs:
        what = f"{signoff.stage} signed by {signoff.printed_name}"
        yield _event(signoff.happened_at, what)
    for deviation in history.written.deviations:
        what = f"Deviation {deviation.number} opened: {deviation.title}"
        yield _event(deviation.happened_at, what, "outside", "deviation")
        for decision in deviation.dispositions.all():
            kind = decision.get_kind_display()
            what = f"Deviation {deviation.number} decided: {kind}"
            yield _event(decision.happened_at, what)
        if deviation.closed_at:
            what = f"Deviation {deviation.number} closed"
            yield _event(deviation.closed_at, what)
    for hold in history.holds:
        what = f"Put on hold: {called(hold.subject)}, {hold.reason}"
        yield _event(hold.happened_at, what, "hold", "on hold")


def _lived(life: Life) -> Iterator[Event]:
    for stage_event in life.events:
        kind = stage_event.get_kind_display()
        note = f": {stage_event.note}" if stage_event.note else ""
        yield _event(stage_event.happened_at, f"{stage_event.stage} {kind}{note}")
    for change in life.changes:
        yield _event(change.happened_at, f"{change}: {change.reason}")
    for designation in life.designations:
        before, after = designation.before, designation.after
        yield _event(
            designation.happened_at,
            f"Made {after.design} {after} instead of {before.design} {before}: "
            f"{designation.reason}",
        )


def _left(life: Life) -> Iterator[Event]:
    for record in life.records:
        yield _event(record.issued_at, f"Conformity record {record} issued")
        if hasattr(record, "withdrawal"):
            gone = record.withdrawal
            what = f"Conformity record {record} withdrawn: {gone.reason}"
            yield _event(gone.happened_at, what, "void", "withdrawn")
    for handed in life.ownerships:
        yield _event(handed.happened_at, f"Handed over to {handed.owner}")
    for event in life.service:
        hours = f" at {in_unit(event.hours, 'h')}" if event.hours is not None else ""
        what = f"{event.get_kind_display()}{hours}: {event.findings}"
        yield _event(event.happened_at, f"{what[0].upper()}{what[1:]}")
    for one in life.notices:
        yield _event(one.notice.happened_at, f"Notice {one.notice}")
