"""Screens that release propellers, and issue and withdraw their records."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404, render
from django.urls import reverse

from records.models import Authority, ConformityRecord, Propeller, Shop
from records.models.conformity import Release
from records.queries.builds.progress import progress_of
from records.queries.conformity.register import newest_record, records_listed
from records.rules.gates.release import release_reasons, standing_reasons
from records.services.conformity import issue as conformity
from records.services.conformity.release import release_propeller
from records.services.ledger import Act
from records.services.people.reauthenticate import reauthenticate
from records.web.conformity.forms import IssueForm, ReleaseForm, WithdrawForm
from records.web.conformity.pages import (
    RELEASE_CAUTION,
    propeller_actions,
    reason_groups,
    record_page,
    release_page,
    standing,
)
from records.web.conformity.tables import RecordFilter, RecordTable
from records.web.shared.bench import device_enrolled
from records.web.shared.permits import why_not
from records.web.shared.tables import listing
from records.web.shared.writing import write

RELEASE = Authority.Act.RELEASE


def record_list(request: HttpRequest) -> HttpResponseBase:
    """List every conformity record."""
    return listing(
        request,
        RecordTable,
        records_listed(),
        filterset=RecordFilter,
        template="conformity/records.html",
    )


def release(request: HttpRequest, serial: str) -> HttpResponse:
    """Show every reason against a release, and release where there is none."""
    propeller = _propeller(serial)
    page = release_page(propeller, _reasons(propeller))
    blocked = "See what is still to do." if page["blocked"] else ""
    bench = device_enrolled(request)
    return write(
        request,
        ReleaseForm(request.POST or None, bench=bench),
        lambda act, a: _release(act, propeller, a, bench=bench),
        template="conformity/release.html",
        then=lambda _: reverse("conformity:issue", args=[propeller.serial]),
        said=f"Propeller {propeller.serial} is released. Issue its record now.",
        context={**page, "why_not": blocked or why_not(request, RELEASE)},
    )


def issue(request: HttpRequest, serial: str) -> HttpResponse:
    """Issue the conformity record of a released propeller."""
    propeller = _propeller(serial)
    old, bench = newest_record(propeller), device_enrolled(request)
    shop = get_object_or_404(Shop)
    reasons = standing_reasons(propeller, progress_of(propeller))
    released = propeller.state in {Propeller.State.RELEASED, Propeller.State.DELIVERED}
    barred = "" if released else "It is not released."
    if any(r.finding.blocks for r in reasons):
        barred = "See what speaks against it."
    return write(
        request,
        IssueForm(
            request.POST or None,
            propeller=propeller,
            again=old is not None,
            bench=bench,
            initial={"place": shop.place},
        ),
        lambda act, a: _issue(act, propeller, a, bench=bench),
        template="conformity/issue.html",
        then=lambda made: reverse("conformity:record", args=[made.number]),
        said="Record {0} is issued.",
        context={
            "propeller": propeller,
            "old": old,
            "groups": reason_groups(reasons),
            "caution": RELEASE_CAUTION,
            "actions": propeller_actions(propeller),
            "why_not": barred or why_not(request, RELEASE),
        },
    )


def record(request: HttpRequest, number: str) -> HttpResponse:
    """Show a conformity record and what became of it."""
    issued = _record(number)
    disabled_reason = why_not(request, RELEASE)
    in_force = standing(issued).shape == "ok"
    serial = [issued.propeller.serial]
    actions = [
        ("Issue it anew", reverse("conformity:issue", args=serial), disabled_reason),
        ("Owner and service", reverse("service:propeller", args=serial), ""),
        ("Release page", reverse("conformity:release", args=serial), ""),
    ]
    if in_force:
        page = reverse("conformity:withdraw", args=[issued.number])
        actions.append(("Withdraw it", page, disabled_reason))
    context = {**record_page(issued), "actions": actions, "in_force": in_force}
    return render(request, "conformity/record.html", context)


def withdraw(request: HttpRequest, number: str) -> HttpResponse:
    """Take a record back."""
    issued = _record(number)
    return write(
        request,
        WithdrawForm(request.POST or None),
        lambda act, a: conformity.withdraw_conformity(act=act, record=issued, **a),
        template="conformity/withdraw.html",
        then=lambda _: reverse("conformity:record", args=[issued.number]),
        said=f"Record {issued.number} is withdrawn.",
        context={"record": issued, "why_not": why_not(request, RELEASE)},
    )


def _reasons(propeller: Propeller) -> list[Any]:
    in_shop = {Propeller.State.IN_WORK, Propeller.State.RETURNED}
    return release_reasons(propeller) if propeller.state in in_shop else []


def _release(
    act: Act, propeller: Propeller, given: dict[str, Any], *, bench: bool
) -> Release:
    _show_again(act, given, bench=bench)
    return release_propeller(act=act, propeller=propeller)


def _issue(
    act: Act, propeller: Propeller, given: dict[str, Any], *, bench: bool
) -> ConformityRecord:
    _show_again(act, given, bench=bench)
    return conformity.issue_conformity(act=act, propeller=propeller, **given)


def _show_again(act: Act, given: dict[str, Any], *, bench: bool) -> None:
    reauthenticate(
        act.by,
        act.at,
        password=given.pop("password"),
        pin=given.pop("pin", ""),
        device_enrolled=bench,
    )


def _propeller(serial: str) -> Propeller:
    return get_object_or_404(Propeller.objects.with_related(), serial__iexact=serial)


def _record(number: str) -> ConformityRecord:
    records = ConformityRecord.objects.with_related()
    return get_object_or_404(records, number__iexact=number)
