"""What the pages of readings show: verdict first, then why, then what is next."""

from typing import Any

from django.db.models import Model
from django.urls import reverse
from django.utils.html import format_html

from records.models import Characteristic, Reading
from records.queries.builds.progress import Progress, StageState, progress_of
from records.queries.files import attached_to
from records.queries.readings.characteristics import versions_of, whose_stages
from records.queries.readings.context import is_late
from records.queries.subjects import called, kind_of
from records.rules.gates.stage import next_to_log
from records.rules.readings.slots import Slot, open_slots
from records.spelling.moments import when
from records.spelling.readings import figure_of
from records.web.readings.steps import deviation_at, next_step, slot_label, slot_page
from records.web.readings.words import rule_in_words
from records.web.shared.evidence import photo_lines, reading_line
from records.web.shared.pages import log_page, page_of
from records.web.shared.parts import Action, Fact


def reading_page(reading: Reading, cant_write: str) -> dict[str, Any]:
    """Gather the page of a reading; `cant_write` says why nothing may be written."""
    thing = whose_stages(reading.subject)
    progress = progress_of(thing, reading.characteristic.stage.revision)
    state = state_for(progress, reading.subject, reading.characteristic)
    versions = versions_of(reading)
    newest = versions[-1]
    return {
        "reading": reading,
        "thing": called(reading.subject),
        "thing_url": page_of(reading.subject),
        "line": reading_line(reading),
        "computed": [reading_line(r) for r in _differences(state, reading)],
        "facts": _facts(reading, state),
        "photos": photo_lines(attached_to("reading", reading.pk)),
        "flags": reading.flags.splitlines(),
        "versions": [_version(r) for r in versions] if len(versions) > 1 else [],
        "step": next_step(newest, state, cant_write),
        "actions": _actions(reading, newest, state, cant_write),
    }


def state_for(
    progress: Progress, thing: Model, characteristic: Characteristic
) -> StageState | None:
    """Find the stage that a reading on a thing counts for."""
    kind = kind_of(thing)
    for state in progress.states:
        same = state.stage.code == characteristic.stage.code
        if same and any(t.pk == thing.pk for t in state.things(kind)):
            return state
    return None


def choose_page(
    thing: Model, progress: Progress, characteristics: list[Characteristic]
) -> dict[str, Any]:
    """Gather the page that asks what is read: what is missing, then all the rest."""
    kind = kind_of(thing)
    states = [s for s in progress.states if s.signed is None]
    waiting = [
        slot
        for state in states
        if any(t.pk == thing.pk for t in state.things(kind))
        for slot in open_slots(state)
        if slot.thing == thing and not slot.characteristic.is_range
    ]
    groups: dict[str, list[tuple[str, str]]] = {}
    for characteristic in characteristics:
        page = log_page(thing, Slot(characteristic, thing))
        row = (characteristic.name, page)
        groups.setdefault(characteristic.stage.name, []).append(row)
    first = waiting[0] if waiting else None
    return {
        "thing": called(thing),
        "thing_url": page_of(thing),
        "step": Action(slot_label(first, thing), slot_page(first)) if first else None,
        "groups": list(groups.items()),
    }


def _facts(reading: Reading, state: StageState | None) -> list[Fact]:
    late = f", written {when(reading.written_at)}: a late entry"
    thing = format_html(
        '<a href="{}">{}</a>', page_of(reading.subject), called(reading.subject)
    )
    facts: list[Fact] = [
        Fact(
            "Read at", f"{when(reading.happened_at)}{late if is_late(reading) else ''}"
        ),
        Fact("Written by", reading.written_by.name),
        Fact("Stage", reading.characteristic.stage.name),
        Fact("On", thing),
    ]
    if state is not None and reading.pk in state.stale:
        facts.insert(0, Fact("Counts no longer", state.stale[reading.pk]))
    if reading.gauge:
        facts.append(Fact("Gauge", reading.gauge))
    if reading.limit_source:
        facts.append(Fact("Limit from", reading.limit_source))
    if reading.rule:
        facts.append(Fact("Judged", rule_in_words(reading)))
    if reading.reason:
        facts.append(Fact("Corrected because", reading.reason))
    return facts


def _differences(state: StageState | None, reading: Reading) -> list[Reading]:
    """List the standing differences that a reading is part of."""
    if state is None:
        return []
    code, station = reading.characteristic.code, reading.station_id
    kind, key = reading.subject_kind, reading.subject.pk
    return [
        r
        for r in state.current
        if r.characteristic.is_range
        and r.characteristic.compares == code
        and r.station_id in {None, station}
        and getattr(r, f"{kind}_id") in {None, key}
    ]


def _version(reading: Reading) -> dict[str, str]:
    by = f"{reading.written_by.name}, {when(reading.written_at)}"
    return {
        "url": reverse("readings:reading", args=[reading.pk]),
        "figure": figure_of(reading),
        "about": f"{by}: {reading.reason}" if reading.reason else by,
        "verdict": "void" if reading.is_withdrawn else reading.verdict,
        "word": str(reading.get_verdict_display()),
    }


def _actions(
    reading: Reading, newest: Reading, state: StageState | None, disabled_reason: str
) -> list[Action]:
    later = "" if newest.pk == reading.pk else "A later row stands in its place."
    if reading.is_withdrawn:
        later = "It is withdrawn."
    if reading.characteristic.is_range:
        later = "It is computed: correct the reading that it comes from."
    actions = [
        Action(
            "Correct it",
            reverse("readings:correct", args=[reading.pk]),
            disabled_reason or later,
        ),
        Action(
            "Withdraw it",
            reverse("readings:withdraw", args=[reading.pk]),
            disabled_reason or later,
        ),
        Action("Open a deviation", deviation_at(newest), disabled_reason),
    ]
    slot = next_to_log(state) if state is not None else None
    if state is not None and slot is not None:
        label = slot_label(slot, state.subject)
        actions.insert(0, Action(label, slot_page(slot), disabled_reason))
    return actions
