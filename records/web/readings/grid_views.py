"""The screen of a station grid."""

from dataclasses import replace

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.utils import timezone

from records.models import Propeller, Reading
from records.queries.builds.progress import StageState, progress_of
from records.queries.readings.characteristics import gauges_last_used
from records.rules.gates.stage import NOT_INSIDE, missing, next_to_log
from records.rules.readings.hold_points import hold_points_open
from records.services.ledger import Act
from records.services.readings.log import log_grid
from records.services.refusal import Refusal, refuse
from records.web.readings.choices import Choices, choices_for, gauges_reading
from records.web.readings.grid import GridForm, gridded
from records.web.readings.steps import deviation_at, slot_label, slot_page
from records.web.shared.pages import page_of, sign_page
from records.web.shared.parts import Action
from records.web.shared.permits import why_not_write
from records.web.shared.writing import write

BARRED = "Hold points before this stage are not signed yet: see below."


def grid(request: HttpRequest, serial: str, code: str) -> HttpResponse:
    """Fill in the readings of a stage by blade and station, all at once."""
    propeller = get_object_or_404(Propeller, serial=serial)
    progress = progress_of(propeller)
    state = progress.at(propeller, code)
    if state is None or not gridded(state):
        raise Http404
    form = GridForm(
        request.POST or None,
        state=state,
        choices=_choices(state),
        usual=gauges_last_used(state.stage),
    )
    barred = hold_points_open(progress, state.stage) and BARRED
    return write(
        request,
        form,
        lambda act, _: _log(act, form, state),
        template="readings/grid.html",
        then=lambda _: reverse("readings:grid", args=[serial, code]),
        said=_said,
        context={
            "state": state,
            "page": page_of(propeller),
            "tables": list(form.tables()),
            "findings": missing(progress, state),
            "step": _step(state),
            "caution": state.stage.caution,
            "is_open": bool(form.places),
            "why_not": why_not_write(request) or barred or "",
        },
    )


def _log(act: Act, form: GridForm, state: StageState) -> list[Reading]:
    filled = form.drafts()
    if not filled:
        raise refuse("Fill in at least one place.")
    names = [name for name, _ in filled]
    try:
        return log_grid(
            act=act, subject=state.subject, entries=[draft for _, draft in filled]
        )
    except Refusal as refusal:
        raise Refusal(
            replace(f, field=form.field_of(f.field, names)) if f.field else f
            for f in refusal.findings
        ) from refusal


def _choices(state: StageState) -> list[Choices]:
    """Gather the choices of every table: one query for all gauges."""
    today = timezone.localdate()
    choices = [
        choices_for(c, state.subject, state.provenance, today, with_gauges=False)
        for c in gridded(state)
    ]
    gauges = gauges_reading([u for one in choices for u in one.units], today)
    return [one.with_gauges(gauges) for one in choices]


def _step(state: StageState) -> Action | None:
    bad = [
        r
        for r in state.current
        if r.verdict in NOT_INSIDE and r.pk not in state.accepted
    ]
    if bad:
        return Action("Open a deviation", deviation_at(bad[-1]))
    slot = next_to_log(state)
    characteristics = {c.pk for c in gridded(state)}
    if slot is not None and slot.characteristic.pk not in characteristics:
        return Action(slot_label(slot, state.subject), slot_page(slot))
    if slot is None and state.signed is None:
        return Action(f"Sign {state.stage.name}", sign_page(state.subject, state.stage))
    return None


def _said(rows: list[Reading]) -> str:
    bad = sum(row.verdict in NOT_INSIDE for row in rows)
    if bad:
        return f"{len(rows)} readings are in the book; {bad} not inside."
    return f"{len(rows)} readings are in the book."
