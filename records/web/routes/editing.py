"""Screens that change a route: one stage or one reading, as a new revision."""

from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.urls import reverse

from records.models import Route, RouteRevision
from records.queries.routes.plans import Plan, plan_of
from records.queries.routes.revisions import newest_revision
from records.services.ledger import Act
from records.services.routes import issue_route_revision
from records.web.routes import forms
from records.web.routes.plans import (
    Row,
    find_row,
    placed,
    with_characteristics,
    without,
)
from records.web.routes.views import disabled_reason, find_route
from records.web.shared.forms import ShopForm
from records.web.shared.writing import write


def add_stage(request: HttpRequest, pk: int) -> HttpResponse:
    """Add a stage."""
    route, plan = _plan(pk)
    form = forms.StageForm(
        request.POST or None, new=True, initial={"place": len(plan) + 1}
    )

    def change(given: Row) -> Plan:
        row = {**given, "characteristics": []}
        return placed(plan, row, given.pop("place"))

    return _write(request, route, form, change, title="Add a stage")


def stage(request: HttpRequest, pk: int, code: str) -> HttpResponse:
    """Change a stage, or take it out."""
    route, plan = _plan(pk)
    row, place = _found(plan, code)
    form = forms.StageForm(request.POST or None, initial={**row, "place": place})

    def change(given: Row) -> Plan:
        if given["take_out"]:
            return without(plan, code)
        new = {**given, "characteristics": row["characteristics"]}
        return placed(plan, new, given["place"], instead_of=code)

    return _write(request, route, form, change, title=row["name"])


def add_characteristic(request: HttpRequest, pk: int, code: str) -> HttpResponse:
    """Add something that a stage asks for."""
    route, plan = _plan(pk)
    row, _ = _found(plan, code)
    characteristic = row["characteristics"]
    form = forms.CharacteristicForm(
        request.POST or None,
        scope=row["scope"],
        new=True,
        initial={"place": len(characteristic) + 1},
    )

    def change(given: Row) -> Plan:
        return with_characteristics(
            plan, code, placed(characteristic, given, given["place"])
        )

    title = f"Add a reading to {row['name']}"
    return _write(request, route, form, change, title=title)


def characteristic(
    request: HttpRequest, pk: int, code: str, characteristic: str
) -> HttpResponse:
    """Change something that a stage asks for, or take it out."""
    route, plan = _plan(pk)
    row, _ = _found(plan, code)
    rows = row["characteristics"]
    one, place = _found(rows, characteristic)
    form = forms.CharacteristicForm(
        request.POST or None, scope=row["scope"], initial={**one, "place": place}
    )

    def change(given: Row) -> Plan:
        if given["take_out"]:
            return with_characteristics(plan, code, without(rows, characteristic))
        new = {**given, "limits": one["limits"]}
        return with_characteristics(
            plan, code, placed(rows, new, given["place"], instead_of=characteristic)
        )

    return _write(request, route, form, change, title=one["name"])


def _write(
    request: HttpRequest, route: Route, form: ShopForm, change: Any, *, title: str
) -> HttpResponse:
    page = reverse("routes:route", args=[route.pk])

    def issue(act: Act, given: Row) -> RouteRevision:
        reason = given.pop("reason")
        return issue_route_revision(
            act=act, route=route, stages=change(given), reason=reason
        )

    return write(
        request,
        form,
        issue,
        template="routes/change.html",
        then=lambda _: page,
        said="Issued as {0}. Builds begun stay on theirs.",
        context={
            "route": route,
            "page": page,
            "what": title,
            "why_not": disabled_reason(request),
        },
    )


def _plan(pk: int) -> tuple[Route, Plan]:
    route = find_route(pk)
    newest = newest_revision(route)
    return route, plan_of(newest) if newest else []


def _found(rows: list[Row], code: str) -> tuple[Row, int]:
    place = find_row(rows, code)
    if place is None:
        raise Http404
    return place
