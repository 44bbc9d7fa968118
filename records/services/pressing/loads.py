"""Presses, their loads: closed, sampled, opened; flagged, never stopped while wet."""

import datetime as dt
from collections.abc import Sequence
from decimal import Decimal

from records.models import Blank, LoadedBlank, Press, PressLoad
from records.queries.gluing.area import joint_areas_mm2
from records.queries.gluing.times import tables_of
from records.queries.pressing import loads as queries
from records.rules.pressing import loads as rules
from records.services.ledger import Act, Entry
from records.services.numbers import next_number
from records.services.pressing.samples import (
    add_sample,
    correct_sample,
    import_samples,
    look_again,
)
from records.services.refusal import refuse, refuse_if_blocked

__all__ = [
    "add_press",
    "add_sample",
    "correct_sample",
    "import_samples",
    "load_press",
    "open_press",
    "set_press_in_use",
]
_TENTH = Decimal("0.1")


def add_press(
    *,
    act: Act,
    name: str,
    kind: str,
    rams: int | None = None,
    bore_mm: Decimal | None = None,
    nut_factor: Decimal | None = None,
    bag_area_ratio: Decimal | None = None,
) -> Press:
    """Put a press in the book, with what turns its gauge's figure into pressure.

    Rams: their number and bore [mm]. Screws: number, diameter [mm] and nut factor. A
    bag: its area to the glued area.
    """
    with Entry(act, "add press") as entry:
        entry.subject = name
        refuse_if_blocked(
            rules.press_has_its_figures(kind, rams, bore_mm, nut_factor, bag_area_ratio)
        )
        return entry.add(
            Press(
                name=name,
                kind=kind,
                rams=rams,
                bore_mm=bore_mm,
                nut_factor=nut_factor,
                bag_area_ratio=bag_area_ratio,
            )
        )


def set_press_in_use(*, act: Act, press: Press, in_use: bool) -> Press:
    """Take a press out of use, or back into it."""
    with Entry(act, "set press in use") as entry:
        entry.subject = press.name
        press = Press.objects.get(pk=press.pk)
        held_by = queries.open_load_of(press)
        if held_by is not None and not in_use:
            raise refuse(f"Press load {held_by} is still under pressure in {press}.")
        return entry.change(press, in_use=in_use)


def load_press(
    *,
    act: Act,
    press: Press,
    blanks: Sequence[Blank],
    on_at: dt.datetime,
    glued_area_mm2: Decimal | None = None,
) -> PressLoad:
    """Close a press on one or more blanks, from the moment pressure went on.

    The area under pressure is that of one joint a blank: without it, the drawings'
    side by side [mm²]. Late joints and missing ones are flagged, not refused.
    """
    with Entry(act, "load press") as entry:
        press = Press.objects.get(pk=press.pk)
        stacks = _stacks(blanks)
        pressed = queries.loads_under_pressure_with(stacks)
        refuse_if_blocked(rules.load_is_possible(press, stacks, on_at, pressed, act.at))
        area = _area(stacks, glued_area_mm2)
        suited = rules.range_for(queries.sheets_in([b.pk for b in stacks]))
        if suited is None:
            raise refuse("No glue is in the joints of these blanks yet.", "blanks")
        warned = rules.press_is_free(queries.open_load_of(press))
        number = next_number("load", on_at)
        entry.subject = number
        load = entry.add(
            PressLoad(
                number=number,
                press=press,
                on_at=on_at,
                glued_area_mm2=area,
                pressure_low_pa=suited.low_pa,
                pressure_high_pa=suited.high_pa,
                flags="\n".join(f.sentence for f in (*warned, *suited.findings)),
            )
        )
        entry.add_many(_loaded(load, stacks))
        for blank in stacks:
            entry.change(blank, state=Blank.State.PRESSED)
        return load


def open_press(*, act: Act, load: PressLoad, off_at: dt.datetime) -> PressLoad:
    """Open a press: pressure is off, and what was not as asked is flagged.

    Samples that come in later, such as a logger's file, are looked at then.
    """
    with Entry(act, "open press") as entry:
        load = PressLoad.objects.with_related().get(pk=load.pk)
        entry.subject = load.number
        samples = queries.samples_of(load)
        last = samples[-1].at if samples else None
        refuse_if_blocked(rules.may_be_opened(load, off_at, last, act.at))
        entry.change(load, off_at=off_at)
        look_again(entry, load)
        for row in queries.blanks_in(load):
            if row.blank.state == Blank.State.PRESSED:
                entry.change(row.blank, state=Blank.State.GLUED)
        return load


def _stacks(blanks: Sequence[Blank]) -> list[Blank]:
    """Read the blanks afresh, in the order given; one named twice stays twice."""
    by_key = Blank.objects.with_related().in_bulk([blank.pk for blank in blanks])
    return [by_key[blank.pk] for blank in blanks]


def _area(blanks: Sequence[Blank], given: Decimal | None) -> Decimal:
    areas = joint_areas_mm2([blank.revision for blank in blanks])
    each = [areas[blank.revision_id] for blank in blanks]
    area = Decimal(repr(sum(each))).quantize(_TENTH) if given is None else given
    refuse_if_blocked(rules.area_is_possible(area, each))
    return area


def _loaded(load: PressLoad, blanks: Sequence[Blank]) -> list[LoadedBlank]:
    """Say for each blank what its joints' waiting comes to, and what was missing."""
    joints = queries.joints_in([blank.pk for blank in blanks])
    tables = tables_of({joint.mix.sheet_id for joint in joints})
    rows = []
    for blank in blanks:
        own = [joint for joint in joints if joint.blank_id == blank.pk]
        waited = rules.judge_waiting(own, tables, load.on_at)
        missing = rules.joints_are_all_closed(blank, own)
        again = blank.state == Blank.State.GLUED
        flags = [*waited.flags, *missing]
        flags += [f"Blank {blank} was pressed before."] if again else []
        verdict = LoadedBlank.Verdict.OUTSIDE if missing else waited.verdict
        rows.append(
            LoadedBlank(load=load, blank=blank, verdict=verdict, flags="\n".join(flags))
        )
    return rows
