"""Screens where readings are taken, looked at and corrected."""

from typing import Any

from django.db.models import Model
from django.http import Http404, HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone

from records.models import Characteristic, Reading, Station
from records.queries.builds.progress import progress_of
from records.queries.provenance.loading import provenance_of
from records.queries.readings.characteristics import (
    characteristics_of,
    gauges_last_used,
    readings_listed,
    whose_stages,
)
from records.queries.subjects import called, find
from records.services.readings import log as readings
from records.services.readings.ranges import compute_range
from records.spelling.readings import figure_of, verdict_of
from records.web.readings import forms
from records.web.readings.choices import Choices, choices_for
from records.web.readings.pages import choose_page, reading_page
from records.web.readings.tables import ReadingFilter, ReadingTable
from records.web.readings.words import hint_for
from records.web.shared.evidence import reading_line
from records.web.shared.pages import page_of
from records.web.shared.permits import why_not_write
from records.web.shared.tables import listing
from records.web.shared.writing import write

Per = Characteristic.Per


def reading_list(request: HttpRequest) -> HttpResponseBase:
    """List every reading."""
    return listing(
        request,
        ReadingTable,
        readings_listed(),
        filterset=ReadingFilter,
        template="readings/readings.html",
    )


def reading(request: HttpRequest, pk: int) -> HttpResponse:
    """Show a reading, its verdict first."""
    context = reading_page(_find(pk), why_not_write(request))
    return render(request, "readings/reading.html", context)


def log(request: HttpRequest, kind: str, number: str) -> HttpResponse:
    """Log a reading on a thing; without a characteristic, ask what is read."""
    thing = _thing(kind, number)
    provenance = provenance_of(thing)
    characteristics = characteristics_of(kind, provenance.routes)
    chosen = _chosen(characteristics, request)
    if chosen is not None and _is_for_the_grid(request, chosen):
        return redirect("readings:grid", number, chosen.stage.code)
    if chosen is None:
        context = choose_page(thing, progress_of(whose_stages(thing)), characteristics)
        return render(request, "readings/choose.html", context)
    if chosen.is_range:
        return _computed(request, thing, chosen)
    choices = choices_for(chosen, thing, provenance, timezone.localdate())
    station = _station(request, choices)
    hint = hint_for(chosen, thing, provenance, station=station, moment=timezone.now())
    form = forms.ReadingForm(
        request.POST or None,
        request.FILES or None,
        choices=choices,
        hint=hint,
        initial=_initial(request, choices, station),
    )
    return write(
        request,
        form,
        lambda act, a: readings.log_reading(
            act=act, subject=thing, characteristic=chosen, **a
        ),
        template="readings/log.html",
        then=_page,
        said=_said,
        context=_about(request, thing, chosen),
    )


def correct(request: HttpRequest, pk: int) -> HttpResponse:
    """Correct a reading by a later row."""
    old = _find(pk)
    choices = choices_for(
        old.characteristic,
        old.subject,
        provenance_of(old.subject),
        timezone.localdate(),
    )
    initial = {
        "entered": old.entered,
        "unit": old.unit,
        "gauge": old.gauge_id,
        "happened_at": old.happened_at,
    }
    hint = f"Held against the limit of the old row: {verdict_of(old).detail or 'none'}."
    return write(
        request,
        forms.CorrectionForm(
            request.POST or None, choices=choices, hint=hint, initial=initial
        ),
        lambda act, a: readings.correct_reading(act=act, reading=old, **a),
        template="readings/correct.html",
        then=_page,
        said=_said,
        context=_about(request, old.subject, old.characteristic)
        | {"old": reading_line(old), "page": _page(old)},
    )


def withdraw(request: HttpRequest, pk: int) -> HttpResponse:
    """Withdraw a reading that should not be here."""
    old = _find(pk)
    return write(
        request,
        forms.WithdrawForm(request.POST or None),
        lambda act, a: readings.withdraw_reading(act=act, reading=old, **a),
        template="readings/withdraw.html",
        then=_page,
        said="The reading is withdrawn. It stays readable here.",
        context=_about(request, old.subject, old.characteristic)
        | {"old": reading_line(old), "page": _page(old)},
    )


def _computed(
    request: HttpRequest, thing: Model, chosen: Characteristic
) -> HttpResponse:
    return write(
        request,
        forms.ComputeForm(request.POST or None),
        lambda act, _: compute_range(act=act, subject=thing, characteristic=chosen),
        template="readings/compute.html",
        then=lambda rows: _page(rows[-1]),
        said=lambda rows: _said(rows[-1]),
        context=_about(request, thing, chosen),
    )


def _about(
    request: HttpRequest, thing: Model, characteristic: Characteristic
) -> dict[str, Any]:
    return {
        "thing": called(thing),
        "thing_url": page_of(thing),
        "asked": characteristic,
        "caution": characteristic.stage.caution,
        "why_not": why_not_write(request),
    }


def _initial(
    request: HttpRequest, choices: Choices, station: Station | None
) -> dict[str, Any]:
    given = {name: request.GET.get(name) for name in ("blade", "joint", "point")}
    if station is not None:
        given["station"] = str(station.pk)
    characteristic = choices.characteristic
    usual = (
        gauges_last_used(characteristic.stage).get(characteristic.code)
        if choices.gauges
        else None
    )
    return {k: v for k, v in given.items() if v} | ({"gauge": usual} if usual else {})


def _station(request: HttpRequest, choices: Choices) -> Station | None:
    wanted = request.POST.get("station") or request.GET.get("station", "")
    return next((s for s in choices.stations if str(s.pk) == wanted), None)


def _chosen(
    characteristics: list[Characteristic], request: HttpRequest
) -> Characteristic | None:
    code, stage = request.GET.get("characteristic"), request.GET.get("stage")
    return next(
        (c for c in characteristics if c.code == code and c.stage.code == stage), None
    )


def _is_for_the_grid(request: HttpRequest, characteristic: Characteristic) -> bool:
    """Tell whether all blades are better filled in together: none was named."""
    if request.method != "GET" or characteristic.is_range:
        return False
    return characteristic.per in {Per.BLADE, Per.STATION} and "blade" not in request.GET


def _said(row: Reading) -> str:
    return f"{row.characteristic.name} is in the book: {figure_of(row)}."


def _page(row: Reading) -> str:
    return reverse("readings:reading", args=[row.pk])


def _thing(kind: str, number: str) -> Model:
    thing = find(kind, number) if kind != "gauge" else None
    if thing is None:
        raise Http404
    return thing


def _find(pk: int) -> Reading:
    return get_object_or_404(Reading.objects.with_related(), pk=pk)
