"""Propellers: made of blanks, re-designated, worked on; and notes at stages."""

import datetime as dt

from records.models import (
    Blank,
    Designation,
    MaterialChange,
    Propeller,
    Revision,
    Stage,
    StageEvent,
)
from records.queries.builds.register import species_allowed, stack_of, stage_events_of
from records.queries.subjects import number_of
from records.rules.builds import propellers as builds
from records.rules.finding import Finding
from records.rules.holds import held
from records.rules.moments import already_happened
from records.services.builds.stacking import (
    begin_glue_up,
    lay_in_place,
    lay_laminations,
    plan_blank,
    take_out_lamination,
)
from records.services.ledger import Act, Entry
from records.services.numbers import next_number
from records.services.refusal import refuse_if_blocked

__all__ = [
    "begin_glue_up",
    "change_material",
    "designate",
    "lay_in_place",
    "lay_laminations",
    "note_stage",
    "plan_blank",
    "start_propeller",
    "take_out_lamination",
]


def start_propeller(
    *, act: Act, blank: Blank, revision: Revision | None = None, serial: str = ""
) -> Propeller:
    """Start a propeller from a glued blank, under a serial that is never used again.

    Without a revision it is what the blank was planned for; without a serial it gets
    the next number. Two propellers from one blank both inherit its joints.
    """
    with Entry(act, "start propeller") as entry:
        blank = Blank.objects.with_related().get(pk=blank.pk)
        design = revision or blank.revision
        wanted = serial.strip() or _next_serial(act.at)
        entry.subject = wanted
        taken = Propeller.objects.filter(serial__iexact=wanted).first()
        refuse_if_blocked(
            builds.propeller_may_start(blank)
            + held(blank)
            + builds.serial_may_be_given(wanted, taken)
            + _design_fits(design, blank)
        )
        if blank.state != Blank.State.SHAPED:
            entry.change(blank, state=Blank.State.SHAPED)
        return entry.add(Propeller(serial=wanted, blank=blank, revision=design))


def designate(
    *,
    act: Act,
    propeller: Propeller,
    revision: Revision,
    reason: str,
    happened_at: dt.datetime,
) -> Designation:
    """Finish or remake a propeller to another revision than it had, with a reason."""
    with Entry(act, "designate") as entry:
        propeller = Propeller.objects.with_related().get(pk=propeller.pk)
        entry.subject = propeller.serial
        refuse_if_blocked(
            already_happened(happened_at, act.at)
            + builds.may_be_designated(propeller, revision)
            + _design_fits(revision, propeller.blank)
        )
        designation = entry.add(
            Designation(
                propeller=propeller,
                before=propeller.revision,
                after=revision,
                reason=reason,
                happened_at=happened_at,
            )
        )
        entry.change(propeller, revision=revision)
        return designation


def change_material(
    *,
    act: Act,
    propeller: Propeller,
    what: str,
    place: str,
    reason: str,
    happened_at: dt.datetime,
) -> MaterialChange:
    """Note wood removed or material added outside the plan: readings go stale."""
    with Entry(act, "change material") as entry:
        propeller = Propeller.objects.get(pk=propeller.pk)
        entry.subject = propeller.serial
        refuse_if_blocked(
            already_happened(happened_at, act.at) + builds.in_the_shop(propeller)
        )
        return entry.add(
            MaterialChange(
                propeller=propeller,
                what=what,
                place=place,
                reason=reason,
                happened_at=happened_at,
            )
        )


def note_stage(
    *,
    act: Act,
    stage: Stage,
    subject: Blank | Propeller,
    kind: str,
    happened_at: dt.datetime,
    note: str = "",
) -> StageEvent:
    """Note that something began, ended or was seen at a stage, such as a rest."""
    with Entry(act, "note stage") as entry:
        entry.subject = number_of(subject)
        events = [e for e in stage_events_of(subject) if e.stage_id == stage.pk]
        refuse_if_blocked(
            already_happened(happened_at, act.at)
            + builds.stage_is_of(stage, subject)
            + builds.began_before_it_ended(kind, happened_at, events)
        )
        event = StageEvent(stage=stage, kind=kind, happened_at=happened_at, note=note)
        if isinstance(subject, Blank):
            event.blank = subject
        else:
            event.propeller = subject
        return entry.add(event)


def _next_serial(at: dt.datetime) -> str:
    """Give the next serial that nobody has typed before."""
    serial = next_number("serial", at)
    while Propeller.objects.filter(serial__iexact=serial).exists():
        serial = next_number("serial", at)
    return serial


def _design_fits(revision: Revision, blank: Blank) -> list[Finding]:
    woods = {x.board.lot.material.name for x in stack_of(blank)}
    allowed = species_allowed(revision).values()
    return builds.design_fits_blank(revision, blank, woods, list(allowed))
