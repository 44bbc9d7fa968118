"""Screens about gauges: register, calibrate, withdraw, return."""

from collections.abc import Callable
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils import timezone

from records.models import Authority, Calibration, Gauge
from records.queries.gauges.register import (
    gauges_listed,
    latest_calibration,
    suggested_interval,
)
from records.services import gauges
from records.services.deviations.gauges import open_gauge_deviation
from records.services.ledger import Act
from records.spelling.moments import day
from records.web.gauges import forms
from records.web.gauges.impact import impact_page
from records.web.gauges.pages import gauge_page
from records.web.gauges.tables import GaugeFilter, GaugeTable
from records.web.shared.forms import ShopForm
from records.web.shared.pages import page_of
from records.web.shared.permits import why_not, why_not_write
from records.web.shared.tables import listing
from records.web.shared.writing import write

MANAGE = Authority.Act.MANAGE


def gauge_list(request: HttpRequest) -> HttpResponseBase:
    """List every gauge."""
    return listing(
        request,
        GaugeTable,
        gauges_listed(timezone.localdate()),
        filterset=GaugeFilter,
        template="gauges/gauges.html",
        context={"why_not": why_not(request, MANAGE)},
    )


def gauge(request: HttpRequest, number: str) -> HttpResponse:
    """Show a gauge."""
    disabled_reason = {
        "manage": why_not(request, MANAGE),
        "write": why_not_write(request),
    }
    context = gauge_page(_find(number), timezone.localdate(), disabled_reason)
    return render(request, "gauges/gauge.html", context)


def add(request: HttpRequest) -> HttpResponse:
    """Put a gauge in the register."""
    return write(
        request,
        forms.GaugeForm(request.POST or None),
        lambda act, a: gauges.add_gauge(act=act, **a),
        template="gauges/add.html",
        then=page_of,
        said="{0} is in the register. Write down its calibration next.",
        context={"why_not": why_not(request, MANAGE)},
    )


def calibrate(request: HttpRequest, number: str) -> HttpResponse:
    """Write down a calibration."""
    this_gauge = _find(number)
    form = forms.CalibrationForm(
        request.POST or None, request.FILES or None, gauge=this_gauge
    )
    return _write_about(
        request,
        this_gauge,
        form,
        lambda act, a: gauges.calibrate_gauge(act=act, gauge=this_gauge, **_given(a)),
        said=_calibrated,
        title="Calibration",
        barred=why_not(request, MANAGE),
    )


def impact(request: HttpRequest, pk: int) -> HttpResponse:
    """Show what a gauge found out touches, and open the deviation about it."""
    query = Calibration.objects.select_related("gauge")
    calibration = get_object_or_404(query, pk=pk)
    context = impact_page(calibration)
    return write(
        request,
        forms.NoticedForm(request.POST or None),
        lambda act, a: open_gauge_deviation(act=act, calibration=calibration, **a),
        template="gauges/impact.html",
        then=lambda made: reverse("deviations:deviation", args=[made.number]),
        said="Deviation {0} is open; what is in the shop is on hold.",
        context={**context, "why_not": context["barred"] or why_not_write(request)},
    )


def withdraw(request: HttpRequest, number: str) -> HttpResponse:
    """Take a gauge out of service."""
    this_gauge = _find(number)
    return _write_about(
        request,
        this_gauge,
        forms.ReasonForm(request.POST or None),
        lambda act, a: gauges.withdraw_gauge(act=act, gauge=this_gauge, **a),
        said="{0} is withdrawn. Mark it, and put it where nobody takes it.",
        title="Withdraw from service",
        barred=why_not_write(request),
    )


def bring_back(request: HttpRequest, number: str) -> HttpResponse:
    """Return a gauge to service."""
    this_gauge = _find(number)
    return _write_about(
        request,
        this_gauge,
        forms.ReasonForm(request.POST or None),
        lambda act, a: gauges.return_gauge(act=act, gauge=this_gauge, **a),
        said="{0} is in service again.",
        title="Return to service",
        barred=why_not(request, MANAGE),
    )


def interval(request: HttpRequest, number: str) -> HttpResponse:
    """Change the days between calibrations."""
    this_gauge = _find(number)
    latest = latest_calibration([this_gauge.pk]).get(this_gauge.pk)
    days = (
        suggested_interval(this_gauge, latest) if latest else this_gauge.interval_days
    )
    form = forms.IntervalForm(request.POST or None, initial={"interval_days": days})
    return _write_about(
        request,
        this_gauge,
        form,
        lambda act, a: gauges.set_interval(act=act, gauge=this_gauge, **a),
        said="Changed. It counts from the next calibration on.",
        title="Change the interval",
        barred=why_not(request, MANAGE),
    )


def _write_about(
    request: HttpRequest,
    this_gauge: Gauge,
    form: ShopForm,
    do: Callable[[Act, dict[str, Any]], Any],
    *,
    said: str | Callable[[Any], str],
    title: str,
    barred: str,
) -> HttpResponse:
    return write(
        request,
        form,
        do,
        template="gauges/about.html",
        then=lambda _: reverse("gauges:gauge", args=[this_gauge.number]),
        said=said,
        context={"gauge": this_gauge, "what": title, "why_not": barred},
    )


def _given(answers: dict[str, Any]) -> dict[str, Any]:
    """Leave out the days that were left empty: the service counts them."""
    return {name: value for name, value in answers.items() if value is not None}


def _calibrated(calibration: Calibration) -> str:
    due = f"Due again on {day(calibration.next_due_on)}."
    if calibration.found_inside:
        return due
    return f"It was found out of its limits. {due} Look at what was read with it."


def _find(number: str) -> Gauge:
    return get_object_or_404(Gauge, number=number)
