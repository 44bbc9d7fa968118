"""Screens about one propeller after it was made: handed over, used, back for work."""

from collections.abc import Callable
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse

from records.models import Propeller
from records.services.ledger import Act
from records.services.service import events as service
from records.web.service.forms import EventForm, HandOverForm, OwnedForm
from records.web.service.pages import service_page
from records.web.shared.forms import ShopForm
from records.web.shared.permits import why_not_write
from records.web.shared.writing import write

PACKING = (
    "Pack it dry and sealed: heated air dries the hub and loosens bolts. A caution to "
    "the owner goes with the record."
)


def propeller(request: HttpRequest, serial: str) -> HttpResponse:
    """Show owners, events and notices of a propeller."""
    context = service_page(_find(serial), why_not_write(request))
    return render(request, "service/propeller.html", context)


def hand_over(request: HttpRequest, serial: str) -> HttpResponse:
    """Hand a released propeller over."""
    this_propeller = _find(serial)
    return _write_about(
        request,
        this_propeller,
        HandOverForm(request.POST or None, initial=_chosen(request)),
        lambda act, a: service.hand_over(act=act, propeller=this_propeller, **a),
        what="Hand over",
        said=f"Propeller {this_propeller} is delivered.",
        caution=PACKING,
    )


def new_owner(request: HttpRequest, serial: str) -> HttpResponse:
    """Note that a propeller belongs to somebody else now."""
    this_propeller = _find(serial)
    return _write_about(
        request,
        this_propeller,
        OwnedForm(request.POST or None, initial=_chosen(request)),
        lambda act, a: service.note_new_owner(act=act, propeller=this_propeller, **a),
        what="New owner",
        said=f"The new owner of {this_propeller} is in the book.",
    )


def event(request: HttpRequest, serial: str) -> HttpResponse:
    """Note what happened to a propeller in service."""
    this_propeller = _find(serial)
    initial = {"kind": request.GET.get("kind", "report")}
    return _write_about(
        request,
        this_propeller,
        EventForm(request.POST or None, initial=initial),
        lambda act, a: service.record_service_event(
            act=act, propeller=this_propeller, **a
        ),
        what="Event in service",
        said="Noted: {0}.",
    )


def _write_about(
    request: HttpRequest,
    this_propeller: Propeller,
    form: ShopForm,
    do: Callable[[Act, dict[str, Any]], object],
    *,
    what: str,
    said: str,
    caution: str = "",
) -> HttpResponse:
    page = reverse("service:propeller", args=[this_propeller.serial])
    return write(
        request,
        form,
        do,
        template="service/form.html",
        then=lambda _: page,
        said=said,
        context={
            "what": what,
            "back": (page, f"Propeller {this_propeller.serial}"),
            "owners": "owner" in form.fields,
            "caution": caution,
            "why_not": why_not_write(request),
        },
    )


def _chosen(request: HttpRequest) -> dict[str, Any]:
    return {"owner": request.GET.get("owner")}


def _find(serial: str) -> Propeller:
    return get_object_or_404(Propeller.objects.with_related(), serial__iexact=serial)
