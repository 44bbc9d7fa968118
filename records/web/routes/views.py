"""Screens about routes and limits."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404, render
from django.urls import reverse

from records.models import Authority, Characteristic, Route, RouteRevision
from records.queries.designs import revisions_in_use
from records.queries.routes.revisions import newest_revision, routes_listed
from records.services import routes
from records.web.routes import forms
from records.web.routes.pages import limit_page, route_page, units_of_limit
from records.web.routes.tables import RouteTable
from records.web.shared.permits import why_not
from records.web.shared.tables import listing
from records.web.shared.writing import write

DEFAULT_NAME = "Laminated propeller"


def route_list(request: HttpRequest) -> HttpResponseBase:
    """List every route."""
    listed = routes_listed()
    return listing(
        request,
        RouteTable,
        listed,
        template="routes/routes.html",
        context={"is_first": not listed.exists(), "why_not": disabled_reason(request)},
    )


def route(request: HttpRequest, pk: int) -> HttpResponse:
    """Show a route as its newest revision has it."""
    this_route = find_route(pk)
    context = route_page(
        this_route, newest_revision(this_route), disabled_reason(request)
    )
    return render(request, "routes/route.html", context)


def revision(request: HttpRequest, revision: int) -> HttpResponse:
    """Show one revision of a route."""
    rows = RouteRevision.objects.select_related("route")
    this_revision = get_object_or_404(rows, pk=revision)
    context = route_page(this_revision.route, this_revision, disabled_reason(request))
    return render(request, "routes/route.html", context)


def add(request: HttpRequest) -> HttpResponse:
    """Put an empty route in the book."""
    return _new(
        request,
        lambda act, a: routes.add_route(act=act, **a),
        then=lambda made: reverse("routes:add_stage", args=[made.pk]),
        said="{0} is in the book. Now its first stage.",
        context={"what": "Add an empty route"},
        initial={},
    )


def write_default(request: HttpRequest) -> HttpResponse:
    """Put the default route in the book."""
    return _new(
        request,
        lambda act, a: routes.write_default_route(act=act, **a),
        then=lambda made: reverse("routes:route", args=[made.route_id]),
        said="The default route is in the book. Make its limits your own.",
        context={"what": "Write the default route", "is_default": True},
        initial={"name": DEFAULT_NAME},
    )


def use(request: HttpRequest, pk: int) -> HttpResponse:
    """Take a route out of use, or back."""
    this_route = find_route(pk)
    page = reverse("routes:route", args=[pk])
    return write(
        request,
        forms.UseForm(request.POST or None),
        lambda act, _: routes.set_route_use(
            act=act, route=this_route, in_use=not this_route.in_use
        ),
        template="routes/use.html",
        then=lambda _: page,
        said="{0} is changed.",
        context={
            "route": this_route,
            "page": page,
            "why_not": disabled_reason(request),
        },
    )


def limit(request: HttpRequest, characteristic: int) -> HttpResponse:
    """Show a limit with its history, and set the next one."""
    rows = Characteristic.objects.select_related("stage__revision__route")
    characteristic_row = get_object_or_404(rows, pk=characteristic)
    context = limit_page(characteristic_row)
    form = forms.LimitForm(
        request.POST or None,
        units=units_of_limit(characteristic_row),
        designs=revisions_in_use(),
        initial=context.pop("initial"),
    )
    return write(
        request,
        form,
        lambda act, a: routes.set_limit(
            act=act, characteristic=characteristic_row, **a
        ),
        template="routes/limit.html",
        then=lambda _: reverse("routes:limit", args=[characteristic_row.pk]),
        said="The limit is in force from now. Readings taken before keep theirs.",
        context={**context, "why_not": disabled_reason(request)},
    )


def disabled_reason(request: HttpRequest) -> str:
    """Say why the person who is signed in may change no route."""
    return why_not(request, Authority.Act.MANAGE)


def find_route(pk: int) -> Route:
    """Find a route, or answer that there is none."""
    return get_object_or_404(Route, pk=pk)


def _new(
    request: HttpRequest,
    do: Any,
    *,
    then: Any,
    said: str,
    context: dict[str, Any],
    initial: dict[str, Any],
) -> HttpResponse:
    return write(
        request,
        forms.RouteForm(request.POST or None, initial=initial),
        do,
        template="routes/add.html",
        then=then,
        said=said,
        context={**context, "why_not": disabled_reason(request)},
    )
