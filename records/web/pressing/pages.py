"""What a load's page shows: is it held, how far cured, when it may be opened."""

import datetime as dt
from collections.abc import Sequence
from typing import Any

from django.urls import reverse
from django.utils.safestring import mark_safe

from records.documents.press_chart import press_chart
from records.models import Hold, LoadedBlank, PressLoad, PressSample
from records.queries.boards import standing_readings
from records.queries.deviations.decided import is_accepted
from records.queries.files import attached_to
from records.queries.pressing.history import GlueCure, PressHistory, press_history
from records.queries.pressing.loads import blanks_in, corrected_samples, woods_in
from records.rules.finding import Finding, warning
from records.rules.pressing.glue_line import shown_by
from records.rules.pressing.held import load_is_sound, pressure_held, pressure_not_above
from records.rules.pressing.loads import wood_asks
from records.spelling.moments import duration, when
from records.spelling.quantities import both, in_unit, percent, pressure
from records.spelling.units import unit_name
from records.spelling.verdicts import Verdict
from records.web.pressing.tables import figures_of
from records.web.shared.evidence import photo_lines, reading_lines
from records.web.shared.hold_steps import hold_findings, hold_step, holds_of
from records.web.shared.pages import log_page, page_of, usual_actions
from records.web.shared.parts import Action, Fact

VERDICTS = {
    LoadedBlank.Verdict.INSIDE: "inside",
    LoadedBlank.Verdict.OUTSIDE: "outside",
    LoadedBlank.Verdict.UNKNOWN: "no_limit",
}
SHOWN = 10


def load_page(
    load: PressLoad, now: dt.datetime, disabled_reason: str
) -> dict[str, Any]:
    """Gather the page of a load.

    `disabled_reason` says why nothing may be written.
    """
    history = press_history(load)
    rows = blanks_in(load)
    holds = holds_of(load)
    findings = _found(history)
    flags = [warning(text) for text in load.flags.splitlines()]
    said = {finding.sentence for finding in findings}
    sheets = [glue.sheet for glue in history.cures]
    woods = woods_in([row.blank_id for row in rows])
    return {
        "load": load,
        "verdict": _verdict(history, holds, findings, accepted=is_accepted(load)),
        "findings": [
            *hold_findings(holds, load),
            *findings,
            *(f for f in flags if f.sentence not in said),
        ],
        "step": hold_step(holds, disabled_reason)
        or _next(history, rows, now, disabled_reason),
        "opening": _opening(history),
        "chart": _drawn(history),
        "facts": _facts(history),
        "woods": wood_asks(sheets, woods),
        "blanks": [_blank(row) for row in rows],
        "samples": [_sample(history, index) for index in _last(history)],
        "count": len(history.samples),
        "corrected": [_corrected(sample) for sample in corrected_samples(load)],
        "readings": reading_lines(standing_readings("load", load.pk)),
        "photos": photo_lines(attached_to("load", load.pk)),
        "actions": _actions(load, disabled_reason),
    }


def _found(history: PressHistory) -> list[Finding]:
    """Say what is not right so far: while it is on, only what is certain."""
    if history.load.off_at is not None:
        return load_is_sound(history)
    if not history.samples:
        return [warning("No pressure is written down yet. Enter what the gauge shows.")]
    held_so_far = pressure_held(history)
    if history.reached_at is None:
        held_so_far = [warning(f.sentence) for f in held_so_far]
    return [*held_so_far, *pressure_not_above(history)]


def _verdict(
    history: PressHistory,
    holds: list[Hold],
    findings: list[Finding],
    *,
    accepted: bool,
) -> Verdict:
    if holds:
        return Verdict("hold", "on hold", "")
    if any(finding.blocks for finding in findings):
        if accepted:
            return Verdict("ok", "accepted by a decision", "not as the glue asks")
        return Verdict("outside", "not as the glue asks", "a decision is needed")
    return _verdict_so_far(history)


def _verdict_so_far(history: PressHistory) -> Verdict:
    if not history.samples:
        return Verdict("no_limit", "pressure not known", "")
    if history.reached_at is None:
        return Verdict("waiting", "coming up to pressure", "")
    return Verdict("inside", "held", f"lowest {pressure(history.lowest_pa)}")


def _next(
    history: PressHistory,
    rows: Sequence[LoadedBlank],
    now: dt.datetime,
    disabled_reason: str,
) -> Action | None:
    load = history.load
    at = [load.number]
    if load.off_at is not None:
        out = [row.blank for row in rows]
        return Action(f"Go on with blank {out[0]}", page_of(out[0])) if out else None
    cured = history.opening_at or history.forecast_at
    if cured is not None and cured <= now:
        return Action(
            "Open the press", reverse("pressing:open_press", args=at), disabled_reason
        )
    page = reverse("pressing:add_sample", args=at)
    return Action("Enter what the gauge shows", page, disabled_reason)


def _opening(history: PressHistory) -> dict[str, str] | None:
    """Say when the press may be opened, by the cure so far and the last heat."""
    at = history.opening_at or history.forecast_at
    if at is None or history.load.off_at is not None:
        return None
    reached = history.opening_at is not None
    how = "its press time is reached" if reached else "if the stack stays as warm"
    return {
        "at": at.isoformat(),
        "text": when(at),
        "how": how,
        "reached": "may be opened" if reached else "",
    }


def _drawn(history: PressHistory) -> str:
    return mark_safe(press_chart(history))  # noqa: S308 - drawn from numbers, escaped


def _facts(history: PressHistory) -> list[Fact]:
    load = history.load
    asked = f"{pressure(load.pressure_low_pa)} to {pressure(load.pressure_high_pa)}"
    figures = figures_of(load.press)
    heat = history.temperatures_c
    warm = "\N{EN DASH}"
    if heat:
        warm = f"{in_unit(min(heat), 'degC')} to {in_unit(max(heat), 'degC')}"
    return [
        Fact("Press", f"{load.press}, {load.press.get_kind_display()}, {figures}"),
        Fact("Pressure on", when(load.on_at)),
        Fact("Pressure off", when(load.off_at) if load.off_at else "still on"),
        Fact("Area under pressure", both(load.glued_area_mm2, "mm2")),
        Fact("The glue asks for", asked),
        Fact("At pressure since", when(history.reached_at)),
        Fact("Lowest since", pressure(history.lowest_pa)),
        Fact("Highest", pressure(history.highest_pa)),
        Fact("Held at least that for", duration(history.held_s)),
        Fact("Longest time below", duration(history.longest_below_s)),
        Fact("Stack", warm),
        *(Fact(f"Cure of {c.sheet.adhesive}", _cure(c)) for c in history.cures),
        Fact("Written by", f"{load.written_by.name}, {when(load.written_at)}"),
    ]


def _cure(glue: GlueCure) -> str:
    if glue.cure is None:
        return f"not known: {glue.unknown}"
    part = f"{percent(glue.cure.fraction)} of its press time"
    if glue.opening_at:
        return f"{part}, reached {when(glue.opening_at)}"
    if glue.forecast_at:
        return f"{part}, by {when(glue.forecast_at)} if it stays as warm"
    return f"{part}; the last temperature is outside the maker's table"


def _blank(row: LoadedBlank) -> dict[str, Any]:
    words = {"inside": "waited as the sheet asks", "unknown": "waiting not known"}
    return {
        "number": row.blank.number,
        "url": page_of(row.blank),
        "about": f"{row.blank.revision.design.model} {row.blank.revision}",
        "verdict": VERDICTS[LoadedBlank.Verdict(row.verdict)],
        "word": words.get(row.verdict, "flagged"),
        "flags": [warning(text) for text in row.flags.splitlines()],
    }


def _last(history: PressHistory) -> range:
    count = len(history.samples)
    return range(count - 1, max(count - SHOWN, 0) - 1, -1)


def _sample(history: PressHistory, index: int) -> dict[str, str]:
    sample, load = history.samples[index], history.load
    low, high = float(load.pressure_low_pa), float(load.pressure_high_pa)
    inside = low <= sample.glue_line_pa <= high
    heat = sample.temperature_c
    warm = f", {in_unit(heat.normalize(), 'degC')}" if heat is not None else ""
    return {
        "when": when(sample.at),
        "shown": f"{sample.entered} {unit_name(sample.unit)}{warm}",
        "verdict": "inside" if inside else "outside",
        "figure": pressure(sample.glue_line_pa),
        "correct": reverse("pressing:correct_sample", args=[sample.pk]),
    }


def _corrected(sample: PressSample) -> Fact:
    later = sample.corrected_by
    shown = f"{sample.entered} {unit_name(sample.unit)}"
    return Fact(
        when(sample.at),
        (
            f"{shown}, corrected to {later.entered} {unit_name(later.unit)} "
            f"by {later.written_by.name}: {later.reason}"
        ),
    )


def _actions(load: PressLoad, disabled_reason: str) -> list[Action]:
    at = [load.number]
    shown = shown_by(load.press)
    actions = [
        Action(
            f"Enter a {shown}", reverse("pressing:add_sample", args=at), disabled_reason
        ),
        Action(
            "Read a logger's file",
            reverse("pressing:import_samples", args=at),
            disabled_reason,
        ),
    ]
    if load.off_at is None:
        page = reverse("pressing:open_press", args=at)
        actions.append(Action("Open the press", page, disabled_reason))
    return [
        *actions,
        Action("Log a reading", log_page(load), disabled_reason),
        *usual_actions(load, disabled_reason),
    ]
