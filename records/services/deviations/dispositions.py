"""Decide about a deviation, and do to each thing what was decided."""

import datetime as dt
from collections.abc import Sequence

from django.db.models import Model
from django.utils.timezone import localdate

from records.models import (
    Attachment,
    Authority,
    Blank,
    Board,
    Deviation,
    DeviationSubject,
    DisposedSubject,
    Disposition,
    Gauge,
    GaugeChange,
    Lamination,
    Lot,
    Propeller,
    Stage,
    StageToRepeat,
)
from records.queries.deviations.register import subjects_of
from records.queries.reach.destinations import IN_SHOP
from records.rules.authority import may
from records.rules.deviations import dispositions as rules
from records.rules.deviations.opening import deviation_is_open
from records.rules.finding import Finding
from records.rules.moments import already_happened
from records.services.files import Cleaned, Sent, attach, clean
from records.services.ledger import Act, Entry
from records.services.refusal import refuse_if_blocked

Kind = Disposition.Kind


def dispose(
    *,
    act: Act,
    deviation: Deviation,
    kind: str,
    reason: str,
    happened_at: dt.datetime,
    design_authority: str = "",
    plain_words: str = "",
    repeat: Sequence[Stage] = (),
    subjects: Sequence[DeviationSubject] | None = None,
    photo: Sent | None = None,
) -> Disposition:
    """Decide about `subjects`, or about all of a deviation that is not decided yet.

    Needs the authority to dispose. Use as is and repair need the design's authority
    and plain words for the customer; rework names the stages to repeat, whose earlier
    readings go stale; scrap needs a photo of the part made unusable and retires its
    number for good; return closes a lot to use. That finder and decider were one
    person is written down.
    """
    proof = clean(photo) if photo else None
    with Entry(act, "dispose") as entry:
        entry.subject = deviation.number
        deviation = Deviation.objects.get(pk=deviation.pk)
        chosen = _chosen(deviation, subjects)
        decision = Disposition(
            deviation=deviation,
            kind=kind,
            reason=reason.strip(),
            happened_at=happened_at,
            design_authority=design_authority.strip(),
            plain_words=plain_words.strip(),
            one_person=deviation.written_by_id == act.by.pk,
        )
        refuse_if_blocked(
            [
                *may(act.by, Authority.Act.DISPOSE, localdate(act.at)),
                *already_happened(happened_at, act.at),
                *deviation_is_open(deviation),
                *_is_whole(decision, chosen, repeat, proven=proof is not None),
            ]
        )
        decision.proof = _proof(entry, proof, decision, chosen)
        entry.add(decision)
        _carry_out(entry, decision, chosen, repeat)
        return decision


def _chosen(
    deviation: Deviation, subjects: Sequence[DeviationSubject] | None
) -> list[DeviationSubject]:
    left = subjects_of(deviation).filter(disposed__isnull=True)
    if subjects is not None:
        left = left.filter(pk__in=[s.pk for s in subjects])
    return list(left)


def _is_whole(
    decision: Disposition,
    chosen: Sequence[DeviationSubject],
    repeat: Sequence[Stage],
    *,
    proven: bool,
) -> list[Finding]:
    kind = decision.kind
    findings = [
        *rules.nothing_was_decided(chosen),
        *rules.words_are_given(
            kind, decision.reason, decision.design_authority, decision.plain_words
        ),
        *rules.stages_are_named(kind, repeat, chosen),
    ]
    if kind == Kind.SCRAP:
        findings += rules.may_be_scrapped(chosen, proven=proven)
    return findings + (rules.may_be_returned(chosen) if kind == Kind.RETURN else [])


def _proof(
    entry: Entry,
    photo: Cleaned | None,
    decision: Disposition,
    chosen: Sequence[DeviationSubject],
) -> Attachment | None:
    if photo is None:
        return None
    caption = f"Photo for the decision on deviation {decision.deviation.number}"
    at = decision.happened_at
    return attach(entry, chosen[0].subject, photo, caption=caption, happened_at=at)


def _carry_out(
    entry: Entry,
    decision: Disposition,
    chosen: Sequence[DeviationSubject],
    repeat: Sequence[Stage],
) -> None:
    entry.add_many([StageToRepeat(disposition=decision, stage=s) for s in repeat])
    entry.add_many([DisposedSubject(disposition=decision, subject=s) for s in chosen])
    for thing in dict.fromkeys(subject.subject for subject in chosen):
        if decision.kind == Kind.SCRAP:
            _scrap(entry, decision, thing)
        elif decision.kind == Kind.RETURN:
            lot = isinstance(thing, Lot)
            entry.change(
                thing, state=Lot.State.RETURNED if lot else Board.State.REFUSED
            )


def _scrap(entry: Entry, disposition: Disposition, thing: Model) -> None:
    state = rules.NO_RETURN.get(type(thing))
    if state is None:  # a mix has no state: its hold keeps it from use
        return
    why = f"Scrapped by deviation {disposition.deviation.number}"
    fields = {"void_reason": why} if isinstance(thing, Lamination) else {}
    entry.change(thing, state=state, **fields)
    if isinstance(thing, Gauge):
        entry.add(
            GaugeChange(
                gauge=thing,
                kind=GaugeChange.Kind.WITHDRAWN,
                happened_at=disposition.happened_at,
                reason=why,
            )
        )
    if isinstance(thing, Blank):
        _scrap_its_propellers(entry, thing)


def _scrap_its_propellers(entry: Entry, blank: Blank) -> None:
    """Scrap with a blank the propellers in the shop: they are the same wood."""
    for propeller in Propeller.objects.filter(blank=blank, state__in=IN_SHOP):
        entry.change(propeller, state=Propeller.State.SCRAPPED)
