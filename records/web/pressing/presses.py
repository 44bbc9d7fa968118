"""Screens about the presses themselves."""

from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404
from django.urls import reverse

from records.models import Press
from records.queries.pressing.loads import presses_listed
from records.services.pressing import loads as pressing
from records.web.pressing import forms
from records.web.pressing.tables import PressTable
from records.web.shared.permits import why_not_write
from records.web.shared.tables import listing
from records.web.shared.writing import write


def press_list(request: HttpRequest) -> HttpResponseBase:
    """List every press."""
    return listing(
        request,
        PressTable,
        presses_listed(),
        template="pressing/presses.html",
        context={"why_not": why_not_write(request)},
    )


def add(request: HttpRequest) -> HttpResponse:
    """Put a press in the book."""
    return write(
        request,
        forms.PressForm(request.POST or None),
        lambda act, a: pressing.add_press(act=act, **a),
        template="pressing/add_press.html",
        then=lambda _: reverse("pressing:presses"),
        said="{0} is in the book.",
        context={"why_not": why_not_write(request)},
    )


def in_use(request: HttpRequest, pk: int) -> HttpResponse:
    """Take a press out of use, or back."""
    press = get_object_or_404(Press, pk=pk)
    form = forms.InUseForm(request.POST or None, initial={"in_use": press.in_use})
    return write(
        request,
        form,
        lambda act, a: pressing.set_press_in_use(act=act, press=press, **a),
        template="pressing/press_in_use.html",
        then=lambda _: reverse("pressing:presses"),
        said="Saved.",
        context={"press": press, "why_not": why_not_write(request)},
    )
