"""Screens about owners."""

from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404, render
from django.urls import reverse

from records.models import Owner
from records.queries.service.owners import owners_listed
from records.services.service import events as service
from records.web.service.forms import ContactForm, OwnerForm
from records.web.service.pages import owner_page
from records.web.service.tables import OwnerFilter, OwnerTable
from records.web.shared.permits import why_not_write
from records.web.shared.tables import listing
from records.web.shared.writing import write


def owner_list(request: HttpRequest) -> HttpResponseBase:
    """List every owner."""
    return listing(
        request,
        OwnerTable,
        owners_listed(),
        filterset=OwnerFilter,
        template="service/owners.html",
        context={"why_not": why_not_write(request)},
    )


def owner(request: HttpRequest, pk: int) -> HttpResponse:
    """Show an owner and what they have or had."""
    context = owner_page(get_object_or_404(Owner, pk=pk))
    context["why_not"] = why_not_write(request)
    return render(request, "service/owner.html", context)


def add(request: HttpRequest) -> HttpResponse:
    """Put an owner in the book."""
    return write(
        request,
        OwnerForm(request.POST or None),
        lambda act, a: service.add_owner(act=act, **a),
        template="service/form.html",
        then=lambda made: reverse("service:owner", args=[made.pk]),
        said="{0} is in the book.",
        context={
            "what": "New owner",
            "back": (reverse("service:owners"), "Owners"),
            "why_not": why_not_write(request),
        },
    )


def change(request: HttpRequest, pk: int) -> HttpResponse:
    """Change how an owner is reached."""
    this_owner = get_object_or_404(Owner, pk=pk)
    page = reverse("service:owner", args=[pk])
    initial = {"address": this_owner.address, "contact": this_owner.contact}
    return write(
        request,
        ContactForm(request.POST or None, initial=initial),
        lambda act, a: service.change_owner(act=act, owner=this_owner, **a),
        template="service/form.html",
        then=lambda _: page,
        said="Saved. The old address stays in the ledger.",
        context={
            "what": "Address and contact",
            "back": (page, this_owner.name),
            "why_not": why_not_write(request),
        },
    )
