"""Screens about propellers: started, re-designated, worked on."""

from collections.abc import Callable
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404, render
from django.urls import reverse

from records.models import Blank, Propeller
from records.queries.builds.register import propellers_listed, propellers_of
from records.rules.builds.propellers import propeller_may_start
from records.services.builds import propellers as builds
from records.services.ledger import Act
from records.web.builds import forms
from records.web.builds.propeller_pages import propeller_page
from records.web.builds.tables import PropellerFilter, PropellerTable
from records.web.shared.forms import ShopForm
from records.web.shared.permits import why_not_write
from records.web.shared.tables import listing
from records.web.shared.writing import write


def propeller_list(request: HttpRequest) -> HttpResponseBase:
    """List every propeller."""
    return listing(
        request,
        PropellerTable,
        propellers_listed(),
        filterset=PropellerFilter,
        template="builds/propellers.html",
        context={"why_not": why_not_write(request)},
    )


def propeller(request: HttpRequest, serial: str) -> HttpResponse:
    """Show a propeller."""
    context = propeller_page(_find(serial), why_not_write(request))
    return render(request, "builds/propeller.html", context)


def start(request: HttpRequest, number: str) -> HttpResponse:
    """Start a propeller from a blank; a second one splits the stack."""
    blank = get_object_or_404(Blank.objects.with_related(), number=number)
    barred = " ".join(f.sentence for f in propeller_may_start(blank))
    form = forms.StartForm(request.POST or None, initial={"revision": blank.revision})
    return write(
        request,
        form,
        lambda act, a: builds.start_propeller(act=act, blank=blank, **a),
        template="builds/start.html",
        then=lambda made: reverse("builds:propeller", args=[made.serial]),
        said="Propeller {0} is in the book.",
        context={
            "blank": blank,
            "others": propellers_of(blank),
            "why_not": why_not_write(request) or barred,
        },
    )


def designate(request: HttpRequest, serial: str) -> HttpResponse:
    """Finish or remake a propeller as another design."""
    this_propeller = _find(serial)
    return _write_about(
        request,
        this_propeller,
        forms.DesignateForm(request.POST or None),
        lambda act, a: builds.designate(act=act, propeller=this_propeller, **a),
        said="It is designated anew. Its limits are those of the new drawing.",
        title="Finish it as another design",
        lead="The build so far stays as it was recorded. Whether it may fly so is for "
        "the approved design, local rules and licensed people to say.",
    )


def material(request: HttpRequest, serial: str) -> HttpResponse:
    """Note wood removed or material added outside the plan."""
    this_propeller = _find(serial)
    return _write_about(
        request,
        this_propeller,
        forms.MaterialForm(request.POST or None),
        lambda act, a: builds.change_material(act=act, propeller=this_propeller, **a),
        said="Noted. Readings of shape, balance and track before it do not count now.",
        title="Wood removed, or material added",
        lead="Readings of shape, balance and track taken before are stale until they "
        "are taken again.",
    )


def _write_about(
    request: HttpRequest,
    this_propeller: Propeller,
    form: ShopForm,
    do: Callable[[Act, dict[str, Any]], Any],
    *,
    said: str,
    title: str,
    lead: str,
) -> HttpResponse:
    return write(
        request,
        form,
        do,
        template="builds/about_propeller.html",
        then=lambda _: reverse("builds:propeller", args=[this_propeller.serial]),
        said=said,
        context={
            "propeller": this_propeller,
            "what": title,
            "lead": lead,
            "why_not": why_not_write(request),
        },
    )


def _find(serial: str) -> Propeller:
    return get_object_or_404(Propeller.objects.with_related(), serial=serial)
