"""Screens about lots: list, receive, check, open, close."""

from collections.abc import Callable
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils import timezone

from records.models import Authority, Lot
from records.queries.lots import lots_listed
from records.services import lots
from records.services.ledger import Act
from records.web.lots import forms
from records.web.lots.pages import lot_page
from records.web.lots.tables import LotFilter, LotTable
from records.web.shared.forms import ShopForm
from records.web.shared.permits import why_not, why_not_write
from records.web.shared.tables import listing
from records.web.shared.writing import write


def lot_list(request: HttpRequest) -> HttpResponseBase:
    """List every lot."""
    return listing(
        request,
        LotTable,
        lots_listed(timezone.localdate()),
        filterset=LotFilter,
        template="lots/lots.html",
        context={"why_not": why_not_write(request)},
    )


def lot(request: HttpRequest, number: str) -> HttpResponse:
    """Show a lot."""
    disabled_reason = {
        "accept": why_not(request, Authority.Act.ACCEPT),
        "write": why_not_write(request),
    }
    context = lot_page(_find(number), timezone.localdate(), disabled_reason)
    return render(request, "lots/lot.html", context)


def receive(request: HttpRequest) -> HttpResponse:
    """Write down a delivery."""
    initial = {"material": request.GET.get("material")}
    return write(
        request,
        forms.LotForm(request.POST or None, initial=initial),
        lambda act, a: lots.receive_lot(act=act, **a),
        template="lots/receive.html",
        then=lambda lot_received: reverse("lots:lot", args=[lot_received.number]),
        said="Lot {0} is in the book. Write the number on it.",
        context={"why_not": why_not_write(request)},
    )


def check(request: HttpRequest, number: str) -> HttpResponse:
    """Accept or refuse a lot."""
    this_lot = _find(number)
    return _write_about(
        request,
        this_lot,
        forms.CheckForm(request.POST or None, request.FILES or None),
        lambda act, a: lots.check_lot(act=act, lot=this_lot, **a),
        said=f"Lot {this_lot} is {{0}}.",
        title="Receiving check",
        barred=why_not(request, Authority.Act.ACCEPT),
    )


def open_container(request: HttpRequest, number: str) -> HttpResponse:
    """Note the day a container was opened."""
    this_lot = _find(number)
    return _write_about(
        request,
        this_lot,
        forms.OpenForm(request.POST or None),
        lambda act, a: lots.open_lot(act=act, lot=this_lot, **a),
        said="Lot {0} is open.",
        title="Container opened",
    )


def close(request: HttpRequest, number: str) -> HttpResponse:
    """End a lot: used up, or returned."""
    this_lot = _find(number)
    return _write_about(
        request,
        this_lot,
        forms.CloseForm(request.POST or None),
        lambda act, a: lots.close_lot(act=act, lot=this_lot, **a),
        said="Lot {0} is closed to use.",
        title="Close the lot",
    )


def _write_about(
    request: HttpRequest,
    this_lot: Lot,
    form: ShopForm,
    do: Callable[[Act, dict[str, Any]], object],
    *,
    said: str,
    title: str,
    barred: str = "",
) -> HttpResponse:
    return write(
        request,
        form,
        do,
        template="lots/about.html",
        then=lambda _: reverse("lots:lot", args=[this_lot.number]),
        said=said,
        context={
            "lot": this_lot,
            "what": title,
            "why_not": barred or why_not_write(request),
        },
    )


def _find(number: str) -> Lot:
    return get_object_or_404(Lot.objects.with_related(), number=number)
