"""Screens about deviations: the register, one of them, and what is written in it."""

import datetime as dt
from collections.abc import Callable
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone

from records.documents.deviations import deviation_pdf
from records.documents.pdf import DrawingFailed
from records.models import Authority, Deviation
from records.queries.deviations.pareto import pareto
from records.queries.deviations.plans import plans_for
from records.queries.deviations.register import deviations_listed
from records.services.deviations import opening as deviations
from records.services.deviations.actions import add_action
from records.services.ledger import Act
from records.web.deviations import forms
from records.web.deviations.pages import deviation_page
from records.web.deviations.prefill import asked_about, from_reading, thing_text
from records.web.deviations.tables import DeviationFilter, DeviationTable
from records.web.shared.forms import ShopForm
from records.web.shared.permits import why_not, why_not_write
from records.web.shared.tables import listing
from records.web.shared.writing import write

YEAR = dt.timedelta(days=365)


def deviation_list(request: HttpRequest) -> HttpResponseBase:
    """List every deviation."""
    return listing(
        request,
        DeviationTable,
        deviations_listed(),
        filterset=DeviationFilter,
        template="deviations/deviations.html",
        context={"why_not": why_not_write(request)},
    )


def deviation(request: HttpRequest, number: str) -> HttpResponse:
    """Show a deviation."""
    disabled_reason = {
        "dispose": why_not(request, Authority.Act.DISPOSE),
        "write": why_not_write(request),
    }
    context = deviation_page(find(number), disabled_reason)
    return render(request, "deviations/deviation.html", context)


def open_new(request: HttpRequest) -> HttpResponse:
    """Open a deviation, filled in from a reading or a thing where one is named."""
    thing, reading = asked_about(request.GET)
    start = from_reading(reading) if reading else {}
    if thing is not None and reading is None:
        start = {"things": thing_text(thing)}
    stages = plans_for([thing] if thing else []).stages()
    return write(
        request,
        forms.OpenForm(
            request.POST or None, request.FILES or None, stages=stages, initial=start
        ),
        lambda act, a: deviations.open_deviation(act=act, **a),
        template="deviations/open.html",
        then=page_of_deviation,
        said=lambda made: f"Deviation {made.number} is open.",
        context={"why_not": why_not_write(request), "reading": reading},
    )


def add(request: HttpRequest, number: str) -> HttpResponse:
    """Add things that it touches as well."""
    this_deviation = find(number)
    return write_about(
        request,
        this_deviation,
        forms.AddForm(request.POST or None),
        lambda act, a: deviations.add_things(act=act, deviation=this_deviation, **a),
        said="Added.",
        title="Add what it touches as well",
    )


def cause(request: HttpRequest, number: str) -> HttpResponse:
    """State the cause."""
    this_deviation = find(number)
    start = {"cause_kind": this_deviation.cause_kind, "cause": this_deviation.cause}
    return write_about(
        request,
        this_deviation,
        forms.CauseForm(request.POST or None, initial=start),
        lambda act, a: deviations.set_cause(act=act, deviation=this_deviation, **a),
        said="The cause is stated.",
        title="State the cause",
    )


def act_on(request: HttpRequest, number: str) -> HttpResponse:
    """Add an action."""
    this_deviation = find(number)
    return write_about(
        request,
        this_deviation,
        forms.ActionForm(request.POST or None),
        lambda act, a: add_action(act=act, deviation=this_deviation, **a),
        said="The action is in the book.",
        title="Add an action",
    )


def close(request: HttpRequest, number: str) -> HttpResponse:
    """Close a deviation."""
    this_deviation = find(number)
    return write_about(
        request,
        this_deviation,
        forms.ConfirmForm(request.POST or None),
        lambda act, _: deviations.close_deviation(act=act, deviation=this_deviation),
        said=f"Deviation {this_deviation.number} is closed.",
        title="Close it",
        barred=why_not(request, Authority.Act.DISPOSE),
    )


def report(request: HttpRequest, number: str) -> HttpResponse:
    """Draw the report on a deviation as a PDF."""
    this_deviation = find(number)
    try:
        data = deviation_pdf(this_deviation, drawn_at=timezone.now())
    except DrawingFailed as failure:
        messages.error(request, str(failure))
        return redirect(page_of_deviation(this_deviation))
    name = f"deviation-{this_deviation.number}.pdf"
    headers = {"Content-Disposition": f'inline; filename="{name}"'}
    return HttpResponse(data, content_type="application/pdf", headers=headers)


def counts(request: HttpRequest) -> HttpResponse:
    """Count deviations by stage, cause, material, supplier and gauge."""
    every = request.GET.get("all") == "yes"
    counts_by = pareto(None if every else timezone.now() - YEAR)
    context = {"counts": counts_by.items(), "every": every}
    return render(request, "deviations/counts.html", context)


def write_about(
    request: HttpRequest,
    this_deviation: Deviation,
    form: ShopForm,
    do: Callable[[Act, dict[str, Any]], object],
    *,
    said: str,
    title: str,
    barred: str = "",
    template: str = "deviations/about.html",
    **context: Any,
) -> HttpResponse:
    """Show or take a form about one deviation, and lead back to its page."""
    return write(
        request,
        form,
        do,
        template=template,
        then=lambda _: page_of_deviation(this_deviation),
        said=lambda _: said,
        context={
            "deviation": this_deviation,
            "page": page_of_deviation(this_deviation),
            "what": title,
            "why_not": barred or why_not_write(request),
            **context,
        },
    )


def page_of_deviation(this_deviation: Deviation) -> str:
    """Give the path of a deviation's page."""
    return reverse("deviations:deviation", args=[this_deviation.number])


def find(number: str) -> Deviation:
    """Find a deviation by number, or answer that there is none."""
    rows = Deviation.objects.select_related("stage", "written_by")
    return get_object_or_404(rows, number__iexact=number)
